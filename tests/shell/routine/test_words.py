"""Amounts and films in words."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film
from abluent.shell.routine.words import by_family, kinds, named, uses
from abluent.shell.session.session import Session

ONE = Fraction(1)


@cache
def world() -> World:
    return Session.open().world


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (ONE, ONE, "1 use's worth"),
        (ONE, ONE * 10, "1 to 10 uses' worth"),
        (ONE, Fraction(104, 100), "1 use's worth"),
        (Fraction(1, 50), ONE, "under 0.1 to 1 use's worth"),
        (ONE * 0, Fraction(35, 10), "0 to 3.5 uses' worth"),
        (ONE * 2, None, "2 uses' worth and more"),
        (None, None, "without end"),
    ],
)
def test_an_amount_is_told_between_its_ends(
    low: Fraction | None, high: Fraction | None, told: str
) -> None:
    assert uses(low, high) == told


def test_what_two_products_leave_is_told_once() -> None:
    films = [Film("dimethicone", "A"), Film("dimethicone", "B")]
    assert named(films, world()) == "Dimethicone from A and B"
    assert by_family(films, world()) == "silicones (Dimethicone from A and B)"


def test_many_films_of_a_product_are_counted() -> None:
    formers = ("cera-alba", "lanolin", "ozokerite", "paraffin")
    films = [Film(each, "Pomade") for each in formers]
    assert named(films, world()) == "4 from Pomade"


def test_names_that_hold_an_and_are_kept_apart() -> None:
    films = [Film("cetyl-alcohol", "A"), Film("cocos-nucifera-oil", "A")]
    assert kinds(films, world()) == "fatty alcohols, and oils and butters"
