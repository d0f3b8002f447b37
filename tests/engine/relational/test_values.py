"""Numbers, intervals and symbols are compared in bulk exactly as by the reasoner."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from abluent.engine.errors import EngineError
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term, interval
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.errors import Untranslatable
from abluent.engine.relational.evaluate import Bulk
from hypothesis import given, settings
from hypothesis import strategies as st

pytest.importorskip("duckdb", reason="evaluating in bulk needs DuckDB")
pytest.importorskip("numpy", reason="evaluating in bulk needs numpy")

SIGNS = ["=", "!=", "<", "<=", ">", ">="]
PLAIN = [(sign, word) for sign in SIGNS for word in ("", "perhaps ")]


def rule(head: str, body: str, number: int) -> str:
    return f'rule r{number}\n  if {body}\n  then {head}\n  says "so"\nend\n'


def program(*rules: tuple[str, str]) -> Program:
    text = "".join(rule(head, body, at) for at, (head, body) in enumerate(rules))
    return load_program([("text", text)])


def bulk(made: Program, goals: Sequence[str], rows: Sequence[Sequence[Term]]) -> Bulk:
    table = Table("v", list(zip(*rows, strict=True)))
    return Bulk(made, goals, evaluate(made, ()), [table], Duck(threads=1))


def assert_same(
    made: Program, goals: Sequence[str], rows: Sequence[Sequence[Term]]
) -> None:
    found = bulk(made, goals, rows)
    whole = evaluate(made, [Fact("v", tuple(row)) for row in rows])
    for goal in goals:
        assert set(found.match(goal)) == set(whole.match(goal)), goal


numbers = st.builds(
    Fraction, st.integers(-6, 6), st.sampled_from([1, 2, 3, 10**30 + 57])
).map(lambda n: n.numerator if n.denominator == 1 else n)


@st.composite
def quantities(draw: st.DrawFn) -> Term:
    low, high = sorted([draw(numbers), draw(numbers)])
    ends = draw(st.tuples(st.booleans(), st.booleans(), st.booleans(), st.booleans()))
    if low == high:
        return low
    return interval(
        None if ends[2] else low, None if ends[3] else high, ends[0], ends[1]
    )


COMPARING = program(
    *(
        (f"q{at}(?x, ?y)", f"v(?x, ?a), v(?y, ?b), {word}?a {sign} ?b")
        for at, (sign, word) in enumerate(PLAIN)
    ),
    *(
        (f"k{at}(?x, ?a)", f"v(?x, ?a), {word}?a {sign} 2/3")
        for at, (sign, word) in enumerate(PLAIN)
    ),
    ("same(?x, ?y)", "v(?x, ?a), v(?y, ?a), ?x < ?y"),
    ("within(?x, ?y)", "v(?x, ?a), v(?y, ?b), perhaps ?a < [0, 1)"),
)
COMPARED = [
    *(f"{letter}{at}" for letter in "qk" for at in range(len(PLAIN))),
    "same",
    "within",
]


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.lists(quantities(), min_size=1, max_size=8))
def test_intervals_and_long_fractions_compare_exactly(values: list[Term]) -> None:
    """Open and closed ends, no ends, and denominators beyond any machine number."""
    rows = [(f"x{at}", value) for at, value in enumerate(values)]
    assert_same(COMPARING, COMPARED, rows)


@pytest.mark.slow
@settings(max_examples=20, deadline=None)
@given(st.lists(st.one_of(st.sampled_from("abé"), numbers), min_size=1, max_size=8))
def test_symbols_and_numbers_are_never_equal(values: list[Term]) -> None:
    """A column may hold both, as long as nobody asks for their order."""
    made = program(
        ("q0(?x, ?y)", "v(?x, ?a), v(?y, ?b), ?a = ?b"),
        ("q1(?x, ?y)", "v(?x, ?a), v(?y, ?b), ?a != ?b"),
    )
    assert_same(made, ["q0", "q1"], [(f"x{at}", v) for at, v in enumerate(values)])


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from("ab"),
            st.builds(Fraction, st.integers(-9, 9), st.sampled_from([1, 2, 6])),
        ).map(lambda r: (r[0], r[1].numerator if r[1].denominator == 1 else r[1])),
        min_size=1,
        max_size=6,
    )
)
def test_arithmetic_on_fractions_is_exact(rows: list[tuple[str, Term]]) -> None:
    """Sums, products, quotients by a number, and collections, fractions and all."""
    made = program(
        ("q0(?a, ?b)", "v(_, ?a), v(_, ?b), ?a + ?b * 2 < 1/7"),
        ("q1(?a, ?b)", "v(_, ?a), v(_, ?b), ?a * ?b >= min(?a, ?b) - 1/3"),
        ("q2(?x, ?n)", "v(?x, _), ?n is sum(?a : v(?x, ?a))"),
        ("q3(?x, ?n)", "v(?x, _), ?n is max(?a : v(?x, ?a), ?a < 2)"),
        ("q4(?n)", "?n is count(?x, ?a : v(?x, ?a))"),
        ("q5(?a, ?c)", "v(_, ?a), v(_, ?b), ?c is ?b - -?a, ?c / 3 < 1"),
    )
    assert_same(made, [f"q{at}" for at in range(6)], rows)


@pytest.mark.parametrize(
    ("body", "row", "said"),
    [
        ("v(?x, ?a), v(_, ?b), ?a / ?b > 1", ("x", 2), "divides by `?b`"),
        ("v(?x, ?a), v(_, ?b), ?a + ?b > 1", ("x", interval(1, 2)), "an interval"),
        ("v(?x, ?a), v(_, ?b), ?a + ?b > 1", ("x", "y"), "compute with `y`"),
        ("v(?x, ?a), v(_, ?b), ?a + ?b > 1", ("x", 1 << 63), "too large"),
        ("v(?x, ?a), ?a > 1", ("x", "y"), "order of `y` and a number"),
        ("v(?x, ?a), ?c is ?a * ?a, v(_, ?c)", ("x", Fraction(1, 3)), ""),
    ],
)
def test_what_is_not_exact_is_refused_by_name(
    body: str, row: tuple[Term, ...], said: str
) -> None:
    """A rule that would be answered otherwise is refused, and named."""
    made = program(("q(?x)", body))
    if not said:
        # A square that meets no fact needs no finer parts than there are.
        assert_same(made, ["q"], [row])
        return
    with pytest.raises(Untranslatable, match="rule `r0`") as refused:
        bulk(made, ["q"], [row])
    assert said in str(refused.value)


def test_a_finer_value_in_a_head_is_refused() -> None:
    """A product of thirds has ninths, which a column of thirds cannot hold."""
    made = program(("q(?c)", "v(_, ?a), ?c is ?a * ?a"))
    with pytest.raises(Untranslatable, match="finer parts"):
        bulk(made, ["q"], [("x", Fraction(1, 3))])


def test_an_overflow_is_refused() -> None:
    """A sum too large for the database is an error and no wrong number."""
    made = program(("q(?c)", "v(_, ?a), ?c is ?a * ?a"))
    with pytest.raises(EngineError, match="refused"):
        bulk(made, ["q"], [("x", 1 << 61)])


def test_nothing_given_gives_nothing() -> None:
    """Without any fact in bulk, and with a predicate of no terms."""
    made = program(("q(?x)", "v(?x, _), flag"), ("flag", "not v(_, 5)"))
    whole = evaluate(made, ())
    found = Bulk(made, ["q", "flag"], whole, [], Duck(threads=1), ["v"])
    assert list(found.match("q")) == []
    assert list(found.match("flag")) == [()]
