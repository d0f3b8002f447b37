"""Routines: text to syntax tree, every problem of the text reported.

One line is one statement; a mistake costs its line and not the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from abluent.grammar.common.errors import GrammarError, GrammarProblems, Span
from abluent.grammar.routine import tree as ast
from abluent.grammar.routine.build import Builder, Misfit
from lark import Lark
from lark.exceptions import UnexpectedInput, VisitError

_NAMED = {
    "STRING": 'a name in "quotes"',
    "DATE": "a date such as 2026-03-01",
    "INT": "a number",
    "NUMBER": "a number",
    "ORDINAL": "`second`, `third` or `fourth`",
    "SOME_TIMES": "`three`, `four`, … `seven`",
    "TIMES": "`once` or `twice`",
    "WEEKDAY": "a day such as Sunday",
    "ASPECT": "how it is washed, such as `water is hard`",
    "BESIDE": "`after` or `before`",
    "UNIT": "`washes` or `days`",
    "VERDICT": "`partly clears` or `open`",
    "AS": "`clearing`, `nothing` or `either`",
    "FILMS": "films, then `every` so many washes or days",
    "SOME": "washes, then `a week` or `in 14 days`",
    "RUNNING": "washes, then `two days running`",
    "REST": "the rest of the line",
    "$END": "the end of the line",
    "_DAY": "`day`",
    "_DAYS": "`days`",
    "_WEEKS": "`weeks`",
}
_NO_COMMENT = re.compile(r"""(?:"[^"\n]*"|[“„][^“„”"\n]*[”“"]|«[^»\n]*»|[^"#\n])*""")
_WHEN = re.compile(
    r"\s+(?:daily|every|on|at|after|before|once|twice|\w+\s+times|except)\b.*$",
    re.IGNORECASE | re.DOTALL,
)
_OPENS_NAME = re.compile(r"(?:with|use|after|before)\s*$", re.IGNORECASE)


def parse_routines(text: str, name: str = "") -> tuple[ast.Routine, ...]:
    """Read the routines of a text; each but the first begins with `routine`.

    Args:
        text: the whole text.
        name: what to call it in messages.

    Raises:
        GrammarProblems: every line that cannot be read, in order of place.
    """
    gathered = [_Gathered()]
    problems: list[GrammarError] = []
    for line, span in _lines(text):
        try:
            statement = _statement(line, span, text, name)
            if isinstance(statement, Called) and gathered[-1].begun:
                gathered.append(_Gathered())
            gathered[-1].take(statement, span)
        except Misfit as misfit:
            problems.append(GrammarError(str(misfit), text, span, name=name))
        except GrammarError as problem:
            problems.append(problem)
    if problems:
        raise GrammarProblems(problems)
    return tuple(each.routine(text, name) for each in gathered if each.begun)


@dataclass(frozen=True, slots=True)
class Called:
    """The line that opens a routine and names it."""

    name: str


class _Gathered:
    """The statements of one routine, as they come."""

    def __init__(self) -> None:
        self.said: dict[str, Any] = {}
        self.uses: list[ast.UseLine] = []
        self.washing: list[ast.Said] = []
        self.wants: list[ast.Want] = []
        self.begun = False

    def take(self, statement: Any, span: Span) -> None:
        self.begun = True
        if isinstance(statement, ast.UseLine):
            self.uses.append(statement)
        elif isinstance(statement, ast.Said):
            if any(each.aspect == statement.aspect for each in self.washing):
                what = f"the {statement.aspect} was said before"
                raise Misfit(f"{what}; leave one of the two")
            self.washing.append(statement)
        elif isinstance(statement, Called):
            self.said["name"] = statement.name
        elif isinstance(statement, dict):
            for key in statement.keys() & self.said.keys():
                raise Misfit(f"the {_SAID[key]} was said before; leave one of the two")
            self.said |= statement
        else:
            self.wants.append(statement)

    def routine(self, text: str, place: str) -> ast.Routine:
        said = dict(self.said)
        counting = ast.Counting(
            said.pop("partly", ast.EITHER), said.pop("open", ast.EITHER)
        )
        return ast.Routine(
            uses=tuple(self.uses),
            washing=tuple(self.washing),
            wants=tuple(self.wants),
            counting=counting,
            text=text,
            place=place,
            **said,
        )


_SAID = {
    "start": "first day",
    "days": "length",
    "cycle": "length of the cycle",
    "partly": "counting of `partly clears`",
    "open": "counting of `open`",
}


def remarks(routine: ast.Routine) -> list[str]:
    """What is remarked behind the lines of a routine, after a `#`."""
    spans = [*(e.span for e in routine.uses), *(e.span for e in routine.washing)]
    starts = sorted({each.start for each in spans if routine.text})
    raw = [routine.text[start:].partition("\n")[0] for start in starts]
    ends = [(each, found.end()) for each in raw if (found := _NO_COMMENT.match(each))]
    return [said for each, end in ends if (said := each[end:].lstrip("# ").strip())]


def _lines(text: str) -> Iterator[tuple[str, Span]]:
    start = 0
    for raw in text.splitlines(keepends=True):
        found = _NO_COMMENT.match(raw)
        line = (found.group() if found else raw).rstrip().rstrip(".").rstrip()
        shift = len(line) - len(line.lstrip())
        if line.strip():
            yield line.lstrip(), Span(start + shift, start + len(line))
        start += len(raw)


def _statement(line: str, span: Span, text: str, name: str) -> Any:
    try:
        tree = _parser().parse(line)
        built = Builder(span).transform(tree)
    except UnexpectedInput as error:
        raise _pointed(error, line, span, text, name) from None
    except VisitError as error:
        if isinstance(error.orig_exc, Misfit):
            raise error.orig_exc from None
        raise
    return Called(built) if isinstance(built, str) else built


@lru_cache(maxsize=1)
def _parser() -> Lark:
    grammar = files("abluent.grammar.routine").joinpath("routine.lark")
    text = grammar.read_text("utf-8")
    return Lark(text, start="statement", parser="lalr", maybe_placeholders=False)


def _pointed(
    error: UnexpectedInput, line: str, span: Span, text: str, name: str
) -> GrammarError:
    """The error of the parser library, as one of ours."""
    token = getattr(error, "token", None)
    at_end = token is not None and token.type == "$END"
    column = len(line) if at_end else (error.pos_in_stream or 0)
    found = "" if at_end else re.split(r"\s", line[column:], maxsplit=1)[0]
    wanted = getattr(error, "accepts", None) or getattr(error, "allowed", None)
    wanted = wanted or getattr(error, "expected", None) or set()
    place = Span(span.start + column, span.start + column + max(1, len(found)))
    hint = ""
    if "STRING" in wanted and _OPENS_NAME.search(line[:column]):
        hint = _in_quotes(line, column)
    message = f"`{found}` cannot stand here" if found else "the line ends too early"
    return GrammarError(message, text, place, _worded(wanted), hint, name)


def _in_quotes(line: str, column: int) -> str:
    """How the line reads with what may be a name in quotes."""
    said = "the name of a product stands in quotes, as it is on the shelf"
    when = _WHEN.search(line, column)
    name = line[column : when.start() if when else None].strip(" \"'“”„«»\u2018\u2019")
    if not name or when is None:
        return said
    return f'{said}; try: {line[:column]}"{name}"{when[0]}'


def _worded(wanted: set[str]) -> tuple[str, ...]:
    patterns = {each.name: each.pattern.value for each in _parser().terminals}
    words = (_NAMED.get(each) or f"`{patterns.get(each, each)}`" for each in wanted)
    return tuple(sorted(set(words)))
