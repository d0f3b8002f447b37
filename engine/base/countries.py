"""Countries and other markets, by name and code, and whose law holds there.

A table beside the inventory has them: codes of ISO 3166, the English name and others,
and the market of the base whose law a country follows, where the base knows any.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from abluent.engine.base import files
from abluent.engine.base.fold import fold

_TABLE = "inventory/countries.tsv"


class Country(NamedTuple):
    """A country, or another market.

    Args:
        code: its two letters in ISO 3166; some markets have longer ones, or none.
        name: what it is called in English.
        law: the market of the base whose law it follows; empty where no law of it
            is known.
    """

    code: str
    name: str
    law: str


@cache
def country(words: str) -> Country | None:
    """The country that goes by a name or a code, whatever its case and accents."""
    wanted = fold(words)
    if not wanted:
        return None
    lines = _lines()
    near = [line for line in lines if words.casefold() in line.casefold()]
    return _among(near, wanted) or _among(lines, wanted)


def nearest(words: str) -> str:
    """The English name that is spelled most like some words; empty if none is."""
    from difflib import get_close_matches  # noqa: PLC0415 - for mistakes only

    names = {fold(name): name for name in (x.split("\t")[4] for x in _lines())}
    found = get_close_matches(fold(words), names, 1, 0.8)
    return names[found[0]] if found else ""


def _among(lines: Iterable[str], wanted: str) -> Country | None:
    for line in lines:
        code, longer, number, law, name, others = line.split("\t")
        called = (code, longer, number, name, *others.split("|"))
        if any(fold(each) == wanted for each in called if each):
            return Country(code, name, law)
    return None


@cache
def _lines() -> tuple[str, ...]:
    with files.shipped_folder() as folder:
        path = os.path.join(folder, *_TABLE.split("/"))
        with open(path, encoding="utf-8") as stream:
            _, *lines = stream.read().splitlines()
    return tuple(lines)
