"""The help of the interactive shell: one screen, with the user's own products."""

from __future__ import annotations

from collections.abc import Set

from abluent.grammar.common.text import wrapped
from abluent.shell.shelf.shelf import Shelf
from abluent.shell.shelf.words import shelf_words
from abluent.shell.talk.orders import LESSER, ORDERS

_FILM = "Dimethicone"

# Asked by `abluent demo`, of the demo shelf: one of each kind of surprise.
TOUR = (
    'what does "Harbour Cream" leave',
    f'does "Tideline Wash" clear "{_FILM}" from "Harbour Cream"',
    f'why does "Backwater Cream Cleanser" not clear "{_FILM}"',
    f'does "Gullwing Silk Wash" clear "{_FILM}"',
    "is it true that only sulfates clear water-insoluble silicones",
    'is it true that every ingredient named "*ate" is an anionic surfactant',
)


def help_page(shelf: Shelf, width: int) -> str:
    """Return the help: what to ask of this shelf, then the orders."""
    lines = ["Ask, in your own words or exactly, for example:"]
    lines += [wrapped(line, width, "  ", "      ") for line in examples(shelf)]
    lines += ["Or give an order:"]
    told = {w: does for w, does in ORDERS.items() if w not in {*LESSER, "leave"}}
    gap = max(map(len, told)) + 2
    lines += [
        wrapped(does, width, f"  {word:<{gap}}", " " * (gap + 2))
        for word, does in told.items()
    ]
    others = f"Also: {'; '.join([', '.join(LESSER), *_how(shelf)])}."
    lines.append(wrapped(others, width))
    last = "Tab completes. Ctrl-C stops an answer; `leave` or Ctrl-D leave the shell."
    lines.append(wrapped(last, width))
    return "\n".join(lines)


def _how(shelf: Shelf) -> list[str]:
    """Return how to say how things are washed, in a word that the base has."""
    every = {aspect: words[0] for aspect, words in shelf_words().aspects.items()}
    said = next(iter([*shelf.conditions.items(), *every.items()]), None)
    return [f"how it is washed, as `{' '.join(said)}`"] if said else []


def examples(shelf: Shelf) -> list[str]:
    """Return a question of each kind, about products on the shelf where it can."""
    words = shelf_words()
    wash = _first(shelf, words.cleaning, "Tideline Wash")
    other = _first(shelf, {*words.kinds} - words.cleaning, "Harbour Cream")
    return [
        f'what does "{other}" leave',
        f'does "{wash}" clear everything from "{other}"',
        f'which washes clear "{_FILM}"',
        f'why does "{wash}" clear "{_FILM}" from "{other}"',
        "is it true that only sulfates clear water-insoluble silicones",
        f'does "{wash}" rightly say "silicone-free"',
        f'what may not stand in "{other}"',
    ]


def _first(shelf: Shelf, kinds: Set[str], otherwise: str) -> str:
    found = (label.product for label in shelf.labels if label.kind in kinds)
    return next(found, otherwise)
