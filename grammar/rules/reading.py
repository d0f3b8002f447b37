"""What the two readers of rule files share: blocks, the parser, its errors as ours."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from itertools import pairwise

from abluent.grammar.common.errors import GrammarError, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.conditions import Conditions, Misplaced
from lark import Lark
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, VisitError
from lark.lexer import PatternStr

_NAMED = {
    "NAME": "a name",
    "STRING": 'a text in "quotes"',
    "VARIABLE": "`the` and a word",
    "SOMETHING": "`something`",
    "NUMBER": "a number",
    "RANGE": "an interval such as [0, 1)",
    "COMPARED": "a comparison such as `is below`",
    "FUNCTION": "`count of`, `sum of`, `least of` or `most of`",
    "PLUS_MINUS": "+ or -",
    "TIMES_OVER": "* or /",
    "PERHAPS": "`perhaps`",
    "_NOTHING": "`nothing shows`",
    "_COMES": "`comes to`",
}


def cut(text: str, opening: re.Pattern[str]) -> Iterator[tuple[int, int]]:
    """The blocks of a text as offsets; text before the first is a block too.

    Args:
        text: the whole file.
        opening: what a line begins with that opens a block.
    """
    starts = [found.start() for found in opening.finditer(text)]
    before = text[: starts[0]] if starts else text
    if re.sub(r"#[^\n]*", "", before).strip():
        starts.insert(0, 0)
    yield from pairwise([*starts, len(text)])


@cache
def parser(grammar: str) -> Lark:
    """The parser of a grammar file of this folder."""
    return Lark(
        files("abluent.grammar.rules").joinpath(grammar).read_text("utf-8"),
        start="block",
        parser="lalr",
        propagate_positions=True,
        maybe_placeholders=False,
    )


def read_block(
    reader: Lark, builder: Conditions, text: str, place: Span, name: str
) -> ast.Block:
    """The block that stands at a place of a text.

    Raises:
        GrammarError: it cannot be read.
        UnexpectedInput: the parser library cannot read it.
    """
    try:
        found: ast.Block = builder.transform(
            reader.parse(text[place.start : place.end])
        )
    except VisitError as error:
        problem = error.orig_exc
        if not isinstance(problem, Misplaced):
            raise
        raise GrammarError(
            problem.message, text, problem.span, hint=problem.hint, name=name
        ) from None
    return found


def unexpected(error: UnexpectedInput, body: str) -> tuple[int, str, set[str]]:
    """Where a block went wrong, what stands there, and the terminals that could."""
    token = getattr(error, "token", None)
    if token is not None and token.type == "$END":
        offset, found = len(body.rstrip()), ""
    elif token is not None:
        offset, found = token.start_pos, str(token)
    else:
        offset = error.pos_in_stream or 0
        found = body[offset : offset + 1]
    names = getattr(error, "accepts", None) or getattr(error, "expected", None)
    if isinstance(error, UnexpectedCharacters):
        names = error.allowed
    return offset, found, set(names or ())


def worded(reader: Lark, names: set[str]) -> tuple[str, ...]:
    """The terminals of a parser in the words of its reader."""
    patterns = {terminal.name: terminal.pattern for terminal in reader.terminals}
    words = []
    for each in names:
        pattern = patterns.get(each)
        literal = f"`{pattern.value}`" if isinstance(pattern, PatternStr) else ""
        words.append(_NAMED.get(each) or literal)
    return tuple(sorted(filter(None, words)))
