"""The syntax tree of a routine: what is used when, and what a plan is to keep to.

Spans do not count in equality, so reading what was printed gives an equal tree.
Weekdays are numbered from Monday, 0; days of a routine from 1.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from abluent.grammar.common.errors import NOWHERE, Span


@dataclass(frozen=True, slots=True)
class Daily:
    """Every so many days, from the first day on."""

    every: int = 1


@dataclass(frozen=True, slots=True)
class Weekly:
    """On some days of every so many weeks, from the first such day on."""

    weekdays: tuple[int, ...]
    every: int = 1


@dataclass(frozen=True, slots=True)
class Times:
    """So many times a week, spread evenly: on day `7 n / times`, rounded down."""

    times: int


@dataclass(frozen=True, slots=True)
class Beside:
    """Right before or after other uses.

    Args:
        before: before them, not after.
        anchor: the product used; empty for every wash.
        every: beside every so-manieth of them, the first of these being number
            `every`.
    """

    before: bool
    anchor: str = ""
    every: int = 1


@dataclass(frozen=True, slots=True)
class OnDates:
    """On some dates only."""

    dates: tuple[date, ...]


When = Daily | Weekly | Times | Beside | OnDates


@dataclass(frozen=True, slots=True)
class UseLine:
    """One product and when it is used.

    Args:
        wash: it is washed with, whatever its kind.
        product: its name; empty for a wash that a plan is to choose.
        when: the days.
        but_not: dates left out.
        span: the line.
    """

    wash: bool
    product: str
    when: When
    but_not: tuple[date, ...] = ()
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Clear:
    """Keep films off: each is cleared within so many washes, or days, of being left.

    `films` is a phrase of the query language, or `everything`, after which
    `except` may follow.
    """

    films: str
    every: int
    days: bool
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Only:
    """Choose among the washes that a phrase of the query language names."""

    phrase: str
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class AtMost:
    """So many of some washes at most in any so many days running."""

    most: int
    phrase: str
    days: int = 7
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Apart:
    """None of some washes on two days running."""

    phrase: str
    span: Span = field(default=NOWHERE, compare=False)


Want = Clear | Only | AtMost | Apart


@dataclass(frozen=True, slots=True)
class Said:
    """How it is washed: `water is hard`, `hair is bleached twice, fine`.

    Which aspects there are, and what the words mean, is not known here.
    """

    aspect: str
    words: str
    span: Span = field(default=NOWHERE, compare=False)


CLEARING, NOTHING, EITHER = "clearing", "nothing", "either"


@dataclass(frozen=True, slots=True)
class Counting:
    """What a verdict that is no clear yes or no is counted as."""

    partly: str = EITHER
    open: str = EITHER


AS_TOLD = Counting()
"""Both ways: as nothing in the worst case, as clearing in the best."""


@dataclass(frozen=True, slots=True)
class Routine:
    """A routine as typed.

    Args:
        name: what it is called.
        uses: what is used when, in the order of the lines.
        start: the first day, if dates matter.
        days: how long it is looked at; nothing if it goes on for ever.
        cycle: after how many days it begins again, where that is said.
        washing: how it is washed, as far as the shelf is not to say.
        wants: what a plan is to keep to.
        counting: what doubtful verdicts are counted as.
        unlisted: products of its lines that have no list, and are left out.
        unlisted_washes: those of them that are washed with.
        absent: products of its lines that are not at hand, and are left out.
        text: the text it was read from.
        place: the file of that text, or other origin.
    """

    name: str = ""
    uses: tuple[UseLine, ...] = ()
    start: date | None = None
    days: int | None = None
    cycle: int | None = None
    washing: tuple[Said, ...] = ()
    wants: tuple[Want, ...] = ()
    counting: Counting = AS_TOLD
    unlisted: tuple[str, ...] = ()
    unlisted_washes: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    text: str = field(default="", compare=False)
    place: str = field(default="", compare=False)
