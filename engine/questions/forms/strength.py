"""How strong a wash is, family by family of films: never one score.

family    the families on which it stands alike, and what it takes as much as
measured  how much its cleansers took where that was measured
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base import contract as c
from abluent.engine.base.phrases import with_article
from abluent.engine.logic.terms import Term
from abluent.engine.proof.sentences import plain
from abluent.engine.questions.answers.answer import Answer, Finding, Member
from abluent.engine.questions.answers.degrees import (
    kind_of,
    lead_does,
    led_by,
    why_stronger,
    widest,
)
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.rows import short_citation
from abluent.engine.questions.answers.spoken import spoken
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.measure import ranking, washes_of
from abluent.engine.questions.sides.contrasted import sure_of_cleansing
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.strength import families, strength_steps
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.grammar.common.text import in_a_row
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
    clears = q.Clears(said.film or q.Thing())
    taken = judge.removal.verdicts(list(names), clears)
    told = [
        _Wash(
            *(case, item, name, every, wanted, taken.get(name, ())),
            narrow=said.film is not None,
        )
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


_MEASURED = (
    "Measured of its cleansers, in tests of the surfactant, which is no figure of this "
    "product"
)
_MUCH = 2
"""So many times as many stand on one side as on the other where it is on that side."""


class _Wash:
    """All that is known of how strong one wash is."""

    def __init__(  # noqa: PLR0913, PLR0917 - a wash, the others, what was asked about
        self,
        case: Case,
        item: Item,
        name: str,
        names: Sequence[str],
        wanted: Sequence[str],
        taken: Sequence[Verdict],
        *,
        narrow: bool,
    ) -> None:
        self._narrow = narrow
        self._case, self._item, self._name, self._wanted = case, item, name, wanted
        self._base, self._taken = case.world.base, taken
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
        """How strong it is among those at hand, by what leads it, and what it takes."""
        lead = led_by(self._case, self._symbol)
        built = f": it is built on {lead}" if lead else ""
        if self._item.kind == INGREDIENT:
            kind = kind_of(self._base, self._item.key)
            built = f": it is {with_article(kind)}" if kind else ""
        does = lead_does(self._case, self._symbol)
        does = f" {does}" if does else ""
        return f"{self._name} {self._rank}{built}.{does}{self._amounts}"

    @property
    def _rank(self) -> str:
        """How it stands to the others, in a few words."""
        what = f"the {len(self._others)} other washes at hand"
        below, above = self._one_way
        level = [each for each in self._others if self._is_level(each)]
        known = len(below) + len(above) + len(level)
        if not known:
            return f"is not compared with any of {what} by strength"
        if self._narrow:
            what += f", on {widest(self._base, self._wanted)}"
        alone = len(self._others) == 1
        if alone or 2 * known < len(self._others):
            told = [f"weaker than {self._named(above)}"] * bool(above)
            told += [f"stronger than {self._named(below)}"] * bool(below)
            told += [f"as strong as {self._named(level)}"] * bool(level)
            rest = "" if alone else f", and nothing compares it with more of {what}"
            return f"is {in_a_row(told)}{rest}"
        strongest = all(self._holds(c.STRONG_FOR, each) for each in self._wanted)
        if strongest and not above:
            return f"is one of the strong cleansers among {what}"
        if len(below) > _MUCH * len(above):
            return f"is among the stronger cleansers of {what}"
        if len(above) > _MUCH * len(below):
            return f"is among the weaker cleansers of {what}"
        return f"stands in the middle by strength among {what}"

    @property
    def _one_way(self) -> tuple[list[str], list[str]]:
        """Those that it is set above on some family, and those set above it."""
        below = {e for f in self._wanted for e in self._below[f]}
        above = {e for f in self._wanted for e in self._above[f]}
        both = {each for each in self._others if self._is_level(each)}
        return sorted(below - above - both), sorted(above - below - both)

    def _is_level(self, other: str) -> bool:
        """Whether it is set level with another on some family."""
        return any(
            other in self._below[each] and other in self._above[each]
            for each in self._wanted
        )

    def _named(self, some: Sequence[str]) -> str:
        return listed(sorted(self._others[each] for each in some), len(some))

    @property
    def _amounts(self) -> str:
        """What it takes of the films of the shelf."""
        told = spoken(self._taken) if len(self._taken) > 1 else ""
        return f" Of the films here it{told.removeprefix(self._name)}." if told else ""

    def findings(self, several: bool) -> Iterator[Finding]:
        """The families, those alike together, and what was measured."""
        who = f"{self._name}: " if several else ""
        alike: dict[tuple[str, ...], list[str]] = {}
        for family in self._wanted:
            alike.setdefault(tuple(self._told(family)), []).append(family)
        lines = [
            f"{_first(widest(self._base, some))}: {'; '.join(items)}."
            for items, some in alike.items()
            if items
        ]
        if lines:
            lines += [f"Why: {each}" for each in self._why()]
            head = f"{who}At the same strength, by the order of the trade"
            yield Finding("family", head, tuple(lines))
        apart = [each for each in self._others if not self._compared(each)]
        if apart and 2 * len(apart) <= len(self._others):
            names = sorted(self._others[each] for each in apart)
            rest = f"{who}Nothing compares it with {listed(names, len(names))}"
            yield Finding("apart", rest)
        if figures := self._figures():
            yield Finding("measured", f"{who}{_MEASURED}", tuple(figures))
        for told in sure_of_cleansing(self.rows):
            yield Finding("sure", f"{who}{told.rstrip('.')}")

    def _told(self, family: str) -> Iterator[str]:
        """What it is set above, level with and below on a family."""
        both = [e for e in self._below[family] if e in self._above[family]]
        below = [e for e in self._below[family] if e not in both]
        above = [e for e in self._above[family] if e not in both]
        for head, symbols in (
            ("above", below),
            ("level with", both),
            ("below", above),
        ):
            if symbols:
                names = sorted(self._others[each] for each in symbols)
                yield f"{head} {listed(names, len(names))}"

    def _compared(self, other: str) -> bool:
        return any(
            other in side[family]
            for family in self._wanted
            for side in (self._below, self._above)
        )

    def _why(self) -> Iterator[str]:
        """The claims that set it below another and above another, one for each."""
        for flip, sides in ((True, self._above), (False, self._below)):
            for family in self._wanted:
                found = [*self._reasons(family, sides[family], flip=flip)]
                if found:
                    yield found[0]
                    break

    def _reasons(
        self, family: str, others: Sequence[str], *, flip: bool
    ) -> Iterator[str]:
        for other in others:
            pair = (other, self._symbol) if flip else (self._symbol, other)
            row = Member(self._case, self._item, (c.TAKES_AS_MUCH, (*pair, family)))
            yield from why_stronger(self._case, *pair, row.claims)

    def _figures(self) -> list[str]:
        """What was measured, each figure with the cleansers that it was measured of."""
        of: dict[str, list[str]] = {}
        for _, agent, figure in self._measured:
            of.setdefault(self._share(str(figure)), []).append(str(agent))
        label = self._base.label
        return [f"{listed(list(map(label, some)))}: {f}" for f, some in of.items()]

    def _share(self, figure: str) -> str:
        record = self._base.record(figure)
        low, high = record.number("low"), record.number("high")
        share = plain(low or 0) + (f" to {plain(high or 0)}" if high != low else "")
        sources = record.links("source")
        works = "; ".join(short_citation(self._base, each) for each in sources)
        return f"{share} % of {record.text('condition')} ({works})."

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


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
