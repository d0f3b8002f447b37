"""A week told in free speech, as lines of a routine that are ready to run."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from shlex import quote
from typing import TYPE_CHECKING

from abluent.engine.base import conditions
from abluent.engine.base.signs import every_word
from abluent.grammar.common.errors import Span
from abluent.grammar.common.text import one_line
from abluent.grammar.week.read import Week, read_week

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.questions.world.vocabulary import Vocabulary
    from abluent.engine.questions.world.world import World
    from abluent.grammar.routine.tree import Routine
    from abluent.shell.shelf.shelf import Shelf

_HAIR = "hair"
_SWIMS = "often in a pool"
_POOL = ("swim", "pool", "lap")


@dataclass(frozen=True)
class HeardWeek:
    """A week as it was heard.

    Args:
        text: the line, as typed.
        lines: the lines of the routine.
        put_in: those of them whose rhythm nobody said.
        aside: products that were named without a place in the week.
        unread: the stretches that were not read.
        planned: whether a plan is asked for, or a wash has yet to be chosen.
        accounted: whether an account can be made of it.
        leads: whether it says more than any one question does.
        timed: whether it is told how long it goes on.
        whole: whether all of it was read, and nothing was put in its place.
    """

    text: str
    lines: tuple[str, ...]
    put_in: tuple[str, ...]
    aside: tuple[str, ...]
    unread: tuple[str, ...]
    planned: bool
    accounted: bool
    leads: bool
    timed: bool
    whole: bool


def hear_week(text: str, known: Vocabulary) -> HeardWeek | None:
    """Hear a week in a line; nothing where none is told.

    Args:
        text: the line, as typed.
        known: the names that it can mean.
    """
    week = read_week(text, known)
    if week is None:
        return None
    base = known.nouns.world.base
    words = _noted(text, week, base)
    unread = [each for each in week.unread if not _within(each, words)]
    left = dict.fromkeys(one_line(text[each.start : each.end]) for each in unread)
    washing = _washing(text, week, words, base)
    whole = week.asked and not (left or week.put_in or week.aside)
    return HeardWeek(
        text,
        (*washing, *week.lines),
        tuple(week.put_in),
        week.aside,
        tuple(left),
        week.plan or bool(week.washes),
        not week.washes,
        week.leads,
        bool(week.length),
        bool(whole and week.leads),
    )


def _noted(text: str, week: Week, base: Base) -> list[Span]:
    """The words of a line that a note is heard by, where they were not read."""
    found = [Span(*each.span()) for each in every_word(base, text)]
    spans = [each for each in found if any(_meets(each, e) for e in week.unread)]
    longest = sorted(set(spans), key=lambda each: (each.start, -each.end))
    kept: list[Span] = []
    for each in longest:
        if not kept or each.start >= kept[-1].end:
            kept.append(each)
    return kept


def _meets(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end


def _within(one: Span, words: Sequence[Span]) -> bool:
    return any(_meets(one, each) for each in words)


def _washing(text: str, week: Week, words: Sequence[Span], base: Base) -> list[str]:
    """The lines on how it is washed, and the note on hair."""
    lines: dict[str, str] = {}
    parts: list[str] = []
    symbols = {base.label(each): each for each in conditions.every(base)}
    for told, typed in week.conditions:
        aspect, word = conditions.aspect_of(base, symbols.get(told, told))
        if aspect == _HAIR:
            parts.append(_bare(typed))
        elif aspect:
            lines.setdefault(aspect, word)
    parts += [one_line(text[each.start : each.end]) for each in words]
    pool = any(part.casefold().startswith(_POOL) for part in parts)
    if week.swims and not pool:
        parts.append(_SWIMS)
    told_of = [f"{aspect} is {word}" for aspect, word in lines.items()]
    note = ", ".join(dict.fromkeys(part.casefold() for part in parts))
    return [*told_of, *[f"{_HAIR} is {note}"] * bool(note)]


def _bare(words: str) -> str:
    """A condition of hair without what leads to it: `on bleached hair`, `bleached`."""
    kept = [w for w in words.split() if w.casefold() not in {"on", "my", "hair", "is"}]
    return " ".join(kept) or words


def done(week: HeardWeek, shelf: Shelf) -> Routine:
    """The routine that a week comes to.

    Raises:
        DataError: it contradicts itself.
    """
    from abluent.shell.routine.read import routines_of

    (only,) = routines_of("\n".join(week.lines), "", shelf)
    if only.error is not None:
        raise only.error
    assert only.routine is not None
    return only.routine


def pages(week: HeardWeek, world: World, shelf: Shelf, width: int) -> Iterator[str]:
    """What comes of a week: its account, then its plan, as far as they are asked.

    Raises:
        ShellError: it contradicts itself, or there is no solver.
    """
    from abluent.engine.routines.outcome import account_of
    from abluent.engine.routines.plan_outcome import plan_of
    from abluent.shell.routine.page import account_page, plan_page

    routine = done(week, shelf)
    if week.accounted:
        yield account_page(account_of(routine, world), world, width)
    if week.planned:
        yield plan_page(plan_of(routine, world), world, width)


def told(week: HeardWeek, number: int = 0) -> list[str]:
    """A week as lines of text; with a number, as one of several offers."""
    lead = f"  {number}  " if number else "  "
    space = " " * len(lead)
    lines = [f"{lead}the week told, as a routine:"]
    lines += [f"{space}  {each}" for each in week.lines]
    if week.put_in:
        lines.append(
            f"{space}how often was not said, so put in: {'; '.join(week.put_in)}"
        )
    if week.aside:
        lines.append(f"{space}not in it, but at hand: {', '.join(week.aside)}")
    if week.unread:
        left = ", ".join(f"“{each}”" for each in week.unread)
        lines.append(f"{space}left aside: {left}")
    return lines


def run_by(week: HeardWeek, shelves: Sequence[str]) -> str:
    """The command that works a week out, as it was typed."""
    order = "routine" if week.accounted else "plan"
    shelf = "".join(f" --shelf {quote(each)}" for each in shelves)
    return f"abluent {order}{shelf} {quote(one_line(week.text))}"
