"""What an account of a verdict is made of beside its bounds.

That is the film and what acts on it, which come first, and what pulls the other way,
which comes last.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.contract import (
    ACTS,
    CLEANSER,
    LATE,
    LINE,
    PUTS_BACK,
    REMARK,
    RESISTS,
    SET_ASIDE,
    TRIED,
    TYPE,
    YIELDS,
)
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.nodes import Ground, RuleNode
from abluent.engine.proof.proofs import Proof
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.fitting import plainly
from abluent.engine.questions.answers.nearest_advice import STAYS, advice_on
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.grammar.common.text import as_sentence

_APIECE = 3
"""So many ingredients get a line each; more that only bound from above share one."""
AT_THE_END = 1000
"""After every place of a label."""
OF_AGENT = frozenset({YIELDS, RESISTS})
"""Conclusions on what one agent takes."""
IN_TRACES = ", where at most about 1 % is"
"""Where what stands among the traces is on a label."""
_REMARKS = 1
"""So many of what does no work in the wash, and of remarks, are told."""
_EVERY = 1000
"""More claims or remarks than a verdict has."""


class Step(NamedTuple):
    """One line of an account.

    Args:
        text: the sentence.
        sources: the works it rests on, by symbol; practice and conventions are none.
        standing: how it stands, by symbol; empty where it has no standing of its own.
        limits: what limits it, in a sentence; empty if nothing does, or it is not told.
    """

    text: str
    sources: tuple[str, ...] = ()
    standing: str = ""
    limits: str = ""


def charge_of(base: Base, symbol: str) -> str:
    """The charge of a thing, by symbol; empty where none is told."""
    if symbol not in base:
        return ""
    (prop,) = base.terms(Role.CHARGE) or ("",)
    told = [base.record(symbol).link(prop)]
    told += [str(base.implied(each, prop) or "") for each in base.classes_of(symbol)]
    return next(filter(None, told), "")


class Parts:
    """What an account tells of the film and of the ingredients."""

    def __init__(self, row: Verdict, whole: bool = False) -> None:
        self.row = row
        self.whole = whole
        self.turn = ""
        self.case = row.case
        self.base = row.case.world.base
        self.wash = row.goal[1][0]

    @cached_property
    def proofs(self) -> list[Proof]:
        """A proof of each end, or of what is no verdict with ends."""
        ends = [end for end in (self.row.at_least, self.row.at_most) if end]
        return [end.proof for end in ends] or [self.row.proof]

    # -- the film and what acts on it ----------------------------------------------

    def film(self) -> Iterator[Step]:
        """What the film is, and what its name leaves open."""
        grades = self.row.grades
        name = self.base.label(self.row.film)
        whose = self._whose()
        symbols = [self._kind_of_film(each) for each in grades or [self.row.film]]
        kinds = list(dict.fromkeys(self.base.label(each) for each in symbols if each))
        told = f"{name}{whose} is {with_article(kinds[0] if kinds else 'film')}"
        stays = self.row.role is not Role.NO_WASH_NEEDED
        one = stays and len(kinds) == 1
        held = self._held() if one else ""
        plain = plainly(self.base, filter(None, symbols)) if one and not held else ""
        told += f", {plain}" if plain else f". {held}" if held else ""
        if len(kinds) > 1:
            told = f"{name}{whose} may be {with_article(' or '.join(kinds))}"
            told += ": its name does not say which, so each is judged"
        elif len(grades) > 1 and self.whole:
            named = ", ".join(self._grade(g, name) for g in grades)
            told += f"; each of its grades is judged ({named})"
        elif kinds and fold(kinds[0]) in fold(name):
            return  # That a mineral is a mineral is no reason.
        yield Step(as_sentence(told), self.works(map(self.typed, grades)))

    def _held(self) -> str:
        """What holds such a film on hair; empty if nothing is told of it."""
        kinds = self.case.world.labels.kinds_of(self.row.film)
        told = advice_on(self.base, STAYS, self.row.film, side=Role.FILM, kinds=kinds)
        return told.text if told else ""

    def _kind_of_film(self, symbol: str) -> str:
        """The class of a film, by symbol, which is one of films where it can be."""
        kind = self._symbol_of_class(symbol)
        top = self.base.term(Role.FILM)
        if kind and top in self.base.ancestors(kind):
            return kind
        for each in (symbol, self.row.film):
            for other in self.base.classes_of(each) if each in self.base else ():
                if other != top and top in self.base.ancestors(other):
                    return other
        return kind

    def _whose(self) -> str:
        """Which product left the film, and where it stands on its label."""
        source, film = self.row.source, self.row.film
        if not source:
            return ""
        if source in self.case.world.products:
            readings = self.case.world.read(source).readings
            for number, each in enumerate(readings, 1):
                if each.symbol == film:
                    return f", number {number} of {source},"
        return f" from {source}"

    def _grade(self, grade: str, name: str) -> str:
        """A grade by what its name adds to that of the film."""
        label = self.base.label(grade)
        return label.removeprefix(name).strip(" ()").removesuffix(" grade") or label

    def agents(self) -> Iterator[Step]:
        """One line for each ingredient that the lower end rests on.

        Where none does, what could bound it from above shares a line; what is no
        cleanser in such a wash is left to the whole chain.
        """
        if self.by_water and not self.whole:
            return
        low, *high = [self.acting(proof) for proof in self.proofs]
        if self.leading and not self.whole:
            low = [
                *dict.fromkeys(a for each in self.leading for a in self.acting(each))
            ]
        bounding = dict.fromkeys(agent for each in high for agent in each)
        rest = [agent for agent in bounding if agent not in low] or (
            [] if low else self.at_work()
        )
        first = low if self.whole else low[:_APIECE]
        if first and not self.whole:
            rest = []
        elif not self.whole:
            rest = self.cleansers(rest)
        if not first and len(rest) == 1:
            first, rest = rest, []
        for agent in first:
            place = self.places()[agent]
            where = f"number {self.as_printed(agent, place)} of {self.row.wash}"
            told = f"{self._printed(agent, place)}, {where}"
            yield Step(
                f"{told}: {self.told_plainly(agent)}.",
                self.works([self.typed(agent)]),
            )
        if rest:
            told = ", ".join(
                f"{self.base.label(a)} "
                f"({self.as_printed(a, self.places()[a])}, {self._what(a)})"
                for a in sorted(rest, key=lambda a: self.places()[a])
            )
            head = "Besides" if first else f"In {self.row.wash}"
            works = self.works(self.typed(agent) for agent in rest)
            yield Step(f"{head}: {told}.", works)

    @property
    def leading(self) -> Sequence[Proof]:
        """What the lower end follows from by what stands first on the label."""
        return ()

    @property
    def by_water(self) -> bool:
        """Whether water alone sets the lower end, so that no cleanser is the reason."""
        return False

    def cleansers(self, agents: Sequence[str]) -> list[str]:
        """Those of some agents that clean in such a wash, or all if none does.

        What carries the positive charge conditions where something else cleans, and
        what is put in for another purpose cleans little.
        """
        holds, known = self.case.model.holds, self.case.world.known.program.arities
        told = [a for a in agents if CLEANSER not in known or holds(CLEANSER, (a,))]
        (positive,) = self.base.terms(Role.POSITIVE) or ("",)
        plain = [a for a in told if charge_of(self.base, a) != positive]
        return plain or told or list(agents)

    def told_plainly(self, agent: str) -> str:
        """The class of an ingredient, and how that is told plainly, or its charge."""
        kind = self.class_of(agent)
        symbol = self._symbol_of_class(agent)
        plain = plainly(self.base, [symbol]) if symbol else ""
        return f"{kind}, {plain}" if plain and plain != kind else self._what(agent)

    def acting(self, proof: Proof) -> list[str]:
        """The agents by which a proof bounds what is taken, as the label lists them."""
        found = [
            str(node.args[0])
            for node in proof.nodes.values()
            if isinstance(node, RuleNode) and node.rule.head.predicate in OF_AGENT
        ]
        return self._counted(found)

    def at_work(self) -> list[str]:
        """What acts in the wash, where no bound rests on it."""
        found = self.case.model.match(ACTS, (self.wash, None))
        return self._counted(str(agent) for _, agent in found)

    def _counted(self, agents: Iterable[str]) -> list[str]:
        """The agents that the label lists, in its order; water is in every wash."""
        places = self.places()
        kept = {a for a in agents if a in places}
        kept.discard(self.case.world.known.water_symbol)
        return sorted(kept, key=lambda agent: (places[agent], agent))

    def places(self) -> dict[str, int]:
        lines = sorted(self.case.model.match(LINE, (self.wash, None, None)), key=str)
        found: dict[str, int] = {}
        for _, place, agent in lines:
            if isinstance(place, int):
                found[str(agent)] = min(place, found.get(str(agent), place))
        return found

    def as_printed(self, agent: str, place: int) -> int:
        """The place on the label itself, which a supposition may have closed up."""
        if self.row.wash not in self.case.world.products:
            return place
        readings = self.case.world.read(self.row.wash).readings
        found = (n for n, each in enumerate(readings, 1) if each.symbol == agent)
        return next(found, place)

    def _printed(self, agent: str, place: int) -> str:
        """An ingredient by its name, and by what the label prints if that differs."""
        name = self.base.label(agent)
        if self.row.wash not in self.case.world.products:
            return name
        for reading in self.case.world.read(self.row.wash).readings:
            if reading.symbol == agent and fold(reading.printed) != fold(name):
                return f"{name} (printed “{reading.printed}”)"
        return name

    def _what(self, agent: str) -> str:
        """The class of an ingredient, and of a cleanser its charge, in words."""
        kind = self.class_of(agent)
        top = self.base.term(Role.CLEANSER)
        cleans = agent in self.base and top in self.base.classes_of(agent)
        charge = charge_of(self.base, agent) if cleans else ""
        label = self.base.label(charge) if charge else ""
        return ", ".join(filter(None, [kind, "" if label in kind else label]))

    def class_of(self, symbol: str) -> str:
        kind = self._symbol_of_class(symbol)
        return self.base.label(kind) if kind else ""

    def _symbol_of_class(self, symbol: str) -> str:
        fact = self.typed(symbol)
        if fact is not None:
            return str(fact.args[1])
        kinds = self.base.classes_of(symbol) if symbol in self.base else []
        return kinds[0] if kinds else ""

    def typed(self, symbol: str) -> Fact | None:
        """What says what a thing is, among what the proofs rest on."""
        found = (f for proof in self.proofs for f in proof.facts)
        mine = (f for f in found if f.predicate == TYPE and f.args[0] == symbol)
        return next(mine, None)

    # -- sources -------------------------------------------------------------------

    def works(self, facts: Iterable[Fact | None]) -> tuple[str, ...]:
        """The first work for each of what some things are; a trace has them all."""
        cited = [self.real(fact.basis.sources)[:1] for fact in facts if fact]
        return tuple(dict.fromkeys(name for names in cited for name in names))

    def real(self, sources: Iterable[str]) -> tuple[str, ...]:
        conventions = self.case.world.known.conventions
        return tuple(name for name in sources if name not in conventions)


class Helper(NamedTuple):
    """What a label lists that helps against a film where there is enough of it.

    Args:
        symbol: the ingredient.
        place: where the label lists it.
        late: whether it stands among the traces.
    """

    symbol: str
    place: int
    late: bool


class Beside(Parts):
    """What stands beside a verdict: films of the wash, remarks, what does nothing."""

    def most(self, few: int) -> int:
        """How many of something are told: a few, or all where all is told."""
        return _EVERY if self.whole else few

    def against(self) -> Iterator[Step]:
        """What the wash leaves itself, then remarks and what it cannot count on."""
        model = self.case.model
        for grade in self.row.grades:
            if model.holds(PUTS_BACK, (self.wash, grade)):
                yield from self.concluded((PUTS_BACK, (self.wash, grade)))
        beside = [goal for goal in self.row.beside if goal[0] != TRIED]
        if not self.whole and self.at_work():
            # Where something cleans, what does not is no reason.
            beside = [goal for goal in beside if goal[0] != SET_ASIDE]
        beside.sort(key=lambda goal: goal[0] != REMARK)
        most = self.most(_REMARKS)
        for goal in beside[:most]:
            yield from self.concluded(goal)

    def concluded(self, goal: Ground) -> Iterator[Step]:
        """What a fact beside the verdict says, by its last step.

        A remark on something that the label lists tells where it stands there.
        """
        found = Explained(self.case, goal)
        text = as_sentence(self.case.world.known.sentences.node(found.proof.root))
        if goal[0] == REMARK and (where := self.where(found.proof)):
            idle = where.endswith(IN_TRACES) and self.row.role is Role.NOT_CLEARED
            text = f"{text} {where}."
            if idle:
                text = f"{where}, too little to count on{self._meant(found.proof)}."
        works = () if goal[0] == SET_ASIDE else self.real(found.sources)[:2]
        yield Step(text, works, found.standing)

    def where(self, proof: Proof) -> str:
        """Where on the label stands what a remark speaks of and does not act."""
        told = self.spoken_of(proof)
        if len(told) != 1:
            return ""
        (one,) = told
        where = f"number {one.place} of {self.row.wash}{IN_TRACES * one.late}"
        return f"{self.base.label(one.symbol)} is {where}"

    def _meant(self, proof: Proof) -> str:
        """What that is there for among the traces, as its class tells; else empty."""
        spoken = [each.symbol for each in self.spoken_of(proof)]
        kinds = [kind for each in spoken for kind in self.base.classes_of(each)]
        told = (self.base.record(kind).text("inTraces") for kind in kinds)
        return next((f": {text}" for text in told if text), "")

    def spoken_of(self, proof: Proof) -> list[Helper]:
        """What a remark speaks of that the label lists and that does not act."""
        spoken = {
            str(fact.args[2])
            for fact in proof.facts
            if fact.predicate == LINE and fact.args[0] == self.wash
        }
        places, late = self.places(), self.case.model.holds
        return [
            Helper(
                each,
                self.as_printed(each, places[each]),
                late(LATE, (self.wash, each)),
            )
            for each in sorted(spoken - {*self.at_work()})
        ]
