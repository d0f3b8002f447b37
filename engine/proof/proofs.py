"""The best proof of a fact, read off a finished model.

Proofs are put together after the fact and never recorded, so that asking for one
cannot change an answer. Of all proofs of a fact the best is the one whose weakest
step stands highest; among those the one with the fewest steps; among those the one
whose facts hold the smaller whole numbers in sum, so that what is listed first is
told first; among those the one whose hash comes first. It does not depend on the
order of evaluation, rests on the best proof of every fact it uses, and never on
itself.

The search is Knuth's generalisation of Dijkstra's: points of the cone are finished
in order of standing and length, so each is finished with its best proof.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from abluent.engine.errors import EngineError
from abluent.engine.logic.clauses import Atom, Rule
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.instances import (
    Collected,
    Compared,
    Computed,
    Instance,
    Missing,
    Support,
)
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.terms import Term
from abluent.engine.proof.cone import (
    Cone,
    Membership,
    Point,
    Reading,
    group_values,
    points_of,
)
from abluent.engine.proof.encode import canonical, rule_names, term_json
from abluent.engine.proof.kept import Found, KeptProofs
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    ComparisonNode,
    ComputationNode,
    FactNode,
    Ground,
    Member,
    Node,
    RuleNode,
    ground,
    named,
)


class NotProven(EngineError):
    """What was to be proven does not hold, or an absence was to be and fails."""


class Scale(NamedTuple):
    """The scale of standings, the best first."""

    names: tuple[str, ...]

    def rank(self, basis: Basis | Rule) -> int:
        """How low a basis stands; lower numbers stand higher.

        From memory ranks just below the same standing re-read. What has no standing,
        such as a place on a label, weakens nothing and ranks below zero.
        """
        if not basis.standing:
            return -1
        if basis.standing in self.names:
            return 2 * self.names.index(basis.standing) + basis.from_memory
        return 2 * len(self.names)


def basis_of(node: Node) -> Basis | Rule | None:
    """What gives a node its standing and its sources, if anything does."""
    if isinstance(node, FactNode):
        return node.fact.basis
    return node.rule if isinstance(node, RuleNode) else None


class Proof:
    """A proof as a graph with shared nodes.

    Args:
        root: the node that concludes the goal.
        nodes: every node by its key, premises before what rests on them.
        scale: the standings of the program.
    """

    def __init__(self, root: Node, nodes: Mapping[str, Node], scale: Scale) -> None:
        self.root = root
        self.nodes = nodes
        self.scale = scale

    @cached_property
    def weakest(self) -> tuple[Node, ...]:
        """The steps that stand lowest; empty if no step has a standing."""
        ranks = [(self._rank(node), node) for node in self.nodes.values()]
        lowest = max(rank for rank, _ in ranks)
        return tuple(node for rank, node in ranks if rank == lowest >= 0)

    def _rank(self, node: Node) -> int:
        basis = basis_of(node)
        return -1 if basis is None else self.scale.rank(basis)

    @property
    def standing(self) -> str:
        """The standing of the weakest step, or empty."""
        basis = basis_of(self.weakest[0]) if self.weakest else None
        return basis.standing if basis else ""

    @property
    def from_memory(self) -> bool:
        """Whether the weakest step was not re-read in its source."""
        basis = basis_of(self.weakest[0]) if self.weakest else None
        return bool(basis and basis.from_memory)

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The asserted facts it rests on."""
        return tuple(n.fact for n in self.nodes.values() if isinstance(n, FactNode))

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules it uses, each once."""
        nodes = self.nodes.values()
        used = {n.name: n.rule for n in nodes if isinstance(n, RuleNode)}
        return tuple(used.values())

    @property
    def absences(self) -> tuple[AbsenceNode, ...]:
        """What it takes to be absent, exceptions included."""
        return tuple(n for n in self.nodes.values() if isinstance(n, AbsenceNode))

    @property
    def sources(self) -> tuple[str, ...]:
        """The names of the works that its facts and rules cite, each once."""
        bases = [basis_of(node) for node in self.nodes.values()]
        cited = [name for basis in bases if basis for name in basis.sources]
        return tuple(dict.fromkeys(cited))


class _Best(NamedTuple):
    """The best way to a point: how low it stands, its length, what it is."""

    rank: int
    steps: int
    places: int
    result: Node | Member


class _Offer:
    """A way to a point whose premises may still be unfinished."""

    __slots__ = ("missing", "needed", "places", "point", "rank", "steps", "way")

    def __init__(self, point: Point, way: Fact | Instance, rank: int) -> None:
        self.point = point
        self.way = way
        self.rank = rank
        self.needed: tuple[Point, ...] = ()
        self.missing = 0
        self.steps = 1
        self.places = 0


class Prover:
    """Finds best proofs in one model, and keeps what it finds.

    Args:
        model: the model.
        shared: the prover of the model that this one shares facts with; it proves
            those, for this model and for every other.
        kept: proofs in this model that outlive it.
    """

    def __init__(
        self,
        model: Model,
        shared: Prover | None = None,
        kept: KeptProofs | None = None,
    ) -> None:
        self.model = model
        self.cone = Cone(model)
        self.scale = Scale(model.program.standings)
        self._shared = shared
        self._kept = kept
        self._best: dict[Point, _Best] = {}
        self._nodes: dict[str, Node] = {}

    @cached_property
    def names(self) -> Mapping[tuple[str, Atom], str]:
        """The names in a trace of the rules."""
        shared = self._shared
        return shared.names if shared else rule_names(self.model.program)

    def prove(self, predicate: str, args: Sequence[Term]) -> Proof:
        """The best proof that a fact holds.

        Raises:
            NotProven: it does not hold; `prove_absence` proves that.
        """
        goal = (predicate, tuple(args))
        if not self.model.holds(*goal):
            raise NotProven(f"`{_written(*goal)}` does not follow from this base")
        self._finish(goal)
        result = self._best[goal].result
        assert not isinstance(result, Member), "a fact is not a membership"
        return self._proof(result)

    def prove_absence(self, predicate: str, pattern: Sequence[Term | None]) -> Proof:
        """The proof that no fact agrees with a pattern, `None` being any term.

        Raises:
            NotProven: some fact does.
        """
        found = next(matches(self.model, (predicate, tuple(pattern))), None)
        if found is not None:
            raise NotProven(f"`{_written(predicate, found)}` holds in this base")
        node = self._keep(AbsenceNode(predicate, tuple(pattern), "not"))
        return self._proof(node)

    # -- the search -----------------------------------------------------------------

    def _finish(self, goal: Point) -> None:
        """Find the best way to a goal and to every point below it."""
        readings = self._unfinished(goal)
        if not readings:
            return
        search = _Search(self)
        for point, reading in readings.items():
            search.enter(point, reading)
        search.run()

    def _unfinished(self, goal: Point) -> dict[Point, Reading]:
        found: dict[Point, Reading] = {}
        waiting = [goal]
        while waiting:
            point = waiting.pop()
            if point in found or point in self._best or self._known(point):
                continue
            found[point] = self.cone.reading(point)
            for needed in found[point].needed:
                waiting.extend(needed)
        return found

    def _known(self, point: Point) -> bool:
        """Whether the proof of a point is shared or kept; it is taken over then."""
        if isinstance(point, Membership):
            return False
        best = None
        if self._shared is not None and self.model.shares(point[0]):
            best = self._shared.lend(point)
        elif self._kept is not None:
            found = self._kept.find(point)
            best = found and _Best(*found.measure, self.node(found.key))
        if best is not None:
            self._best[point] = best
        return best is not None

    def lend(self, goal: Ground) -> _Best | None:
        """The best way to a fact, for a prover that shares it; it is kept."""
        best = self._best.get(goal)
        if best is None and self.model.holds(*goal):
            self._finish(goal)
            best = self._best[goal]
            if self._kept is not None and self._kept.find(goal) is None:
                assert not isinstance(best.result, Member), "a fact is no membership"
                nodes = [node for _, node in self._below(best.result)]
                self._kept.add(goal, Found(best[:3], best.result.key), nodes)
        return best

    def resting_on(self, point: Point) -> tuple[str, ...]:
        """The nodes that the best way to a point rests on; that of a fact is one."""
        self._finish(point)
        result = self._best[point].result
        return result.premises if isinstance(result, Member) else (result.key,)

    # -- nodes ----------------------------------------------------------------------

    def node(self, key: str) -> Node:
        """The node of a name, found here or where it was kept."""
        node = self._nodes.get(key)
        if node is None and self._kept is not None:
            node = self._kept.node(key)
        if node is None:
            assert self._shared is not None, "a node is found somewhere"
            node = self._shared.node(key)
        self._nodes[key] = node
        return node

    def _keep(self, node: Node) -> Node:
        done = named(node)
        return self._nodes.setdefault(done.key, done)

    def _conclude(self, offer: _Offer) -> Node | Member:
        """The node, or the membership, that an offer amounts to."""
        way = offer.way
        if isinstance(way, Fact):
            return self._keep(FactNode(way))
        keys = tuple(self._support(each, way).key for each in way.supports)
        if not isinstance(offer.point, Membership):
            name = self.names[way.rule.id, way.rule.head]
            return self._keep(RuleNode(way.rule, name, way.args, way.bindings, keys))
        groups = {name for name, _ in offer.point.groups}
        own = tuple(pair for pair in way.bindings if pair[0] not in groups)
        return Member(way.args, own, keys)

    def _support(self, support: Support, instance: Instance) -> Node:
        if isinstance(support, Missing):
            parts = (support.predicate, support.pattern, support.form)
            return self._keep(AbsenceNode(*parts))
        if isinstance(support, Compared):
            perhaps, operator = support.condition.perhaps, support.condition.operator
            sides = (support.left, support.right)
            return self._keep(ComparisonNode(operator, *sides, perhaps))
        if isinstance(support, Computed):
            expression = ground(support.condition.expression, instance.binding())
            return self._keep(ComputationNode(expression, support.value))
        if isinstance(support, Collected):
            return self._collection(support, instance)
        result = self._best[support.predicate, support.args].result
        assert not isinstance(result, Member), "a fact is not a membership"
        return result

    def _collection(self, support: Collected, instance: Instance) -> Node:
        groups = group_values(support.condition, instance.binding())
        points = points_of(support, instance)
        members = [self._best[point].result for point in points]
        kept = tuple(each for each in members if isinstance(each, Member))
        return self._keep(
            CollectionNode(support.condition, groups, support.value, kept)
        )

    def _proof(self, root: Node) -> Proof:
        return Proof(root, dict(self._below(root)), self.scale)

    def _below(self, root: Node) -> Iterator[tuple[str, Node]]:
        """The nodes that a node rests on and itself, premises first."""
        done: set[str] = set()
        stack = [(root.key, False)]
        while stack:
            key, closing = stack.pop()
            if closing:
                yield key, self.node(key)
            elif key not in done:
                done.add(key)
                stack.append((key, True))
                premises = reversed(self.node(key).premises)
                stack.extend((each, False) for each in premises)


class _Search:
    """One run of the search over the unfinished points of a cone."""

    def __init__(self, prover: Prover) -> None:
        self._prover = prover
        self._best = prover._best
        self._offers: dict[Point, list[_Offer]] = {}
        self._users: dict[Point, list[_Offer]] = {}
        self._heap: list[tuple[int, int, int, int, _Offer]] = []
        self._order = count()

    def enter(self, point: Point, reading: Reading) -> None:
        """Take in the ways to a point."""
        for fact in reading.facts:
            rank = self._prover.scale.rank(fact.basis)
            places = sum(abs(t) for t in fact.args if isinstance(t, int))
            offer = _Offer(point, fact, rank)
            offer.places = places
            self._offer(offer)
        for instance, needed in zip(reading.instances, reading.needed, strict=True):
            rank = self._prover.scale.rank(instance.rule)
            if isinstance(point, Membership):
                rank = -1  # a membership is no step of its own
            offer = _Offer(point, instance, rank)
            offer.needed = needed
            wanted = {each for each in needed if each not in self._best}
            offer.missing = len(wanted)
            for each in wanted:
                self._users.setdefault(each, []).append(offer)
            if not wanted:
                self._weigh(offer, instance)

    def run(self) -> None:
        """Finish points from the best on, until none is left."""
        while self._heap:
            rank, steps, places, _, offer = heappop(self._heap)
            point = offer.point
            if point in self._best:
                continue
            # Every way of this rank and length is known by now: whatever it rests
            # on is shorter and was finished before.
            ties = [
                self._prover._conclude(each)
                for each in self._offers.pop(point)
                if (each.rank, each.steps, each.places) == (rank, steps, places)
            ]
            self._best[point] = _Best(rank, steps, places, min(ties, key=_tie))
            for user in self._users.pop(point, ()):
                user.missing -= 1
                if not user.missing:
                    assert isinstance(user.way, Instance), "only instances wait"
                    self._weigh(user, user.way)

    def _weigh(self, offer: _Offer, instance: Instance) -> None:
        """Work out how an instance stands, its premises being finished."""
        below = [self._best[each] for each in offer.needed]
        offer.rank = max([offer.rank, *(each.rank for each in below)])
        others = sum(isinstance(s, _LEAVES) for s in instance.supports)
        offer.steps = 1 + others + sum(each.steps for each in below)
        offer.places = sum(each.places for each in below)
        self._offer(offer)

    def _offer(self, offer: _Offer) -> None:
        self._offers.setdefault(offer.point, []).append(offer)
        entry = (offer.rank, offer.steps, offer.places, next(self._order), offer)
        heappush(self._heap, entry)


_LEAVES = (Missing, Compared, Computed, Collected)


def _tie(result: Node | Member) -> str:
    if isinstance(result, Member):
        bound = {name: term_json(term) for name, term in result.bindings}
        return canonical([list(result.premises), bound])
    return result.key


def prove(model: Model, predicate: str, args: Sequence[Term]) -> Proof:
    """The best proof of one fact; for several, keep a `Prover`.

    Raises:
        NotProven: it does not hold.
    """
    return Prover(model).prove(predicate, args)


def matches(
    model: Model, pattern: tuple[str, tuple[Term | None, ...]]
) -> Iterator[tuple[Term, ...]]:
    """The facts of a pattern; none of a predicate that the model has never met."""
    predicate, terms = pattern
    if predicate not in model.predicates():
        return iter(())
    return model.match(predicate, terms)


def _written(predicate: str, args: Iterable[Term | None]) -> str:
    terms = ("something" if each is None else str(each) for each in args)
    first, *rest = (*terms, "")
    return " ".join(filter(None, (first, predicate, ", ".join(filter(None, rest)))))
