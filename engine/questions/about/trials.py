"""What would turn a verdict, found by trying: other labels, fewer sources.

Every change told here was made and judged; none is guessed. The trials are washes
like the one asked about, each with one change to its label, judged side by side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple, TypeAlias

from abluent.engine.base.contract import (
    ACTS,
    BEARS_ON,
    CIRCUMSTANCE,
    ISA,
    LEAVES,
    LINE,
    RESISTS,
    SET_ASIDE,
    YIELDS,
)
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.roles import EFFECTS, Role
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.origins import SUPPOSITION
from abluent.engine.proof.supports import fewest_works, load_bearing
from abluent.engine.proof.withdrawal import fewest_sources
from abluent.engine.questions.answers.account import deciding
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.best_known import how_well_known
from abluent.engine.questions.answers.explained import Lacking
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT
from abluent.engine.questions.world.world import WATER, World
from abluent.engine.reading.label_order import places, renumbered

_SUPPOSED = Basis(origin=SUPPOSITION)
_MOST_TRIALS = 60
_MOST_WEIGHED = 12
_MOST_SOURCES = 40
_FIRST_AFTER_WATER = 2

_MOST_PAIRS = 15

_Change: TypeAlias = tuple[str, tuple[str, ...], int]
"""How it reads, the ingredients and their place; no place strikes them out."""

UNKNOWN, CONTRADICTED, NO_RULE = "unknown", "contradicted", "no claim"


class Obstacle(NamedTuple):
    """Why one agent of a wash does not lift a film.

    `how` is `unknown` where a claim calls the matter unsettled, `contradicted` where
    one says otherwise, `no claim` where none speaks of the two.
    """

    agent: str
    how: str
    claims: tuple[str, ...]


class Trial(NamedTuple):
    """One change to a label, and the verdict that it leads to.

    Args:
        change: how it reads.
        verdict: the verdict after it.
        lines: the names of the ingredients that it is made to.
    """

    change: str
    verdict: Verdict
    lines: tuple[str, ...] = ()


def obstacles(row: Verdict) -> list[Obstacle]:
    """What stands between each agent that acts in a wash and the whole of a film."""
    model, term = row.case.model, row.case.world.base.term
    wash, grades = row.goal[1][0], row.grades
    whole = term(Role.ALL_OF_IT)
    found = []
    for _, agent in sorted(model.match(ACTS, (wash, None))):
        if not model.holds(ISA, (agent, term(Role.CLEANSER))):
            continue
        takes = all(any(model.match(YIELDS, (agent, g, None, whole))) for g in grades)
        if takes:
            continue
        bearing = _bounds_on(row, str(agent), grades)
        claims = tuple(sorted(bearing & set(deciding(row)) or bearing))
        short = any(any(model.match(RESISTS, (agent, g, None, whole))) for g in grades)
        how = CONTRADICTED if short else UNKNOWN if claims else NO_RULE
        found.append(Obstacle(str(agent), how, claims))
    return found


def _bounds_on(row: Verdict, agent: str, grades: Sequence[str]) -> set[str]:
    """The claims that bound what an agent takes of a film, as any of its grades."""
    match = row.case.model.match
    return {str(c) for g in grades for c, *_ in match(BEARS_ON, (None, agent, g))}


def repairs(judge: Judge, row: Verdict, most: int = 3) -> list[Trial]:
    """Changes to the label of a wash after which it surely takes more of the film.

    Tried are: striking out what it leaves itself, putting high what it lists in
    traces, and one surfactant of each description added behind the water. Those that
    change less come first: striking out, then moving, then adding what stands on
    many labels.
    """
    if row.wash == WATER or row.gone:
        return []
    changes = [*_changes(judge, row)][:_MOST_TRIALS]
    hopeful = _hopeful(judge.world, row, changes)[:_MOST_WEIGHED]
    least = _surely_takes(row)
    mended: list[Trial] = []
    while hopeful and len(mended) < most:
        tried = _trials(judge.world, row, hopeful[:most])
        mended += [trial for trial in tried if _surely_takes(trial.verdict) > least]
        hopeful = hopeful[most:]
    return sorted(mended, key=lambda trial: trial.verdict.disputed)[:most]


def _surely_takes(row: Verdict) -> int:
    """How far a verdict's lower end reaches: the greater, the more is taken."""
    return EFFECTS.index(ENDS[row.role][0])


def _hopeful(world: World, row: Verdict, changes: Sequence[_Change]) -> list[_Change]:
    """The changes that may do, those first over which no sources part.

    How much there is of what is left out of this first look; to work that out takes
    a hundred times as long as all else.
    """
    quick = world.with_products([])
    quick.weighs = False
    tried = {trial.change: trial.verdict for trial in _trials(quick, row, changes)}
    least = _surely_takes(row)
    kept = [c for c in changes if c[0] in tried and _surely_takes(tried[c[0]]) > least]
    return sorted(kept, key=lambda change: tried[change[0]].disputed)


def struck_out(judge: Judge, row: Verdict) -> list[Trial]:
    """Lines of the label of a wash without which the verdict is another.

    Two are struck out together where none alone does it.
    """
    if row.wash == WATER:
        return []
    symbol = product_symbol(row.wash)
    lines = dict.fromkeys(
        str(f.args[2]) for f, _ in row.lines if f.args[0] == symbol and len(f.args) > 2
    )
    label = judge.world.base.label
    changes = [(f"without {label(each)}", (each,), 0) for each in lines]
    alone = _turned(judge.world, row, changes)
    if alone:
        return alone
    pairs = list(combinations(lines, 2))[:_MOST_PAIRS]
    together = [
        (f"without {label(one)} and {label(other)}", (one, other), 0)
        for one, other in pairs
    ]
    return _turned(judge.world, row, together)


def _turned(world: World, row: Verdict, changes: Sequence[_Change]) -> list[Trial]:
    """The changes after which the verdict is another."""
    tried = _trials(world, row, changes)
    return [trial for trial in tried if trial.verdict.value != row.value]


def hangs_on(row: Verdict) -> tuple[str, ...]:
    """The claims that are in every support of a verdict, by symbol."""
    base = row.case.world.base
    held = load_bearing(row.case.prover, *row.goal)
    symbols = dict.fromkeys(str(args[0]) for _, args in held if args)
    return tuple(s for s in symbols if s in base and base.record(s).space == "claim")


def turning_sources(row: Row) -> tuple[tuple[tuple[str, ...], ...], bool]:
    """The fewest works without which a row falls, and whether all were tried.

    Where the row is that nothing says so, without them something would. Of a verdict
    two together are looked at, and not what would rise in their place.
    """
    world = row.case.world
    if isinstance(row, Verdict):
        spared = world.known.conventions
        return fewest_works(row.case.prover, *row.goal, spared), False
    knowledge = Knowledge(world.program, row.case.facts, row.case.model)
    goal = (row.goal[0], row.pattern) if isinstance(row, Lacking) else row.goal
    found = fewest_sources(knowledge, goal, world.known.conventions, _MOST_SOURCES)
    return found.sets, found.exact


# --- trials -----------------------------------------------------------------------


def _changes(judge: Judge, row: Verdict) -> Iterator[_Change]:
    """What is tried."""
    base, model = judge.world.base, row.case.model
    symbol = product_symbol(row.wash)
    for _, film in sorted(model.match(LEAVES, (symbol, None))):
        yield f"without {base.label(str(film))}", (str(film),), 0
    for _, agent in sorted(model.match(SET_ASIDE, (symbol, None))):
        shown = base.label(str(agent))
        yield f"with {shown} right behind the water", (str(agent),), _FIRST_AFTER_WATER
    seen = judge.nouns.seen
    known = sorted(
        judge.nouns.cleansers,
        key=lambda item: (-seen[item.key], -how_well_known(base, item.key)),
    )
    for item in judge.terms.alike(known):
        shown = f"with {base.label(item.key)} right behind the water"
        if item.kind == INGREDIENT:
            yield shown, (item.key,), _FIRST_AFTER_WATER


def _trials(world: World, row: Verdict, changes: Sequence[_Change]) -> Iterator[Trial]:
    if not changes:
        return
    made = world
    names = {}
    for text, symbols, place in changes:
        name = f"{row.wash} {text}"
        names[name] = text, tuple(map(world.base.label, symbols))
        made = made.with_products([world.products[row.wash]._replace(name=name)])
        facts = _changed(world, row.wash, name, symbols, place)
        made = made.with_facts(name, facts, read=world.read(row.wash))
    films = [] if row.source else [row.film]
    stated = [
        world.base.label(str(condition))
        for (condition,) in row.case.model.match(CIRCUMSTANCE)
    ]
    sources = [row.source] if row.source else []
    case = Case.of(made, names, films, sources, stated=stated)
    found = {v.wash: v for v in verdicts(case) if v.film == row.film}
    for name, (text, shown) in names.items():
        if name in found:
            yield Trial(text, found[name], shown)


def _changed(
    world: World, wash: str, name: str, symbols: Sequence[str], place: int
) -> list[Fact]:
    """The facts of a wash's label under another name, with one change."""
    product = product_symbol(name)
    facts = [f._replace(args=(product, *f.args[1:])) for f in world.read(wash).facts]
    kept = [f for f in facts if not (f.predicate == LINE and f.args[2] in symbols)]
    if not place:
        return kept
    numbers = {each: each + (each >= place) for each in places(kept)}
    lines = [Fact(LINE, (product, place, each), _SUPPOSED) for each in symbols]
    return [*renumbered(kept, numbers), *lines]
