"""Invented catalogues of any size, from the names of the base.

    python tests/bench/catalogue.py 10000 > catalogue.jsonl

Labels look as labels do: water first, a wash with two to four cleansers, a few films,
then what else there is, a preservative, and here and there a name that nobody knows, a
per cent figure, a market without a law, a list in the order of the alphabet. What
stands on many real labels stands on many here: a few names of each group are common
and most are rare. The same seed gives the same catalogue.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Product

KINDS = ("wash", "conditioner", "leave-in", "styler", "oil", "co-wash", "rinse")
SHARES = (30, 27, 15, 14, 6, 4, 4)


def catalogue(base: Base, count: int, seed: int = 7) -> Iterator[Product]:
    """Labels of a catalogue, one after the other."""
    dice = random.Random(seed)
    listed = {symbol for symbol, _ in base.names.values()}
    groups = [sorted(listed & {*base.instances(base.term(r))}) for r in _ROLES]
    cleansers, films = (_by_use(group, dice) for group in groups)
    known = {*cleansers, *films}
    rest = _by_use(sorted(listed - known), dice)
    for number in range(count):
        kind = dice.choices(KINDS, SHARES)[0]
        names = ["Aqua"]
        if kind in {"wash", "co-wash"}:
            names += _some(base, cleansers, dice.randint(2, 4), dice)
        others = _some(base, films, dice.randint(0, 4), dice)
        others += _some(base, rest, dice.randint(8, 28), dice)
        dice.shuffle(others)
        names += others
        if dice.random() < 0.2:
            unknown = f"Extractum Ignotum {dice.randint(1, 60)}"
            names.insert(dice.randint(1, len(names)), unknown)
        if dice.random() < 0.05:
            names[1] += f" {dice.randint(1, 90) / 10} %"
        if dice.random() < 0.02:
            names.sort()
        market = dice.choices(("EU", "US", ""), (70, 25, 5))[0]
        text = f"Ingredients: {', '.join(names)}."
        yield Product(f"{kind.capitalize()} No. {number}", kind, market, text)


_ROLES = (Role.CLEANSER, Role.FILM)


def _by_use(symbols: Sequence[str], dice: random.Random) -> list[str]:
    """Symbols in the order of how often they are used, the most frequent first."""
    return dice.sample(symbols, len(symbols))


def _some(
    base: Base, symbols: Sequence[str], count: int, dice: random.Random
) -> list[str]:
    """Some different names; how often one is drawn falls with its place."""
    found: dict[str, None] = {}
    while len(found) < min(count, len(symbols)):
        # The square of an even draw: a tenth of the names make a third of all places.
        found[symbols[int(dice.random() ** 2 * len(symbols))]] = None
    return [base.label(symbol) for symbol in found]


def main() -> None:
    """Print a catalogue as JSON Lines."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    for each in catalogue(Base.load(), count):
        row = {"product": each.name, "kind": each.kind, "market": each.market}
        print(json.dumps({**row, "text": each.text}, ensure_ascii=False))


if __name__ == "__main__":
    main()
