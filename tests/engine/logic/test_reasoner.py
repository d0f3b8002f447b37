"""What follows from rules and facts, and how a model is asked."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.errors import EvaluationError, FactError
from abluent.engine.logic.facts import Basis, Fact, Table
from abluent.engine.logic.instances import (
    Collected,
    Compared,
    Computed,
    Missing,
    Premise,
    rule_instances,
)
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Interval, Term, interval
from hypothesis import given, settings
from hypothesis import strategies as st
from rule_models import model, program

PATHS = """
unsaid
  because the x edge the y
  so      the x path the y
  rule    step

unsaid
  because the x edge the z
      and the z path the y
  so      the x path the y
  rule    far
"""


def edges(pairs: list[tuple[int, int]]) -> list[tuple[object, ...]]:
    return [("edge", *pair) for pair in pairs]


def test_recursion_goes_on_until_nothing_is_new() -> None:
    """Paths through a circle are found once each, and end."""
    found = model(PATHS, *edges([(1, 2), (2, 3), (3, 1)]))
    assert set(found.match("path")) == {(a, b) for a in (1, 2, 3) for b in (1, 2, 3)}
    assert found.count("path") == 9


def test_a_chain_of_ten_thousand_steps_is_no_depth() -> None:
    """Nothing in the evaluation is as deep as the proof of its last fact."""
    text = """
unsaid
  because the n first
  so      the n reached
  rule    start

unsaid
  because the m reached
      and the m edge the n
  so      the n reached
  rule    next
"""
    steps = 10_000
    found = model(text, ("first", 0), *edges([(n, n + 1) for n in range(steps)]))
    assert found.count("reached") == steps + 1
    assert found.stage("reached", (0,)) == 1
    assert found.stage("reached", (steps,)) == steps + 1
    (instance,) = rule_instances(found, "reached", (steps,))
    assert instance.supports[0] == Premise("reached", (steps - 1,))


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=24))
def test_paths_are_those_of_a_plain_search(pairs: list[tuple[int, int]]) -> None:
    """The closure of a random graph, against the obvious slow way."""
    expected = set(pairs)
    while more := {(a, d) for a, b in expected for c, d in pairs if b == c} - expected:
        expected |= more
    text = PATHS.replace("the x edge the z", "the x path the z")
    assert set(model(text, *edges(pairs)).match("path")) == expected


def test_absence_looks_at_finished_predicates() -> None:
    """`not` with an open place means that there is none at all."""
    text = """
unsaid
  because the x node
      and nothing shows the x path anything
      and nothing shows anything path the x
  so      the x lonely
  rule    lonely
"""
    nodes = [("node", n) for n in range(4)]
    found = model(PATHS + text, *nodes, *edges([(1, 2), (2, 1)]))
    assert set(found.match("lonely")) == {(0,), (3,)}


def test_certain_and_possible_comparisons_differ_on_intervals() -> None:
    """A comparison holds when it is certain, `perhaps` when it is not excluded."""
    text = """
unsaid
  because the x level the l
      and the l is above 1
  so      the x sure
  rule    sure

unsaid
  because the x level the l
      and perhaps the l is above 1
  so      the x maybe
  rule    maybe
"""
    levels = [
        ("level", "a", interval(2, 3)),
        ("level", "b", interval(0, 5)),
        ("level", "c", interval(0, 1)),
        ("level", "d", Fraction(3, 2)),
    ]
    found = model(text, *levels)
    assert set(found.match("sure")) == {("a",), ("d",)}
    assert set(found.match("maybe")) == {("a",), ("b",), ("d",)}


def test_arithmetic_is_exact() -> None:
    """Thirds stay thirds, intervals add as intervals, and a known value is checked."""
    text = """
unsaid
  because the x a
      and the y b
      and the z comes to the x / 3 + the y * 2
  so      the z "sum"
  rule    "sum"

unsaid
  because the x a
      and the y c
      and the y comes to the x * 2
  so      the y same
  rule    same
"""
    found = model(text, ("a", 1), ("b", interval(0, 1)), ("c", 2), ("c", 3))
    third = Fraction(1, 3)
    assert set(found.match("sum")) == {(Interval(third, third + 2),)}
    assert set(found.match("same")) == {(2,)}


COLLECTIONS = """
unsaid
  because the b box
      and the n comes to count of (the i where the b in the i, something)
  so      the b n the n
  rule    n

unsaid
  because the b box
      and the n comes to sum of (the w, the i where the b in the i, the w)
  so      the b s the n
  rule    s

unsaid
  because the b box
      and the n comes to least of (the w where the b in something, the w)
  so      the b m the n
  rule    m

unsaid
  because the b box
      and the n comes to most of (the w where the b in something, the w)
  so      the b x the n
  rule    x

unsaid
  because the n comes to count of (the b, the i where the b in the i, something)
  so      the n all
  rule    all

unsaid
  because the b box
      and the b n the n
      and the n is at least 2
  so      the b "least"
  rule    "least"
"""
BOXES = [
    ("box", "p"),
    ("box", "q"),
    ("box", "r"),
    ("in", "p", "i", 2),
    ("in", "p", "j", 2),
    ("in", "q", "i", interval(1, 3)),
    ("in", "q", "k", 2),
]


def test_a_collection_compares_with_what_stands_outside_it() -> None:
    """A variable that is only compared within keeps the value that it has outside."""
    text = """
unsaid
  because the i at the n
      and the c comes to count of (the o where the o at the k and the k is below the n)
  so      the i c the c
  rule    c

unsaid
  because the i at the n
      and the s comes to sum of (the d, the o
              where the o at the k
                and the d comes to the k + the n)
  so      the i s the s
  rule    s
"""
    found = model(text, *(("at", name, n) for n, name in enumerate("abc", 3)))
    assert set(found.match("c")) == {("a", 0), ("b", 1), ("c", 2)}
    assert set(found.match("s")) == {("a", 21), ("b", 24), ("c", 27)}


@pytest.mark.parametrize(
    ("name", "rows"),
    [
        ("n", {("p", 2), ("q", 2), ("r", 0)}),
        ("s", {("p", 4), ("q", interval(3, 5)), ("r", 0)}),
        ("m", {("p", 2), ("q", interval(1, 2))}),
        ("x", {("p", 2), ("q", interval(2, 3))}),
        ("all", {(4,)}),
        ("least", {("p",), ("q",)}),
    ],
)
def test_collections(name: str, rows: set[tuple[Term, ...]]) -> None:
    """Counts and sums of nothing are zero; a minimum of nothing has no value."""
    assert set(model(COLLECTIONS, *BOXES).match(name)) == rows


EXCEPTIONS = """
unsaid
  because the p line the n, the i
      and the p marker the m
      and the m is below the n
  unless  the p unordered
  unless  the p level the n, the l
      and the l is at least 1
  so      the p late the i
  rule    late

unsaid
  because the i keeps the p
  stops   late
  rule    kept

unsaid
  because the p old
  stops   kept
  rule    lost
"""
LINES = [("line", "p", 3, "i"), ("line", "p", 1, "j"), ("marker", "p", 2)]


@pytest.mark.parametrize(
    ("facts", "late"),
    [
        ([], True),
        ([("unordered", "p")], False),
        ([("unordered", "q")], True),
        ([("level", "p", 3, 2)], False),
        ([("level", "p", 3, Fraction(1, 2))], True),
        ([("keeps", "i", "p")], False),
        ([("keeps", "j", "p")], True),
        ([("keeps", "i", "p"), ("old", "p")], True),
    ],
)
def test_unless_and_exceptions(facts: list[tuple[object, ...]], late: bool) -> None:
    """Each stops its rule for what it shares; an exception may have exceptions."""
    found = model(EXCEPTIONS, *LINES, *facts)
    assert found.holds("late", ("p", "i")) is late
    assert not found.holds("late", ("p", "j"))


def test_matching_by_pattern() -> None:
    """`None` stands for any term; unknown terms match nothing."""
    found = model(PATHS, *edges([(1, 2), (2, 3)]))
    assert set(found.match("path", (1, None))) == {(1, 2), (1, 3)}
    assert set(found.match("path", (None, 3))) == {(1, 3), (2, 3)}
    assert list(found.match("path", (1, 3))) == [(1, 3)]
    assert list(found.match("path", (9, None))) == []
    assert set(found.match("path", (None, None))) == set(found.match("path"))
    assert not found.holds("path", (1, 1))
    assert list(found.match("nothing")) == []
    assert list(found.match("nothing", (None, 1))) == []
    with pytest.raises(FactError, match="`path` has 2 terms, and a pattern of 1"):
        found.match("path", (1,))


def test_assertions_keep_every_basis() -> None:
    """Two files may assert one fact; an inferred fact has no assertion."""
    one, two = Basis("handbook", ("a",), origin="x"), Basis("law", ("b",), origin="y")
    facts = [Fact("edge", (1, 2), one), Fact("edge", (1, 2), two)]
    bulk = Table("edge", [[1, 2], [2, 3]], Basis(origin="bulk"))
    found = evaluate(program(PATHS), facts, [bulk])
    assert [each.basis.origin for each in found.asserted("edge", (1, 2))] == [
        "x",
        "y",
        "bulk",
    ]
    assert found.asserted("path", (1, 2)) == ()
    assert found.count("edge") == 2


def test_instances_tell_what_every_condition_came_to() -> None:
    """Premises, absences by their form, comparisons, values and collections."""
    text = """
unsaid
  because the p line the n, something
      and the k comes to the n + 1
      and the k is above 2
      and nothing shows the p gone anything
      and the c comes to count of (the i where the p line something, the i)
  unless  the p odd
  so      the p r the c
  rule    r
"""
    found = model(text, *LINES)
    (instance,) = rule_instances(found, "r", ("p", 2))
    line, computed, compared, gone, collected, odd = instance.supports
    assert line == Premise("line", ("p", 3, "i"))
    assert isinstance(computed, Computed)
    assert computed.value == 4
    assert isinstance(compared, Compared)
    assert (compared.left, compared.right) == (4, 2)
    assert gone == Missing("gone", ("p", None), "not")
    assert odd == Missing("odd", ("p",), "unless")
    assert isinstance(collected, Collected)
    assert {values for values, _ in collected.members} == {("i",), ("j",)}
    assert instance.binding() == {"p": "p", "n": 3, "k": 4, "c": 2}


def test_every_way_to_a_fact_is_an_instance() -> None:
    """Two rules and two bindings make three instances, in a stable order."""
    text = PATHS + (
        "unsaid\n"
        "  because the x bridge the y\n"
        "  so      the x path the y\n"
        "  rule    short\n"
    )
    facts = [*edges([(1, 2), (1, 3), (2, 4), (3, 4)]), ("bridge", 1, 4)]
    ways = list(rule_instances(model(text, *facts), "path", (1, 4)))
    assert [way.rule.id for way in ways] == ["far", "far", "short"]
    assert [way.binding().get("z") for way in ways] == [2, 3, None]


def test_a_value_a_rule_cannot_work_with_names_the_rule() -> None:
    """Order of a symbol and a number, and division by what may be zero."""
    ordered = model(
        (
            "unsaid\n"
            "  because the x p\n"
            "      and the x is below 3\n"
            "  so      the x q\n"
            "  rule    r\n"
        ),
        ("p", "red"),
    )
    with pytest.raises(EvaluationError, match="rule `r`: `red` and `3` have no order"):
        ordered.count("q")
    divided = model(
        (
            "unsaid\n"
            "  because the x p\n"
            "      and the y comes to 1 / the x\n"
            "  so      the y q\n"
            "  rule    r\n"
        ),
        ("p", interval(0, 1)),
    )
    with pytest.raises(EvaluationError, match=r"rule `r`: division by \[0, 1\]"):
        divided.count("q")


def test_a_condition_on_the_kind_of_a_thing_guards_arithmetic() -> None:
    """Bound conditions are tested before values are compared or worked out."""
    text = (
        "unsaid\n"
        "  because the y comes to the x + 1\n"
        "      and the x is below 3\n"
        "      and the x p\n"
        "      and the x number\n"
        "  so      the y q\n"
        "  rule    r\n"
    )
    found = model(text, ("p", "red"), ("p", 1), ("number", 1))
    assert set(found.match("q")) == {(2,)}


def test_a_fact_of_another_shape_is_refused() -> None:
    """The number of terms is that of the rules."""
    with pytest.raises(FactError, match=r"`edge` has 1 terms in the fact `edge\(1\)`"):
        model(PATHS, ("edge", 1)).count("path")


def test_only_what_is_asked_for_is_evaluated() -> None:
    """A predicate that no question reaches cannot fail."""
    text = PATHS + (
        "unsaid\n"
        "  because the x edge something\n"
        "      and the x is below red\n"
        "  so      the x bad\n"
        "  rule    bad\n"
    )
    assert model(text, *edges([(1, 2)])).count("path") == 1
