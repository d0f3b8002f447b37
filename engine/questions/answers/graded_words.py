"""What several washes take, said aloud by how far each goes, and listed with why."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Sequence

from abluent.engine.base.common_names import aloud
from abluent.engine.base.contract import AMOUNT_BEARS_ON, LATE, LINE
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import places
from abluent.engine.questions.answers.answer import Order
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.degrees import led_by
from abluent.engine.questions.answers.folding import film_key, film_of, wash_key
from abluent.engine.questions.answers.graded import (
    SURELY,
    Grade,
    Kind,
    Reason,
    graded,
    own_films,
    reasons,
)
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.lists import BY_NAME, FILMS, Block, Lists, Why
from abluent.engine.questions.answers.verdicts import NOT_ALL, Verdict
from abluent.grammar.common.text import as_sentence, in_a_row

_NAMED, _MOST, _BUT = 5, 9, 2
"""Of more washes those that are none of them are told, if so few; most are counted."""
_STAYING, _GROUPS = 3, 2
"""So many films that may stay, and groups of those, are told aloud."""
_FILM = 4
"""So many films are named in a list."""


# -- aloud -------------------------------------------------------------------------


def said_aloud(rows: Sequence[Verdict], films: str, *, whole: bool) -> str:
    """What several washes take, in a few sentences that name each wash once.

    Args:
        rows: the verdicts, at least one.
        films: the films in words, where they are several; the one film is named.
        whole: whether it was asked what takes all of it.
    """
    told = graded(rows)
    what, one = _what(rows, films)
    parts = [*_first(told, what, one), *_then(told, what, one)]
    if whole and not any(each.kind is Kind.ALL or each.most for each in told):
        if any(each.kind in SURELY for each in told):
            parts.append("None is shown to take all in one wash")
    return " ".join(as_sentence(part) for part in parts if part)


def said_in_order(
    rows: Sequence[Verdict], films: str, order: Order, first: Sequence[str]
) -> str:
    """The washes that surely take part in an order, then what the others take.

    Args:
        rows: the verdicts, at least one.
        films: the films in words, where they are several; the one film is named.
        order: the order, by its steps.
        first: the first of them, where only so many were asked for.
    """
    told = graded(rows)
    what, one = _what(rows, films)
    how = order.how.removesuffix(" first")
    if first:
        takes = "takes" if len(first) == 1 else "take"
        is_ = "is" if len(first) == 1 else "are"
        level = order.steps[0] if order.steps else order.apart
        if set(first) < set(level):
            return (
                f"The {how} that surely take some of {what}: "
                f"{in_a_row(level, 'or')}; nothing here tells which of them is the "
                f"{how}."
            )
        surely = f"surely {takes} some of {what}"
        if all(row.takes_most for row in rows if row.wash in first and not row.gone):
            surely = f"likely {takes} most of {what}, {NOT_ALL}"
        return as_sentence(f"{listed(first)} {is_} the {how} that {surely}")
    steps = [listed(step, len(step)) for step in order.steps if step]
    if not steps:
        return said_aloud(rows, films, whole=False)
    laid = "; ".join(f"{place}. {names}" for place, names in enumerate(steps, 1))
    laid = steps[0] if len(steps) == 1 else laid
    sure = [each for each in told if each.kind in SURELY]
    most = f"likely take most of {what}, {NOT_ALL}"
    take = most if all(each.most for each in sure) else f"take some of {what}"
    parts = [f"{order.how}, these {take}: {laid}"]
    if order.apart:
        parts.append(f"nothing compares {listed(order.apart)} with these")
    return " ".join(as_sentence(p) for p in [*parts, *_then(told, what, one)] if p)


def _what(rows: Sequence[Verdict], films: str) -> tuple[str, bool]:
    """The films in words, by name where only one needs a wash, and whether so."""
    needing = [row for row in rows if row.role is not Role.NO_WASH_NEEDED]
    one = len({film_key(row) for row in needing}) == 1
    if one and not films.startswith("everything"):
        return aloud(rows[0].case.world.base, needing[0].film), one
    return films, one


def _first(told: Sequence[Grade], what: str, one: bool) -> Iterator[str]:
    """The washes that take most, and those that surely take some."""
    by = {each.kind: each for each in told if each.kind in SURELY}
    every = [wash for each in told for wash in each.washes]
    if (whole := by.get(Kind.ALL)) is not None:
        yield f"{_who(whole)} {_take(whole)} all of {what}"
    sure, best = by.get(Kind.SURE), by.get(Kind.BEST)
    if best is not None:
        most = f", likely most of {'it' if one else 'each'}, {NOT_ALL}"
        yield f"Best for {what}: {_who(best)}{most if best.most else ''}"
    each = "" if one else " of each"
    weaker = by.get(Kind.WEAKER)
    if sure is not None and best is not None:
        yield f"{_who(sure)} {_take(sure)} some{each} too"
    elif sure is not None and sure.most:
        yield f"{_who(sure, every)} likely {_take(sure)} most of {what}, {NOT_ALL}"
    elif sure is not None:
        yield f"{_who(sure, every)} {_take(sure)} some of {what}{_perhaps(sure, one)}"
    if weaker is not None:
        as_one = "a weaker cleanser" if len(weaker.washes) == 1 else "weaker cleansers"
        yield f"{_who(weaker)} {_take(weaker)} some{each} too, as {as_one}"
    if not by and any(each.kind is not Kind.NEEDLESS for each in told):
        even = "even some of" if one else "some of"
        yield f"Nothing here is sure to take {even} {what}"


def _then(told: Sequence[Grade], what: str, one: bool) -> Iterator[str]:
    """What the others take, those first of which least stays."""
    some = [each for each in told if each.kind is Kind.SOME]
    base = told[0].rows[0].case.world.base
    parts = [_but(each) for each in some[:_GROUPS]]
    if rest := [wash for each in some[_GROUPS:] for wash in each.washes]:
        parts.append(f"{_names(base, rest)} leave{'s' * (len(rest) == 1)} more")
    others = [e for e in told if e.kind not in SURELY | {Kind.SOME}]
    for each in told:
        last = bool(others) and each is others[-1]
        many = last and len(each.washes) > _NAMED
        who = f"the other {len(each.washes)}" if many else _who(each)
        all_alike = len(told) == 1 and len(each.washes) > 1
        if each.kind is Kind.BACK:
            parts.append(f"{_who(each)} {_puts(each)}")
        elif each.kind is Kind.HARDLY:
            who = f"each of these {len(each.washes)}" if all_alike else who
            parts.append(f"{who} {_hardly(each, one=all_alike or not _many(each))}")
        elif each.kind is Kind.NONE:
            parts.append(f"{who} {_take(each)} none")
        elif each.kind is Kind.UNKNOWN:
            parts.append(f"for {_who(each)} nobody can tell")
        elif each.kind is Kind.NEEDLESS:
            parts.append(f"no wash is needed for {what}")
    yield "; ".join(parts)


def _but(each: Grade) -> str:
    base = each.rows[0].case.world.base
    names = [*dict.fromkeys(base.label(film_of(film)[0]) for film in each.stays)]
    stay = listed(names, _STAYING)
    if len(names) > _STAYING:
        some = _STAYING - 1
        stay = f"{', '.join(names[:some])} and {len(names) - some} more of these"
    return f"{_who(each)} {_take(each)} some, but perhaps none of {stay}"


def _hardly(each: Grade, *, one: bool) -> str:
    """How much a wash takes, or several, where nothing shows that it takes any."""
    if any(row.role is Role.OPEN for row in each.rows):
        return "may take none"
    return f"take{'s' * one} at most part, if any"


def _who(each: Grade, every: Sequence[str] = ()) -> str:
    """The washes of a group; of nearly all there are, those that are none of it."""
    base = each.rows[0].case.world.base
    rest = [wash for wash in every if wash not in each.washes]
    if len(each.washes) > _NAMED and len(rest) <= _BUT and every:
        but = f" but {_names(base, rest)}" if rest else f" {len(every)}"
        return f"All{but}"
    if len(each.washes) > _MOST:
        some, more = each.washes[:_BUT], len(each.washes) - _BUT
        return f"{', '.join(_each_name(base, some))} and {more} more"
    return _names(base, each.washes)


def _names(base: Base, washes: Sequence[str]) -> str:
    return listed(_each_name(base, washes), len(washes))


def _each_name(base: Base, washes: Sequence[str]) -> list[str]:
    return [base.label(wash) if wash in base else wash for wash in washes]


def _many(each: Grade) -> bool:
    return len(each.washes) > 1


def _take(each: Grade) -> str:
    return "take" if _many(each) else "takes"


def _puts(each: Grade) -> str:
    """That washes put such a film on hair, whatever they take of it."""
    own = dict.fromkeys(own_films(each))
    what = next(iter(own)) if len(own) == 1 else "such a film"
    if _many(each):
        return f"put {what} on hair themselves, whatever they take off"
    return f"puts {what} on hair itself, whatever it takes off"


def _perhaps(each: Grade, one: bool) -> str:
    roles = {row.role for row in each.rows} - {Role.NO_WASH_NEEDED}
    if one and roles == {Role.PARTLY_CLEARED}:
        return ", not all in one wash"
    return ", perhaps all" if one and roles == {Role.AT_LEAST_PARTLY} else ""


# -- listed ------------------------------------------------------------------------


def by_grade(lists: Lists, order: Order | None = None) -> Iterator[Block]:
    """The washes of some verdicts in lists, those first that take most.

    Args:
        lists: names what stands on them.
        order: the order in which those that surely take part stand, if one was asked
            for.
    """
    told = graded(lists.rows)
    if order is not None:
        told = _joined(told, SURELY - {Kind.ALL}, Kind.SURE)
    some = [each for each in told if each.kind is Kind.SOME]
    if len(some) > _GROUPS + 1:
        told = _joined(told, some[_GROUPS:], Kind.SOME)
    page = _Listed(lists, told, order)
    yield from map(page.block, told)


def _joined(
    told: Sequence[Grade], some: Container[Kind] | Sequence[Grade], kind: Kind
) -> list[Grade]:
    """The same, with all of some kinds, or some groups, in one."""
    mine = [each for each in told if each in some or each.kind in some]
    if len(mine) < 2:
        return list(told)
    rows = tuple(row for each in mine for row in each.rows)
    stays = tuple(sorted({film for each in mine for film in each.stays}))
    one = Grade(kind, tuple(dict.fromkeys(map(wash_key, rows))), rows, stays)
    return [one if each is mine[0] else each for each in told if each not in mine[1:]]


class _Listed:
    def __init__(
        self, lists: Lists, told: Sequence[Grade], order: Order | None
    ) -> None:
        self.lists, self.told, self.order = lists, told, order
        self.films = lists.describer(FILMS)
        needing = [r for r in lists.rows if r.role is not Role.NO_WASH_NEEDED]
        self.one = len({film_key(row) for row in needing}) == 1

    def block(self, each: Grade) -> Block:
        """One group: its head, its washes, and why they stand there."""
        items: tuple[str, ...] = (self._washes(each),)
        steps = self.order is not None and self.order.steps
        in_order = bool(steps) and each.kind in SURELY
        if in_order and self.order is not None and len(each.washes) > 1:
            items = tuple(_numbered(self.order, each))
        known = tuple(each.rows[:1]) * len(items)
        whys = tuple(self._why(why, each) for why in reasons(each, self.told))
        first = each is self.told[0]
        beside = tuple(self._beside(each, first=first))
        head = self._head(each)
        if in_order and len(items) > 1 and self.order is not None:
            head = f"{head}, {self.order.how}"
        return Block(head, items, known, each.rows, whys, beside, True, len(items) > 1)

    def _washes(self, each: Grade) -> str:
        """The washes of a group, each with what it leaves itself of the kind."""
        names = [*map(self.lists.name, each.washes)]
        if each.own:
            own = own_films(each)
            names = [f"{n} ({o})" for n, o in zip(names, own, strict=True)]
        return ", ".join(names)

    def _head(self, each: Grade) -> str:
        take = "Take" if len(each.washes) > 1 else "Takes"
        roles = {row.role for row in each.rows} - {Role.NO_WASH_NEEDED}
        amount = "some"
        of = "" if self.one else " of every one"
        if each.most and each.kind is not Kind.WEAKER:
            take = f"Likely {take.casefold()}"
            amount, of = "most", f"{of}, {NOT_ALL}"
        elif roles == {Role.PARTLY_CLEARED}:
            amount = "some, not all in one wash"
        elif roles == {Role.AT_LEAST_PARTLY} and self.one:
            amount = "some, perhaps all"
        if amount not in {"most", "some"} and not self.one:
            of = " of every one, not all in one wash"
            amount = "some"
        heads: dict[Kind, Callable[[], str]] = {
            Kind.ALL: lambda: f"{take} all{of}",
            Kind.BEST: lambda: f"Best chance ({take.casefold()} {amount}{of})",
            Kind.SURE: lambda: f"{take} {amount}{of}",
            Kind.WEAKER: lambda: f"Weaker, {take.casefold()} {amount}{of}",
            Kind.SOME: lambda: self._some(each),
            Kind.BACK: lambda: f"{self._puts(each)}, whatever {self._they(each)} off",
            Kind.HARDLY: lambda: _hardly(each, one=not _many(each)).capitalize(),
            Kind.NONE: lambda: f"{take} none",
            Kind.UNKNOWN: lambda: "Cannot tell",
            Kind.NEEDLESS: lambda: self._no_wash(each),
        }
        return heads[each.kind]()

    def _some(self, each: Grade) -> str:
        """What the washes of a group take little of, each of all of it or not."""
        take = "Take" if _many(each) else "Takes"
        mine = {(wash_key(row), film_key(row)) for row in each.rows if telling_end(row)}
        alike = len(mine) == len(each.washes) * len(each.stays)
        of = "" if alike else "one or more of "
        return f"{take} some, but perhaps none of {of}{self._names(each.stays)}"

    @staticmethod
    def _puts(each: Grade) -> str:
        return f"Put{'s' * (not _many(each))} such a film on hair"

    @staticmethod
    def _they(each: Grade) -> str:
        return "they take" if _many(each) else "it takes"

    def _no_wash(self, each: Grade) -> str:
        return self.lists.head(each.rows, FILMS, many=True)

    def _names(self, films: Sequence[str]) -> str:
        """Films by name where they are few, else by their classes."""
        if len(films) <= _FILM:
            return listed([self.lists.name(film) for film in films])
        from abluent.engine.questions.answers.folded_words import (  # noqa: PLC0415
            described,
        )

        terms = self.films.described(self.films.mask(films))
        return described(self.lists.base, terms, self.lists.name)

    def _why(self, why: Reason, each: Grade) -> Why:
        """A reason with the films, and the washes where they are not all."""
        films = tuple(dict.fromkeys(map(film_key, why.rows)))
        washes = tuple(dict.fromkeys(map(wash_key, why.rows)))
        told = []
        if not self.one and set(films) != set(each.stays or each.films):
            told.append(self._names(films))
        if set(washes) != set(each.washes) and 3 * len(washes) > 2 * len(each.washes):
            told.append("by most of these" if told else "Most of these")
        elif set(washes) != set(each.washes):
            names = listed([self.lists.name(wash) for wash in washes], BY_NAME)
            told.append(f"by {names}" if told else names)
        first, *also = why.because or (None,)
        return Why(
            " ".join(told), why.words, why.rows, first, tuple(filter(None, also))
        )

    def _beside(self, each: Grade, *, first: bool) -> Iterator[str]:
        """Of which part no more goes, what is disputed, and what goes by itself."""
        if each.kind in SURELY:
            told = [r for r in each.rows if r.role is not Role.NO_WASH_NEEDED]
            capped = [row for row in told if row.role is Role.PARTLY_CLEARED]
            if capped and len(capped) < len(told):
                yield f"Not all in one wash: {self._capped(capped, each)}."
        if self.one and each.kind in {Kind.HARDLY, Kind.NONE}:
            yield from self._late(each)
            yield from self._helping(each)
        doubted = [row for row in each.rows if Role.PART_OF_IT in row.contested]
        if doubted:
            names = listed([self.lists.name(wash_key(row)) for row in doubted], BY_NAME)
            yield f"Sources disagree whether any goes: {names}."
        dry = [row for row in each.rows if row.role is Role.NO_WASH_NEEDED]
        if first and dry and each.kind is not Kind.NEEDLESS:
            films = tuple(dict.fromkeys(map(film_key, dry)))
            yield f"{self._no_wash(each._replace(rows=tuple(dry)))}: " + (
                f"{self._names(films)}."
            )

    def _helping(self, each: Grade) -> Iterator[str]:
        """What washes list that helps where there is enough, where nothing is sure."""
        rows = each.rows[: 2 * BY_NAME]
        sure = any(other.kind in SURELY for other in self.told)
        if sure or any(row.case.at_a_glance for row in rows):
            return
        told = []
        for row in rows:
            if names := [f"{name}, number {place}" for name, place in _bearing(row)]:
                told.append(f"{self.lists.name(wash_key(row))} ({'; '.join(names)})")
        if told:
            every = listed(told, 2 * BY_NAME)
            yield f"What helps where there is enough of it: {every}."

    def _late(self, each: Grade) -> Iterator[str]:
        """What washes list of what works in others, and where that is too late."""
        kinds = {
            kind
            for other in self.told
            if other.kind in SURELY
            for why in reasons(other, self.told)
            for one in why.because
            if one.what in self.lists.base
            for kind in self.lists.base.record(one.what).links("agent")
        }
        told = []
        for row in each.rows[: 2 * BY_NAME]:
            names = [f"{name}, number {place}" for name, place in _traces(row, kinds)]
            told += [f"{self.lists.name(wash_key(row))} ({'; '.join(names)})"] * bool(
                names
            )
        if told:
            s = "s" * (len(told) == 1)
            yield (
                f"{listed(told, BY_NAME)} list{s} what would help, but so late that "
                "little of it is likely."
            )

    def _capped(self, rows: Sequence[Verdict], each: Grade) -> str:
        films = tuple(dict.fromkeys(map(film_key, rows)))
        washes = tuple(dict.fromkeys(map(wash_key, rows)))
        if self.one:
            return listed([self.lists.name(wash) for wash in washes], BY_NAME)
        by = listed([self.lists.name(wash) for wash in washes], BY_NAME)
        whole = set(washes) == set(each.washes)
        return self._names(films) if whole else f"{self._names(films)} by {by}"


def _bearing(row: Verdict) -> list[tuple[str, int]]:
    """What the label of a wash lists that bears on the film by its amount."""
    base, marked = row.case.world.base, row.case.world.known.marked(AMOUNT_BEARS_ON)
    films = {*base.classes_of(row.film)}
    kinds = [k for k in marked if films & {*base.record(k).links(AMOUNT_BEARS_ON)}]
    return [
        (base.label(symbol), place)
        for symbol, place in sorted(places(row).items(), key=lambda pair: pair[1])
        if any(kind in kinds for kind in base.classes_of(symbol))
    ]


def _traces(row: Verdict, kinds: Container[str]) -> list[tuple[str, int]]:
    """What a label lists of some kinds among its traces, with its place.

    Nothing where very many washes are judged at a glance.
    """
    if row.case.at_a_glance:
        return []
    match, holds, wash = row.case.model.match, row.case.model.holds, row.goal[1][0]
    base = row.case.world.base
    found = {
        str(symbol): int(str(place))
        for _, place, symbol in match(LINE, (wash, None, None))
        if any(kind in kinds for kind in base.classes_of(str(symbol)))
        and holds(LATE, (wash, symbol))
    }
    told = sorted(found.items(), key=lambda pair: pair[1])
    return [(base.label(symbol), place) for symbol, place in told]


def _numbered(order: Order, each: Grade) -> Iterator[str]:
    """The washes of a group by the steps of an order, each with what leads it."""
    case = each.rows[0].case
    symbols = {row.wash: str(row.goal[1][0]) for row in each.rows}
    place = 0
    for step in order.steps:
        mine = [wash for wash in step if wash in symbols]
        if not mine:
            continue
        place += 1
        kinds = [led_by(case, symbols[wash]) for wash in mine]
        yield f"{place}. " + "; ".join(
            f"{wash} ({kind})" if kind else wash
            for wash, kind in zip(mine, kinds, strict=True)
        )
    apart = [wash for wash in order.apart if wash in symbols]
    if apart:
        yield f"Outside the order, as nothing compares them: {listed(apart, BY_NAME)}"
