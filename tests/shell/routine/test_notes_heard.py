"""What a note says of hair and scalp is heard, also where it denies a sign."""

from __future__ import annotations

import pytest
from abluent.engine.base.store import Base
from abluent.engine.routines.noted import (
    advised_to,
    coated,
    films_noted,
    harmed,
    noted,
    well,
)
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.session.session import Session


@pytest.fixture(scope="module")
def base() -> Base:
    return Session.open().world.base


def _routine(note: str) -> str:
    return f'{note}\nwash with "Ibis Deep" on Sunday\n'


@pytest.mark.parametrize(
    ("note", "heard"),
    [
        ("hair is falling in round patches", True),
        ("hair is fine, falling out in patches", True),
        ("scalp is normal, little bumps", True),
        ("hair is white flakes on it, flakes not on the scalp", False),
        ("hair is not on the scalp, sore", True),
        ("scalp is without flakes", False),
        ("scalp is no itch", False),
        ("scalp is itchy", True),
    ],
)
def test_signs_are_heard_but_where_they_are_denied(
    base: Base, note: str, heard: bool
) -> None:
    (routine,) = parse_routines(_routine(note))
    assert bool(noted(routine, base)) == heard


@pytest.mark.parametrize(
    ("note", "word"),
    [
        ("hair is flat, coated", "flat"),
        ("hair is fine, coated", "coated"),
        ("hair is not coated", ""),
        ("hair is nothing can ever build up", ""),
        ("hair is nothing builds up, build-up at the ends", "build-up"),
        ("hair is greasy", "greasy"),
    ],
)
def test_that_hair_feels_coated_is_heard(base: Base, note: str, word: str) -> None:
    (routine,) = parse_routines(_routine(note))
    assert coated(routine, base) == word


@pytest.mark.parametrize(
    ("note", "hurt", "fine"),
    [
        ("hair is long, healthy", "", True),
        ("hair is healthy, scalp tight", "scalp tight", False),
        ("hair is healthy, tight curls", "", True),
        ("hair is not healthy", "", False),
        ("hair is like straw", "straw", False),
    ],
)
def test_that_hair_is_harmed_or_well_is_heard(
    base: Base, note: str, hurt: str, fine: bool
) -> None:
    (routine,) = parse_routines(_routine(note))
    assert (harmed(routine, base), well(routine, base)) == (hurt, fine)


def test_green_hair_speaks_of_metal(base: Base) -> None:
    (routine,) = parse_routines(_routine("hair is blond, greenish"))
    assert films_noted(routine, base) == {"HardWaterMineral": "greenish"}


def test_protein_is_advised_on_where_some_is_used(base: Base) -> None:
    (routine,) = parse_routines(_routine("hair is stiff"))
    some = advised_to(routine, base, ["hydrolyzed-wheat-protein"])
    assert [each.caution for each in some] == ["note-protein"]
    assert advised_to(routine, base, ["dimethicone"]) == []
