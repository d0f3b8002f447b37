"""How the time to read a label grows with its length: `python label_growth.py`.

CPU seconds for lists and for noise from 1 KB to 1 MB, and the factor from size to
size; linear growth shows as factors near ten. Then the whole way from text to facts.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

from abluent.engine.base.store import Base
from abluent.engine.reading.labels import label_facts, label_words
from abluent.grammar.label.read import read_label

SIZES = (1_000, 10_000, 100_000, 1_000_000)
LIST = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin (and) Parfum, "


def noise(size: int) -> str:
    """Any characters, the same every time."""
    rnd = random.Random(7)
    return "".join(
        chr(rnd.choice((rnd.randrange(32, 127), rnd.randrange(160, 900))))
        for _ in range(size)
    )


def seconds(work: Callable[[], object]) -> float:
    """The least CPU time of three runs."""
    found = []
    for _ in range(3):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def main() -> None:
    """Print one row for each size."""
    base, words = Base.load(), label_words()
    print(f"{'characters':>10} {'list s':>9} {'noise s':>9} {'to facts s':>11}")
    for size in SIZES:
        text, odd = (LIST * (size // len(LIST) + 1))[:size], noise(size)
        row = [
            seconds(lambda text=text: read_label(text, words)),
            seconds(lambda odd=odd: read_label(odd, words)),
            seconds(lambda text=text: label_facts("p", "wash", "EU", text, base)),
        ]
        print(f"{size:>10} {row[0]:>9.3f} {row[1]:>9.3f} {row[2]:>11.3f}")


if __name__ == "__main__":
    main()
