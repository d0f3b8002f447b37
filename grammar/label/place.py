"""One place of a label, parsed: the names in it and what is printed around them."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias, cast

from abluent.grammar.label.words import LabelWords

if TYPE_CHECKING:
    from lark import Lark, Token
    from lark.lexer import TerminalDef

# A place of letters, digits and the marks that names are written with.
_PLAIN = re.compile(r"(?:[^\W¹²³⁴⁵⁶⁷⁸⁹⁰ºª]|[\s./&'+,:-])*")
_NAMING = {"WORD", "GLOSS"}
_NOTES = {"SHARE": "per cent", "MARK": "mark", "NANO": "nano", "CODE": "code"}
_FIGURE = re.compile(r"[(\[]?\s*(\d+(?:[.,]\d+)?)(?:\s+(\d)/(\d))?\s*%")
_MARKED = re.compile(r"\(\s*[*†‡✝]+\s*\)|[*†‡✝§°^¹²³⁴⁵⁶⁷⁸⁹⁰ºª]+\d*")

Stretch: TypeAlias = tuple[int, int]
PlaceParser: TypeAlias = Callable[[str], "tuple[Member, ...]"]


@dataclass(frozen=True, slots=True)
class Member:
    """One name of a place; the offsets are into the place.

    Args:
        name: the stretch of the name, with the parentheses that belong to it;
            `None` where the place holds no name.
        notes: stretches around the name, each with its kind.
        stated: the per cent printed beside the name.
        marks: the footnote marks printed beside it.
        inner: marks that stand inside the name.
        gloss: the last parenthesis of the name, where the name ends with it.
    """

    name: Stretch | None
    notes: tuple[tuple[str, Stretch], ...] = ()
    stated: Fraction | None = None
    marks: tuple[str, ...] = ()
    inner: tuple[Stretch, ...] = ()
    gloss: Stretch | None = None


def is_plain(place: str) -> bool:
    """Whether a place is a name and nothing else, as far as its characters tell."""
    return " - " not in place and _PLAIN.fullmatch(place) is not None


def place_parser(words: LabelWords) -> PlaceParser:
    """A parser for places that knows the connectors and codes of `words`.

    Its answers for the last few thousand different places are kept: labels repeat
    one another.
    """
    grammar: list[Lark] = []

    @lru_cache(maxsize=20_000)
    def parse(text: str) -> tuple[Member, ...]:
        if is_plain(text):
            start = len(text) - len(text.lstrip())
            end = len(text.rstrip())
            return (Member((start, end) if start < end else None),)
        if not grammar:
            grammar.append(_load(words))
        tree = grammar[0].parse(text)
        members = (child for child in tree.children if not isinstance(child, str))
        return tuple(_member(cast("list[Token]", m.children)) for m in members)

    return parse


def _load(words: LabelWords) -> Lark:
    from importlib.resources import files  # noqa: PLC0415 - slow to import

    from lark import Lark  # noqa: PLC0415 - slow to import, and seldom needed
    from lark.lexer import PatternRE  # noqa: PLC0415

    code = words.code.pattern
    patterns = {
        "AND": f"(?i:{words.bracketed})",
        "CODE": rf"(?i:\((?:{code})\)|-\s+(?:{code})(?=\s*$))",
    }

    def put_in(terminal: TerminalDef) -> None:
        if terminal.name in patterns:
            terminal.pattern = PatternRE(patterns[terminal.name])

    text = files(__package__).joinpath("label.lark").read_text(encoding="utf-8")
    return Lark(text, parser="lalr", start="place", edit_terminals=put_in)


def _member(tokens: Sequence[Token]) -> Member:
    """The name is the first run of words and parentheses; the rest are notes."""
    first = next((i for i, t in enumerate(tokens) if t.type in _NAMING), len(tokens))
    stop = first
    while stop < len(tokens) and _goes_on(tokens, stop):
        stop += 1
    while stop > first and tokens[stop - 1].type not in _NAMING:
        stop -= 1
    name, around = tokens[first:stop], [*tokens[:first], *tokens[stop:]]
    notes = tuple(
        (_NOTES.get(token.type, "aside"), _extent(token))
        for token in around
        if token.type != "STRAY"
    )
    marks = [str(token) for token in tokens if _MARKED.fullmatch(token)]
    figures = (_figure(token) for token in around if token.type == "SHARE")
    stated = next((figure for figure in figures if figure is not None), None)
    if not name:
        return Member(None, notes, stated, tuple(marks))
    inner = tuple(_extent(token) for token in name if token.type == "MARK")
    last = _extent(name[-1]) if name[-1].type == "GLOSS" and len(name) > 1 else None
    whole = (_extent(name[0])[0], _extent(name[-1])[1])
    return Member(whole, notes, stated, tuple(marks), inner, last)


def _goes_on(tokens: Sequence[Token], at: int) -> bool:
    """Whether a name runs on through a token: a word, or a mark bound to a word."""
    token = tokens[at]
    if token.type in _NAMING:
        return True
    if token.type != "MARK" or at == 0 or at + 1 == len(tokens):
        return False
    bound = _extent(tokens[at - 1])[1] == _extent(token)[0]
    return bound and tokens[at + 1].type in _NAMING


def _extent(token: Token) -> Stretch:
    start = token.start_pos or 0
    return start, start + len(token)


def _figure(token: Token) -> Fraction | None:
    found = _FIGURE.match(token) if token.type == "SHARE" else None
    if found is None:
        return None
    part = Fraction(int(found[2]), int(found[3])) if int(found[3] or 0) else 0
    return Fraction(found[1].replace(",", ".")) + part
