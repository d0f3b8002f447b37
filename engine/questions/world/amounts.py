"""How much labels can mean: worked out when it is asked for, and for few labels.

The base says of which class of agents the amount bears on which films
(`abl:amountBearsOn`), such as that of chelants on minerals. What follows from it is
told beside a verdict and turns none, so it is left out where many washes are asked
about at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.amounts.charges import has_both_charges
from abluent.engine.amounts.remembered import RememberedBalances
from abluent.engine.base.contract import AMOUNT_BEARS_ON, LINE
from abluent.engine.logic.facts import Fact
from abluent.engine.questions.world.known import Known
from abluent.engine.questions.world.labels import Labels

if TYPE_CHECKING:
    from abluent.engine.amounts.bounded import Bounded
    from abluent.engine.amounts.label_levels import LabelFacts

_MOST = 3
"""Of how many washes it is worked out how much is in them; some 20 ms for each."""
_Bounds = Mapping[tuple[str, str], "tuple[Bounded, ...]"]


class Amounts:
    """How much the labels of a shelf can mean.

    Args:
        known: the base.
        labels: the labels.
        bounds: what was worked out of them already.

    Attributes:
        practice: whether what the trade usually puts in may narrow it; to be set
            before anything is worked out.
    """

    def __init__(
        self,
        known: Known,
        labels: Labels,
        bounds: _Bounds | None = None,
        *,
        practice: bool = True,
    ) -> None:
        self._known, self._labels = known, labels
        self._bounds = dict(bounds or {})
        self._balances: dict[str, Sequence[Fact]] = {}
        self.practice = practice

    def balance(self, name: str) -> Sequence[Fact]:
        """What a label holds of one charge beyond the other, if both stand on it."""
        if name not in self._balances:
            both = self._has_both_charges(name)
            self._balances[name] = self._balance(name) if both else ()
        return self._balances[name]

    def _balance(self, name: str) -> Sequence[Fact]:
        def worked_out() -> Sequence[Fact]:
            return [each.fact for each in self._proved(name)]

        labels = self._labels
        if labels.retyped:
            return worked_out()
        known = RememberedBalances.of(self._known.base)
        return known.facts(labels.read(name).facts, self.practice, worked_out)

    def levels(self, name: str, symbols: Iterable[str]) -> Sequence[Fact]:
        """How much the label of a product can mean of some ingredients on it."""
        asked = list(dict.fromkeys(symbols))
        new = [symbol for symbol in asked if (name, symbol) not in self._bounds]
        if new:
            # Levels are solved for few labels; most questions need none.
            from abluent.engine.amounts.bounded import level_bounds  # noqa: PLC0415

            label = self.stated(name)
            for symbol in new:
                found = level_bounds(label, [symbol], practice=self.practice)
                self._bounds[name, symbol] = tuple(found)
        return [each.fact for symbol in asked for each in self._bounds[name, symbol]]

    def bounded(self, name: str) -> list[Bounded]:
        """Every quantity worked out for a label, with the proof of its bounds."""
        if self._balances.get(name):
            self._proved(name)
        return [e for (of, _), each in self._bounds.items() if of == name for e in each]

    def stated(self, name: str) -> LabelFacts:
        """What is asserted of a label, as levels need it."""
        from abluent.engine.amounts.label_levels import LabelFacts  # noqa: PLC0415

        labels = self._labels
        facts = [*labels.read(name).facts, *labels.retyped.values()]
        return LabelFacts(facts, self._known.base)

    def _proved(self, name: str) -> tuple[Bounded, ...]:
        """The balance of a label with its proofs."""
        if (name, "") not in self._bounds:
            self._bounds[name, ""] = self._excess(name)
        return self._bounds[name, ""]

    def _excess(self, name: str) -> tuple[Bounded, ...]:
        from abluent.engine.amounts.charge_balance import (  # noqa: PLC0415
            excess_bounds,
        )

        return tuple(excess_bounds(self.stated(name), practice=self.practice))

    def _has_both_charges(self, name: str) -> bool:
        facts = self._labels.read(name).facts
        listed = {str(f.args[2]) for f in facts if f.predicate == LINE}
        if not self._labels.retyped.keys().isdisjoint(listed):
            return True
        return has_both_charges(facts, self._known.base)

    def moved(self, labels: Labels, but: Collection[str]) -> Amounts:
        """The same for other labels; what stands on some of them has to be new."""
        kept = {at: found for at, found in self._bounds.items() if at[0] not in but}
        made = Amounts(self._known, labels, kept, practice=self.practice)
        found = self._balances.items()
        made._balances = {name: each for name, each in found if name not in but}
        return made

    # -- what bears on a film -----------------------------------------------------

    def bearing(self, washes: Sequence[str], films: Iterable[str]) -> Iterator[Fact]:
        """The levels on the labels of some washes that bear on some films.

        Args:
            washes: names of products.
            films: symbols of film-formers.
        """
        classes = self._classes(films) if len(washes) <= _MOST else ()
        for name in washes if classes else ():
            yield from self.levels(name, self._listed(name, classes))

    def _classes(self, films: Iterable[str]) -> Collection[str]:
        """The classes of agents whose amount bears on one of some films."""
        base = self._known.base
        kinds = {kind for film in films for kind in base.classes_of(film)}
        return [
            each
            for each in self._known.marked(AMOUNT_BEARS_ON)
            if not kinds.isdisjoint(base.record(each).links(AMOUNT_BEARS_ON))
        ]

    def _listed(self, name: str, classes: Collection[str]) -> list[str]:
        """What stands on a label and is of one of some classes."""
        base, wanted = self._known.base, {*classes}
        facts = self._labels.read(name).facts
        lines = [str(f.args[2]) for f in facts if f.predicate == LINE]
        there = [each for each in lines if each in self._known.ingredients]
        return [each for each in there if not wanted.isdisjoint(base.classes_of(each))]
