"""Check the facts of a trace that give a quantity of a label as an interval.

Needs the standard library only. Each such fact has an entry in the part `bounds` of a
trace, which proves both ends of the interval:

atom     the fact
without  what was set aside, as it contradicts the rest: the `order`, the `stated`
         figures, or that the list is `whole`
limits   of law or custom that the proofs use: `shares`, `low` and `high` by each name
low      the proof (see `bounds`) that minus the quantity is at most minus the low end;
         null if there is no such end
high     the proof that the quantity is at most the high end, or null

All that a proof rests on is looked up in the facts of the trace: the places of the
label, how a list may end, what a limit says and whether it binds, charges and molar
masses. The fact stands no higher than these, and cites their sources.

Three things cannot be looked up, as they are no facts: from which day a limit binds,
whether it is on an impurity, and whether it counts something else than the ingredient
as it is. Nor does a trace by itself show that no limit and no figure was kept out of
it: against a base, the fact must be there.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property
from typing import Any

try:
    from abluent.engine.checking import bounds, label_limits, label_rows, replay
except ImportError:  # beside a checker that was run as a file by itself
    import bounds  # type: ignore[import-not-found, no-redef]
    import label_limits  # type: ignore[import-not-found, no-redef]
    import label_rows  # type: ignore[import-not-found, no-redef]
    import replay  # type: ignore[import-not-found, no-redef]

ORIGIN = "the account of levels"
KEYS = {"atom", "without", "limits", "low", "high"}
PROTON = Fraction("1.008")  # g/mol
INFERRED = {"standing": "inferred", "sources": [], "memory": False}


def tests(trace: Any, model: Any) -> Iterator[tuple[object, str, str]]:
    """Whether something holds, what it is about, and what is wrong if it does not.

    Args:
        trace: the trace.
        model: what follows in it, a `follows.Follows`.
    """
    claimed = {
        str(fact["atom"]): fact
        for fact in trace["facts"]
        if fact["origin"] == ORIGIN or fact["atom"][0] in FORMS
    }
    shown = [str(entry["atom"]) for entry in trace["bounds"]]
    once = len(set(shown)) == len(shown)
    yield once and set(shown) == set(claimed), "bounds", "are not those of the facts"
    for entry in trace["bounds"]:
        fact = claimed[str(entry["atom"])]
        yield fact["origin"] == ORIGIN, str(entry["atom"]), "has another origin"
        for wrong in _Quantity(entry, fact, trace, model).problems():
            yield False, str(entry["atom"]), wrong


class _Quantity:
    def __init__(self, entry: Any, fact: Any, trace: Any, model: Any) -> None:
        self.entry, self.fact = entry, fact
        self.predicate, self.product, *self.rest = replay.atom(entry["atom"])
        self.told = label_limits.Told(trace, model, self.product)
        self.limits = label_limits.Limits(self.told)
        self.rests_on: list[Any] = []

    def problems(self) -> Iterator[str]:
        """Everything that is wrong with the entry and its fact."""
        entry = self.entry
        if set(entry) != KEYS or set(entry["without"]) - {"order", "stated", "whole"}:
            yield "its entry has missing or unknown parts"
        if set(entry["limits"]) != {
            name.split(" ")[1] for name in self._used("cap", "least")
        }:
            yield "does not list the limits that its proofs use"
        for name, limit in entry["limits"].items():
            if not self.limits.holds(name, limit):
                yield f"limit {name} says otherwise or does not bind"
            self.rests_on += self.limits.rests_on(name, limit["shares"])
        low, high = replay.ends(self.rest[-1])
        yield from self._end(-1, "low", low)
        yield from self._end(1, "high", high)
        yield from self._stands()

    def _end(self, sign: int, side: str, end: Any) -> Iterator[str]:
        form, proof, (value, mark) = self._form(sign), self.entry[side], end
        known = isinstance(value, Fraction)
        if known != (form is not None) or known != (proof is not None):
            yield f"its {side} end is not what can be known"
        elif form is not None:
            claimed, last = (
                (sign * value, bool(mark)),
                len(label_rows.chain(self.items)),
            )
            turned = {place: sign * each for place, each in form.items()}
            for wrong in bounds.problems(self.rows, last, turned, claimed, proof):
                yield f"its {side} end is not proven: {wrong}"

    def _used(self, *kinds: str) -> set[str]:
        """The rows of some kinds that have a weight in a proof."""
        proofs = [self.entry[side] for side in ("low", "high") if self.entry[side]]
        named = {n for p in proofs for case in p["cases"] for n in case["weights"]}
        return {name for name in named if name.split(" ")[0] in kinds}

    def _stands(self) -> Iterator[str]:
        """That the fact stands no higher than what it rests on, and cites it all."""
        if self._used("order", "above", "below"):
            self.rests_on += self._endings
        scale = self.told.scale
        for each in self.rests_on:
            mine, its = (
                (scale.index(e["standing"]), e["memory"])
                if e["standing"]
                else (-1, False)
                for e in (self.fact, each)
            )
            if mine < its:
                yield f"stands higher than {each.get('atom', 'what it rests on')}"
            if set(each["sources"]) - set(self.fact["sources"]):
                yield f"does not cite the source of {each['atom']}"

    # -- rows ---------------------------------------------------------------------

    @cached_property
    def items(self) -> list[Any]:
        """The places of the label."""
        found = label_rows.lines(self.told.follows, self.product, replay.ends)
        if "order" in self.entry["without"]:
            found = [each._replace(ordered=False) for each in found]
        if "stated" in self.entry["without"]:
            found = [each._replace(stated=None) for each in found]
        return found

    @cached_property
    def rows(self) -> dict[str, bounds.Row]:
        """What is known of the levels: the rows of the label and of the limits."""
        limits = {
            name: label_rows.Limit(
                {i: Fraction(share) for i, share in each["shares"].items()},
                *(
                    None if each[e] is None else Fraction(each[e])
                    for e in ("low", "high")
                ),
            )
            for name, each in self.entry["limits"].items()
        }
        ways = [
            (replay.value(fact["atom"][2]), fact["atom"][0] == "freeUpTo")
            for fact in self._endings
        ]
        # Of several ways to end a list the one that frees most allows the others too.
        threshold = label_rows.Threshold(*max(ways, default=(Fraction(1), True)))
        whole = "whole" not in self.entry["without"]
        return label_rows.rows(self.items, threshold, limits, whole)

    @cached_property
    def _endings(self) -> list[Any]:
        """How a list may end in the market, or anywhere if that has no rule."""
        told, names = self.told, ("freeBelow", "freeUpTo")
        rules = {rule for name in names for rule in told.subjects(name)}
        market = told.product_is("soldIn")
        here = {r for r in rules if market.intersection(told.values("market", r))}
        found = ((name, rule) for rule in here or rules for name in names)
        return [fact for each in found for fact in told.facts(*each)]

    # -- forms --------------------------------------------------------------------

    def _form(self, sign: int) -> dict[str, Fraction] | None:
        return FORMS[self.predicate](self, sign)

    def level(self, sign: int) -> dict[str, Fraction]:
        """The level of one place, which is in the product for certain."""
        ((place, _),) = (self.rest,)
        sure = {each.place for each in self.items if each.symbol and each.certain}
        if str(place) not in sure:
            raise ValueError(f"nothing certain stands at {place}")
        return {str(place): Fraction(1)}

    def excess(self, sign: int) -> dict[str, Fraction] | None:
        """What anionic surfactant carries beyond cationic, in meq per 100 g.

        At its most for sign 1, at its least for -1; None where some mass is not known.
        """
        form = {}
        for item in self.items:
            for kind in self.told.subjects("balanceSign"):
                if item.symbol and self.told.is_a(item.symbol, kind):
                    (charge,) = map(int, self.told.values("balanceSign", kind))
                    least, most = self._per_gram(item.symbol, charge)
                    least = least if item.counted else Fraction(0)
                    brought = most if charge == sign else least
                    if brought is None:
                        return None
                    form[item.place] = charge * brought
        return form

    def _per_gram(self, symbol: str, sign: int) -> tuple[Fraction, Fraction | None]:
        """The milliequivalents in a gram of an ionic surfactant, at least and at most.

        A name may leave open how much counter-ion is weighed with it; then a gram may
        bring nothing, and at most what the bare ion would, an amine without its
        proton. So may what takes up its charge only in part.
        """
        told = self.told
        names = "ionCharge", "saltMass", "ionMass"
        facts = [told.facts(name, symbol) for name in names]
        self.rests_on += [fact for found in facts for fact in found]
        self.rests_on += [INFERRED] if told.facts("hydrophobicModel", symbol) else []
        charge, salt, ion = (
            next(iter(told.values(name, symbol)), None) for name in names
        )
        if not charge or (salt is None and ion is None):
            return Fraction(0), None
        number = abs(charge)
        if charge != -sign * number:
            raise ValueError(f"the charge of {symbol} is not that of its class")
        varies = self._varies(symbol)
        if salt is None:
            return Fraction(0), 1000 * number / (ion - number * PROTON) * (1 + varies)
        brought = 1000 * number / salt
        part = any(told.is_a(symbol, k) for k in told.subjects("chargedInPart"))
        return (Fraction(0) if part else brought * (1 - varies)), brought * (1 + varies)

    def _varies(self, symbol: str) -> Fraction:
        """By what share the charge in a gram may differ from what the formula gives."""
        told = self.told
        drawn = told.facts("hydrophobicModel", symbol)
        name = "drawnMassVaries" if drawn else "massVaries"
        kinds = [kind for kind in told.subjects(name) if told.is_a(symbol, kind)]
        shares = [Fraction(each) for kind in kinds for each in told.values(name, kind)]
        return max(shares, default=Fraction(0))


FORMS = {"level": _Quantity.level, "ionicExcess": _Quantity.excess}
