"""Rule files: text to syntax tree, every problem of the file reported.

A file is first cut into blocks by the sentences that head them, each on a line of
its own; each block is then read by itself, so that a mistake costs one block and not
the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from abluent.grammar.common.errors import GrammarError, GrammarProblems, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.build import Builder
from abluent.grammar.rules.reading import cut, parser, read_block, unexpected, worded
from abluent.grammar.rules.words import STRANGE
from lark.exceptions import UnexpectedInput

GRAMMAR = "rules.lark"
CONVERT = "python -m abluent.grammar.rules"
_OPENING = re.compile(r'^[ \t]*(?:"|(?:unsaid|standings)\b(?![-:]))', re.MULTILINE)
_FORMER = re.compile(
    r'(?:[ \t]*(?:#[^\n]*)?\n)*[ \t]*((?:rule|exception|predicate)[ \t]+[\w"][^\n]*'
    r"|standings[ \t][^\n>]*>[^\n]*)"
)
_FOREIGN = re.compile(r"(?<!the )(?<![\w:-])(?:if|not|or|then|_)(?![\w:-])(?! else)")
# A mistake of a usual kind, recognised by the text around it, and what to say.
_HINTS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r".*\?"), "A variable is `the` and a word: `the film`."),
    (re.compile(r'.*"[^"\n]*$'), 'A text must be closed by `"` on its own line.'),
    (
        re.compile(r".*[=<>!]"),
        "Write `equals`, `differs from`, `is below`, `is at most`, `is above` or "
        "`is at least`.",
    ),
    (
        re.compile(r".*\w\("),
        "What is spoken of stands before the word, and the rest after it: "
        "`the product line the place, the ingredient`.",
    ),
    (re.compile(r".*,"), "Conditions are joined by `and`."),
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
    for start, end in cut(text, _OPENING):
        try:
            blocks.append(_parse_block(text, start, end, name))
        except GrammarError as problem:
            problems.append(problem)
    if problems:
        raise GrammarProblems(_former(text, name) or problems)
    return ast.RuleFile(tuple(blocks))


def is_former(text: str) -> bool:
    """Whether a file begins as one of the former shape does."""
    return _FORMER.match(text) is not None


def blocks(text: str, name: str = "") -> Iterator[tuple[Span, ast.Block]]:
    """The blocks of a file with the places up to the next one.

    Raises:
        GrammarError: one cannot be read.
    """
    for start, end in cut(text, _OPENING):
        yield Span(start, end), _parse_block(text, start, end, name)


def _parse_block(text: str, start: int, end: int, name: str) -> ast.Block:
    reader = parser(GRAMMAR)
    try:
        return read_block(reader, Builder(start), text, Span(start, end), name)
    except UnexpectedInput as error:
        raise _pointed(error, text, start, end, name) from None


def _former(text: str, name: str) -> list[GrammarError]:
    """What to say of a whole file that is written in the former shape."""
    found = _FORMER.match(text)
    if found is None:
        return []
    return [
        GrammarError(
            "this file is written in the former shape of rules",
            text,
            Span(*found.span(1)),
            hint=f"`{CONVERT} FILE` writes it anew, with the same meaning.",
            name=name,
        )
    ]


def _pointed(
    error: UnexpectedInput, text: str, start: int, end: int, name: str
) -> GrammarError:
    """The error of the parser library, as one of ours."""
    body = text[start:end]
    offset, found, names = unexpected(error, body)
    offset, found = _strange(body, offset, found)
    message = f"`{found}` cannot stand here" if found else "the block ends too early"
    words = worded(parser(GRAMMAR), names)
    return GrammarError(
        message,
        text,
        Span(start + offset, start + offset + max(1, len(found))),
        words,
        _hint(body, offset, found, words),
        name,
    )


def _strange(body: str, offset: int, found: str) -> tuple[int, str]:
    """The place of an error, or that of the foreign word before it that led to it."""
    line = body.rfind("\n", 0, offset) + 1
    words = [*_FOREIGN.finditer(body, line, offset + len(found))]
    return (words[-1].start(), words[-1][0]) if words else (offset, found)


def _hint(body: str, offset: int, found: str, words: tuple[str, ...]) -> str:
    """What would do: for a usual mistake, a misspelt word, or the place as such."""
    if not found:
        return _at_end(words)
    if found in STRANGE:
        return STRANGE[found]
    line = body[body.rfind("\n", 0, offset) + 1 : offset] + found
    line += body[offset + len(found) : offset + len(found) + 1].strip(" \n")
    for pattern, hint in _HINTS:
        if pattern.fullmatch(line.strip()) or pattern.fullmatch(
            line[: len(line) - 1].strip()
        ):
            return hint
    keywords = [each.strip("`") for each in words if each.startswith("`")]
    near = get_close_matches(found, keywords, 1)
    if near:
        return f"Did you mean `{near[0]}`?"
    return _ADVICE[_kind(words)]


_ADVICE = {
    "part": "A new part begins here: `because`, `unless`, `so`, `stops` or `rule`; "
    "conditions are joined by `and`, the terms of one by commas.",
    "thing": "Name a thing here: `the` and a word, a name, or `something`.",
    "block": "A block begins with its sentence, in quotes, on a line of its own.",
    "name": 'Write a name here, in "quotes" if it is a word of this language.',
}


def _kind(words: tuple[str, ...]) -> str:
    if "`unsaid`" in words:
        return "block"
    if "`because`" in words:
        return "part"
    return "thing" if "`the` and a word" in words else "name"


def _at_end(words: tuple[str, ...]) -> str:
    return _ADVICE[_kind(words)].replace("here", "next", 1)
