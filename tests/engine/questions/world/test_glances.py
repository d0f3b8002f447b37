"""A question of very many washes comes to the same as with every label read whole."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from abluent.engine.checking import checker
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.origins import label_origin
from abluent.engine.questions.answers.laid_out import laid_out
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world import case
from abluent.engine.questions.world.case import Glanced
from abluent.engine.questions.world.world import World
from abluent.engine.sights import kept
from abluent.grammar.common.record import replace
from abluent.shell.pages.answer import answer_page
from abluent.shell.pages.answer_data import answer_json
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel

sys.path.insert(0, str(Path(__file__).parents[3] / "bench"))
from catalogue import catalogue

NEVER = 10**9


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    base = Session(Shelf("none", ()), taught=False).world.base
    made = catalogue(base, 200, seed=5)
    return Shelf("invented", tuple(ShelfLabel(*each) for each in made))


@pytest.fixture(autouse=True)
def _keeps_apart(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was seen is kept in a folder of its own."""
    folder = tmp_path_factory.mktemp("kept", numbered=True)
    monkeypatch.setattr(kept, "kept_place", lambda name, _: str(folder / name))


def told(shelf: Shelf, question: str, rest: bool) -> tuple[str, str, type]:
    """The page and, with its reasons, the data of an answer; and its kind of case."""
    session = Session(shelf, taught=False)
    answer = session.ask(question)
    rows = [*answer.rows, *answer.others]
    page = answer_page(answer, 80)
    data = json.dumps(answer_json(answer, question)) if rest else ""
    return page, data, type(rows[0].case)


def same(question: str, shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    """Hold an answer that was seen at a glance, then kept, against the whole one.

    At a glance no list is parted by its reasons, so the whole one is not either.
    """
    monkeypatch.setattr(case, "MANY", NEVER)
    with monkeypatch.context() as alike:
        alike.setattr(case.Case, "at_a_glance", True)
        page, data, whole = told(shelf, question, rest=True)
    monkeypatch.setattr(case, "MANY", 5)
    assert told(shelf, question, rest=True) == (page, data, Glanced)
    assert told(shelf, question, rest=False) == (page, "", Glanced)
    assert whole is not Glanced


@pytest.mark.slow
def test_the_answer_is_the_same(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    few = Shelf("few", shelf.labels[:30])
    same("which washes clear Dimethicone", few, monkeypatch)


@pytest.mark.long
@pytest.mark.parametrize(
    "question",
    [
        "which washes clear Dimethicone",
        "which washes without sulfates clear Dimethicone in hard water",
        'which washes clear everything from "{}"',
        "which washes do not clear Polyquaternium-10",
    ],
)
def test_the_answer_over_many_is_the_same(
    question: str, shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = [each.product for each in shelf.labels if each.kind == "leave-in"]
    same(question.format(names[0]), shelf, monkeypatch)


@pytest.mark.slow
def test_the_lists_of_very_many_read_no_label_with_its_grounds(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All that lists of very many washes tell is there at a glance."""
    monkeypatch.setattr(case, "MANY", 5)

    def refuse(self: World, name: str) -> None:
        raise AssertionError(f"{name} was read")

    monkeypatch.setattr(World, "read", refuse)
    session = Session(Shelf("few", shelf.labels[:30]), taught=False)
    answer = session.ask("which washes clear Dimethicone")
    rows = [r for r in (*answer.rows, *answer.others) if isinstance(r, Verdict)]
    assert len(rows) > 5
    blocks = laid_out(rows)
    assert sum(len(block.rows) for block in blocks) == len(rows)
    assert not any(block.whys for block in blocks)


@pytest.mark.slow
def test_what_followed_is_kept_by_all_it_rests_on(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked again no label is looked at; of another shelf or film each is."""
    monkeypatch.setattr(case, "MANY", 3)
    washes = [each for each in shelf.labels if each.kind == "wash"][:5]
    asked = "which washes clear Dimethicone"
    before = told(Shelf("few", tuple(washes)), asked, rest=False)
    looked: list[str] = []

    def glance(self: World, names: Iterable[str], *, balance: bool) -> Iterator[Fact]:
        looked.extend(names)
        return plain(self, looked, balance=balance)

    plain = World.glance
    monkeypatch.setattr(World, "glance", glance)
    assert told(Shelf("few", tuple(washes)), asked, rest=False) == before
    assert not looked
    sold = replace(washes[4], market="" if washes[4].market else "US")
    others = (
        (washes[:4], asked),
        ([*washes[:4], sold], asked),
        (washes, "which washes clear Amodimethicone"),
    )
    for labels, question in others:
        looked.clear()
        told(Shelf("few", tuple(labels)), question, rest=False)
        assert looked


@pytest.mark.slow
def test_a_trace_has_its_grounds(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    """The lines of labels and the proofs of balances, though none was there before."""
    few = [each for each in shelf.labels if each.kind == "wash"][:3]
    traces = []
    for most in (3, NEVER):
        monkeypatch.setattr(case, "MANY", most)
        session = Session(Shelf("few", tuple(few)), taught=False)
        answer = session.ask("which washes clear Polyquaternium-10")
        traces.append(session.export_trace(answer, "json").splitlines())
    assert traces[0] == traces[1]
    assert all(checker.check(json.loads(line)).ok for line in traces[0])
    origins = [f["origin"] for line in traces[0] for f in json.loads(line)["facts"]]
    assert any(label_origin(each) for each in origins)
