"""Numbers, intervals and symbols are compared in bulk exactly as by the reasoner."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

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

SIGNS = [
    "equals",
    "differs from",
    "is below",
    "is at most",
    "is above",
    "is at least",
]
PLAIN = [(sign, word) for sign in SIGNS for word in ("", "perhaps ")]


def rule(head: str, body: str, number: int) -> str:
    return f'"so"\n  because {body}\n  so {head}\n  rule r{number}\n'


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
        (
            f"the x q{at} the y",
            f"the x v the a and the y v the b and {word}the a {sign} the b",
        )
        for at, (sign, word) in enumerate(PLAIN)
    ),
    *(
        (f"the x k{at} the a", f"the x v the a and {word}the a {sign} 2/3")
        for at, (sign, word) in enumerate(PLAIN)
    ),
    ("the x same the y", "the x v the a and the y v the a and the x is below the y"),
    (
        "the x within the y",
        "the x v the a and the y v the b and perhaps the a is below [0, 1)",
    ),
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
        ("the x q0 the y", "the x v the a and the y v the b and the a equals the b"),
        (
            "the x q1 the y",
            "the x v the a and the y v the b and the a differs from the b",
        ),
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
        (
            "the a q0 the b",
            (
                "something v the a and something v the b "
                "and the a + the b * 2 is below 1 / 7"
            ),
        ),
        (
            "the a q1 the b",
            (
                "something v the a and something v the b "
                "and the a * the b is at least least of (the a, the b) - 1 / 3"
            ),
        ),
        (
            "the x q2 the n",
            "the x v something and the n comes to sum of (the a where the x v the a)",
        ),
        (
            "the x q3 the n",
            (
                "the x v something "
                "and the n comes to most of (the a where the x v the a "
                "and the a is below 2)"
            ),
        ),
        ("the n q4", "the n comes to count of (the x, the a where the x v the a)"),
        (
            "the a q5 the c",
            (
                "something v the a and something v the b "
                "and the c comes to the b - -the a and the c / 3 is below 1"
            ),
        ),
    )
    assert_same(made, [f"q{at}" for at in range(6)], rows)


@pytest.mark.parametrize(
    ("body", "row", "said"),
    [
        (
            "the x v the a and something v the b and the a / the b is above 1",
            ("x", 2),
            "divides by `the b`",
        ),
        (
            "the x v the a and something v the b and the a + the b is above 1",
            ("x", interval(1, 2)),
            "an interval",
        ),
        (
            "the x v the a and something v the b and the a + the b is above 1",
            ("x", "y"),
            "compute with `y`",
        ),
        (
            "the x v the a and something v the b and the a + the b is above 1",
            ("x", 1 << 63),
            "too large",
        ),
        ("the x v the a and the a is above 1", ("x", "y"), "order of `y` and a number"),
        (
            "the x v the a and the c comes to the a * the a and something v the c",
            ("x", Fraction(1, 3)),
            "",
        ),
    ],
)
def test_what_is_not_exact_is_refused_by_name(
    body: str, row: tuple[Term, ...], said: str
) -> None:
    """A rule that would be answered otherwise is refused, and named."""
    made = program(("the x q", body))
    if not said:
        # A square that meets no fact needs no finer parts than there are.
        assert_same(made, ["q"], [row])
        return
    with pytest.raises(Untranslatable, match="rule `r0`") as refused:
        bulk(made, ["q"], [row])
    assert said in str(refused.value)


def test_a_finer_value_in_a_head_is_refused() -> None:
    """A product of thirds has ninths, which a column of thirds cannot hold."""
    made = program(("the c q", "something v the a and the c comes to the a * the a"))
    with pytest.raises(Untranslatable, match="finer parts"):
        bulk(made, ["q"], [("x", Fraction(1, 3))])


def test_an_overflow_is_refused() -> None:
    """A sum too large for the database is an error and no wrong number."""
    made = program(("the c q", "something v the a and the c comes to the a * the a"))
    with pytest.raises(EngineError, match="refused"):
        bulk(made, ["q"], [("x", 1 << 61)])


def test_nothing_given_gives_nothing() -> None:
    """Without any fact in bulk, and with a predicate of no terms."""
    made = program(
        ("the x q", "the x v something and flag"),
        ("flag", "nothing shows anything v 5"),
    )
    whole = evaluate(made, ())
    found = Bulk(made, ["q", "flag"], whole, [], Duck(threads=1), ["v"])
    assert list(found.match("q")) == []
    assert list(found.match("flag")) == [()]


def test_what_does_not_fit_is_laid_down_apart_and_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Never in the folder that one works in."""
    monkeypatch.chdir(tmp_path)
    database = Duck(memory="30MB", threads=1)
    database.execute("CREATE TABLE many AS SELECT * FROM range(6000000) AS r(n)")
    folder = Path(
        database.connection.sql("SELECT current_setting('temp_directory')").fetchall()[
            0
        ][0]
    )
    assert folder.is_dir()
    assert [*folder.iterdir()]
    assert [*tmp_path.iterdir()] == []
    database.close()
    assert not folder.exists()
