"""What the labels of a large shelf say, at a glance: without where and why.

To read one label with its grounds takes as long as to see ten, and to prove a balance
as long as to work out many. Where very many labels are asked about at once, what they
say is therefore seen first, by `sights`, which keeps it from run to run; grounds and
proofs are made when one is looked at.
"""

from __future__ import annotations

import multiprocessing
import threading
from collections.abc import Iterable, Sequence

from abluent.engine.base.contract import IONIC_EXCESS
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.questions.world.labels import Labels
from abluent.engine.sights.reader import Reader
from abluent.engine.sights.sight import Seen, Sight

_ALONE = 1_500
"""Up to how many labels one process sees; for more, others are worth their start."""


class Glances:
    """What was seen of some products.

    Args:
        base: what their labels are read against.
        labels: the shelf.
        practice: whether what the trade usually puts in may narrow balances.
    """

    def __init__(self, base: Base, labels: Labels, *, practice: bool) -> None:
        self._base, self._labels, self._practice = base, labels, practice
        self._sights: dict[tuple[str, bool], Sight] = {}

    def look(self, names: Iterable[str], *, balance: bool) -> None:
        """See some labels at once, with their balances if that is asked."""
        new = [each for each in names if (each, balance) not in self._sights]
        labels = [self._labels.products[name] for name in new]
        seen = [Seen(each.kind, each.market, each.text) for each in labels]
        with Reader(
            self._base,
            processes=0 if len(new) > _ALONE and _may_fork() else 1,
            practice=self._practice,
        ) as reader:
            sights = reader.sights(seen, lambda label: balance)
            for name, sight in zip(new, sights, strict=True):
                self._labels.begun(name)
                self._sights[name, balance] = sight

    def facts(self, name: str, *, balance: bool) -> Sequence[Fact]:
        """What a label says that was seen, its balance if that was asked."""
        sight, symbol = self._sights[name, balance], product_symbol(name)
        said = [Fact(each, (symbol, *args)) for each, args in sight.facts]
        said += [Fact(each, args) for each, args in sight.told]
        held = sight.balance or ()
        return [*said, *(Fact(IONIC_EXCESS, (symbol, *args)) for args in held)]


def _may_fork() -> bool:
    """Whether other processes can be begun from this one as it stands."""
    forks = "fork" in multiprocessing.get_all_start_methods()
    return forks and threading.active_count() == 1
