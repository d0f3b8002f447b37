"""Names too long for a heading, shortened in the middle: their ends tell them apart."""

from __future__ import annotations

from collections.abc import Iterable

MOST = 48
"""Letters of a name that is printed as it is."""
_KEPT = 32
_ENDING = 12


def shortened(name: str) -> str:
    """Return a name, its middle left out if it is too long."""
    if len(name) <= MOST:
        return name
    ending = name.rsplit(" ", 1)[-1][-_ENDING:]
    start = name[: _KEPT - len(ending)].rstrip()
    gap = " " if name.endswith(f" {ending}") else ""
    return f"{start}…{gap}{ending}"


def long_ones(names: Iterable[str]) -> dict[str, str]:
    """Return the names among some that are too long, each with its short form.

    Two that would be shortened alike are numbered.
    """
    found: dict[str, str] = {}
    for name in sorted(set(names), key=lambda each: (-len(each), each)):
        short = shortened(name)
        if short != name:
            alike = sum(each.startswith(short) for each in found.values())
            found[name] = f"{short} ({alike + 1})" if alike else short
    return found
