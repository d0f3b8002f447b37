"""What is refused when rules are loaded, and how programs are kept.

Refusals are golden pairs: `tests/errors/rules/NAME.rules` and the exact message in
`NAME.txt`. Adding a pair is adding two files; `ABLUENT_GOLDEN=write` writes messages.
"""

from __future__ import annotations

import marshal
import os
from pathlib import Path

import pytest
from abluent.engine.errors import ProgramError
from abluent.engine.logic import _compile
from abluent.engine.logic.program import Program, load_program

ERRORS = Path(__file__).parents[2] / "errors" / "rules"
REFUSED = sorted(ERRORS.glob("*.rules"))


@pytest.mark.parametrize("path", REFUSED, ids=lambda path: path.stem)
def test_refusals_say_what_where_and_why(path: Path) -> None:
    """Every problem of a file is reported, with its place, by the exact message."""
    with pytest.raises(ProgramError) as caught:
        load_program([(path.name, path.read_text("utf-8"))])
    message = f"{caught.value}\n"
    golden = path.with_suffix(".txt")
    if os.environ.get("ABLUENT_GOLDEN") == "write":
        golden.write_text(message, "utf-8")
    assert message == golden.read_text("utf-8")


def test_every_code_has_a_refusal() -> None:
    """Each code that the loader can give is given by some file."""
    known = {*_compile.ADVICE, "syntax"}
    given = set()
    for path in REFUSED:
        with pytest.raises(ProgramError) as caught:
            load_program([(path.name, path.read_text("utf-8"))])
        given |= {problem.code for problem in caught.value.problems}
    assert given == known


def test_problems_of_all_files_come_together() -> None:
    """One load reports every file, in the order of names and lines."""
    bad = '"x"\n  because the x p\n  so      the y q\n  rule    a\n'
    with pytest.raises(ProgramError) as caught:
        load_program(
            [("b.rules", bad), ("a.rules", bad.replace("rule    a", "rule    c"))]
        )
    assert [problem.file for problem in caught.value.problems] == ["a.rules", "b.rules"]


WHOLE = """
standings law above handbook

"place {2} of {1} is late"
  or else "place {2} of {1} is not known to be late"
  written the product late the place

"{i} is after {m}"
  because the p line the n, the i
      and the p marker the m
      and the m is below the n
      and the d comes to the n - the m
      and the c comes to count of (the j where the p line something, the j)
      and perhaps the d is below [1/2, 3)
  unless  the p unordered
  unless  the p short the k
      and the k is below the c
  so      the p late the n
      and the p seen
  rule    late, standing law, source one and two

"{i} at {level} in {p}"
  because the i stated the level
      and the level is at least 1
  stops   late
  rule    stated, standing handbook, from memory

"{i}"
  because the i doubted
  stops   stated
  rule    doubted, standing handbook
"""


def test_a_program_survives_as_plain_data() -> None:
    """`undump(dump())` is the same program, through `marshal` and without a parser."""
    program = load_program([("whole.rules", WHOLE)])
    again = Program.undump(marshal.loads(marshal.dumps(program.dump())))
    assert again.rules == program.rules
    assert again.declarations == program.declarations
    assert again.standings == program.standings == ("law", "handbook")
    assert again.components == program.components


def test_exceptions_become_absences() -> None:
    """An exception is a predicate over what it shares, denied by its rule."""
    program = load_program([("whole.rules", WHOLE)])
    (late,) = program.concluding("late")
    assert [str(each) for each in late.body[-3:]] == [
        "nothing shows the p unordered",
        "nothing shows the p unless late 2 the c",
        "nothing shows the p exception stated the i",
    ]
    (stated,) = program.concluding("exception stated")
    assert (stated.id, stated.target, stated.from_memory) == ("stated", "late", True)
    assert str(stated.body[-1]) == "nothing shows the i exception doubted"
    (doubted,) = program.concluding("exception doubted")
    assert [str(each) for each in doubted.body] == ["the i doubted"]


def test_a_group_that_binds_nothing_gets_the_conditions_of_its_rule() -> None:
    """`{p}` in the sentence of an exception is bound by the rule it stops."""
    program = load_program([("whole.rules", WHOLE)])
    (stated,) = program.concluding("exception stated")
    assert str(stated.body[0]) == "the p line the n, the i"


def test_several_heads_share_one_block() -> None:
    """A rule with two heads is one rule with one id."""
    program = load_program([("whole.rules", WHOLE)])
    (late,), (seen,) = program.concluding("late"), program.concluding("seen")
    assert (late.id, late.body, late.place) == (seen.id, seen.body, seen.place)
    assert str(late.place) == "whole.rules:8"


def test_components_stand_after_what_they_need() -> None:
    """Every predicate a rule looks at is finished before, or together with it."""
    program = load_program([("whole.rules", WHOLE)])
    where = program.component_of
    assert where["exception doubted"] < where["exception stated"] < where["late"]
    assert all(not part.recursive for part in program.components)
