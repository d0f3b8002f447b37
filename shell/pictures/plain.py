"""A verdict in everyday words: one claim, and reasons of a line or two each.

What a chemist would dispute stands on the pages of a trace. Here is what an educator
says aloud: what comes off, what in the wash does it, what was not found.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import READING, UNREAD_LINE, YIELDS
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import (
    Acting,
    acting,
    bounding,
    charge_of,
    deciding,
    grades,
)
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence, in_a_row

RECALLED = "general knowledge of the trade"
"""How what was recalled, and not read again in its source, is said to stand."""
_CLAIMS = {
    Role.NOT_CLEARED: "{} takes off none of the {}",
    Role.AT_MOST_PARTLY: "{} may take off some of the {}, but not all",
    Role.PARTLY_CLEARED: "{} takes off some of the {}, but not all",
    Role.AT_LEAST_PARTLY: "{} takes off some or all of the {}",
    Role.CLEARED: "{} takes off all of the {}",
    Role.OPEN: "We cannot tell whether {} takes off any of the {}",
}
_DISPUTED: dict[tuple[Role, ...], str] = {
    (Role.ALL_OF_IT,): "{} takes off some of the {}. All of it? Sources disagree",
}
_ANY_DISPUTED = "Sources disagree whether {} takes off any of the {}"
_MEASURED = 150
"""Letters of a measurement that is told as it stands in the base."""
_CLEANSERS = 2
"""So many ingredients that work are told by name."""
_Ends = tuple[Role, Role]
_TAKES: dict[_Ends, str] = {
    (Role.NONE_OF_IT, Role.NONE_OF_IT): "take{s} off none of {}",
    (Role.NONE_OF_IT, Role.PART_OF_IT): "do{e} not take {} all off",
    (Role.PART_OF_IT, Role.PART_OF_IT): "take{s} off some of {}, not all",
    (Role.PART_OF_IT, Role.ALL_OF_IT): "take{s} off some of {}",
    (Role.ALL_OF_IT, Role.ALL_OF_IT): "take{s} off all of {}",
}


_NOT_KNOWN = "{be} not known to take any of this film off"


class Reason(NamedTuple):
    """One reason, and what it stands on.

    Args:
        text: the sentence.
        standing: how it stands, in everyday words; empty where nothing says.
        rests: whether the verdict rests on it.
    """

    text: str
    standing: str = ""
    rests: bool = False


def plainly(base: Base, symbol: str) -> str:
    """What the base calls a thing in everyday words; else its label."""
    return base.record(symbol).text("plainly") or base.label(symbol)


def caption_of(row: Verdict) -> str:
    """A verdict in a few words, as it stands beside its mark."""
    told = plainly(row.case.world.base, row.value)
    return f"{told} (sources disagree)" if row.disputed else told


def claim_of(row: Verdict) -> str:
    """What a wash does to a film, as one would say it."""
    base = row.case.world.base
    film = base.label(row.film)
    whose = f" from {row.source}" if row.source else ""
    if row.role is Role.NO_WASH_NEEDED:
        how = base.record(row.value).text("spokenAs")
        told = f"{film}{whose} needs no wash"
        return as_sentence(f"{told}: {how}" if how else told)
    wash = row.wash[:1].upper() + row.wash[1:] if row.wash == WATER else row.wash
    said = _CLAIMS[row.role]
    if row.contested:
        said = _DISPUTED.get(row.contested, _ANY_DISPUTED)
    return as_sentence(said.format(wash, f"{film}{whose}"))


def sure_of(rows: Iterable[Row]) -> str:
    """How sure some rows are, in everyday words, each once.

    Of several ways in which they stand only the weakest is told.
    """
    found = [row for row in rows if row.standing]
    ways = dict.fromkeys(map(_stands, found))
    if len(ways) < 2:
        return "".join(ways)
    return f"the weakest part is {_stands(min(found, key=_rank))}"


def _rank(row: Explained) -> tuple[object, bool]:
    record = row.case.world.base.record(row.standing)
    return record.number("rank") or 0, not row.from_memory


def _stands(row: Explained) -> str:
    if not row.standing:
        return ""
    return RECALLED if row.from_memory else plainly(row.case.world.base, row.standing)


def doubt_of(row: Verdict) -> str:
    """What of a verdict is not known, and why; empty if all is."""
    least, most = ENDS[row.role]
    if least is most:
        return ""
    if any(row.case.model.match(UNREAD_LINE, (row.goal[1][0], None))):
        return "Part of its label could not be read; that decides it."
    if puts_back(row):
        return ""
    if row.role is Role.OPEN:
        return "Nothing we know settles it, one way or the other."
    if row.contested:
        return ""
    what = "all" if least is Role.PART_OF_IT else "any"
    return f"Whether {what} of it really goes is not known."


def unread_of(rows: Iterable[Row]) -> str:
    """How many names of the one label that rows are about were not understood."""
    found = [row for row in rows if row.goal[1]]
    whose = {row.goal[1][0]: row for row in found}
    if len(whose) != 1:
        return ""
    ((product, row),) = whose.items()
    number = len({*row.case.model.match(UNREAD_LINE, (product, None))})
    if not number:
        return ""
    if number == 1:
        return "One name on the label was not understood: it may be anything."
    return f"{number} names on the label were not understood: they may be anything."


def parties_of(row: Verdict) -> list[str]:
    """The claims that part over a verdict, by symbol, those that say more first."""
    base = row.case.world.base
    found: dict[str, bool] = {}
    for dispute in row.disputes:
        for fact in dispute.proof.facts:
            symbol = str(fact.args[0]) if fact.args else ""
            if symbol in base and base.record(symbol).space == "claim":
                found[symbol] = bool(base.record(symbol).links("atMost"))
    return sorted(found, key=lambda claim: found[claim])


def reasons_of(row: Verdict) -> list[Reason]:
    """The reasons of a verdict, those first that say most."""
    told = _Reasons(row)
    found = [
        *told.itself(),
        *told.what_works(),
        *told.measured(),
        *told.limits(),
        *told.parties(),
        *(told.doubt() if row.role is Role.OPEN else ()),
        *told.cleansers(),
        *told.name(),
        *told.doubt(),
    ]
    return list({reason.text: reason for reason in found}.values())


class _Reasons:
    def __init__(self, row: Verdict) -> None:
        self.row = row
        self.base = row.case.world.base
        self.low, self.acting = acting(row)
        self.claims = bounding(row)
        self.film = self.base.label(row.film)

    def itself(self) -> Iterator[Reason]:
        row = self.row
        if row.role is not Role.NO_WASH_NEEDED and puts_back(row):
            alike = [self.base.label(each) for each in left_itself(row)]
            what = in_a_row(alike) if alike else self.film
            text = f"It leaves {what} on hair itself, so some stays."
            if alike:
                text = f"It leaves {what} on hair itself, which is of the same family."
            elif row.role is Role.OPEN:
                text = f"It may leave {what} on hair itself."
            yield Reason(text, rests=True)

    def what_works(self) -> Iterator[Reason]:
        """What on the label takes off at least some of the film."""
        least, _ = ENDS[self.row.role]
        if self.row.role is Role.NO_WASH_NEEDED or least is Role.NONE_OF_IT:
            return
        claims, _ = self.claims
        amount = "all" if least is Role.ALL_OF_IT else "some"
        found = self._first()
        if found:
            text = self._works_with(found, f"take{{s}} {amount} of this film off")
            yield Reason(text, self._standing(claims), True)
        elif claims:
            yield Reason(self._generally(claims[0]), self._standing(claims), True)
        elif self.row.wash != WATER:
            yield Reason(f"Water alone takes off {amount} of it.", "", True)

    def _first(self) -> Sequence[Acting]:
        """The first on the label that takes as much as the lower end says."""
        least, _ = ENDS[self.row.role]
        _, (_, film, product, _) = self.row.goal
        match = self.row.case.model.match
        films = [str(grade) for *_, grade in match(READING, (film, product, None))]
        effect = self.base.term(least)

        def takes(agent: str) -> bool:
            return all(any(match(YIELDS, (agent, f, None, effect))) for f in films)

        first = [a for a in self.acting if films and takes(a.symbol)]
        return first[:1] or self.low[:2]

    def measured(self) -> Iterator[Reason]:
        """What was measured, with its figure."""
        for claim in deciding(self.row):
            record = self.base.record(claim)
            text = record.text("statement") or ""
            if "%" in text and record.links("film") and len(text) <= _MEASURED:
                yield Reason(as_sentence(text), self._standing([claim]), True)

    def limits(self) -> Iterator[Reason]:
        """Why it is not all."""
        _, most = ENDS[self.row.role]
        if most is Role.ALL_OF_IT or self.row.role is Role.NO_WASH_NEEDED:
            return
        claims = [c for c in self.claims[1] if self.base.record(c).links("atMost")]
        whole = [c for c in claims if self._speaks_of_this(c)]
        stands = self._standing(whole or claims)
        if whole:
            yield Reason(self._generally(whole[0]), stands, True)
        elif claims and (self.row.wash == WATER or not self.acting):
            yield Reason(self._generally(claims[0]), stands, True)
        elif claims:
            what = "all of it" if most is Role.PART_OF_IT else "any of it"
            yield Reason(f"Nothing in this wash takes {what} off.", stands, True)

    def _speaks_of_this(self, claim: str) -> bool:
        """Whether a claim speaks of washes in which no more acts than in this one."""
        kinds = self.base.record(claim).links("ofWash")
        allowed = {
            c for kind in kinds for c in self.base.record(kind).links("actsOnlyBy")
        }
        classes = [set(self.base.classes_of(each.symbol)) for each in self.acting]
        return bool(allowed) and all(allowed & found for found in classes)

    def doubt(self) -> Iterator[Reason]:
        said = doubt_of(self.row)
        if said:
            yield Reason(said)

    def cleansers(self) -> Iterator[Reason]:
        """What cleans, where none of it was named yet."""
        least, _ = ENDS[self.row.role]
        named = self.low and least is not Role.NONE_OF_IT
        if named or not self.acting or self.row.role is Role.NO_WASH_NEEDED:
            return
        takes = any(map(self._takes_any, self.acting))
        yield Reason(self._works_with(self.acting, "" if takes else _NOT_KNOWN))

    def _takes_any(self, agent: Acting) -> bool:
        """Whether something shows that what acts takes at least a part of the film."""
        _, (_, film, product, _) = self.row.goal
        match = self.row.case.model.match
        films = [str(grade) for *_, grade in match(READING, (film, product, None))]
        effects = [self.base.term(r) for r in (Role.PART_OF_IT, Role.ALL_OF_IT)]
        return any(
            any(match(YIELDS, (agent.symbol, each, None, effect)))
            for each in films
            for effect in effects
        )

    def parties(self) -> Iterator[Reason]:
        """What each side of a dispute says."""
        for claim in parties_of(self.row):
            record = self.base.record(claim)
            text = record.text("plainly") or record.text("statement") or ""
            if 0 < len(text) <= _MEASURED:
                yield Reason(as_sentence(text), self._standing([claim]), True)

    def name(self) -> Iterator[Reason]:
        """What the name of the film leaves open."""
        kinds = [with_article(self.base.label(each)) for each in grades(self.row)]
        if len(kinds) > 1:
            told = " or ".join(filter(None, [", ".join(kinds[:-1]), kinds[-1]]))
            every = "both" if len(kinds) == 2 else "each"
            yield Reason(f"“{self.film}” can mean {told}; this holds for {every}.")
        elif kinds and fold(kinds[0]).split(" ", 1)[-1] not in fold(self.film):
            charge = charge_of(self.base, self.row.film)
            carries = f", with {plainly(self.base, charge)}" if charge else ""
            yield Reason(f"The film is {kinds[0]}{carries}.")

    # -- words ---------------------------------------------------------------------

    def _works_with(self, found: Sequence[Acting], does: str) -> str:
        """What works in the wash, where it stands on the label, and what it does.

        `does` is said of what works, with `{s}` where one does; empty if that is told
        elsewhere.
        """
        first, *rest = found
        name, one = self.base.label(first.symbol), len(found) == 1
        does = does.format(s="s" * one, be="is" if one else "are")
        if name in self.row.wash and one:
            # A wash made up for a claim has the name of what works, and no label.
            return as_sentence(f"{name} {does or 'cleans'}")
        told = f"It cleans with {name}, number {first.place} on its label"
        if len(found) > _CLEANSERS:
            told = f"It cleans with {name} and {len(rest)} others"
        elif rest:
            told = (
                f"It cleans with {listed([self.base.label(a.symbol) for a in found])}"
            )
        if not does:
            return f"{told}."
        return f"{told}, which {does}."

    def _standing(self, claims: Iterable[str]) -> str:
        """How the weakest of some claims stands, as they are told together."""
        links = [self.base.record(each).link("standing") for each in claims]
        ranks = [(self.base.record(s).number("rank") or 0, s) for s in links if s]
        return plainly(self.base, min(ranks)[1]) if ranks else ""

    def _generally(self, claim: str) -> str:
        """A claim of the base as a short sentence."""
        record, base = self.base.record(claim), self.base
        washes, films = record.links("ofWash"), record.links("film")
        agents = [base.plural(each) for each in record.links("agent")]
        who = plainly(base, washes[0]) if washes else listed(agents or [self.row.wash])
        one = bool(washes) or not agents or self.row.wash == WATER
        if self.row.wash == WATER:
            who = WATER
        what = "it" if films else self.film
        least = self._effect(record.link("atLeast")) or Role.NONE_OF_IT
        most = self._effect(record.link("atMost")) or Role.ALL_OF_IT
        took = _TAKES.get((least, most), "act{s} on {}")
        ends = {"s": "s" if one else "", "e": "es" if one else ""}
        told = f"{who} {took.format(what, **ends)}"
        when = [base.label(each) for each in record.links("when")]
        return as_sentence(" ".join([told[:1].upper() + told[1:], *when]))

    def _effect(self, symbol: str | None) -> Role | None:
        return self.row.case.world.known.effect_roles.get(symbol or "")
