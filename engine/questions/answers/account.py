"""A verdict's reasons in the order of thought, for one screen.

First the film, then what acts on it, one line for each ingredient; then what bounds
the verdict from below and from above, each bound by the claims that set it; then what
pulls the other way. Everything is read off the proofs; the whole chain has more steps
and is told by `Explained.reasons`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.contract import (
    ACTS,
    HOLDS_OUT,
    ISA,
    LINE,
    MAY_ACT,
    PUTS_BACK,
    READING,
    RESISTS,
    TRIED,
    TYPE,
    UNREAD_LINE,
    YIELDS,
)
from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.nodes import FactNode, Ground, Node, RuleNode
from abluent.engine.proof.proofs import Proof
from abluent.engine.questions.answers.explained import (
    Explained,
)
from abluent.engine.questions.answers.verdicts import ENDS, End, Verdict
from abluent.grammar.common.text import as_sentence

_APIECE = 3
"""So many ingredients get a line each; more that only bound from above share one."""
_CLAIMS = 2
"""So many claims are told for each end."""
_REMARKS = 1
"""So many of what does no work in the wash, and of remarks, are told."""
_OF_AGENT = frozenset({YIELDS, RESISTS})
"""Conclusions on what one agent takes."""
_LAST = 1000
"""After every place of a label."""
_EVERY = 1000
"""More claims or remarks than a verdict has."""
_BELOW = frozenset({ACTS, MAY_ACT, ISA})
"""Conclusions whose own reasons are left to the whole chain: that an agent is at
work, and what a thing is."""


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


def account(row: Verdict, *, whole: bool = False, turn: str = "") -> tuple[Step, ...]:
    """The reasons of a verdict in the order of thought.

    Args:
        row: the verdict.
        whole: whether every claim and remark is told, and not the first alone.
        turn: the step that must be among them, in words.
    """
    told = _Account(row, whole)
    told.turn = turn
    steps = [*told.film(), *told.agents(), *told.bounds(), *told.against()]
    return tuple({step.text: step for step in steps}.values())


def deciding(row: Verdict) -> tuple[str, ...]:
    """The claims that set the ends of a verdict, by symbol, the lower end first.

    What water does is left out, as it is in every wash.
    """
    told = _Account(row)
    return tuple(dict.fromkeys(c for each in told.proofs for c in told.claims(each)))


class Acting(NamedTuple):
    """An ingredient that acts in a wash, and its place on the label."""

    symbol: str
    place: int


def acting(row: Verdict) -> tuple[tuple[Acting, ...], tuple[Acting, ...]]:
    """What the lower end of a verdict rests on, and all that acts in the wash.

    Water is left out, as it is in every wash.
    """
    told = _Account(row)
    low = told._acting(row.at_least.proof) if row.at_least else []
    places = told._places()
    return (
        tuple(Acting(each, places[each]) for each in low),
        tuple(Acting(each, places[each]) for each in told._at_work()),
    )


def bounding(row: Verdict) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The claims that set each end of a verdict that says something, by symbol."""
    told = _Account(row)
    least, most = ENDS[row.role]
    low, high = row.at_least, row.at_most
    return (
        tuple(told.claims(low.proof)) if low and least is not Role.NONE_OF_IT else (),
        tuple(told.claims(high.proof)) if high and most is not Role.ALL_OF_IT else (),
    )


def claims_by_agent(row: Verdict, proof: Proof) -> Iterator[tuple[str, list[str]]]:
    """Each agent by which a proof bounds what is taken, and the claims on it."""
    told = _Account(row)
    for node in proof.nodes.values():
        if isinstance(node, RuleNode) and node.rule.head.predicate in _OF_AGENT:
            agent = str(node.args[0])
            water = told.case.world.known.water_symbol
            other = "" if agent == water else water
            yield agent, list(told._claims_under(proof, node, other))


def places(row: Verdict) -> dict[str, int]:
    """Where the label of a wash lists what stands on it."""
    return _Account(row)._places()


def grades(row: Verdict) -> tuple[str, ...]:
    """The kinds of thing that the name of a film can mean, by symbol, each once."""
    told = _Account(row)
    _, (_, film, product, _) = row.goal
    found = sorted(row.case.model.match(READING, (film, product, None)))
    facts = [told._typed(str(grade)) for *_, grade in found]
    return tuple(dict.fromkeys(str(fact.args[1]) for fact in facts if fact))


def bounding_steps(row: Verdict) -> tuple[Step, ...]:
    """What sets the ends of a verdict, in words."""
    return tuple(_Account(row, True).bounds())


def film_step(row: Verdict) -> Step:
    """What the film of a verdict is, and what its name leaves open."""
    return next(_Account(row).film(), Step(""))


def charge_of(base: Base, symbol: str) -> str:
    """The charge of a thing, by symbol; empty where none is told."""
    if symbol not in base:
        return ""
    (prop,) = base.terms(Role.CHARGE) or ("",)
    told = [base.record(symbol).link(prop)]
    told += [str(base.implied(each, prop) or "") for each in base.classes_of(symbol)]
    return next(filter(None, told), "")


class _Account:
    def __init__(self, row: Verdict, whole: bool = False) -> None:
        self.row = row
        self.whole = whole
        self.turn = ""
        self.most = (_EVERY, _EVERY) if whole else (_CLAIMS, _REMARKS)
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
        _, (_, film, product, _) = self.row.goal
        grades = [
            str(grade)
            for *_, grade in sorted(
                self.case.model.match(READING, (film, product, None))
            )
        ]
        name = self.base.label(self.row.film)
        whose = f" from {self.row.source}" if self.row.source else ""
        kinds = [*dict.fromkeys(filter(None, map(self._class, grades or [str(film)])))]
        told = f"{name}{whose} is {with_article(kinds[0] if kinds else 'film')}"
        if len(kinds) > 1:
            told = f"{name}{whose} may be {with_article(' or '.join(kinds))}"
            told += ": its name does not say which, so each is judged"
        elif len(grades) > 1:
            named = ", ".join(self._grade(g, name) for g in grades)
            told += f", and each of its grades is judged ({named})"
        elif kinds and fold(kinds[0]) in fold(name):
            return  # That a mineral is a mineral is no reason.
        yield Step(as_sentence(told), self._works(map(self._typed, grades)))

    def _grade(self, grade: str, name: str) -> str:
        """A grade by what its name adds to that of the film."""
        label = self.base.label(grade)
        return label.removeprefix(name).strip(" ()").removesuffix(" grade") or label

    def agents(self) -> Iterator[Step]:
        """One line for each ingredient that the ends rest on."""
        low, *high = [self._acting(proof) for proof in self.proofs]
        bounding = dict.fromkeys(agent for each in high for agent in each)
        first = low
        rest = [agent for agent in bounding if agent not in first]
        if not first and not rest:
            rest = self._at_work()
        if len(first) + len(rest) <= _APIECE:
            first, rest = [*first, *rest], []
        for agent in first:
            place = self._places()[agent]
            where = f"number {self._as_printed(agent, place)} of {self.row.wash}"
            told = f"{self._printed(agent, place)}, {where}"
            yield Step(
                f"{told}: {self._what(agent)}.", self._works([self._typed(agent)])
            )
        if rest:
            told = ", ".join(
                f"{self.base.label(a)} "
                f"({self._as_printed(a, self._places()[a])}, {self._what(a)})"
                for a in sorted(rest, key=lambda a: self._places()[a])
            )
            head = "Besides" if first else f"In {self.row.wash}"
            works = self._works(self._typed(agent) for agent in rest)
            yield Step(f"{head}: {told}.", works)

    def _acting(self, proof: Proof) -> list[str]:
        """The agents by which a proof bounds what is taken, as the label lists them."""
        found = [
            str(node.args[0])
            for node in proof.nodes.values()
            if isinstance(node, RuleNode) and node.rule.head.predicate in _OF_AGENT
        ]
        return self._counted(found)

    def _at_work(self) -> list[str]:
        """What acts in the wash, where no bound rests on it."""
        found = self.case.model.match(ACTS, (self.wash, None))
        return self._counted(str(agent) for _, agent in found)

    def _counted(self, agents: Iterable[str]) -> list[str]:
        """The agents that the label lists, in its order; water is in every wash."""
        places = self._places()
        kept = {a for a in agents if a in places}
        kept.discard(self.case.world.known.water_symbol)
        return sorted(kept, key=lambda agent: (places[agent], agent))

    def _places(self) -> dict[str, int]:
        lines = sorted(self.case.model.match(LINE, (self.wash, None, None)), key=str)
        found: dict[str, int] = {}
        for _, place, agent in lines:
            if isinstance(place, int):
                found[str(agent)] = min(place, found.get(str(agent), place))
        return found

    def _as_printed(self, agent: str, place: int) -> int:
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
        """The class of an ingredient and its charge, in words."""
        kind = self._class(agent)
        charge = charge_of(self.base, agent)
        label = self.base.label(charge) if charge else ""
        return ", ".join(filter(None, [kind, "" if label in kind else label]))

    def _class(self, symbol: str) -> str:
        fact = self._typed(symbol)
        if fact is not None:
            return self.base.label(str(fact.args[1]))
        kinds = self.base.classes_of(symbol) if symbol in self.base else []
        return self.base.label(kinds[0]) if kinds else ""

    def _typed(self, symbol: str) -> Fact | None:
        """What says what a thing is, among what the proofs rest on."""
        found = (f for proof in self.proofs for f in proof.facts)
        mine = (f for f in found if f.predicate == TYPE and f.args[0] == symbol)
        return next(mine, None)

    # -- the bounds ----------------------------------------------------------------

    def bounds(self) -> Iterator[Step]:
        """What sets each end, and that nothing does."""
        row = self.row
        if row.at_least is None or row.at_most is None:
            yield from self._said(row)
            return
        least, most = ENDS[row.role]
        if least is not Role.NONE_OF_IT:
            yield from self._said(row.at_least)
        if most is not Role.ALL_OF_IT:
            yield from self._said(row.at_most)
        yield from self._unread()

    def _said(self, end: End | Verdict) -> Iterator[Step]:
        """The claims of one end, then the rules that say something of their own."""
        claims, most = self.claims(end.proof), self.most[0]
        at = [self.base.label(claim) for claim in claims]
        if self.turn in at[most:]:
            claims.insert(most - 1, claims.pop(at.index(self.turn)))
        for claim in claims[:most]:
            record = self.base.record(claim)
            works = self._real(record.links("source"))
            text = as_sentence(record.text("statement") or self.base.label(claim))
            limits = self.whole and record.text("caveat")
            told = as_sentence(limits) if limits else ""
            yield Step(text, works, record.link("standing") or "", told)
        if len(claims) > most:
            yield Step(f"{len(claims) - most} more like these: ask `why`.")
        met: set[str] = set()
        for node in _above(end.proof):
            rule = node.rule
            if claims and not self.whole and rule.head.predicate == HOLDS_OUT:
                continue  # The claims say it of each: that they add up is counting.
            if rule.standing and rule.id not in met:
                met.add(rule.id)
                text = as_sentence(self.case.world.known.sentences.node(node))
                yield Step(text, self._real(rule.sources), rule.standing)

    def claims(self, proof: Proof) -> list[str]:
        """The claims of a proof, but for those on what water does, as in any wash.

        Those on the ingredient that stands first on the label come first.
        """
        water = self.case.world.known.water_symbol
        places = self._places()
        found: dict[str, int] = {}
        for node in proof.nodes.values():
            if isinstance(node, RuleNode) and node.rule.head.predicate in _OF_AGENT:
                place = places.get(str(node.args[0]), _LAST)
                if node.args[0] == water:
                    continue
                for claim in self._claims_under(proof, node, water):
                    found[claim] = min(place, found.get(claim, place))
        for claim in self._claims_under(proof, proof.root, water):
            found.setdefault(claim, _LAST)
        return sorted(found, key=lambda claim: found[claim])

    def _claims_under(self, proof: Proof, root: Node, water: str) -> Iterator[str]:
        for node in _walk(proof, lambda n: _bounds(n, water), root):
            if isinstance(node, FactNode) and node.fact.args:
                symbol = str(node.fact.args[0])
                if symbol in self.base and self.base.record(symbol).space == "claim":
                    yield symbol

    def _unread(self) -> Iterator[Step]:
        places = sorted(
            str(place)
            for _, place in self.case.model.match(UNREAD_LINE, (self.wash, None))
        )
        if places:
            told = f"Number {', '.join(places)} of {self.row.wash} was not read"
            yield Step(f"{told}, and what it is may change this.")

    # -- what pulls the other way --------------------------------------------------

    def against(self) -> Iterator[Step]:
        """What the wash leaves itself and what it cannot count on, then remarks."""
        _, (_, film, product, _) = self.row.goal
        model = self.case.model
        for *_, grade in sorted(model.match(READING, (film, product, None)), key=str):
            if model.holds(PUTS_BACK, (self.wash, grade)):
                yield from self._concluded((PUTS_BACK, (self.wash, grade)))
        beside = [goal for goal in self.row.beside if goal[0] != TRIED]
        most = self.most[1]
        for goal in beside[:most]:
            yield from self._concluded(goal)
        if len(beside) > most:
            more = len(beside) - most
            yield Step(f"{more} more remark{'s' * (more > 1)}: ask `why`.")

    def _concluded(self, goal: Ground) -> Iterator[Step]:
        """What a fact beside the verdict says, by its last step."""
        found = Explained(self.case, goal)
        text = as_sentence(self.case.world.known.sentences.node(found.proof.root))
        yield Step(text, self._real(found.sources)[:2], found.standing)

    # -- sources -------------------------------------------------------------------

    def _works(self, facts: Iterable[Fact | None]) -> tuple[str, ...]:
        """The first work for each of what some things are; a trace has them all."""
        cited = [self._real(fact.basis.sources)[:1] for fact in facts if fact]
        return tuple(dict.fromkeys(name for names in cited for name in names))

    def _real(self, sources: Iterable[str]) -> tuple[str, ...]:
        conventions = self.case.world.known.conventions
        return tuple(name for name in sources if name not in conventions)


def _above(proof: Proof) -> Iterator[RuleNode]:
    """The rules of a proof, but for those that only bear on who is at work."""
    for node in _walk(proof, lambda n: n.rule.head.predicate in _BELOW):
        if isinstance(node, RuleNode):
            yield node


def _walk(
    proof: Proof, stops: Callable[[RuleNode], bool], root: Node | None = None
) -> Iterator[Node]:
    """The nodes of a proof from a root down, but for those at which it stops."""
    waiting = [(root or proof.root).key]
    met: set[str] = set()
    while waiting:
        key = waiting.pop()
        node = proof.nodes[key]
        if key in met or (isinstance(node, RuleNode) and stops(node)):
            continue
        met.add(key)
        yield node
        waiting.extend(reversed(node.premises))


def _bounds(node: RuleNode, agent: str) -> bool:
    """Whether a step says what one agent takes of a film."""
    return node.rule.head.predicate in _OF_AGENT and node.args[0] == agent


def number_of(words: str, steps: Sequence[Step]) -> int:
    """The number of the step of an account that says something; 0 if none does."""
    told = as_sentence(words)
    return next((n for n, step in enumerate(steps, 1) if step.text == told), 0)


def numbered_sources(steps: Sequence[Step]) -> dict[str, int]:
    """A number for each work that some steps cite, in the order they cite them."""
    cited = dict.fromkeys(name for step in steps for name in step.sources)
    return {name: number for number, name in enumerate(cited, 1)}
