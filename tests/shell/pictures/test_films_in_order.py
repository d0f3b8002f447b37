"""Pictures of films by how easily they go: numbered rungs, never a bare list."""

from __future__ import annotations

import re

import pytest
from abluent.shell.pictures.card import Wish, answer_card
from abluent.shell.told.telling import told_of
from hard_pictures import texts
from shown import DAY, demo, demo_session

FILMS = "Dimethicone, Amodimethicone, Cyclopentasiloxane, PEG-12 Dimethicone"
HARDEST = f"which of {FILMS} hardest first"
COMPARED = f"compare {FILMS}"


def _rungs(question: str) -> list[tuple[str, str]]:
    told = told_of(demo(question), question, demo_session().world)
    assert all(group.mark and group.names for group in told.groups)
    return [tuple(group.word.split(". ", 1)) for group in told.groups]  # type: ignore[misc]


@pytest.mark.parametrize("question", [HARDEST, COMPARED])
@pytest.mark.parametrize("shape", ["16:9", "9:16", "1:1", "A4"])
def test_every_film_stands_on_a_rung_of_its_picture(question: str, shape: str) -> None:
    wish = Wish(shape, DAY, world=demo_session().world)
    shown = " ".join(texts(answer_card(demo(question), question, wish)))
    assert all(film in shown for film in FILMS.split(", "))
    assert "1. " in shown
    assert not re.search(r"and \d+ more", shown)


def test_what_evaporates_is_the_easiest_and_ends_what_begins_with_the_hardest() -> None:
    hard, easy = _rungs(HARDEST), _rungs(COMPARED)
    assert easy[0] == ("1", "Cyclopentasiloxane")
    assert hard[-1][1] == "Cyclopentasiloxane"
    assert {name for _, name in hard} == {name for _, name in easy}
    numbers = [int(number) for number, _ in easy]
    assert numbers == sorted(numbers)
    assert numbers[-1] > 1


def test_of_two_films_it_is_said_which_is_the_harder() -> None:
    question = "compare Dimethicone and Amodimethicone"
    told = told_of(demo(question), question, demo_session().world)
    assert told.claim == "Amodimethicone is harder to take off than Dimethicone."
    assert not told.steps
