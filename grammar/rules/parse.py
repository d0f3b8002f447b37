"""Rule files: text to syntax tree, every problem of the file reported.

A file is first cut into blocks by the words that open one at the start of a
line; each block is then read by itself. A mistake therefore costs one block and
not the file, and an `end` that was forgotten is found where it is missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

from abluent.grammar.common.errors import GrammarError, GrammarProblems, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.build import Builder, Misplaced
from lark import Lark
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, VisitError
from lark.lexer import PatternStr

_OPENING = re.compile(
    r'^[ \t]*(?:rule|exception|predicate|standings)[ \t]+[\w"]', re.MULTILINE
)
_NAMED = {
    "NAME": "a name",
    "STRING": 'a text in "quotes"',
    "VARIABLE": "a variable such as ?x",
    "NUMBER": "a number",
    "RANGE": "an interval such as [0, 1)",
    "COMPARED": "a comparison such as <",
    "FUNCTION": "count, min, max or sum",
    "PLUS_MINUS": "+ or -",
    "TIMES_OVER": "* or /",
    "PERHAPS": "perhaps",
}
# A mistake of a usual kind, recognised by the text around it, and what to say.
_HINTS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r".*==$"), "Equality is written with one `=`."),
    (re.compile(r".*<>$"), "Inequality is written `!=`."),
    (re.compile(r'.*"[^"\n]*$'), 'A text must be closed by `"` on its own line.'),
    (re.compile(r".*\bor$"), "There is no `or`: write one rule for each case."),
    (re.compile(r".*(:-|<-)$"), "A rule is `if conditions then head`."),
    (re.compile(r".*\)\s*\w*$"), "Conditions are separated by commas."),
)


def parse_rules(text: str, name: str = "") -> ast.RuleFile:
    """Read a rule file.

    Args:
        text: the whole file.
        name: what to call it in messages.

    Raises:
        GrammarProblems: every block that cannot be read, in order of place.
    """
    blocks: list[ast.Block] = []
    problems: list[GrammarError] = []
    for start, end in _cut(text):
        try:
            blocks.append(_parse_block(text, start, end, name))
        except GrammarError as problem:
            problems.append(problem)
    if problems:
        raise GrammarProblems(problems)
    return ast.RuleFile(tuple(blocks))


def _cut(text: str) -> Iterator[tuple[int, int]]:
    """The blocks of a text as offsets; text before the first is a block too."""
    starts = [found.start() for found in _OPENING.finditer(text)]
    before = text[: starts[0]] if starts else text
    if re.sub(r"#[^\n]*", "", before).strip():
        starts.insert(0, 0)
    yield from pairwise([*starts, len(text)])


def _parse_block(text: str, start: int, end: int, name: str) -> ast.Block:
    try:
        tree = _parser().parse(text[start:end])
        block: ast.Block = Builder(start).transform(tree)
    except UnexpectedInput as error:
        raise _pointed(error, text, start, end, name) from None
    except VisitError as error:
        problem = error.orig_exc
        if not isinstance(problem, Misplaced):
            raise
        raise GrammarError(problem.message, text, problem.span, name=name) from None
    return block


@lru_cache(maxsize=1)
def _parser() -> Lark:
    grammar = files("abluent.grammar.rules").joinpath("rules.lark").read_text("utf-8")
    return Lark(
        grammar,
        start="block",
        parser="lalr",
        propagate_positions=True,
        maybe_placeholders=False,
    )


def _pointed(
    error: UnexpectedInput, text: str, start: int, end: int, name: str
) -> GrammarError:
    """The error of the parser library, as one of ours."""
    body = text[start:end]
    token = getattr(error, "token", None)
    at_end = token is not None and token.type == "$END"
    if at_end:
        offset, found = len(body.rstrip()), ""
    elif token is not None:
        offset, found = token.start_pos, str(token)
    else:
        offset = error.pos_in_stream or 0
        found = body[offset : offset + 1]
    names = getattr(error, "accepts", None) or getattr(error, "expected", None)
    if isinstance(error, UnexpectedCharacters):
        names = error.allowed
    message = f"`{found}` cannot stand here" if found else "the block ends too early"
    return GrammarError(
        message,
        text,
        Span(start + offset, start + offset + max(1, len(found))),
        _worded(names or set()),
        _hint(body, offset, found, at_end),
        name,
    )


def _hint(body: str, offset: int, found: str, at_end: bool) -> str:
    line = body[body.rfind("\n", 0, offset) + 1 : offset] + found
    for pattern, hint in _HINTS:
        if pattern.fullmatch(line.strip()) and not (at_end and not found):
            return hint
    return "Every block is closed by `end`." if at_end else ""


def _worded(names: set[str]) -> tuple[str, ...]:
    """The terminals of the parser in the words of its reader."""
    patterns = {terminal.name: terminal.pattern for terminal in _parser().terminals}
    words = []
    for each in names:
        pattern = patterns.get(each)
        literal = f"`{pattern.value}`" if isinstance(pattern, PatternStr) else ""
        words.append(_NAMED.get(each) or literal)
    return tuple(sorted(filter(None, words)))
