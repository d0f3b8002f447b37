"""What people call an ingredient whose name on labels is another."""

from __future__ import annotations

import re

from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base

_IN_BRACKETS = re.compile(r".*\(([^()]+)\)\s*(.*)")
_LONGEST = 28


def common_name(base: Base, symbol: str) -> str:
    """What people call an ingredient whose label name is another; else empty.

    Of `Cocos Nucifera (Coconut) Oil` that is `coconut oil`.
    """
    if symbol not in base:
        return ""
    label = base.label(symbol)
    for told in base.record(symbol).texts("usName"):
        found = _IN_BRACKETS.fullmatch(told)
        said = told
        if found:
            ending = found[2].split(" ")[-1]
            said = f"{found[1]} {ending}".strip()
        plain = said.isascii() and len(said) <= _LONGEST
        if plain and fold(said) not in fold(label) and fold(label) not in fold(said):
            return said.casefold()
    return ""


def aloud(base: Base, symbol: str) -> str:
    """The name of the label, with the common one where there is another."""
    if symbol in base and (spoken := base.record(symbol).text("spokenAs")):
        return spoken
    name, common = base.label(symbol), common_name(base, symbol)
    return f"{common} ({name})" if common else name
