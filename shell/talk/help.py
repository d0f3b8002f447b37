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
    """Return a question of each kind, about products that are on the shelf alone."""
    words = shelf_words()
    wash = _first(shelf, words.cleaning)
    other = _first(shelf, {*words.kinds} - words.cleaning)
    every = [
        (f'what does "{other}" leave', bool(other)),
        (f'does "{wash}" clear everything from "{other}"', bool(wash and other)),
        (f'which washes clear "{_FILM}"', True),
        (f'why does "{wash}" clear "{_FILM}" from "{other}"', bool(wash and other)),
        (f'does "{wash}" clear "{_FILM}"', bool(wash and not other)),
        (f'what does "{wash}" hide', bool(wash and not other)),
        ("is it true that only sulfates clear water-insoluble silicones", True),
        (f'does "{wash}" rightly say "silicone-free"', bool(wash)),
        (f'what may not stand in "{other}"', bool(other)),
    ]
    return [question for question, names_what_is_there in every if names_what_is_there]


def _first(shelf: Shelf, kinds: Set[str]) -> str:
    found = (label.product for label in shelf.labels if label.kind in kinds)
    return next(found, "")
