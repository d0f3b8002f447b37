"""Why a folding is so: that every member was judged, and on what one of them rests."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.questions.answers.account import Step, account
from abluent.engine.questions.answers.folding import Folding
from abluent.engine.questions.answers.listing import listed


def grounds(each: Folding) -> tuple[Step, ...]:
    """The reasons of a folding: what its classes held, then the case of one member."""
    return (*_members(each), *account(each.first))


def _members(each: Folding) -> Iterator[Step]:
    base = each.first.case.world.base
    held = [
        f"{base.plural(name)} ({number})"
        for side in (each.washes, each.films)
        for name, number in side.whole.items()
    ]
    count = len(each.members)
    told = f"Each of the {count} was judged by itself, and all come out alike"
    if held:
        told += f"; all that is known today of {listed(held, 4)} was looked at"
    yield Step(f"{told}.")
    if count > 1:
        source = f" from {each.first.source}" if each.first.source else ""
        film = base.label(each.first.film)
        yield Step(f"Told of one of them, {each.first.wash} on {film}{source}:")
