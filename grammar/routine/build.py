"""From the parser's tree of a line of a routine to our own."""

from __future__ import annotations

from datetime import date
from typing import Any

from abluent.grammar.common.errors import Span
from abluent.grammar.routine import tree as ast
from lark import Token, Transformer

_ORDINALS = {"other": 2, "second": 2, "third": 3, "fourth": 4}
_NUMBERS = {"one": 1, "two": 2, "three": 3}
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WATER = "water"


class Misfit(ValueError):
    """What can be read and cannot be so; the message says why and what to do."""


class Builder(Transformer[Token, Any]):
    """Builds the statement of one line, which stands at a span of the text."""

    def __init__(self, span: Span) -> None:
        super().__init__()
        self._span = span

    # -- words

    def STRING(self, token: Token) -> str:
        inner = token[1:-1]
        if token.startswith('"'):
            inner = inner.replace('""', '"')
        name = " ".join(inner.split())
        if not name:
            raise Misfit("the name between the quotes is empty")
        return name

    def DATE(self, token: Token) -> date:
        try:
            return date.fromisoformat(token)
        except ValueError:
            raise Misfit(f"`{token}` is no day of the calendar") from None

    def INT(self, token: Token) -> int:
        return _positive(int(token))

    def NUMBER(self, token: Token) -> int:
        word = token.lower()
        return _NUMBERS[word] if word in _NUMBERS else int(word)

    def ORDINAL(self, token: Token) -> int:
        word = token.lower()
        return _ORDINALS[word] if word in _ORDINALS else int(word[0])

    def SOME_TIMES(self, token: Token) -> int:
        return ("three", "four", "five", "six", "seven").index(token.lower()) + 3

    def TIMES(self, token: Token) -> int:
        return 1 if token.lower() == "once" else 2

    def WEEKDAY(self, token: Token) -> int:
        return _WEEKDAYS.index(token[:3].lower())

    def BESIDE(self, token: Token) -> bool:
        return token.lower() == "before"

    def UNIT(self, token: Token) -> bool:
        return token.lower().startswith("day")

    def REST(self, token: Token) -> str:
        return " ".join(token.split())

    FILMS = SOME = RUNNING = REST

    def ASPECT(self, token: Token) -> str:
        return token.lower()

    VERDICT = AS = ASPECT

    # -- the frame

    def called(self, parts: list[Any]) -> str:
        return str(parts[0])

    def days(self, parts: list[Any]) -> int:
        return int(parts[0])

    def weeks(self, parts: list[Any]) -> int:
        return 7 * int(parts[0])

    def cycle(self, parts: list[Any]) -> dict[str, Any]:
        return {"cycle": parts[0]}

    def calendar(self, parts: list[Any]) -> dict[str, Any]:
        if isinstance(parts[0], int):
            return {"days": parts[0]}
        start, *end = parts
        if not end:
            return {"start": start}
        if isinstance(end[0], int):
            return {"start": start, "days": end[0]}
        days = (end[0] - start).days + 1
        if days < 1:
            raise Misfit(
                f"{end[0]} comes before {start}; put the earlier date after `from`"
            )
        return {"start": start, "days": days}

    def washing(self, parts: list[Any]) -> ast.Said:
        aspect, words = parts
        return ast.Said(aspect, words, self._span)

    # -- uses

    def washed(self, parts: list[Any]) -> ast.UseLine:
        return self._use(parts[0], parts[1:], wash=True)

    def washes(self, parts: list[Any]) -> ast.UseLine:
        return self._use("", parts, wash=True)

    def rinsed(self, parts: list[Any]) -> ast.UseLine:
        return self._use(WATER, parts, wash=True)

    def used(self, parts: list[Any]) -> ast.UseLine:
        return self._use(parts[0], parts[1:], wash=False)

    def _use(self, product: str, parts: list[Any], *, wash: bool) -> ast.UseLine:
        when, *but_not = parts
        if wash and not product and isinstance(when, ast.Beside) and not when.anchor:
            raise Misfit("a wash cannot stand beside every wash; name its days")
        return ast.UseLine(wash, product, when, tuple(but_not), self._span)

    # -- when

    def daily(self, parts: list[Any]) -> ast.When:
        return ast.Daily()

    def every_nth_day(self, parts: list[Any]) -> ast.When:
        return ast.Daily(parts[0])

    def weekly(self, parts: list[Any]) -> ast.When:
        return ast.Weekly(_sorted(parts))

    def every_nth_week(self, parts: list[Any]) -> ast.When:
        return ast.Weekly((parts[1],), parts[0])

    def every_n_weeks(self, parts: list[Any]) -> ast.When:
        return ast.Weekly(_sorted(parts[1:]), parts[0])

    def on_weekdays(self, parts: list[Any]) -> ast.When:
        return ast.Weekly((0, 1, 2, 3, 4))

    def at_weekends(self, parts: list[Any]) -> ast.When:
        return ast.Weekly((5, 6))

    def times(self, parts: list[Any]) -> ast.When:
        if parts[0] > 7:
            raise Misfit(f"a week has 7 days, not {parts[0]}; write two lines instead")
        return ast.Times(parts[0])

    def beside_wash(self, parts: list[Any]) -> ast.When:
        return ast.Beside(parts[0], "", parts[1] if len(parts) > 1 else 1)

    def every_wash(self, parts: list[Any]) -> ast.When:
        return ast.Beside(False, "", parts[0] if parts else 1)

    def beside_product(self, parts: list[Any]) -> ast.When:
        return ast.Beside(parts[0], parts[1])

    def on_dates(self, parts: list[Any]) -> ast.When:
        return ast.OnDates(tuple(sorted(set(parts))))

    # -- what a plan is to keep to

    def clear(self, parts: list[Any]) -> ast.Want:
        films, *every, days = parts
        return ast.Clear(films, every[0] if every else 1, days, self._span)

    def only(self, parts: list[Any]) -> ast.Want:
        return ast.Only(parts[0], self._span)

    def at_most(self, parts: list[Any]) -> ast.Want:
        most, phrase, *days = parts
        return ast.AtMost(most, phrase, days[0] if days else 7, self._span)

    def apart(self, parts: list[Any]) -> ast.Want:
        return ast.Apart(parts[0], self._span)

    def count(self, parts: list[Any]) -> dict[str, Any]:
        return {parts[0].split()[0]: parts[1]}


def _positive(number: int) -> int:
    if number < 1:
        raise Misfit("a number here is at least 1")
    return number


def _sorted(days: list[int]) -> tuple[int, ...]:
    return tuple(sorted(set(days)))
