"""Small worlds of claims and orders, and a plain slow oracle that settles them.

Nothing here uses the rules: the oracle enumerates, for one question at a time, which
cells are shown to be reached and which not, standing by standing, by walking the
order. It is written from the description of how bounds meet, in another way than the
rules are: by sets of cells above and below, computed anew whenever they are asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from random import Random
from typing import NamedTuple

from abluent.engine.logic.facts import Basis, Fact

SCALE = ("measured", "handbook", "commonPractice", "inferred")
NONE, PART, ALL = "takesNone", "takesPart", "takesAll"
ORDER = (NONE, PART, ALL)
QUESTIONS = (PART, ALL)
YES, NO, DISPUTED = "yes", "no", "disputed"


class Cell(NamedTuple):
    """An agent and a film."""

    agent: str
    film: str


class Edge(NamedTuple):
    """That one cell is taken no further than another."""

    less: Cell
    more: Cell
    standing: str


@dataclass(frozen=True)
class Bound:
    """A claim about all agents of a set and all films of a set."""

    name: str
    agents: frozenset[str]
    films: frozenset[str]
    conditions: frozenset[str]
    least: bool
    effect: str
    standing: str

    @property
    def cells(self) -> frozenset[Cell]:
        return frozenset(Cell(*each) for each in product(self.agents, self.films))

    def says(self, question: str) -> bool:
        """Whether it answers a question: yes if it bounds from below, else no."""
        reached = ORDER.index(self.effect) >= ORDER.index(question)
        return reached if self.least else not reached

    def narrower(self, other: Bound) -> bool:
        """Nowhere wider than another bound, and narrower somewhere."""
        within = self.agents <= other.agents and self.films <= other.films
        mine = self.agents, self.films, self.conditions
        theirs = other.agents, other.films, other.conditions
        return within and self.conditions >= other.conditions and mine != theirs


Answers = dict[tuple[Cell, str], str]


def settle(edges: Iterable[Edge], bounds: Iterable[Bound]) -> Answers:
    """What follows of every cell: yes, no or disputed for each question."""
    answers: Answers = {}
    kept: list[Edge] = []
    for standing in SCALE:
        new = [edge for edge in edges if edge.standing == standing]
        kept += [edge for edge in new if not _refuted(edge, [*kept, *new], answers)]
        for question in QUESTIONS:
            _carry(kept, answers, question)
        now = [bound for bound in bounds if bound.standing == standing]
        found = [_weighed(now, kept, answers, question) for question in QUESTIONS]
        for each in found:
            answers |= each
    return answers


def _refuted(edge: Edge, edges: list[Edge], answers: Answers) -> bool:
    for question in QUESTIONS:
        below = {answers.get((c, question)) for c in _down(edge.less, edges)}
        above = {answers.get((c, question)) for c in _up(edge.more, edges)}
        if YES in below and above & {NO, DISPUTED}:
            return True
        if DISPUTED in below and NO in above:
            return True
    return False


def _carry(edges: list[Edge], answers: Answers, question: str) -> None:
    for (cell, asked), answer in list(answers.items()):
        if asked == question and answer != DISPUTED:
            reached = _up(cell, edges) if answer == YES else _down(cell, edges)
            answers.update({(each, question): answer for each in reached})


def _weighed(
    bounds: list[Bound], edges: list[Edge], answers: Answers, question: str
) -> Answers:
    """What the claims of one standing add on one question."""
    said = [(b, cell) for b in bounds if b.says(question) for cell in b.cells]
    settled = {
        (b, cell) for b, cell in said if _beyond(b, cell, edges, answers, question)
    }
    live = [each for each in said if each not in settled]
    beaten = {
        loser
        for one, other in _opposed(live, edges)
        for loser, winner in ((one, other), (other, one))
        if winner[0].narrower(loser[0])
    }
    gone = _spread(settled | beaten, said, edges)
    rest = [each for each in said if each not in gone]
    ties = list(_opposed(rest, edges))
    disputed = {
        cell
        for low, high in ties
        for cell in _up(low[1], edges) & _down(high[1], edges)
    }
    void = _spread({each for pair in ties for each in pair}, said, edges)
    added: Answers = {(cell, question): DISPUTED for cell in disputed}
    for bound, cell in rest:
        if (bound, cell) not in void:
            reached = _up(cell, edges) if bound.least else _down(cell, edges)
            answer = YES if bound.least else NO
            added |= {(each, question): answer for each in reached}
    return {key: a for key, a in added.items() if key not in answers}


Saying = tuple[Bound, Cell]


def _beyond(
    bound: Bound, cell: Cell, edges: list[Edge], answers: Answers, question: str
) -> bool:
    """Whether what is settled already stands against a claim at a cell."""
    looked = _up(cell, edges) if bound.least else _down(cell, edges)
    against = {NO if bound.least else YES, DISPUTED}
    return any(answers.get((each, question)) in against for each in looked)


def _opposed(said: list[Saying], edges: list[Edge]) -> Iterable[tuple[Saying, Saying]]:
    lows = [each for each in said if each[0].least]
    highs = [each for each in said if not each[0].least]
    for low in lows:
        above = _up(low[1], edges)
        yield from ((low, high) for high in highs if high[1] in above)


def _spread(fallen: set[Saying], said: list[Saying], edges: list[Edge]) -> set[Saying]:
    """What falls with a claim that fell: it for what is less, or for what is more."""
    return fallen | {
        (bound, cell)
        for bound, cell in said
        for other, at in fallen
        if other is bound
        and cell in (_down(at, edges) if bound.least else _up(at, edges))
    }


def _up(cell: Cell, edges: Iterable[Edge]) -> set[Cell]:
    return _walk(cell, {(e.less, e.more) for e in edges})


def _down(cell: Cell, edges: Iterable[Edge]) -> set[Cell]:
    return _walk(cell, {(e.more, e.less) for e in edges})


def _walk(cell: Cell, steps: set[tuple[Cell, Cell]]) -> set[Cell]:
    found = {cell}
    while more := {b for a, b in steps if a in found} - found:
        found |= more
    return found


# --- worlds ---------------------------------------------------------------------


def world(random: Random) -> tuple[list[Edge], list[Bound]]:
    """A random small world: at most five agents, two films and eight claims."""
    agents = [f"agent{n}" for n in range(random.randint(2, 5))]
    films = [f"film{n}" for n in range(random.randint(1, 2))]
    edges = []
    for film in films:
        ranked = random.sample(agents, len(agents))
        edges += [
            Edge(Cell(a, film), Cell(b, film), random.choice([*SCALE, SCALE[2]]))
            for n, a in enumerate(ranked)
            for b in ranked[n + 1 :]
            if random.random() < 0.5
        ]
    edges += [
        Edge(Cell(a, films[0]), Cell(a, films[-1]), random.choice(SCALE))
        for a in agents
        if len(films) > 1 and random.random() < 0.4
    ]
    return edges, [
        _bound(random, n, agents, films) for n in range(random.randint(1, 8))
    ]


def _bound(random: Random, number: int, agents: list[str], films: list[str]) -> Bound:
    least = random.random() < 0.5
    return Bound(
        f"claim{number}",
        frozenset(random.sample(agents, random.randint(1, len(agents)))),
        frozenset(random.sample(films, random.randint(1, len(films)))),
        frozenset(random.sample(["hot", "hard"], random.randint(0, 1))),
        least,
        random.choice([PART, ALL] if least else [NONE, PART]),
        random.choice(SCALE),
    )


def as_facts(edges: Iterable[Edge], bounds: Iterable[Bound]) -> list[Fact]:
    """A world as a base would assert it, in one setting where every condition holds."""
    rows: list[tuple[str, ...]] = [("setting", "so")]
    rows += [("sets", "so", "hot"), ("sets", "so", "hard")]
    for number, edge in enumerate(edges):
        name = f"edge{number}"
        rows.append(("standing", name, edge.standing))
        if edge.less.film == edge.more.film:
            rows += [
                ("weaker", name, edge.less.agent),
                ("stronger", name, edge.more.agent),
                ("inFamily", name, edge.less.film),
            ]
        else:
            rows += [
                ("underAgent", name, edge.less.agent),
                ("harder", name, edge.less.film),
                ("easier", name, edge.more.film),
            ]
    for bound in bounds:
        side = "atLeast" if bound.least else "atMost"
        rows += [
            ("standing", bound.name, bound.standing),
            (side, bound.name, bound.effect),
        ]
        rows += [("agent", bound.name, each) for each in bound.agents]
        rows += [("film", bound.name, each) for each in bound.films]
        rows += [("when", bound.name, each) for each in bound.conditions]
    named = {c for e in edges for c in (*e.less, *e.more)}
    named |= {c for b in bounds for c in (*b.agents, *b.films)}
    rows += [("subclass", each, "Thing") for each in named]
    return [Fact(row[0], row[1:], Basis()) for row in rows]


def read_off(holds: Mapping[str, set[tuple[str, ...]]]) -> Answers:
    """The answers that the rules came to, from the rows of the last standing."""
    names = {"yesInferred": YES, "noInferred": NO, "disputeInferred": DISPUTED}
    return {
        (Cell(agent, film), effect): answer
        for name, answer in names.items()
        for agent, film, _, effect in holds[name]
    }
