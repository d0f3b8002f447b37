"""Verdicts: what a wash does to a film, and what a product leaves."""

from __future__ import annotations

from functools import cached_property

from abluent.engine.base.phrases import product_name, product_symbol
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.explained import Explained
from abluent.engine.questions.world import ANY_PRODUCT, WATER, Case

GONE = ("clears", "noWashNeeded")
"""The verdicts after which nothing of the film stays."""

WORST_FIRST = ("doesNotClear", "open", "partlyClears", "clears", "noWashNeeded")


class Verdict(Explained):
    """What one wash does to one film.

    Attributes:
        wash: the name of the product, or `water`.
        film: the symbol of the film-former.
        source: the name of the product that left it; empty for any.
        value: one of `WORST_FIRST`.
    """

    def __init__(self, case: Case, args: tuple[str, str, str, str]) -> None:
        wash, film, product, value = args
        self.wash = WATER if wash == WATER else product_name(wash)
        self.film = film
        self.source = "" if product == ANY_PRODUCT else product_name(product)
        self.value = value
        aside = [] if value in GONE else _beside(case, args)
        super().__init__(case, ("verdict", args), aside)

    @cached_property
    def disputed(self) -> bool:
        """Whether sources of equal rank part over it."""
        _, (wash, film, product, _) = self.goal
        return self.case.model.holds("disputed", (wash, film, product))

    @cached_property
    def dispute(self) -> Explained | None:
        """Why it is disputed, if it is."""
        _, (wash, film, product, _) = self.goal
        if not self.disputed:
            return None
        return Explained(self.case, ("disputed", (wash, film, product)))


class Left(Explained):
    """A film that a product leaves on hair.

    Attributes:
        source: the name of the product, or `water`.
        film: the symbol of the film-former.
    """

    def __init__(self, case: Case, product: str, film: str) -> None:
        self.source = WATER if product == WATER else product_name(product)
        self.film = film
        super().__init__(case, ("leaves", (product, film)))


def verdicts(case: Case, wash: str = "") -> list[Verdict]:
    """The verdicts of a case, those of one wash if it is named.

    In the order of the shelf by wash, the worst film first.
    """
    symbol = None if not wash else WATER if wash == WATER else product_symbol(wash)
    found = case.model.match("verdict", (symbol, None, None, None))
    made = [Verdict(case, tuple(str(each) for each in row)) for row in found]  # type: ignore[arg-type]
    order = {name: n for n, name in enumerate([*case.world.products, WATER])}
    return sorted(
        made,
        key=lambda v: (order[v.wash], v.source, WORST_FIRST.index(v.value), v.film),
    )


def films_left(case: Case, product: str) -> list[Left]:
    """The films that a product leaves, in the order of its label."""
    symbol = WATER if product == WATER else product_symbol(product)
    films = {str(film) for _, film in case.model.match("leaves", (symbol, None))}
    places = {
        str(film): place
        for _, place, film in case.model.match("line", (symbol, None, None))
    }
    ordered = sorted(films, key=lambda film: (str(places.get(film, "")).zfill(6), film))
    return [Left(case, symbol, film) for film in ordered]


def worst(found: list[Verdict]) -> Verdict | None:
    """The verdict that decides for a whole product, if anything is left at all."""
    return min(found, key=lambda v: WORST_FIRST.index(v.value), default=None)


def _beside(case: Case, args: tuple[str, str, str, str]) -> list[Ground]:
    """What a wash lists that did not help: set aside, or tried in vain."""
    wash, film, product, value = args
    asides = sorted(case.model.match("setAside", (wash, None)))
    found: list[Ground] = [("setAside", each) for each in asides]
    if value != "partlyClears":
        for *_, grade in case.model.match("reading", (film, product, None)):
            tried = sorted(case.model.match("tried", (wash, grade, None)))
            found += [("tried", each) for each in tried]
    return found
