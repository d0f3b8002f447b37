"""A judged catalogue as one page: what it comes to, with pictures and both ends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from abluent.shell.pages.html import rendered


@dataclass(frozen=True)
class Bar:
    """One line of a picture: a count, drawn from `start` to `end` of a hundred.

    Args:
        name: what it is of.
        told: the count in words.
        sure: how far what is surely so reaches.
        most: how far it reaches with all that is open.
    """

    name: str
    told: str
    sure: float
    most: float


def catalogue_page(
    found: Mapping[str, Sequence[tuple[Any, ...]]], about: Mapping[str, str]
) -> str:
    """Return the page of a catalogue.

    Args:
        found: what it comes to, as `engine.sweep.over.summary` has it.
        about: what it was judged by.
    """
    ((labels, washes),) = found["labels"]
    total = sum(often for _, often in found["verdicts"])
    return rendered(
        "catalogue.html",
        labels=f"{labels:,}",
        washes=f"{washes:,}",
        total=f"{total:,}",
        verdicts=[
            Bar(word, f"{often:,} ({_per_cent(often, total):.1f} %)", share, share)
            for word, often in found["verdicts"]
            for share in [_per_cent(often, total)]
        ],
        films=[_film(*row) for row in found["films"]],
        unread=found["unread"],
        about=about,
        day=about.get("day", ""),
    )


def _film(name: str, products: int, of: int, sure: int, most: int) -> Bar:
    low, high = _per_cent(sure, of), _per_cent(most, of)
    told = f"{low:.1f} %" if sure == most else f"{low:.1f} to {high:.1f} %"
    return Bar(f"{name} ({products:,} products)", told, low, high)


def _per_cent(part: int, whole: int) -> float:
    return 100 * part / whole if whole else 0.0
