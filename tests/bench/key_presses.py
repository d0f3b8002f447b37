"""How long one key press takes with a large shelf: completion and highlighting.

    python tests/bench/key_presses.py [PRODUCTS]

Types each question letter by letter and asks at every letter for what Tab would
offer and for how the line is drawn. Prints the median and the 99th percentile of
both together, in thousandths of a second of this process.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from statistics import median, quantiles

from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from abluent.shell.talk.colours import styled
from abluent.shell.talk.completion import SessionCompleter
from prompt_toolkit.completion import CompleteEvent
from prompt_toolkit.document import Document

LABEL = "Aqua, Cetearyl Alcohol, Dimethicone, Behentrimonium Chloride, Parfum"
PLACES = ("Harbour", "Tideline", "Quay", "Cove", "Fen", "Gull", "Marram", "Skerry")
THINGS = ("Wash", "Cream", "Mask", "Milk", "Serum", "Gel", "Rinse", "Oil")
QUESTIONS = (
    'does "Tideline Wash 17" clear "Dimethicone" from "Harbour Cream 9"',
    "which washes without sulfates clear water-insoluble silicones mildest first",
    'compare "Quay Wash 3" and "Cove Wash 4" for "Amodimethicone"',
    'suppose "Fen Cream 12" had no silicones: what does "Fen Cream 12" leave',
    "is it true that only sulfates clear water-insoluble silicones",
    'drop "Skerry Milk 21"',
    "name Behentrimonium Methosulfate",
)


def shelf(count: int) -> Shelf:
    """Return a shelf of that many invented products."""
    labels = []
    for number in range(count):
        place, thing = PLACES[number % 8], THINGS[number // 8 % 8]
        name = f"{place} {thing} {number // 64}"
        labels.append(ShelfLabel(name, "conditioner", "EU", LABEL))
    return Shelf("large", tuple(labels))


def presses(completer: SessionCompleter) -> Iterator[float]:
    """Yield the seconds that each key press of each question takes."""
    for question in QUESTIONS:
        for end in range(1, len(question) + 1):
            text = question[:end]
            start = time.process_time()
            list(completer.get_completions(Document(text), CompleteEvent()))
            styled(text)
            yield time.process_time() - start


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 5000
    completer = SessionCompleter(Session(shelf(count)))
    times = sorted(1000 * each for each in presses(completer))
    print(f"{count} products, {len(times)} key presses")
    late = quantiles(times, n=100)[98]
    print(f"median {median(times):.2f} ms, 99th percentile {late:.2f} ms")
    print(f"worst {times[-1]:.2f} ms, which loads the base")


if __name__ == "__main__":
    main()
