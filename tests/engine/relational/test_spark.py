"""The same plan in the dialect of Spark, run by Spark.

It needs Java 17 with the vector module (`apt-get install openjdk-17-jre-headless`),
`pip install pyspark sqlglot`, and some seconds to start; without them it is skipped,
and says so. What it prints is tested without Spark.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from fractions import Fraction

import pytest
from abluent.engine.errors import EngineError
from abluent.engine.logic.facts import Fact, Table
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term, interval
from abluent.engine.relational.evaluate import Bulk
from abluent.engine.relational.spark import Spark
from abluent.engine.relational.sql import NATIVE, plan_text
from abluent.engine.relational.translate import Translation

sqlglot = pytest.importorskip("sqlglot", reason="another dialect needs sqlglot")

RULES = """
"a step"
  because the x edge the y
  so      the x path the y
  rule    near

"a way"
  because the x path the y
      and the y path the z
  so      the x path the z
  rule    far

"nothing leads to it"
  because the x node
      and nothing shows the x path the x
      and nothing shows anything edge the x
  so      the x lone
  rule    lone

"much follows"
  because the x node
      and the n comes to count of (the y where the x path the y)
      and the n is at least 2
  so      the x many the n
  rule    many

"perhaps heavier"
  because the x weight the w
      and the y weight the v
      and perhaps the w is above the v
      and the x differs from the y
  so      the x heavier the y
  rule    heavy

"in all"
  because the x size something
      and the n comes to sum of (the s where the x size the s)
      and the n + 1 / 2 is above 2
  so      the x total the n
  rule    total
"""
GOALS = ["path", "lone", "many", "heavier", "total"]
ROWS: dict[str, list[tuple[Term, ...]]] = {
    "edge": [("a", "b"), ("b", "c"), ("c", "b"), ("d", "a")],
    "node": [("a",), ("b",), ("c",), ("d",), ("e",)],
    "weight": [
        ("a", interval(1, 2)),
        ("b", interval(Fraction(4, 3), None, True)),
        ("c", Fraction(1, 10**40 + 1)),
        ("d", 2),
    ],
    "size": [("a", Fraction(1, 2)), ("a", 2), ("b", 1), ("c", Fraction(5, 3))],
}


def tables() -> list[Table]:
    return [Table(n, list(zip(*rows, strict=True))) for n, rows in ROWS.items()]


@pytest.fixture(scope="module")
def spark() -> Iterator[Spark]:
    pytest.importorskip("pyspark", reason="Spark is not installed: pip install pyspark")
    if shutil.which("java") is None:
        pytest.skip("Spark needs Java 17: apt-get install openjdk-17-jre-headless")
    try:
        session = Spark()
    except EngineError as error:
        pytest.skip(str(error).split("\n", 1)[0])
    yield session
    session.close()


@pytest.mark.long
def test_spark_finds_what_the_reasoner_finds(spark: Spark) -> None:
    """Recursion, absence, counting, fractions and intervals."""
    program = load_program([("rules", RULES)])
    bulk = Bulk(program, GOALS, evaluate(program, ()), tables(), spark)
    facts = [Fact(name, row) for name, rows in ROWS.items() for row in rows]
    whole = evaluate(program, facts)
    for goal in GOALS:
        assert set(bulk.match(goal)) == set(whole.match(goal)), goal


@pytest.mark.long
def test_spark_refuses_to_overflow(spark: Spark) -> None:
    """A product that does not fit is an error there too."""
    rule = (
        '"so"\n'
        "  because the a big\n"
        "      and the c comes to the a * the a\n"
        "  so      the c q\n"
        "  rule    r\n"
    )
    program = load_program([("rules", rule)])
    with pytest.raises(EngineError, match="Spark refused"):
        Bulk(program, ["q"], evaluate(program, ()), [Table("big", [[1 << 61]])], spark)


def test_the_plan_is_printed_in_both_dialects() -> None:
    """It is one plan: every table and every rule is named in both."""
    program = load_program([("rules", RULES)])
    translation = Translation(program, GOALS, ROWS)
    for name, rows in ROWS.items():
        for place, domain in enumerate(translation.domains.columns(name)):
            domain.add(row[place] for row in rows)
    plan = translation.plan()
    native, other = plan_text(plan), plan_text(plan, "spark")
    assert native != other
    for text in (native, other):
        for table in plan.tables.values():
            assert table.name in text
        for rule in program.rules:
            assert rule.id in text
    statements = [
        s.split("\n", 1)[1] for s in native.split("\n\n") if "CREATE TABLE" in s
    ]
    assert all(sqlglot.parse_one(each, read=NATIVE) for each in statements)
