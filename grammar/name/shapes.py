"""Patterns over the wholes of a name, and which shape a name has.

A pattern is a row of words with `? * + | ( )` as in regular expressions:
`cations (alkyl|chain) SULFATE`. A word is a whole of `names.lark`, a kind of part, a
group that stands for another pattern, or `any`.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from abluent.grammar.name.tree import Shape

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_TOKEN = re.compile(rf"{_WORD.pattern}|[()?*+|]")
_ANY = "any"
_DEEPEST = 20


class Pattern:
    """One pattern of a shape, compiled when it is first needed."""

    def __init__(self, shape: Shape, text: str, groups: Mapping[str, str]) -> None:
        self.shape = shape
        self._text = _expanded(text, groups)

    @cached_property
    def key(self) -> str:
        """A word that every row of this pattern holds; empty if there is none."""
        needed, depth = [], 0
        tokens = _TOKEN.findall(self._text)
        for token, after in pairwise([*tokens, ""]):
            depth += (token == "(") - (token == ")")
            if token == "|" and depth == 0:
                return ""
            if depth == 0 and token[0].isalpha() and after not in {"?", "*"}:
                needed.append(token)
        return max((word for word in needed if word != _ANY), key=_tells, default="")

    @property
    def exact(self) -> bool:
        """Whether it says what every word is."""
        return _ANY not in _TOKEN.findall(self._text)

    def fits(self, row: str) -> bool:
        """Whether a row of words, each followed by a space, has this pattern."""
        return self._compiled.fullmatch(row) is not None

    @cached_property
    def _compiled(self) -> re.Pattern[str]:
        return re.compile("".join(map(_expression, _TOKEN.findall(self._text))))


def _tells(word: str) -> tuple[bool, int]:
    """Orders words by how few rows hold them: kinds of part before wholes."""
    return word.isupper(), len(word)


def _expression(token: str) -> str:
    if not token[0].isalpha():
        return "(?:" if token == "(" else token
    return r"(?:\S+ )" if token == _ANY else f"(?:{token} )"


def _expanded(text: str, groups: Mapping[str, str]) -> str:
    for _ in range(_DEEPEST):
        wider = _WORD.sub(
            lambda m: f"({groups[m[0]]})" if m[0] in groups else m[0], text
        )
        if wider == text:
            return text
        text = wider
    raise ValueError(f"the groups of the pattern `{text}` use one another in a ring")


class Shapes:
    """All shapes of one book, ready to be matched."""

    def __init__(self, shapes: Sequence[Shape], groups: Mapping[str, str]) -> None:
        self._by_key: dict[str, list[Pattern]] = defaultdict(list)
        for shape in shapes:
            for text in shape.patterns:
                pattern = Pattern(shape, text, groups)
                self._by_key[pattern.key].append(pattern)

    def fitting(self, row: Sequence[str]) -> list[Pattern]:
        """The patterns of highest precedence that a row of words has.

        One for each shape; of two, one that says what every word is.
        """
        joined = "".join(f"{word} " for word in row)
        found: dict[str, Pattern] = {}
        for key in {"", *row}:
            for pattern in self._by_key.get(key, ()):
                before = found.get(pattern.shape.symbol)
                if (before is None or not before.exact) and pattern.fits(joined):
                    found[pattern.shape.symbol] = pattern
        highest = max((p.shape.precedence for p in found.values()), default=0)
        return [p for p in found.values() if p.shape.precedence == highest]
