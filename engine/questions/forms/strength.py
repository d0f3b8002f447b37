"""How strong a wash is, family by family of films: never one score.

family    the families on which it stands alike, and what it takes as much as
measured  how much its cleansers took where that was measured
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base import contract as c
from abluent.engine.logic.terms import Term
from abluent.engine.proof.sentences import plain
from abluent.engine.questions.answers.answer import Answer, Finding, Member
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.forms.measure import ranking, washes_of
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.strength import families, strength_steps
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import Item
from abluent.grammar.query import tree as q

NO_ORDER = (
    "no order of strength on these films is known; `which washes clear …` tells how "
    "far washes take them"
)


def how_strong(judge: Judge, said: q.HowMuch, text: str) -> Answer:
    """How strong each of some washes is, beside the others at hand."""
    washes = washes_of(judge, said.things)
    names = {judge.removal.as_wash(item): item for item in washes}
    every = list(dict.fromkeys([*names, *(item.key for item in judge.nouns.washes)]))
    case = Case.of(judge.removal.world, every)
    wanted = _wanted(judge, case, said.film)
    told = [
        _Wash(case, item, name, every, wanted, narrow=said.film is not None)
        for name, item in names.items()
    ]
    several = len(told) > 1
    return Answer(
        text,
        " ".join(each.sentence for each in told),
        [row for each in told for row in each.rows],
        members=washes,
        findings=[f for each in told for f in each.findings(several)],
    )


def ranked_by_strength(judge: Judge, said: q.Rank, film: q.Term, text: str) -> Answer:
    """Washes by steps of strength on some films, the strongest first."""
    washes = washes_of(judge, said.things)
    names = {judge.removal.as_wash(item): item for item in washes}
    case = Case.of(judge.removal.world, names)
    wanted = _wanted(judge, case, film)
    symbols = {case.world.symbol(name): name for name in names}
    laid = strength_steps(case, list(symbols), wanted)
    rows = [
        Member(case, names[symbols[one]], (c.STRONGER_ON, (one, other, family)))
        for one, other in laid.pairs
        for family in wanted
        if case.model.holds(c.STRONGER_ON, (one, other, family))
    ]
    plurals = listed([case.world.base.plural(each) for each in wanted], len(wanted))
    told = ranking(laid, symbols, "takes at least what", ("takes", "take"))
    head = f"The strongest first on {plurals}, as far as they compare"
    return Answer(
        text,
        told.sentence(head, f"Nothing compares these washes by strength on {plurals}."),
        rows,
        members=[names[name] for name in told.order],
        notes=[told.note("weak", "how strong is …")],
        findings=told.findings,
    )


def _wanted(judge: Judge, case: Case, film: q.Term | None) -> list[str]:
    """The families that are asked about.

    Raises:
        Unanswerable: there is no order of strength on any.
    """
    wanted = families(case) if film is None else judge.strength.families_of(film)
    if not wanted:
        raise Unanswerable(NO_ORDER, film.span if film is not None else None)
    return wanted


class _Wash:
    """All that is known of how strong one wash is."""

    def __init__(  # noqa: PLR0913 - a wash, the others, what was asked about
        self,
        case: Case,
        item: Item,
        name: str,
        names: Sequence[str],
        wanted: Sequence[str],
        *,
        narrow: bool,
    ) -> None:
        self._narrow = narrow
        self._case, self._item, self._name, self._wanted = case, item, name, wanted
        self._symbol = case.world.symbol(name)
        self._others = {case.world.symbol(each): each for each in names}
        self._others.pop(self._symbol)
        self._below = {each: self._over(each, 0) for each in wanted}
        self._above = {each: self._over(each, 1) for each in wanted}

    @property
    def rows(self) -> list[Member]:
        """The facts that the answer rests on, each with its proof."""
        goals: list[tuple[str, tuple[Term, ...]]] = []
        for family in self._wanted:
            for other in self._below[family]:
                goals.append((c.TAKES_AS_MUCH, (self._symbol, other, family)))
            for other in self._above[family]:
                goals.append((c.TAKES_AS_MUCH, (other, self._symbol, family)))
        goals += [(c.REMOVED_BY, row) for row in self._measured]
        return [Member(self._case, self._item, goal) for goal in goals]

    @property
    def sentence(self) -> str:
        """How it stands to the rest, over the families asked about."""
        below = [len(each) for each in self._below.values()]
        above = [len(each) for each in self._above.values()]
        what = f"the {len(self._others)} other washes at hand"
        if not any(below) and not any(above):
            return f"{self._name}: nothing compares it with {what} by strength."
        if self._alike_in_all:
            return self._in_one()
        strong = [f for f in self._wanted if self._holds(c.STRONG_FOR, f)]
        kinds = f"its cleanser is of the strongest kind on {self._plurals(strong)}; "
        head = kinds if strong else ""
        few = len(self._wanted)
        by = f"of {self._plurals(self._wanted)}" if few < 4 else "by family of films"
        less = (
            f"it takes at least what {_span(below)} {_verb(below)}"
            if any(below)
            else "none is known to take less"
        )
        more = (
            f"at most what {_span(above)} {_verb(above)}"
            if any(above)
            else "none is known to take more"
        )
        return (
            f"{self._name}: {head}of {what} {less}, "
            f"and {more}, {by}, at the same strength."
        )

    @property
    def _alike_in_all(self) -> bool:
        """Whether it stands alike to every other on all that was asked about."""
        first, *rest = self._wanted
        return all(
            self._below[each] == self._below[first]
            and self._above[each] == self._above[first]
            for each in rest
        )

    def _in_one(self) -> str:
        """How it stands to each of the others, those that nothing compares last."""
        below, above = self._below[self._wanted[0]], self._above[self._wanted[0]]
        both = [each for each in below if each in above]
        films = self._plurals(self._wanted)
        told = []
        for words, some in (
            ("as much as", both),
            ("at least as much as", [each for each in below if each not in both]),
            ("at most as much as", [each for each in above if each not in both]),
        ):
            if some:
                names = sorted(self._others[each] for each in some)
                told.append(f"{words} {listed(names, len(names))}")
        said = f"At the same strength {self._name} takes of {films} {'; '.join(told)}."
        rest = len(self._others) - len({*below, *above})
        if self._holds(c.STRONG_FOR, self._wanted[0]):
            said += " Its cleanser is of the strongest kind on these."
        if rest:
            said += f" Nothing compares it with the other {rest} washes at hand."
        return said

    def findings(self, several: bool) -> Iterator[Finding]:
        """The families, those alike together, and what was measured."""
        who = f"{self._name}: " if several else ""
        alike: dict[tuple[str, ...], list[str]] = {}
        for family in self._wanted:
            alike.setdefault(tuple(self._told(family)), []).append(family)
        for items, some in alike.items():
            yield Finding("family", f"{who}On {self._plurals(some)}", items)
        figures = [self._figure(str(row[2]), str(row[1])) for row in self._measured]
        if figures:
            yield Finding("measured", f"{who}Measured of its cleansers", tuple(figures))

    def _told(self, family: str) -> Iterator[str]:
        both = [e for e in self._below[family] if e in self._above[family]]
        below = [e for e in self._below[family] if e not in both]
        above = [e for e in self._above[family] if e not in both]
        rest = [e for e in self._others if e not in {*both, *below, *above}]
        for head, symbols in (
            ("Takes at least what these take", below),
            ("Takes as much as these", both),
            ("Takes at most what these take", above),
            ("Not compared with", rest),
        ):
            if symbols:
                names = sorted(self._others[each] for each in symbols)
                yield f"{head}: {listed(names, len(names))}."

    def _figure(self, figure: str, agent: str) -> str:
        base = self._case.world.base
        record = base.record(figure)
        low, high = record.number("low"), record.number("high")
        share = plain(low or 0) + (f" to {plain(high or 0)}" if high != low else "")
        works = " ".join(base.label(each) for each in record.links("source"))
        return f"{base.label(agent)}: {share} % of {record.text('condition')}. {works}"

    # -- looking things up --------------------------------------------------------

    @property
    def _measured(self) -> list[tuple[Term, ...]]:
        """What was measured of its cleansers; of some families, on those alone."""
        found = self._case.model.match(c.REMOVED_BY, (self._symbol, None, None))
        record = self._case.world.base.record
        return sorted(
            (
                row
                for row in found
                if not self._narrow
                or record(str(row[2])).link("inFamily") in self._wanted
            ),
            key=str,
        )

    def _over(self, family: str, place: int) -> list[str]:
        """The others that it takes as much as, or that take as much as it."""
        pattern = (self._symbol, None) if place == 0 else (None, self._symbol)
        rows = self._case.model.match(c.TAKES_AS_MUCH, (*pattern, family))
        found = {str(row[1 - place]) for row in rows}
        return [each for each in self._others if each in found]

    def _holds(self, predicate: str, family: str) -> bool:
        return self._case.model.holds(predicate, (self._symbol, family))

    def _plurals(self, some: Sequence[str]) -> str:
        """Families in words; one within another of them is not named beside it."""
        base = self._case.world.base
        widest = [
            each
            for each in some
            if not any(o != each and o in base.ancestors(each) for o in some)
        ]
        return listed([base.plural(each) for each in widest], len(widest))


def _verb(counts: Sequence[int]) -> str:
    return "takes" if _span(counts) == "1" else "take"


def _span(counts: Sequence[int]) -> str:
    """The least and the greatest of some counts, in words."""
    low, high = min(counts), max(counts)
    first = str(low) if low else "none"
    return first if low == high else f"{first} to {high}"
