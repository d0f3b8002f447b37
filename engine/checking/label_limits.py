"""Which limits on levels the facts of a trace contain, and whether they bind.

Worked out anew for the checker, with the standard library only. An ingredient with one
limit as a preservative and another for other uses may be there for either, so only the
side that allows more binds; where other uses have no greatest level, neither does. A
limit that takes in only some products of a kind lifts another and binds none.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

try:
    from abluent.engine.checking import replay
except ImportError:  # beside a checker that was run as a file by itself
    import replay  # type: ignore[import-not-found, no-redef]

WHOLE = Fraction(100)
LAW, CUSTOM = "ConcentrationLimit", "UseLevel"
KEYS = {"shares", "low", "high"}


class Told:
    """The facts of a trace about one product, and what follows from them.

    Args:
        trace: the trace.
        model: what follows in it, a `follows.Follows`.
        product: the product.
    """

    def __init__(self, trace: Any, model: Any, product: str) -> None:
        self.model, self.product = model, product
        self.scale = trace["program"]["standings"]
        self._facts: dict[Any, list[Any]] = {}
        for fact in trace["facts"]:
            self._facts.setdefault(tuple(map(str, fact["atom"][:2])), []).append(fact)

    def follows(self, predicate: str, subject: str) -> list[tuple[Any, ...]]:
        """The further terms of all that follows of a predicate and subject."""
        return [fact[2:] for fact in self.model.about(predicate, subject)]

    def facts(self, predicate: str, subject: str) -> list[Any]:
        """What the trace asserts of a predicate and subject."""
        return self._facts.get((predicate, subject), [])

    def values(self, predicate: str, subject: str) -> list[Any]:
        """The second terms of these facts."""
        found = self.facts(predicate, subject)
        return [
            replay.value(each["atom"][2]) for each in found if len(each["atom"]) > 2
        ]

    def subjects(self, predicate: str) -> list[str]:
        """What the trace asserts something of."""
        return [subject for name, subject in self._facts if name == predicate]

    def product_is(self, predicate: str) -> set[Any]:
        """The second terms of all that follows of a predicate and the product."""
        return {each[0] for each in self.follows(predicate, self.product)}

    def is_a(self, thing: str, kind: str) -> bool:
        """Whether a thing is of a kind, or is it."""
        return thing == kind or bool(self.model.ask(("isa", thing, kind)))


class Limits:
    """The limits among some facts."""

    def __init__(self, told: Told) -> None:
        self._told = told

    def rests_on(self, name: str, shares: Any) -> Iterator[Any]:
        """The facts that give the figures of a limit, and how low it stands at most."""
        for record in self._records(name):
            for end in ("low", "high"):
                yield from self._told.facts(end, record)
            if CUSTOM in self._told.values("type", record):
                yield {"standing": "commonPractice", "sources": [], "memory": False}
        for ingredient, share in shares.items():
            if share != "1":
                yield from (fact for fact, _ in self._counted(ingredient))

    def holds(self, name: str, limit: Any) -> bool:
        """Whether a limit says what is made of it and binds the product.

        Args:
            name: the records it is made of, such as `a+b`, with what it is on in part
                after a colon.
            limit: its `shares`, `low` and `high`, numbers as text.
        """
        records, told = self._records(name), self._told
        lows, highs = (
            [value for each in records for value in told.values(end, each)]
            for end in ("low", "high")
        )
        ends = [
            None if limit[e] is None else Fraction(limit[e]) for e in ("low", "high")
        ]
        sums = all(told.facts("boundsSum", each) for each in records)
        said = set(limit) == KEYS and ends == [min(lows, default=None), max(highs)]
        kinds = {kind for each in records for kind in told.values("type", each)}
        if not said or not all(map(self._here, records)) or len(kinds) != 1:
            return False
        if not sums and len(limit["shares"]) > 1:
            return False
        if kinds == {CUSTOM}:
            named = limit["shares"]
            return all(
                self._usual(record)
                and self._is_of_sort(record, named)
                and all(self._names(record, each) for each in named)
                for record in records
            ) and set(named.values()) == {"1"}
        return kinds == {LAW} and all(
            records[0] in self.binding(ingredient) and self._share_is(ingredient, share)
            for ingredient, share in limit["shares"].items()
        )

    def binding(self, ingredient: str) -> list[str]:
        """The limits of law that bind an ingredient, whatever it is there for."""
        told = self._told
        named = [
            each
            for each in told.subjects("high")
            if LAW in told.values("type", each)
            and not told.facts("low", each)
            and not told.facts("bindsSomeGrades", each)
            and self._here(each)
            and self._names(each, ingredient)
        ]
        sure = [each for each in named if self._covers(each)]
        keeps = [e for e in sure if told.facts("bindsPreservativeUse", e)]
        other = [each for each in sure if each not in keeps]
        lifts = [
            each
            for each in named
            if self._covers(each) is None
            and not told.facts("bindsPreservativeUse", each)
        ]
        if not keeps or not (other or lifts):
            free = any(told.facts("openToOtherUse", each) for each in keeps)
            return [] if free else keeps or other
        level = {each: self._level(each, ingredient) for each in named}
        other = other or [max(lifts, key=lambda each: level[each])]
        more = min(level[e] for e in keeps) > min(level[e] for e in other)
        return keeps if more else other

    @staticmethod
    def _records(name: str) -> list[str]:
        return name.split(":", maxsplit=1)[0].split("+")

    def _here(self, record: str) -> bool:
        """Whether a limit is in per cent, and is law or custom in the market."""
        markets = {"anyMarket", *self._told.product_is("soldIn")}
        there = markets.intersection(self._told.values("market", record))
        return bool(there) and self._told.values("unit", record) == ["percentByWeight"]

    def _usual(self, record: str) -> bool:
        return not self._told.product_is("kind").isdisjoint(
            self._told.values("usualIn", record)
        )

    def _is_of_sort(self, record: str, named: Any) -> bool:
        """Whether the places on the label show the sort of product it speaks of."""
        told = self._told
        above, below = (told.values(e, record) for e in ("usualAbove", "usualBelow"))
        if not above and not below:
            return True
        atoms = [fact["atom"] for fact in told.facts("line", told.product)]
        lines = [(replay.value(place), each) for _, _, place, each in atoms]
        first = min((at for at, each in lines if each in named), default=None)
        if first is None or told.facts("unordered", told.product):
            return False
        before = [each for at, each in lines if at < first]
        led = any(told.is_a(each, kind) for each in before for kind in above)
        marked = any(told.is_a(each, kind) for each in before for kind in below)
        return not led and (marked or not below)

    def _names(self, record: str, ingredient: str) -> bool:
        named = self._told.values("appliesTo", record)
        return any(self._told.is_a(ingredient, each) for each in named)

    def _covers(self, record: str) -> bool | None:
        """Whether a limit takes in the kind of product; None if in part."""
        scopes, kinds = (
            self._told.values("scope", record),
            self._told.product_is("kind"),
        )
        for name, answer in (("coversKind", True), ("mayCoverKind", None)):
            if any(not kinds.isdisjoint(self._told.values(name, s)) for s in scopes):
                return answer
        return False

    def _counted(self, ingredient: str) -> list[tuple[Any, Fraction]]:
        """The part of its mass by which an ingredient counts, with the facts of it."""
        told = self._told
        return [
            (fact, value)
            for each in told.subjects("measures")
            if ingredient in told.values("measures", each)
            and "countedShare" in told.values("quantity", each)
            for fact, value in zip(
                told.facts("low", each), told.values("low", each), strict=True
            )
        ]

    def _share_is(self, ingredient: str, share: str) -> bool:
        known = [value for _, value in self._counted(ingredient)]
        return share == "1" or Fraction(share) in known

    def _level(self, record: str, ingredient: str) -> Fraction:
        """The greatest level of an ingredient under a limit alone."""
        share = next((value for _, value in self._counted(ingredient)), Fraction(1))
        high: Fraction = self._told.values("high", record)[0]
        return high / share
