"""Rules are held against the base: what stands for nothing there is refused."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from abluent.engine.base.near import nearest, offered
from abluent.engine.base.rulebook import load_rulebook, require_known
from abluent.engine.base.store import Base
from abluent.engine.base.strict import CODES, strange
from abluent.engine.errors import ProgramError
from abluent.engine.logic.clauses import Atom, Literal, Rule
from abluent.engine.logic.program import Program

STRANGE = Path(__file__).parents[2] / "errors" / "strict" / "strange.rules"


@pytest.fixture(scope="module")
def base() -> Base:
    return Base.load()


@pytest.fixture(scope="module")
def program(tmp_path_factory: pytest.TempPathFactory) -> Program:
    """The rules of the base, and some that name what is not there."""
    return load_rulebook([STRANGE], cache_folder=tmp_path_factory.mktemp("cache"))


def test_what_stands_for_nothing_is_refused(base: Base, program: Program) -> None:
    """Every such name, with its place marked and the nearest right one."""
    with pytest.raises(ProgramError) as caught:
        require_known(program, base)
    told = f"{caught.value}\n"
    golden = STRANGE.with_suffix(".txt")
    if os.environ.get("ABLUENT_GOLDEN") == "write":
        golden.write_text(told, "utf-8")
    assert told == golden.read_text("utf-8")
    assert {each.code for each in caught.value.problems} == set(CODES)


def test_the_rules_of_the_base_know_what_they_speak_of(base: Base) -> None:
    """Nothing in them is strange, and there is much in them that could be."""
    program = load_rulebook()
    assert len(program.rules) > 600
    assert list(strange(program, base)) == []


def misspelt(rule: Rule) -> tuple[Rule, list[str]]:
    """A rule with a letter more in each name of its conditions, and these names."""
    body: list[Literal] = []
    for part in rule.body:
        if not isinstance(part, Atom):
            body.append(part)
            continue
        args = [f"{each}x" if isinstance(each, str) else each for each in part.args]
        body.append(Atom(part.predicate, tuple(args)))
    names = [
        str(each)
        for part in body
        if isinstance(part, Atom)
        for each in part.args
        if isinstance(each, str)
    ]
    return rule._replace(body=tuple(body)), names


def test_each_misspelt_name_of_the_base_would_be_found(base: Base) -> None:
    """A letter more in any name of a condition, and its rule is refused."""
    program = load_rulebook()
    both = [misspelt(rule) for rule in program.rules]
    wanted = [(rule.id, name) for rule, names in both for name in names]
    declared = tuple(program.declarations.values())
    rules = tuple(rule for rule, _ in both)
    made = Program(rules, declared, program.standings, program.components)
    found = [(each.rule.id, each.name) for each in strange(made, base)]
    assert len(wanted) > 100
    assert set(found) == set(wanted)


@pytest.mark.slow
def test_what_was_found_known_is_looked_at_once(base: Base) -> None:
    """It is kept beside the base and the rules, and counts for no others."""
    kept = base.cached
    assert kept is not None
    program = load_rulebook()
    require_known(program, base)
    assert kept.beside("known", [program.stamps]).recall() is True
    assert kept.beside("known", ["others"]).recall() is None


@pytest.mark.slow
def test_a_user_may_speak_of_what_his_own_files_describe(tmp_path: Path) -> None:
    """A thing that is described beside the rule is known to it."""
    turtle = tmp_path / "own.ttl"
    turtle.write_text(
        "@prefix abl: <https://abluent.example/ns#> .\n"
        "@prefix ing: <https://abluent.example/ingredient/> .\n"
        "@prefix src: <https://abluent.example/source/> .\n"
        'ing:kelp-silk a abl:FilmFormer ; abl:inci "Kelp Silk" ; '
        "abl:source src:common-practice ; abl:standing abl:commonPractice .\n",
        "utf-8",
    )
    rules = tmp_path / "own.rules"
    rules.write_text(
        '"{product} has kelp silk"\n  because the product listed kelp-silk\n'
        "  so      the product silky\n"
        "  rule    silky, standing commonPractice, source common-practice\n",
        "utf-8",
    )
    program = load_rulebook([rules], cache_folder=tmp_path)
    require_known(program, Base.load([turtle], cache_folder=tmp_path))
    assert [each.name for each in strange(program, Base.load())] == ["kelp-silk"]


def test_the_nearest_name_is_found_by_its_label_too() -> None:
    """Capitals do not count; a few that could stand there are all named."""
    labels = {"takesPart": "part", "takesAll": "all", "takesNone": "none"}
    assert nearest("partly", labels, labels.__getitem__) == "takesPart"
    assert nearest("TAKESALL", labels) == "takesAll"
    assert nearest("soap", labels) is None
    few = "Name one of `abl:takesAll`, `abl:takesNone`, `abl:takesPart`."
    assert offered("soap", labels, str, "abl:{}".format) == few
    many = [f"word{at}" for at in range(30)]
    assert offered("soap", many).startswith("Describe it in the base")
    assert offered("soap", []).startswith("Describe it in the base")
