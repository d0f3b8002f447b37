"""A shelf as a list for the terminal."""

from __future__ import annotations

from abluent.grammar.common.text import WIDEST, one_line, wrapped
from abluent.shell.shelf.shelf import Shelf

_KIND_COLUMNS = 13


def shelf_page(shelf: Shelf, width: int) -> str:
    """Return what is on a shelf: a heading, then a line for each product."""
    count = len(shelf.labels)
    products = "1 product" if count == 1 else f"{count} products"
    told = "; ".join(f"{what}: {word}" for what, word in shelf.conditions.items())
    washed = f" ({told})" if told else ""
    lines = [wrapped(f'The shelf "{shelf.name}" holds {products}{washed}.', width)]
    names = max((len(label.product) for label in shelf.labels), default=0)
    fits = names + _KIND_COLUMNS + 6 <= min(width, WIDEST)
    for label in shelf.labels:
        name = one_line(label.product)
        if fits:
            row = f"  {name:<{names}}  {label.kind:<{_KIND_COLUMNS}}{label.market}"
        else:
            row = wrapped(f"{name} ({label.kind})", width, "  ", "    ")
        lines.append(row.rstrip())
    return "\n".join(lines)
