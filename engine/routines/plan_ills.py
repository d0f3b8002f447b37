"""What a plan leaves to build up: for each film what would have to be among its washes.

A film builds up where no wash of a plan can take any of it, and may where none surely
takes any. Either counts one against a plan; so does each of a wash that leaves a film
itself, where it is used.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.questions.world.world import WATER
from abluent.engine.routines.amounts import Shares
from abluent.engine.routines.buildup import Effects, Film
from abluent.engine.routines.plan_problem import Ill, slots_of
from abluent.engine.routines.routine import Schedule


def ills(
    days: Schedule, effects: Effects, washes: Sequence[str], shares: Shares
) -> Mapping[Ill, int]:
    """What counts against a plan, and how often.

    Args:
        days: the uses; what its washes are is open.
        effects: what the products leave and the washes do.
        washes: what may stand in a slot.
        shares: what the washes take.
    """
    return Counter(_each(days, effects, washes, shares))


def _each(
    days: Schedule, effects: Effects, washes: Sequence[str], shares: Shares
) -> Iterator[Ill]:
    slots = slots_of(days)
    every = frozenset(range(len(slots)))
    chosen = {use.place for use in slots}
    fixed = [use for use in days.uses if use.place not in chosen]
    first: dict[Film, int] = {}
    for use in days.uses:
        own = effects.left.get(WATER, ()) if use.place in chosen else None
        for film in effects.leaves(use) if own is None else own:
            first.setdefault(film, use.place)
    for film, place in first.items():
        after = [u for u in fixed if days.turns or u.place > place]
        takers = [u.product for u in after if effects.takes(u, film)]
        later = (n for n in every if days.turns or slots[n].place > place)
        yield from _of(film, "", frozenset(later), takers, (effects, washes, shares))
    others = [use for use in fixed if use.wash]
    for wash in washes:
        for film in effects.left.get(wash, ()):
            takers = [use.product for use in others]
            yield from _of(film, wash, every, takers, (effects, washes, shares))


def _of(
    film: Film,
    wash: str,
    slots: frozenset[int],
    takers: Sequence[str],
    known: tuple[Effects, Sequence[str], Shares],
) -> Iterator[Ill]:
    """The two that one film may be, but for what a use that is no slot meets."""
    effects, washes, shares = known
    if film in effects.level or effects.goes(film):
        return
    if not any(shares.of(each, film).most for each in takers):
        able = (w for w in washes if shares.of(w, film).most)
        yield Ill(wash, slots, frozenset(able))
    if not any(shares.of(each, film).least for each in takers):
        able = (w for w in washes if shares.of(w, film).least)
        yield Ill(wash, slots, frozenset(able))
