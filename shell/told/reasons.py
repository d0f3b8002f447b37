"""Why a verdict is as it is, in reasons of a line or two, each with what decides.

A reason names an ingredient with its place on the label, or says how the film holds
on and what undoes that, as the base tells a claim plainly.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import ISA, MAY_ACT, READING, YIELDS
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import (
    Acting,
    acting,
    bounding,
    charge_of,
    deciding,
    grades,
)
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, End, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.shell.told.plain import doubt_of, plainly
from abluent.shell.told.spoken_names import aloud, kind_aloud, nth

_MEASURED = 150
"""Letters of a measurement that is told as it stands in the base."""
_CLEANSERS = 2
"""So many ingredients that work are told by name."""
_ASKED = 12
"""So many verdicts of a group are asked what decides them."""
_Ends = tuple[Role, Role]
_TAKES: dict[_Ends, str] = {
    (Role.NONE_OF_IT, Role.NONE_OF_IT): "take{s} off none of {}",
    (Role.NONE_OF_IT, Role.PART_OF_IT): "do{e} not take {} all off",
    (Role.PART_OF_IT, Role.PART_OF_IT): "take{s} off some of {}, not all",
    (Role.PART_OF_IT, Role.ALL_OF_IT): "take{s} off some of {}",
    (Role.ALL_OF_IT, Role.ALL_OF_IT): "take{s} off all of {}",
}


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
        *told.limits(),
        *told.parties(),
        *(told.doubt() if row.role is Role.OPEN else ()),
        *told.cleansers(),
        *told.mechanism(),
        *told.doubt(),
        *told.film_is(),
        *told.measured(),
    ]
    return list({reason.text: reason for reason in found}.values())


def why_of_group(rows: Sequence[Row]) -> str:
    """What decides each of some verdicts, in one plain sentence; empty if they part."""
    found = [row for row in rows if isinstance(row, Verdict)][:_ASKED]
    times: Counter[str] = Counter()
    for row in found:
        low, high = bounding(row)
        _, most = ENDS[row.role]
        claims = low if most is Role.ALL_OF_IT else high
        plain = next(_told_plainly(row, claims), "")
        times.update([plain] if plain else [])
    ((text, often),) = times.most_common(1) or [("", 0)]
    return text if often == len(found) else ""


def why_of_row(row: Verdict) -> str:
    """What decides one of many verdicts, in one plain sentence; empty if none is."""
    if row.role is Role.NO_WASH_NEEDED:
        return ""
    if puts_back(row):
        return "The wash itself lays such a film down."
    return why_of_group([row])


def _claims_of(end: End) -> list[str]:
    """The claims that an end of a verdict rests on, by symbol."""
    base = end.case.world.base
    symbols = [str(fact.args[0]) for fact in end.proof.facts if fact.args]
    found = dict.fromkeys(s for s in symbols if s in base)
    return [each for each in found if base.record(each).space == "claim"]


def _told_plainly(row: Verdict, claims: Sequence[str]) -> Iterator[str]:
    """What the base tells in everyday words of some claims on the film of a verdict."""
    base = row.case.world.base
    _, (_, film, product, _) = row.goal
    match = row.case.model.match(READING, (film, product, None))
    things = [row.film, *(str(grade) for *_, grade in match)]
    kinds = {c for each in things if each in base for c in base.classes_of(each)}
    cleanser = base.term(Role.CLEANSER)

    def rank(claim: str) -> tuple[bool, bool]:
        """What holds of a whole wash says more than what an ingredient does."""
        record = base.record(claim)
        agents = record.links("agent")
        cleans = any(cleanser in base.ancestors(each) for each in agents)
        return not record.links("ofWash"), not cleans

    for each in sorted(claims, key=rank):
        record = base.record(each)
        if record.links("ofWash") and not _speaks_of(row, each):
            continue
        films = set(record.links("film"))
        plain = record.text("plainly")
        if plain and (films & {*kinds, *things} or not films):
            yield plain


def _speaks_of(row: Verdict, claim: str) -> bool:
    """Whether a claim speaks of washes in which no more may act than in this one.

    What is no cleanser and takes nothing of the film is no matter of it.
    """
    base, match = row.case.world.base, row.case.model.match
    kinds = base.record(claim).links("ofWash")
    allowed = {c for kind in kinds for c in base.record(kind).links("actsOnlyBy")}
    cleanser, water = base.term(Role.CLEANSER), row.case.world.known.water_symbol
    for _, agent in match(MAY_ACT, (row.goal[1][0], None)):
        kinds_of = {str(kind) for _, kind in match(ISA, (agent, None))}
        matters = cleanser in kinds_of or _takes_some(row, str(agent))
        if agent != water and matters and not allowed & kinds_of:
            return False
    return bool(allowed)


def _takes_some(row: Verdict, agent: str) -> bool:
    """Whether something is known to take a part of the film of a verdict, or all."""
    _, (_, film, product, _) = row.goal
    base, match = row.case.world.base, row.case.model.match
    films = [str(grade) for *_, grade in match(READING, (film, product, None))]
    effects = [base.term(each) for each in (Role.PART_OF_IT, Role.ALL_OF_IT)]
    return any(
        any(match(YIELDS, (agent, each, None, effect)))
        for each in films
        for effect in effects
    )


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
            alike = [aloud(self.base, each) for each in left_itself(row)]
            what = in_a_row(alike) if alike else self.film
            text = f"The wash leaves {what} on hair itself, so some stays."
            if alike:
                text = (
                    f"The wash leaves {what} on hair itself, which is of the same "
                    "family."
                )
            elif row.role is Role.OPEN:
                text = f"The wash may leave {what} on hair itself."
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
            text = self._works_with(found, f"take{{s}} {amount} of it off")
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
        bounds = self.claims[1]
        alone = self.row.wash == WATER or not bounds
        if alone and self.row.at_most is not None:
            bounds = tuple(c for c in _claims_of(self.row.at_most) if c in self.base)
        claims = [c for c in bounds if self.base.record(c).links("atMost")]
        whole = [c for c in claims if _speaks_of(self.row, c)]
        stands = self._standing(whole or claims)
        plain = self._plainly([*whole, *claims])
        if plain:
            yield Reason(plain, stands, True)
        elif whole:
            yield Reason(self._generally(whole[0]), stands, True)
        elif claims and (self.row.wash == WATER or not self.acting):
            yield Reason(self._generally(claims[0]), stands, True)
        elif claims:
            what = "all of it" if most is Role.PART_OF_IT else "any of it"
            yield Reason(f"Nothing in this wash takes {what} off.", stands, True)

    def mechanism(self) -> Iterator[Reason]:
        """How what works does its work, where nothing says why it is not all."""
        least, most = ENDS[self.row.role]
        if least is Role.NONE_OF_IT or self.row.role is Role.NO_WASH_NEEDED:
            return
        if most is not Role.ALL_OF_IT:
            return
        claims, _ = self.claims
        plain = self._plainly(claims)
        if plain:
            yield Reason(plain, self._standing(claims), True)

    def _plainly(self, claims: Sequence[str]) -> str:
        """The first claim that the base tells in everyday words."""
        return next(_told_plainly(self.row, claims), "")

    def doubt(self) -> Iterator[Reason]:
        said = doubt_of(self.row)
        if said:
            yield Reason(said)

    def cleansers(self) -> Iterator[Reason]:
        """What cleans, where none of it was named yet."""
        least, _ = ENDS[self.row.role]
        if not self.acting or self.row.role is Role.NO_WASH_NEEDED:
            return
        if least is not Role.NONE_OF_IT and self._first():
            return
        cleanser = self.base.term(Role.CLEANSER)
        cleans = [a for a in self.acting if cleanser in self._kinds(a.symbol)]
        if cleans:
            yield Reason(self._works_with(cleans, ""))
        else:
            first = self.acting[0]
            name = self.base.label(first.symbol)
            yield Reason(
                f"It works with {name} ({nth(first.place)} on its list), no cleanser."
            )

    def _kinds(self, symbol: str) -> Sequence[str]:
        return self.base.classes_of(symbol) if symbol in self.base else ()

    def parties(self) -> Iterator[Reason]:
        """What each side of a dispute says."""
        for claim in parties_of(self.row):
            record = self.base.record(claim)
            text = record.text("plainly") or record.text("statement") or ""
            if 0 < len(text) <= _MEASURED:
                yield Reason(as_sentence(text), self._standing([claim]), True)

    def film_is(self) -> Iterator[Reason]:
        """What the film is, where its name does not say it."""
        kinds = grades(self.row)
        if len(kinds) != 1:
            return
        plain = kind_aloud(self.base, self.base.classes_of(self.row.film))
        kind = with_article(self.base.label(kinds[0]))
        if plain:
            yield Reason(f"{self.film} is {plain}.")
        elif fold(kind).split(" ", 1)[-1] not in fold(self.film):
            charge = charge_of(self.base, self.row.film)
            carries = f", with {plainly(self.base, charge)}" if charge else ""
            yield Reason(f"{self.film} is {kind}{carries}.")

    # -- words ---------------------------------------------------------------------

    def _works_with(self, found: Sequence[Acting], does: str) -> str:
        """What works in the wash, where it stands on the label, and what it does.

        `does` is said of what works, with `{s}` where one does; empty if that is told
        elsewhere.
        """
        first, one = found[0], len(found) == 1
        name = self.base.label(first.symbol)
        does = does.format(s="s" if one else "")
        if name in self.row.wash and one:
            # A wash made up for a claim has the name of what works, and no label.
            return as_sentence(f"{name} {does or 'cleans'}")
        if does and not one:
            names = [self.base.label(each.symbol) for each in found[:_CLEANSERS]]
            return f"{in_a_row(names)} {does}."
        kind = kind_aloud(self.base, self.base.classes_of(first.symbol))
        what = f"{name} ({nth(first.place)} on its list)"
        if does:
            return f"{what}, {kind}, {does}." if kind else f"{what} {does}."
        which = "only" if one else "first"
        told = f"Its {which} cleanser is {name} ({nth(first.place)} on its list)"
        return f"{told}, {kind}." if kind else f"{told}."

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
