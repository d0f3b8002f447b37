"""What an addition to the base changes on a shelf: names, films left, verdicts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from abluent.engine.base.contract import CONTESTED, LEAVES, REFUTED, VERDICT
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.verdicts import ENDS
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import in_words

if TYPE_CHECKING:
    from abluent.engine.proof.nodes import Ground
    from abluent.engine.proof.suppose import Gain, Turn
    from abluent.engine.questions.world.world import World

LOOKED_AT = 60
"""The most products that are judged; their verdicts grow with the square."""

READ = 400
"""The most labels that are read anew to see whether their names read differently."""

_REASONS = 4
_EDGES = 4
_ANSWERS = (LEAVES, VERDICT, CONTESTED)
_SETTLES = "A claim of higher standing, or a narrower one of the same, would settle it"


@dataclass(frozen=True)
class Effect:
    """One thing that follows after a change and did not before, or the other way.

    Args:
        sentence: what becomes of it.
        reasons: the steps in which the two bases part.
    """

    sentence: str
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class Effects:
    """What a change does to a shelf.

    Args:
        readings: the names on labels that read differently.
        answers: what follows differently.
        judged: how many products were judged, of how many.
    """

    readings: tuple[Effect, ...]
    answers: tuple[Effect, ...]
    judged: tuple[int, int]


def effects(before: World, after: World, symbols: Iterable[str]) -> Effects:
    """Compare what follows on a shelf before and after a change of the base.

    Args:
        before: the base, the rules and the shelf as they are.
        after: the same shelf over the base with the addition.
        symbols: what the addition describes; a film among it is asked about even
            where no product has it.
    """
    names = list(before.products)
    readings = tuple(_readings(before, after, names[:READ]))
    chosen = _chosen(after, names, set(symbols))
    washes = [name for name in chosen if _cleans(after, name)]
    old = Case.of(before, washes, _films(before, symbols), chosen)
    new = Case.of(after, washes, _films(after, symbols), chosen)
    answers = (*_answers(old, new), *_refuted(old, new))
    return Effects(readings, answers, (len(chosen), len(names)))


def _cleans(world: World, name: str) -> bool:
    kind = product_kind(world.products[name].kind, world.base)
    return kind in cleaning_kinds(world.base)


def _films(world: World, symbols: Iterable[str]) -> list[str]:
    base = world.base
    film = base.term(Role.FILM)
    known = [s for s in symbols if s in base and not base.is_class(s)]
    return [s for s in known if film in base.classes_of(s)]


def _chosen(world: World, names: Sequence[str], symbols: set[str]) -> list[str]:
    """Return the products to judge: those that list what was added first."""
    if len(names) <= LOOKED_AT:
        return list(names)
    listing = [
        name
        for name in names[:READ]
        if symbols.intersection(r.ingredient or "" for r in world.read(name).readings)
    ]
    return list(dict.fromkeys([*listing, *names]))[:LOOKED_AT]


def _readings(before: World, after: World, names: Iterable[str]) -> Iterator[Effect]:
    seen = set()
    for name in names:
        old = {r.printed: r for r in before.read(name).readings}
        for reading in after.read(name).readings:
            was = old.get(reading.printed)
            now = _reads(after, reading.ingredient, reading.classes)
            then = _reads(before, was.ingredient, was.classes) if was else ""
            if was is not None and now != then and reading.printed not in seen:
                seen.add(reading.printed)
                how = f"“{reading.printed}” reads as {now}; it read as {then}"
                yield Effect(how, (f"It is on the label of {name}.",))


def _reads(world: World, ingredient: str | None, classes: Sequence[str]) -> str:
    if ingredient:
        return world.base.label(ingredient)
    return world.base.label(classes[0]) if classes else "nothing known"


def _answers(old: Case, new: Case) -> Iterator[Effect]:
    from abluent.engine.proof.knowledge import Knowledge
    from abluent.engine.proof.suppose import difference

    before, after = Knowledge.of(old.model), Knowledge.of(new.model)
    found = difference(before, after, _ANSWERS)
    lost = {_about(gain.goal): gain for gain in found.lost}
    for gain in found.gained:
        was = lost.pop(_about(gain.goal), None)
        settles = (_SETTLES,) if gain.goal[0] == CONTESTED else ()
        because = (*_because(new, old, gain), *settles)
        yield Effect(_turned(new, gain.goal, was), because)
    for gain in lost.values():
        said = _capital(_said(old, gain.goal))
        yield Effect(f"No longer: {said}", _because(old, new, gain))


def _refuted(old: Case, new: Case) -> Iterator[Effect]:
    """The edges of the order that no longer hold for some film, a few by name."""
    if REFUTED not in new.world.program.arities:
        return
    pattern = (None,) * new.world.program.arities[REFUTED]
    found = set(new.model.match(REFUTED, pattern)) - {
        *old.model.match(REFUTED, pattern)
    }
    said = sorted({_capital(_said(new, (REFUTED, row))) for row in found})
    for each in said[:_EDGES]:
        yield Effect(f"Refuted: {each[:1].lower()}{each[1:]}")
    if len(said) > _EDGES:
        yield Effect(f"{len(said) - _EDGES} more steps of the order are refuted")


def _about(goal: Ground) -> Ground:
    """Return a goal without the verdict in it, which is what may turn."""
    predicate, args = goal
    return (predicate, args[:-1]) if predicate == VERDICT else goal


def _turned(case: Case, goal: Ground, was: Gain | None) -> str:
    said = _capital(_said(case, goal))
    if was is None or goal[0] != VERDICT:
        return said
    moved = _moved(case, str(was.goal[1][-1]), str(goal[1][-1]))
    return f"{said} (it was: {in_words(str(was.goal[1][-1]))}{moved})"


def _moved(case: Case, old: str, new: str) -> str:
    """Which ends of a verdict move, and how, in words."""
    known, base = case.world.known, case.world.base
    then, now = (ENDS[known.verdict_roles[each]] for each in (old, new))
    return "".join(
        f"; at {end} {base.label(base.term(now[at]))}, "
        f"not {base.label(base.term(then[at]))}"
        for at, end in enumerate(("least", "most"))
        if then[at] is not now[at]
    )


def _said(case: Case, goal: Ground) -> str:
    predicate, args = goal
    if predicate == VERDICT:
        phrases = case.world.known.phrases
        wash, film, source = (phrases(each) for each in args[:3])
        origin = "" if args[2] == case.world.known.any_product else f" from {source}"
        return f"{wash}, {film}{origin}: {in_words(str(args[3]))}"
    return case.world.known.sentences.claim(predicate, args)


def _because(here: Case, there: Case, gain: Gain) -> tuple[str, ...]:
    asides = here.world.known.asides
    told: dict[str, None] = {}
    for turn in gain.turns:
        told |= dict.fromkeys(_step(here, there, turn, asides))
    return tuple(list(told)[:_REASONS])


def _step(here: Case, there: Case, turn: Turn, asides: frozenset[str]) -> Iterator[str]:
    """Say in words at which step one side does not follow the other."""
    from abluent.engine.proof.nodes import FactNode
    from abluent.engine.proof.origins import QUESTION
    from abluent.engine.proof.proofs import basis_of

    if turn.against is not None:
        nodes = turn.against.nodes.values()
        about = [str(n.fact.args[0]) for n in nodes if isinstance(n, FactNode)]
        claims = [s for s in about if s not in here.world.base]
        yield from _statements(there, claims)
        yield _capital(there.world.known.sentences.node(turn.against.root))
        return
    basis = basis_of(turn.node)
    if basis is not None and basis.sources and asides.issuperset(basis.sources):
        return
    if isinstance(turn.node, FactNode):
        if turn.node.fact.basis.origin == QUESTION:
            return
        stated = list(_statements(here, [str(turn.node.fact.args[0])]))
        if stated:
            yield from stated
            return
    yield _capital(here.world.known.sentences.node(turn.node))


def _statements(case: Case, symbols: Iterable[str]) -> Iterator[str]:
    """Return what claims state, in place of each single thing recorded of them."""
    base = case.world.base
    for symbol in dict.fromkeys(symbols):
        if symbol in base and base.record(symbol).space == "claim":
            yield base.label(symbol)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
