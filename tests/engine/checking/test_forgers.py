"""Some hundred forgeries of every kind, on traces of small programs.

The table of what was tried and accepted is kept beside this file; a kind of which one
is accepted, or that is never tried, is red. `python -m tests.fuzz forgeries` does the
same on real answers, in any number.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from abluent.engine.checking import checker
from forgers import ALONE, BY_BASE
from fuzz.programs import cases
from fuzz.tables import Tried, table, tried

KEPT = Path(__file__).with_name("forgeries.tsv")


@pytest.fixture(scope="module")
def made() -> list[Tried]:
    return list(tried(cases(), (*ALONE, *BY_BASE), range(2)))


def test_the_true_traces_are_accepted() -> None:
    """By themselves and by the base, asked again."""
    for each in cases():
        assert checker.check(each.true).problems == (), each.name
        base = each.base_for(each.true, "")
        assert checker.check(each.true, base).problems == (), each.name


def test_no_forgery_is_accepted(made: list[Tried]) -> None:
    """Those that contradict themselves by themselves, the others by the base."""
    assert [each[:3] for each in made if each.accepted] == []
    assert len(made) >= 500


def test_the_table_is_as_kept(made: list[Tried]) -> None:
    """Every kind is tried; `ABLUENT_KEEP=1` writes the table anew."""
    now = table(made)
    if os.environ.get("ABLUENT_KEEP"):
        KEPT.write_text(now, "utf-8")
    assert KEPT.read_text("utf-8") == now
    assert {each.kind for each in made} == {*ALONE, *BY_BASE}
