"""The session: which shelf it is on, and what it answers there."""

from __future__ import annotations

import gc
from pathlib import Path
from weakref import ref

import pytest
from abluent.engine.checking import checker
from abluent.engine.faults import CommandError, DataError
from abluent.grammar.common.errors import GrammarError
from abluent.shell.pages.answer_data import answer_json
from abluent.shell.session.session import Session

TEXT = "Aqua, Cetearyl Alcohol, Dimethicone, Parfum"


def products(session: Session) -> list[str]:
    return [label.product for label in session.shelf.labels]


def test_without_a_shelf_it_is_on_the_demo_shelf() -> None:
    session = Session.open()
    assert "Harbour Cream" in products(session)
    assert session.shelf.water == "hard"


def test_the_water_of_a_shelf_can_be_overruled() -> None:
    assert Session.open(conditions={"water": "soft"}).shelf.water == "soft"


def test_adding_a_label_goes_to_the_users_own_shelf() -> None:
    session = Session.open()
    session.add_label("  Cove   Cream", "conditioner", TEXT)
    assert (session.shelf.name, products(session)) == ("mine", ["Cove Cream"])
    assert products(Session.open(own=True)) == ["Cove Cream"]
    assert products(Session.open(["mine"])) == ["Cove Cream"]


def test_only_a_shelf_of_ones_own_can_be_changed() -> None:
    session = Session.open()
    for change in (lambda: session.drop("Harbour Cream"), session.undo):
        with pytest.raises(CommandError, match="not one of yours"):
            change()
    assert "Harbour Cream" in products(session)


def test_a_product_is_dropped_and_comes_back() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.drop("cove cream")
    assert products(session) == []
    assert session.undo().left == 1
    assert products(session) == ["Cove Cream"]


def test_the_water_of_ones_own_shelf_lasts() -> None:
    session = Session.open()
    session.set_condition("water", "soft")
    assert session.shelf.water == "soft"
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.set_condition("water", "hard")
    assert Session.open(["mine"]).shelf.water == "hard"
    assert Session.open().shelf.water == "hard"
    with pytest.raises(CommandError, match='not "wet"'):
        session.set_condition("water", "wet")


@pytest.mark.parametrize(
    ("product", "kind", "text", "said"),
    [
        (" ", "wash", TEXT, "a product needs a name"),
        ("Ebb", "balm", TEXT, '"balm" is no kind of product'),
        ("Ebb", "wash", " \n", 'the label of "Ebb" is empty'),
    ],
)
def test_a_label_that_is_no_label_is_refused(
    product: str, kind: str, text: str, said: str
) -> None:
    with pytest.raises(CommandError, match=said):
        Session.open().add_label(product, kind, text)


def test_a_second_label_of_one_name_is_refused() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", TEXT)
    with pytest.raises(DataError, match="another name"):
        session.add_label("cove cream", "wash", TEXT)


def test_going_to_another_shelf(tmp_path: Path) -> None:
    (tmp_path / "ebb wash.txt").write_text(TEXT)
    session = Session.open()
    session.use(str(tmp_path / "ebb wash.txt"))
    assert products(session) == ["ebb wash"]
    session.use_new("salon")
    assert products(session) == []
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.use("demo")
    session.use("salon")
    assert products(session) == ["Cove Cream"]
    with pytest.raises(CommandError, match="already"):
        session.use_new("salon")
    with pytest.raises(CommandError, match="there are: salon, demo"):
        session.use("saloon")
    assert session.shelf.name == "salon"


# ------------------------------------------------------------------- questions


@pytest.fixture(scope="module")
def asked() -> Session:
    """A session on the demo shelf that has a set of its own."""
    session = Session.open()
    session.ask('let mine be "Tideline Wash" and "Breakwater Wash"')
    return session


def test_a_set_is_named_and_asked_about(asked: Session) -> None:
    assert list(asked.sets) == ["mine"]
    answer = asked.ask('which of mine at least partly clear "Dimethicone"')
    assert [item.key for item in answer.members] == ["Tideline Wash", "Breakwater Wash"]
    assert asked.last is answer


def test_a_failed_question_leaves_the_session_as_it_was(asked: Session) -> None:
    answer = asked.ask('does "Tideline Wash" clear "Dimethicone"')
    for wrong in ("which which", 'does "Nothing Wash" clear "Dimethicone"'):
        with pytest.raises((GrammarError, CommandError)):
            asked.ask(wrong)
    assert asked.last is answer
    assert asked.ask("why").rows == answer.rows


def test_a_set_is_forgotten() -> None:
    session = Session.open()
    session.ask('let mine be "Tideline Wash"')
    session.ask("forget mine")
    assert not session.sets


def test_questions_are_asked_of_the_shelf_the_session_moved_to() -> None:
    session = Session.open()
    session.ask('what does "Harbour Cream" leave')
    session.add_label("Cove Cream", "conditioner", TEXT)
    answer = session.ask('what does "Cove Cream" leave')
    assert "Dimethicone" in answer.sentence
    with pytest.raises(CommandError, match="Harbour Cream"):
        session.ask('what does "Harbour Cream" leave')


def test_the_water_of_the_session_is_washed_in() -> None:
    session = Session.open()
    query = 'what does "Shingle Soap Wash" leave'
    hard = session.ask(query).sentence
    session.set_condition("water", "soft")
    assert session.ask(query).sentence != hard


def test_a_text_is_read_without_being_shelved() -> None:
    session = Session.open()
    read = session.read("Aqua, Dimethicone", "conditioner")
    assert [each.ingredient for each in read.readings] == ["water", "dimethicone"]
    with pytest.raises(CommandError, match="is empty"):
        session.read(" ")


def test_a_refused_label_is_explained_when_it_is_asked_about(tmp_path: Path) -> None:
    path = tmp_path / "s.jsonl"
    path.write_text('{"product": "Blank Wash", "kind": "wash", "text": ""}')
    session = Session.open([str(path)])
    with pytest.raises(CommandError, match="as its label was refused"):
        session.read_product("blank wash")


# ---------------------------------------------------------------------- traces

LEAVES = 'what does "Harbour Cream" leave'
SUPPOSES = f'suppose "Harbour Cream" had no "Dimethicone": {LEAVES}'


@pytest.mark.slow
@pytest.mark.parametrize(
    "query",
    [
        'does "Gullwing Silk Wash" clear "Dimethicone"',
        'does "Sandpiper Wash" clear everything from "Foreshore Leave-in"',
        'does "Shingle Soap Wash" clear "hard-water minerals"',
        'compare "Harbour Cream" and "Mooring Mask"',
        'why not does "Backwater Cream Cleanser" clear "Dimethicone"',
    ],
)
def test_the_trace_of_every_kind_of_answer_holds(asked: Session, query: str) -> None:
    """More kinds are tried in `command/test_traces_checked.py`."""
    lines = asked.export_trace(asked.ask(query), "json").splitlines()
    assert lines
    for line in lines:
        trace = checker.read(line)
        assert checker.check(trace).ok
        assert trace["verdict"]["answers"]


def test_a_trace_says_that_it_supposes(asked: Session) -> None:
    lines = asked.export_trace(asked.ask(SUPPOSES), "json").splitlines()
    found = [bool(checker.check(checker.read(line)).supposed) for line in lines]
    assert True in found


@pytest.mark.slow
def test_a_trace_agrees_with_the_installed_base(asked: Session) -> None:
    trace = checker.read(asked.export_trace(asked.ask(LEAVES), "json"))
    base = asked.base_for(trace)
    assert checker.check(trace, base).ok
    rule = next(iter(trace["program"]["rules"].values()))
    rule["says"] = "because I say so"
    assert not checker.check(trace, base).ok


@pytest.mark.long
def test_an_answer_of_which_nothing_is_so_is_traced_by_what_was_looked_at(
    asked: Session,
) -> None:
    answer = asked.ask('which washes clear everything from "Harbour Cream"')
    assert not answer.rows
    trace = checker.read(asked.export_trace(answer, "json"))
    assert checker.check(trace, asked.base_for(trace)).ok
    shown = answer_json(answer, answer.query)["others"]
    assert {row["proof"] for row in shown} <= set(trace["nodes"])


def test_an_answer_without_reasons_cannot_be_traced(asked: Session) -> None:
    with pytest.raises(CommandError, match="rests on no reasons"):
        asked.export_trace(asked.ask("which washes"))
    with pytest.raises(CommandError, match="no form of a trace"):
        asked.export_trace(asked.ask(LEAVES), ".pdf")


@pytest.mark.slow
def test_a_session_that_nobody_holds_is_let_go() -> None:
    """With its proofs: whoever opens many, one after the other, holds one of them."""
    session = Session.open()
    answer = session.ask(
        'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
    )
    assert session.export_trace(answer, "json")
    world, model = ref(session.world), ref(answer.rows[0].case.model)
    del session, answer
    gc.collect()
    assert (world(), model()) == (None, None)
