"""Free speech over the demo shelf: what was read rightly is still read so.

`tests/guards/README.md` says who wrote the sayings and what the first run came to.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.questions.forms.heard import heard
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.grammar.phrase.reading import Heard
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.shell.session.session import Session

GUARDS = Path(__file__).parents[3] / "guards"
ROWS = [
    json.loads(line)
    for name in ("sayings_open.jsonl", "sayings_sealed.jsonl")
    for line in (GUARDS / name).read_text("utf-8").splitlines()
]
JUDGED = [row for row in ROWS if {"first", "among", "told", "refused"} & row.keys()]
LEAST_REFUSED = 0.9
Hear = Callable[[str], Heard]


@pytest.fixture(scope="module")
def lexicon() -> Vocabulary:
    """The names of the demo shelf and of the base."""
    return Vocabulary(Nouns(Session.open().world, {}))


@pytest.fixture(scope="module")
def hear(lexicon: Vocabulary) -> Hear:
    """What a saying comes to, read once."""
    return cache(partial(heard, vocabulary=lexicon))


@pytest.mark.parametrize("row", JUDGED, ids=lambda row: row["id"])
def test_what_was_right_stays_right(hear: Hear, row: dict[str, Any]) -> None:
    """First, among the three, told that nothing settles it, or refused."""
    found = hear(row["text"])
    questions = [reading.question for reading in found.readings]
    if "first" in row:
        assert questions[:1] == [row["first"]]
    elif "among" in row:
        assert row["among"] in questions
    elif "told" in row:
        assert row["told"] in found.unsettled
    else:
        assert not questions


@pytest.mark.slow
def test_every_offer_of_the_corpus_can_be_asked(hear: Hear) -> None:
    """At most three, each read back as it stands, and its marks within the text."""
    for row in ROWS:
        found = hear(row["text"])
        assert len(found.readings) <= 3
        for reading in found.readings:
            assert print_query(parse_query(reading.question)) == reading.question
            assert all(span.end <= len(row["text"]) for span in reading.unread)


@pytest.mark.slow
def test_senseless_lines_are_refused(lexicon: Vocabulary) -> None:
    """Nine in ten at the least."""
    lines = (GUARDS / "senseless.txt").read_text("utf-8").splitlines()
    refused = sum(not heard(line, lexicon).readings for line in lines)
    assert len(lines) == 200
    assert refused >= LEAST_REFUSED * len(lines)
