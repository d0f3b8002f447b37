"""Which cautions stand on a screen: a table of questions.

It was filled from the answers and looked over by hand.

A question may have a few that belong and some that do not; `any` in the last column
means that none belongs. A sample is asked here, all of them in the long run.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from abluent.engine.questions.answers.cautions import nearest_cautions
from abluent.engine.questions.answers.rows import all_rows
from abluent.shell.session.session import Session

LINES = Path(__file__).with_name("cautions.tsv").read_text("utf-8").splitlines()[1:]
TABLE = [tuple(line.split("\t")) for line in LINES]


@cache
def session() -> Session:
    return Session.open()


def holds(question: str, belong: str, off: str) -> None:
    shown = nearest_cautions(all_rows(session().ask(question)))
    assert len(shown) <= 2
    for words in filter(None, belong.split("|")):
        assert any(words in text for text in shown), words
    for words in off.split("|"):
        assert not any(words in text or words == "any" for text in shown), words
    assert all(text.endswith(")") for text in shown), "each says what calls for it"


def test_the_table_is_as_long_as_it_says() -> None:
    """Sixty questions, of which some call for nothing."""
    assert len(TABLE) >= 60
    assert sum(off == "any" for _, _, off in TABLE) >= 10


@pytest.mark.parametrize(("question", "belong", "off"), TABLE[2::9])
def test_a_sample_has_the_cautions_that_belong(
    question: str, belong: str, off: str
) -> None:
    """And none that does not."""
    holds(question, belong, off)


@pytest.mark.long
@pytest.mark.parametrize(("question", "belong", "off"), TABLE)
def test_every_question_has_the_cautions_that_belong(
    question: str, belong: str, off: str
) -> None:
    """And none that does not."""
    holds(question, belong, off)
