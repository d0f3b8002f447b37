"""Every term that plays a role, renamed through the whole base: the answers stay."""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest
from abluent.engine.base.roles import MANY, VERDICTS, Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf

ONTOLOGY = Path(__file__).parents[3] / "ontology"
QUESTIONS = (
    'does "Tideline Wash" clear everything from "Harbour Cream"',
    'does "Headland Gel" leave anything',
    'what does "Harbour Cream" leave',
    'which washes clear "Dimethicone"',
    'which washes are milder than "Tideline Wash"',
    'why not does "Shingle Soap Wash" clear "Dimethicone"',
    "what does water leave in hard water",
    "which washes hide anything",
    "which silicones are amphoteric",
    'is "Cocamidopropyl Betaine" a surfactant',
    "is it true that only sulfates clear water-insoluble silicones",
    "is it true that no water-soluble silicone needs a sulfate",
    'is it true that every ingredient named "*ate" is an anionic surfactant',
)


def renamed(text: str, names: Mapping[str, str], before: str) -> str:
    """A text with every symbol called otherwise that `before` marks as one."""
    either = "|".join(sorted(names, key=len, reverse=True))
    symbol = rf"{before}({either})(?![\w-])"
    return re.sub(symbol, lambda found: names[found[1]], text)


def renamed_rules(text: str, names: Mapping[str, str]) -> str:
    """Rules with every symbol called otherwise, and their sentences left alone."""
    parts = re.split(r'("[^"\n]*")', text)
    outside = [renamed(part, names, r"(?<![\w?:-])(?<!the )") for part in parts[::2]]
    parts[::2] = outside
    return "".join(parts)


def asked_of(folder: Path | None, cache: Path | None) -> list[tuple[str, list[str]]]:
    """What the questions come to, and how each row stands."""
    base = Base.load(instead=folder, cache_folder=cache)
    rules = load_rulebook(instead=folder, cache_folder=cache)
    world = World(base, rules, products(demo_shelf()))
    answers = [ask(parse_query(question), world) for question in QUESTIONS]
    return [(each.sentence, [r.standing for r in each.rows[:20]]) for each in answers]


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where what is read and found of the other base is kept for all tests here."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shipped base with another name for every term that plays a role."""
    folder = tmp_path_factory.mktemp("renamed") / "other"
    shutil.copytree(ONTOLOGY, folder, ignore=shutil.ignore_patterns("__pycache__"))
    base = Base.load()
    terms = {term for role in Role for term in base.terms(role)}
    names = {term: f"{term}Renamed" for term in terms}
    for file in folder.rglob("*.ttl"):
        text = file.read_text(encoding="utf-8")
        file.write_text(renamed(text, names, r"(?<=abl:|ing:|src:)"), encoding="utf-8")
    for file in folder.rglob("*.rules"):
        text = file.read_text(encoding="utf-8")
        file.write_text(renamed_rules(text, names), encoding="utf-8")
    return folder


@pytest.mark.slow
def test_every_role_is_played_by_another_name(other: Path, cache: Path) -> None:
    """No term that plays a role is called what it is called in the shipped base."""
    before, after = Base.load(), Base.load(instead=other, cache_folder=cache)
    for role in Role:
        assert not set(before.terms(role)) & set(after.terms(role)), role
    assert len({after.term(role) for role in VERDICTS}) == len(VERDICTS)
    assert all(len(after.terms(role)) == 1 for role in Role if role not in MANY)


@pytest.mark.slow
def test_the_answers_are_the_same(other: Path, cache: Path) -> None:
    """What is asked is answered alike, and stands as well.

    Of proofs that are equally good one is taken by its symbols, so their steps may
    be others.
    """
    assert asked_of(other, cache) == asked_of(None, None)
