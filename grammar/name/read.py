"""Reading an ingredient name from its parts.

The name is cut into parts (`lex`), parts that belong together are joined by
`names.lark`, and the shape whose pattern fits the row says what the name stands for.
A name of no shape, or of two that disagree, is not read: unknown beats wrong.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from abluent.grammar.name.lex import OTHER, NameLexer
from abluent.grammar.name.shapes import Pattern, Shapes
from abluent.grammar.name.tree import NameReading, Part, PartBook, Piece

if TYPE_CHECKING:
    from lark import Lark

_DECLARED = re.compile(r"^%declare (.*)$", re.MULTILINE)
_NOTHING: set[tuple[tuple[str, ...], str | None]] = {((), None)}
_LONGEST = 300
_MOST_PIECES = 48


class NameReader:
    """Reads names with the parts and shapes of one book."""

    def __init__(self, book: PartBook) -> None:
        self._lexer = NameLexer(book)
        self._shapes = Shapes(book.shapes, book.groups)

    def read(self, name: str) -> NameReading | None:
        """What a name stands for by its parts, or nothing if it cannot be read."""
        if len(name) > _LONGEST:
            return None
        pieces = self._lexer.cut(name)
        if len(pieces) > _MOST_PIECES or all(p.terminal == OTHER for p in pieces):
            return None
        fitting = self._shapes.fitting(self.row(pieces))
        readings = [_reading(pattern, pieces) for pattern in fitting]
        told = {(r.classes, r.shape.charge) for r in readings}
        return readings[0] if len(told) == 1 and told != _NOTHING else None

    def row(self, pieces: Sequence[Piece]) -> list[str]:
        """The wholes that the parts of a name make up, each by its rule or kind."""
        from lark.exceptions import UnexpectedInput  # noqa: PLC0415 - slow to import

        try:
            tree = self._parser.parse(pieces)
        except UnexpectedInput:
            return [piece.terminal for piece in pieces]
        return [str(getattr(child, "data", child)) for child in tree.children]

    def spelt(self, name: str) -> bool:
        """Whether every word of a name is made of parts, and so is no misspelling.

        A word of which only the ending is a part may be misspelt before it.
        """
        pieces = self._lexer.cut(name[:_LONGEST])
        return bool(pieces) and all(map(_is_spelt, pieces))

    def pieces(self, name: str) -> list[Piece]:
        """The parts of a name, whether or not it can be read."""
        return self._lexer.cut(name[:_LONGEST])

    @cached_property
    def _parser(self) -> Lark:
        from importlib.resources import files  # noqa: PLC0415 - slow to import

        from lark import Lark, Token  # noqa: PLC0415 - only needed to read names
        from lark.lexer import Lexer  # noqa: PLC0415

        text = files(__package__).joinpath("name.lark").read_text(encoding="utf-8")
        declared = " ".join(_DECLARED.findall(text))
        joining = frozenset(declared.split())

        class Kinds(Lexer):
            """Hands the kinds of the parts to the parser."""

            def __init__(self, lexer_conf: object) -> None:
                del lexer_conf

            def lex(self, data: Any) -> Iterator[Token]:  # type: ignore[override]
                for piece in data:
                    kind = piece.terminal
                    yield Token(kind if kind in joining else "WORD", kind)

        return Lark(text, parser="lalr", lexer=Kinds, start="name")


def _reading(pattern: Pattern, pieces: Sequence[Piece]) -> NameReading:
    shape = pattern.shape
    deciding = _last(pieces, shape.decided_by)
    classes = deciding.classes if deciding else ()
    telling = deciding or _last(pieces, frozenset({pattern.key}))
    return NameReading(
        shape, tuple(pieces), classes or shape.classes, telling, pattern.exact
    )


def _is_spelt(piece: Piece) -> bool:
    if piece.part is None:
        return piece.terminal != OTHER
    return any(piece.text == each.strip("-") for each in piece.part.spellings)


def _last(pieces: Sequence[Piece], kinds: frozenset[str]) -> Part | None:
    """The last part of one of the kinds."""
    found = [p.part for p in pieces if p.part is not None and p.terminal in kinds]
    return found[-1] if found else None
