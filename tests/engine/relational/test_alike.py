"""Judging once what is alike changes no answer, and does judge once."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import Program, load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term, interval
from abluent.engine.relational import alike, portions
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.errors import Untranslatable
from abluent.engine.relational.things import Reckoning
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from programs import BASE, DERIVED, TOP, Case, cases

pytest.importorskip("duckdb", reason="evaluating in bulk needs DuckDB")
pytest.importorskip("numpy", reason="evaluating in bulk needs numpy")

RULES = """
"it acts"
  because the p line the n, the i
      and the i kindOf agent
      and nothing shows the p early the n
  so      the p acts the i
  rule    acts

"it stands low"
  because the p line the n, something
      and the p line the m, the i
      and the i kindOf marker
      and the m is below the n
  so      the p early the n
  rule    early

"it stays"
  because the p line something, the f
      and the f kindOf film
  so      the p leaves the f
  rule    leaves

"a grade"
  because the p leaves the f
      and the f gradeOf the g
  so      the f reads the p, the g
  rule    grade

"it takes"
  because something acts the a
      and something reads something, the g
      and the a removes the g
  so      the a takes the g
  rule    takes

"it lifts"
  because the w asks
      and the w acts the a
      and the a takes the g
  so      the w lifts the g
  rule    lifts

"it puts back"
  because the w asks
      and the w leaves the f
      and the f reads something, the g
      and something lifts the g
  so      the w back the g
  rule    back

"it clears"
  because the f reads the p, the g
      and the w lifts the g
      and nothing shows the w back the g
  so      the w clears the f, the p
  rule    clears

"it keeps"
  because the w asks
      and the f reads the p, the g
      and nothing shows the w lifts the g
  so      the w keeps the f, the p, the g
  rule    keeps
"""
COMPARING = """
"two of a kind"
  because the w lifts the g
      and the v lifts the g
      and the v differs from the w
  so      the w two the v
  rule    two
"""
GOALS = ["clears", "keeps", "acts", "takes"]
KNOWN = [
    *(Fact("kindOf", (i, k)) for i, k in [("a", "agent"), ("b", "agent")]),
    *(
        Fact("kindOf", (i, k))
        for i, k in [("f", "film"), ("g", "film"), ("m", "marker")]
    ),
    *(Fact("gradeOf", (f, g)) for f, g in [("f", "f1"), ("f", "f2"), ("g", "g1")]),
    *(Fact("removes", (a, g)) for a, g in [("a", "f1"), ("b", "f2"), ("b", "g1")]),
]
VARYING = ["line", "asks"]

labels = st.lists(
    st.lists(st.sampled_from("abfgmxy"), max_size=5), min_size=1, max_size=7
)


def tables_of(lists: Sequence[Sequence[str]]) -> list[Table]:
    rows: list[tuple[Term, ...]] = [
        (f"p{at}", n, i) for at, items in enumerate(lists) for n, i in enumerate(items)
    ]
    asked = [(f"p{at}",) for at in range(0, len(lists), 2)]
    found = [Table("asks", list(zip(*asked, strict=True)))]
    return found + ([Table("line", list(zip(*rows, strict=True)))] if rows else [])


def facts_of(tables: Sequence[Table]) -> list[Fact]:
    return [
        Fact(table.predicate, row)
        for table in tables
        for row in zip(*table.columns, strict=True)
    ]


def reckoned(
    program: Program,
    goals: Sequence[str],
    known: Sequence[Fact],
    tables: Sequence[Table],
) -> Reckoning:
    found = Reckoning(
        program, goals, evaluate(program, known), VARYING, ("line", 0), Duck(threads=1)
    )
    found.meet(tables)
    found.take(tables)
    found.finish()
    return found


PROGRAM = load_program([("rules", RULES)])


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(labels)
def test_what_is_alike_has_the_same_answers(lists: list[list[str]]) -> None:
    """Row by row, as the reasoner finds them for every thing by itself."""
    tables = tables_of(lists)
    found = reckoned(PROGRAM, GOALS, KNOWN, tables)
    whole = evaluate(PROGRAM, [*KNOWN, *facts_of(tables)])
    for goal in GOALS:
        assert sorted(found.match(goal), key=str) == sorted(whole.match(goal), key=str)


def test_one_is_judged_for_many() -> None:
    """Ten washes of two kinds and ten creams of two kinds make four verdicts."""
    washes = [["a", "x", str(at)] if at % 2 else ["b", "y"] for at in range(10)]
    creams = [["x", "f"] if at % 2 else ["f", "y"] for at in range(10)]
    lists = [each for pair in zip(washes, creams, strict=True) for each in pair]
    found = reckoned(PROGRAM, ["keeps"], KNOWN, tables_of(lists))
    assert len(list(found.match("keeps"))) == 100
    assert found.judged("keeps") == 2


BY_ITSELF = """
"it acts"
  because the p line something, the i
      and the i kindOf agent
  so      the p acts the i
  rule    acts

"it leaves"
  because the p line something, the f
      and the f kindOf film
  so      the p leaves the f
  rule    leaves

"it lifts"
  because the w asks
      and the w acts the a
      and the a removes the g
      and nothing shows the w leaves the g
  so      the w lifts the g
  rule    lifts

"it fails"
  because the w asks
      and the f kindOf film
      and nothing shows the w lifts the f
  so      the w fails the f
  rule    fails

"some fail"
  because something fails the f
  so      the f hard
  rule    hard

"it keeps"
  because the w fails the f
      and the p leaves the f
      and the f hard
  so      the w keeps the f, the p
  rule    keeps
"""
"""What a wash lifts is much, and concluded about each wash by itself."""


@pytest.mark.parametrize("portion", [2, 1000])
def test_things_are_put_together_again_by_what_came_of_them(
    monkeypatch: pytest.MonkeyPatch, portion: int
) -> None:
    """Sixteen washes of as many agents, of which two things come, in portions too."""
    monkeypatch.setattr(portions, "PORTION", portion)
    monkeypatch.setattr(alike, "_MUCH", 1)
    program = load_program([("rules", BY_ITSELF)])
    agents = [f"a{at}" for at in range(16)]
    known = [
        *(Fact("kindOf", (agent, "agent")) for agent in agents),
        *(Fact("kindOf", (film, "film")) for film in "fgh"),
        *(Fact("removes", (a, f)) for n, a in enumerate(agents) for f in "fg"[n % 2 :]),
    ]
    lists = [[agents[at // 2]] if at % 2 == 0 else ["f", "h"] for at in range(32)]
    lists[2] = [agents[1], "g"]
    tables = tables_of(lists)
    found = reckoned(program, ["keeps"], known, tables)
    whole = evaluate(program, [*known, *facts_of(tables)])
    assert set(found.match("keeps")) == set(whole.match("keeps"))
    assert len(list(found.match("keeps"))) == whole.count("keeps") > 0
    assert found.parted.turn is not None
    # Those that lift both, one, and none for themselves, over two films.
    assert found.judged("keeps") <= 6


def test_things_that_are_compared_do_not_stand_for_each_other() -> None:
    """A rule that tells one product from another is answered for each."""
    program = load_program([("rules", RULES + COMPARING)])
    tables = tables_of([["a"], ["f"], ["a"], ["f"], ["b"]])
    found = reckoned(program, ["two"], KNOWN, tables)
    whole = evaluate(program, [*KNOWN, *facts_of(tables)])
    assert set(found.match("two")) == set(whole.match("two"))
    assert whole.count("two") == 2


@pytest.mark.slow
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(case=cases(), varying=st.sets(st.sampled_from(list(BASE)), min_size=1))
def test_random_programs_have_the_same_facts(case: Case, varying: set[str]) -> None:
    """Also where things are compared, counted, named, and stand in two places."""
    program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
    goals = [n for n in [*TOP, *DERIVED[1], *DERIVED[2]] if n in program.arities]
    known = [Fact(*each) for each in case.facts if each[0] not in varying]
    rows = {name: [a for n, a in case.facts if n == name] for name in sorted(varying)}
    tables = [Table(n, list(zip(*r, strict=True))) for n, r in rows.items() if r]
    thing = ("mark", 0) if "mark" in varying else ("edge", 1)
    try:
        found = Reckoning(
            program, goals, evaluate(program, known), varying, thing, Duck(threads=1)
        )
        found.meet(tables)
        found.take(tables)
        found.finish()
    except Untranslatable:
        assume(False)
    whole = evaluate(program, [Fact(*each) for each in case.facts])
    for goal in goals:
        assert set(found.match(goal)) == set(whole.match(goal)), goal


COMPUTING = """
"it weighs"
  because the p amount the i, the x
      and the i factor the f
      and the w comes to the x / the f * [1, 2]
  so      the p weight the i, the w
  rule    weight

"in all"
  because the p weight something, something
      and the all comes to sum of (the w, the i where the p weight the i, the w)
  so      the p all the all
  rule    all

"heavy"
  because the p asks
      and the p all the all
      and perhaps the all is above 7 / 3
  so      the p heavy
  rule    heavy
"""


def test_intervals_are_computed_with_before_the_database() -> None:
    """The reasoner works out sums of intervals; the database compares them."""
    program = load_program([("rules", COMPUTING)])
    known = [Fact("factor", ("a", Fraction(100087, 1000))), Fact("factor", ("b", 3))]
    amounts: list[tuple[Term, ...]] = [
        ("p0", "a", interval(0, 100)),
        ("p0", "b", 1),
        ("p1", "b", interval(3, 5, True, False)),
        ("p2", "b", 10**40 + 1),
    ]
    tables = [
        Table("amount", list(zip(*amounts, strict=True))),
        Table("asks", [["p0", "p1", "p2"]]),
    ]
    found = Reckoning(
        program,
        ["heavy", "all"],
        evaluate(program, known),
        ["amount", "asks"],
        ("asks", 0),
        Duck(threads=1),
    )
    found.meet(tables)
    found.take(tables)
    found.finish()
    whole = evaluate(program, [*known, *facts_of(tables)])
    assert set(found.match("heavy")) == set(whole.match("heavy"))
    assert set(found.match("all")) == set(whole.match("all"))
    assert whole.count("heavy") == 3
