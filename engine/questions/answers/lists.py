"""A list of verdicts: its heading, its lines, and the reasons with what each bounds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import ISA
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.because import Because
from abluent.engine.questions.answers.best_known import best_known, how_well_known
from abluent.engine.questions.answers.described import Describer, Term
from abluent.engine.questions.answers.folded_words import described
from abluent.engine.questions.answers.folding import (
    classes_among,
    film_key,
    film_of,
    kinds_by,
    wash_key,
)
from abluent.engine.questions.answers.group import Group
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.engine.questions.world.world import WATER

WASHES, FILMS = 0, 1
"""The sides of a verdict."""
BY_NAME = 6
"""So many things are named, whatever classes they make up."""
_LINES = 3
"""So many things that no class makes up have lines of their own; more share one."""
AS_TOLD = {Role.PARTLY_CLEARED: Role.AT_LEAST_PARTLY}
"""What stands in the list of another: beside it is told which goes no further."""


class Why(NamedTuple):
    """A reason of a list.

    Args:
        names: the things that it bounds, as the list tells them.
        words: the reason; empty where nothing is known that bounds them.
        rows: the verdicts that it is the reason of.
        because: what it is; None where there is none.
        also: what else is told alike, on other agents.
    """

    names: str
    words: str
    rows: tuple[Verdict, ...]
    because: Because | None
    also: tuple[Because, ...] = ()


class Block(NamedTuple):
    """A heading, the lines under it, and why they stand there.

    Args:
        head: what is said of all under it.
        items: the lines.
        known: a verdict for each line, on what is best known of it.
        rows: the verdicts that it stands for.
        whys: the reasons, that of the most first.
        beside: what is told of some of it besides, each in a sentence.
        apart: whether the reasons are of other things than the lines name.
        numbered: whether the lines stand in an order, and begin with its numbers.
    """

    head: str
    items: tuple[str, ...]
    known: tuple[Verdict, ...]
    rows: tuple[Verdict, ...]
    whys: tuple[Why, ...]
    beside: tuple[str, ...] = ()
    apart: bool = False
    numbered: bool = False


class Lists:
    """Makes lists of some verdicts, and names what stands on them.

    Args:
        rows: the verdicts, at least one.
    """

    def __init__(self, rows: Sequence[Verdict]) -> None:
        self.rows = rows
        self.base = rows[0].case.world.base
        self.washes = list(dict.fromkeys(map(wash_key, rows)))
        self.films = list(dict.fromkeys(map(film_key, rows)))
        self.sources = {row.source for row in rows}

    def head(self, rows: Sequence[Verdict], side: int, *, many: bool) -> str:
        """What becomes of the one film, or what the one wash does."""
        first = rows[0]
        if first.role is Role.NO_WASH_NEEDED:
            how = self.base.record(first.value).text("spokenAs")
            return f"No wash needed{f', for {how}' if how else ''}"
        if side == FILMS:
            who = "Water takes" if first.wash == WATER else "Takes"
            return f"{who} {self.amount(rows, of=True)}"
        return f"{'Take' if many else 'Takes'} {self.amount(rows)}"

    def amount(self, rows: Sequence[Verdict], *, of: bool = False) -> str:
        """How much is taken of a list; with `of`, of what follows."""
        roles = {row.role for row in rows}
        role = AS_TOLD[Role.PARTLY_CLEARED] if len(roles) > 1 else rows[0].role
        perhaps = ""
        if role is Role.PARTLY_CLEARED and not rows[0].contested:
            perhaps = ", not all in one wash"
        if Role.PART_OF_IT in rows[0].contested:
            perhaps = dispute(rows[0])
        comma = "," if perhaps and of else ""
        return f"{TAKES[role]}{perhaps}{comma}{' of' if of else ''}"

    def beside(
        self, rows: Sequence[Verdict], side: int, classes: Describer
    ) -> tuple[str, ...]:
        """Of which part of a list no more goes, and of which that is disputed."""
        told = []
        capped = [row for row in rows if row.role is Role.PARTLY_CLEARED]
        doubted = [row for row in rows if Role.ALL_OF_IT in row.contested]
        if capped and len(capped) < len(rows):
            names = self.names(capped, side, classes)
            told.append(f"No more than part in one wash: {names}.")
        if doubted:
            names = self.names(doubted, side, classes)
            told.append(f"Whether all goes is disputed: {names}.")
        return tuple(told)

    def whys(
        self, groups: Sequence[Group], side: int, classes: Describer
    ) -> tuple[Why, ...]:
        if not any(group.words for group in groups):
            return ()
        return tuple(
            Why(
                self.names(group.rows, side, classes),
                group.words,
                group.rows,
                group.because,
            )
            for group in groups
        )

    def keys(self, rows: Sequence[Verdict], side: int) -> list[str]:
        return list(dict.fromkeys((wash_key(r), film_key(r))[side] for r in rows))

    def describer(self, side: int) -> Describer:
        keys = (self.washes, self.films)[side]
        parts = side == FILMS
        kinds = classes_among(self.base, keys, kinds_by(self.rows), parts=parts)
        return Describer(keys, kinds)

    def names(self, rows: Sequence[Verdict], side: int, classes: Describer) -> str:
        """The washes or films of some verdicts: by name where few, else by class."""
        keys = self.keys(rows, side)
        terms = classes.described(classes.mask(keys))
        of_class = len(keys) > _LINES and len(terms) == 1 and not terms[0].but
        if len(keys) <= BY_NAME and not of_class:
            return ", ".join(map(self.name, keys))
        told = [self._with_exceptions(term) for term in terms if term.whole]
        things = [term.symbol for term in terms if not term.whole]
        return "; ".join([*told, *([self._some(things)] if things else [])])

    def lines(
        self, rows: Sequence[Verdict], side: int, classes: Describer
    ) -> list[tuple[str, Verdict]]:
        """A line for each class; things by name share one where they are many."""
        of = {(wash_key(row), film_key(row))[side]: row for row in rows}
        if len(of) <= BY_NAME:
            names = ", ".join(map(self.name, of))
            return [(names, of[self._best(list(of))])]
        terms = classes.described(classes.mask(of))
        things = [term.symbol for term in terms if not term.whole]
        lines: list[tuple[str, Verdict]] = []
        for term in terms:
            if term.whole:
                lines.append(self._class_line(term, of, [row for _, row in lines]))
        if len(things) > _LINES:
            return [*lines, (self._some(things), of[self._best(things)])]
        return [*lines, *((self.name(key), of[key]) for key in things)]

    def _class_line(
        self, term: Term, rows: Mapping[str, Verdict], told_of: Sequence[Verdict]
    ) -> tuple[str, Verdict]:
        """A class, what it leaves out, and of what is left the best known."""
        told = self._with_exceptions(term)
        own = [key for key in rows if _belongs(rows[key], key, term.symbol)]
        own = own or list(rows)
        first = self._best([key for key in own if rows[key] not in told_of] or own)
        return f"{told}, as {self.base.label(film_of(first)[0])}", rows[first]

    def _best(self, keys: Sequence[str]) -> str:
        symbols = {film_of(key)[0]: key for key in reversed(keys)}
        return symbols[best_known(self.base, list(symbols))]

    def _with_exceptions(self, term: Term) -> str:
        """A class and what it leaves out; of many things by name, how many they are."""
        if sum(not each.whole for each in term.but) <= BY_NAME:
            return described(self.base, [term], self.name)
        kinds = [self.base.plural(each.symbol) for each in term.but if each.whole]
        names = sum(not each.whole for each in term.but)
        left_out = ", ".join([*kinds, f"{names} by name"])
        return f"{self.base.plural(term.symbol)} except {left_out}"

    def _some(self, things: Sequence[str]) -> str:
        """Things by name, those that are known best first where they are many."""
        products = not any(film_of(key)[0] in self.base for key in things)
        if products or len(things) <= BY_NAME + 1:
            return ", ".join(map(self.name, things))

        def known(key: str) -> int:
            return how_well_known(self.base, film_of(key)[0])

        first = sorted(things, key=known, reverse=True)[:BY_NAME]
        shown = ", ".join(map(self.name, first))
        return f"{shown} and {len(things) - BY_NAME} more by name"

    def name(self, key: str) -> str:
        """A wash, or a film with what left it where that is not always the same."""
        film, source = film_of(key)
        shown = self.base.label(film) if film in self.base else film
        return f"{shown} from {source}" if source and len(self.sources) > 1 else shown


def told_as(row: Verdict) -> tuple[object, ...]:
    """Alike in what a list says of them."""
    role = AS_TOLD.get(row.role, row.role)
    return role, Role.PART_OF_IT in row.contested


def _belongs(row: Verdict, key: str, kind: str) -> bool:
    """Whether the wash or film of a verdict belongs to a class."""
    symbol = film_of(key)[0]
    base = row.case.world.base
    stated = symbol in base and kind in base.classes_of(symbol)
    return stated or row.case.model.holds(ISA, (symbol, kind))


def doubted(row: Verdict) -> str:
    """That it is disputed, and what, in brackets."""
    told = row.contested_words
    return f" (whether {told} is disputed)" if told else ""


def dispute(row: Verdict) -> str:
    """That it is disputed, and what."""
    told = row.contested_words
    return f", and sources disagree on whether {told}" if told else ""
