"""A verdict's reasons in the order of thought, for one screen.

First the film, then what acts on it, one line for each ingredient; then what bounds
the verdict from below and from above, each bound by the claims that set it; then what
pulls the other way. Everything is read off the proofs; the whole chain has more steps
and is told by `Explained.reasons`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.contract import (
    ACTS,
    AMOUNT_BEARS_ON,
    HOLDS_OUT,
    ISA,
    MAY_ACT,
    REMARK,
    UNREAD_LINE,
    YIELDS,
)
from abluent.engine.base.roles import Role
from abluent.engine.proof.nodes import FactNode, Node, RuleNode
from abluent.engine.proof.proofs import Proof
from abluent.engine.questions.answers.account_parts import (
    AT_THE_END,
    IN_TRACES,
    OF_AGENT,
    Beside,
    Helper,
    Step,
    charge_of,
)
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.fitting import bears_how, sets, speaks_of
from abluent.engine.questions.answers.verdicts import ENDS, End, Verdict
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.world.alone import agent_of
from abluent.grammar.common.text import as_sentence

__all__ = [
    "IN_TRACES",
    "Acting",
    "Helper",
    "Step",
    "account",
    "acting",
    "acting_on",
    "bounding",
    "bounding_steps",
    "charge_of",
    "claims_by_agent",
    "deciding",
    "film_step",
    "grades",
    "helpers",
    "number_of",
    "numbered_sources",
    "places",
    "remark_on",
]

_CLAIMS = 2
"""So many claims are told for each end."""
_BELOW = frozenset({ACTS, MAY_ACT, ISA})
"""Conclusions whose own reasons are left to the whole chain: that an agent is at
work, and what a thing is."""


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
    ends: list[End | None] = [e for e in (row.at_least, row.at_most) if e]
    ends = ends or [None]
    pairs = zip(told.proofs, ends, strict=True)
    return tuple(
        dict.fromkeys(c for proof, end in pairs for c in told.claims(proof, end))
    )


class Acting(NamedTuple):
    """An ingredient that acts in a wash, and its place on the label."""

    symbol: str
    place: int


def helpers(row: Verdict) -> list[Helper]:
    """What a wash lists of which a verdict is told beside it that it may help.

    In the order of the label.
    """
    told = _Account(row)
    goals = [goal for goal in row.beside if goal[0] == REMARK]
    proofs = (Explained(row.case, goal).proof for goal in goals)
    bearing = [
        proof
        for proof in proofs
        if any(fact.predicate == AMOUNT_BEARS_ON for fact in proof.facts)
    ]
    found = map(told.spoken_of, bearing)
    every = {one.symbol: one for each in found if len(each) == 1 for one in each}
    return sorted(every.values(), key=lambda each: each.place)


def acting(row: Verdict) -> tuple[tuple[Acting, ...], tuple[Acting, ...]]:
    """What the lower end of a verdict rests on, and all that acts in the wash.

    Water is left out, as it is in every wash.
    """
    told = _Account(row)
    low = told.acting(row.at_least.proof) if row.at_least else []
    places = told.places()
    return (
        tuple(Acting(each, places[each]) for each in low),
        tuple(Acting(each, places[each]) for each in told.at_work()),
    )


def bounding(row: Verdict) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The claims that set each end of a verdict that says something, by symbol."""
    told = _Account(row)
    least, most = ENDS[row.role]
    low, high = row.at_least, row.at_most
    return (
        tuple(told.claims(low.proof, low))
        if low and least is not Role.NONE_OF_IT
        else (),
        tuple(told.claims(high.proof, high))
        if high and most is not Role.ALL_OF_IT
        else (),
    )


def claims_by_agent(row: Verdict, proof: Proof) -> Iterator[tuple[str, list[str]]]:
    """Each agent by which a proof bounds what is taken, and the claims on it."""
    told = _Account(row)
    for node in proof.nodes.values():
        if isinstance(node, RuleNode) and node.rule.head.predicate in OF_AGENT:
            agent = str(node.args[0])
            water = told.case.world.known.water_symbol
            other = "" if agent == water else water
            yield agent, list(told._claims_under(proof, node, other))


def places(row: Verdict) -> dict[str, int]:
    """Where the label of a wash lists what stands on it."""
    return _Account(row).places()


def grades(row: Verdict) -> tuple[str, ...]:
    """The kinds of thing that the name of a film can mean, by symbol, each once."""
    told = _Account(row)
    facts = [told.typed(grade) for grade in row.grades]
    return tuple(dict.fromkeys(str(fact.args[1]) for fact in facts if fact))


def bounding_steps(row: Verdict) -> tuple[Step, ...]:
    """What sets the ends of a verdict, in words."""
    return tuple(_Account(row, True).bounds())


def film_step(row: Verdict) -> Step:
    """What the film of a verdict is, and what its name leaves open."""
    return next(_Account(row).film(), Step(""))


class _Account(Beside):
    @cached_property
    def leading(self) -> Sequence[Proof]:
        """What the lower end follows from by what stands first on the label.

        Empty where the best proof rests on that already, where water does it, or where
        that does not do as much of every grade in every way of washing.
        """
        low = self.row.at_least
        if low is None or ENDS[self.row.role][0] is Role.NONE_OF_IT or self.by_water:
            return ()
        wanted = {
            node.args[1:]
            for node in low.proof.nodes.values()
            if isinstance(node, RuleNode) and node.rule.head.predicate == YIELDS
        }
        acting = set(self.acting(low.proof))
        for agent in self.at_work():
            if agent in acting:
                return ()
            goals = [(YIELDS, (agent, *rest)) for rest in sorted(wanted, key=str)]
            if goals and all(self.case.model.holds(*goal) for goal in goals):
                return [self.case.prover.prove(*goal) for goal in goals]
        return ()

    @property
    def by_water(self) -> bool:
        """Whether water alone sets the lower end, so that no cleanser is the reason."""
        low = self.row.at_least
        if low is None or ENDS[self.row.role][0] is Role.NONE_OF_IT:
            return False
        water = self.case.world.known.water_symbol
        mine = self._setting(self._claims_of(low.proof, water), low, upper=False)
        every = self._setting(self._claims_of(low.proof, ""), low, upper=False)
        return bool(every) and not mine

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
        elif puts_back(row):
            yield from self._gross()
        if most is not Role.ALL_OF_IT:
            yield from self._said(row.at_most)
        yield from self._unread()

    def _gross(self) -> Iterator[Step]:
        """What the wash takes before it leaves such a film itself."""
        match = self.case.model.match
        part = self.base.term(Role.PART_OF_IT)
        for agent in self.at_work():
            for grade in self.row.grades:
                for goal in sorted(match(YIELDS, (agent, grade, None, part)), key=str):
                    proof = self.case.prover.prove(YIELDS, goal)
                    claims = [*self._claims_under(proof, proof.root, "")]
                    found = [
                        claim
                        for claim in self._fitting(claims)
                        if sets(self.base, claim, Role.PART_OF_IT, upper=False)
                    ]
                    if found:
                        yield self._step(found[0], upper=False)
                        return

    def _said(self, end: End | Verdict) -> Iterator[Step]:
        """The claims of one end, then the rules that say something of their own."""
        claims, most = self.claims(end.proof, end), self.most(_CLAIMS)
        upper = end is self.row.at_most
        if end is self.row.at_least and self.leading and not self.whole:
            led = [c for each in self.leading for c in self.claims(each, end)]
            claims = list(dict.fromkeys(led)) or claims
        if upper and not self.whole:
            # Of what bounds each of several from above the one that decides is told,
            # and best the one that speaks of such a film.
            claims, most = sorted(self._fitting(claims), key=self._distance), 1
        at = [self.base.label(claim) for claim in claims]
        if self.turn in at[most:]:
            claims.insert(most - 1, claims.pop(at.index(self.turn)))
        yield from (self._step(claim, upper=upper) for claim in claims[:most])
        met: set[str] = set()
        for node in _above(end.proof):
            rule = node.rule
            if claims and not self.whole and rule.head.predicate == HOLDS_OUT:
                continue  # The claims say it of each: that they add up is counting.
            if rule.standing and rule.id not in met:
                met.add(rule.id)
                text = as_sentence(self.case.world.known.sentences.node(node))
                yield Step(text, self.real(rule.sources), rule.standing)

    @cached_property
    def _all_acting(self) -> list[str]:
        """What acts in the wash, and what its ends rest on where that is not sure."""
        ends = (agent for proof in self.proofs for agent in self.acting(proof))
        return list(dict.fromkeys([*self.at_work(), *ends]))

    def _distance(self, claim: str) -> int:
        """How wide the narrowest class of films is that a claim speaks of here."""
        base = self.base
        kinds = {k for grade in self.row.grades for k in base.classes_of(grade)}
        spoken = [k for k in base.record(claim).links("film") if k in kinds]
        return -max((len(base.ancestors(kind)) for kind in spoken), default=0)

    def _fitting(self, claims: Sequence[str]) -> list[str]:
        """Those of some claims that speak of what acts in this wash, or all if none."""
        kinds = [
            {agent, *(str(k) for _, k in self.case.model.match(ISA, (agent, None)))}
            for agent in self._all_acting
        ]
        return [c for c in claims if speaks_of(self.base, c, kinds)] or list(claims)

    def _step(self, claim: str, *, upper: bool) -> Step:
        """What a claim says, and how it bears where it speaks of something else."""
        record = self.base.record(claim)
        text = as_sentence(record.text("statement") or self.base.label(claim))
        how = bears_how(self.row, claim, self._all_acting, upper=upper)
        limits = self.whole and record.text("caveat")
        return Step(
            f"{how}: {text}" if how else text,
            self.real(record.links("source")),
            record.link("standing") or "",
            as_sentence(limits) if limits else "",
        )

    def claims(self, proof: Proof, end: End | Verdict | None = None) -> list[str]:
        """The claims of a proof, but for those on what water does, as in any wash.

        Those on the ingredient that stands first on the label come first. Of an end
        only those that set it are told; where water alone sets it, those on water, and
        where none does by itself, those that set no end at all.
        """
        water = self.case.world.known.water_symbol
        alone = agent_of(self.case.world, self.row.wash) == water
        found = self._claims_of(proof, "" if alone else water)
        if isinstance(end, End) and not self.whole:
            upper = end is self.row.at_most
            every = found if upper else self._claims_of(proof, "")
            own = self._setting(found, end, upper=upper)
            found = (
                own
                or self._setting(every, end, upper=upper)
                or [
                    claim
                    for claim in found
                    if sets(self.base, claim, end.effect, upper=upper) is None
                ]
            )
        return found

    def _setting(self, claims: list[str], end: End, *, upper: bool) -> list[str]:
        """Those of some claims that set an end by themselves."""
        return [c for c in claims if sets(self.base, c, end.effect, upper=upper)]

    def _claims_of(self, proof: Proof, water: str) -> list[str]:
        places = self.places()
        found: dict[str, int] = {}
        for node in proof.nodes.values():
            if isinstance(node, RuleNode) and node.rule.head.predicate in OF_AGENT:
                place = places.get(str(node.args[0]), AT_THE_END)
                if node.args[0] == water:
                    continue
                for claim in self._claims_under(proof, node, water):
                    found[claim] = min(place, found.get(claim, place))
        for claim in self._claims_under(proof, proof.root, water):
            found.setdefault(claim, AT_THE_END)
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
    return node.rule.head.predicate in OF_AGENT and node.args[0] == agent


def number_of(words: str, steps: Sequence[Step]) -> int:
    """The number of the step of an account that says something; 0 if none does."""
    told = as_sentence(words)
    return next((n for n, step in enumerate(steps, 1) if step.text == told), 0)


def acting_on(rows: Sequence[Verdict]) -> Step | None:
    """What cleans in the wash of some verdicts, by those on which it bears most."""
    for row in rows:
        told = next(_Account(row).agents(), None)
        if told is not None:
            return told
    return None


def remark_on(rows: Sequence[Verdict]) -> Step | None:
    """What is told beside some verdicts of something that the label of a wash lists."""
    for row in rows:
        told = _Account(row)
        for goal in (each for each in row.beside if each[0] == REMARK):
            if told.where(Explained(row.case, goal).proof):
                return next(told.concluded(goal), None)
    return None


def numbered_sources(steps: Sequence[Step]) -> dict[str, int]:
    """A number for each work that some steps cite, in the order they cite them."""
    cited = dict.fromkeys(name for step in steps for name in step.sources)
    return {name: number for number, name in enumerate(cited, 1)}
