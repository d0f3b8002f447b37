"""What would turn an answer, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.questions.answers import Row
from abluent.engine.questions.judging import Judge
from abluent.engine.questions.probing import (
    CONTRADICTED,
    NO_RULE,
    Obstacle,
    hangs_on,
    obstacles,
    repairs,
    struck_out,
    support_count,
    turning_sources,
)
from abluent.engine.questions.verdicts import Verdict
from abluent.engine.questions.wording import listed, row_phrase
from abluent.engine.questions.world import World


def how_sure(world: World, row: Row) -> str:
    """The standing of a row, its weakest step and what is in doubt, in sentences."""
    stands = world.base.label(row.standing) if row.standing else "read from the label"
    memory = ", from memory" if row.from_memory else ""
    told = f"{row_phrase(world, row)}: stands as {stands}{memory}."
    if row.weakest:
        told += f" Its weakest step: {row.weakest[0]}"
    if isinstance(row, Verdict) and row.disputed:
        told += " Sources of equal rank part over it."
    return told[:1].upper() + told[1:]


def what_turns(judge: Judge, row: Verdict) -> Iterator[str]:
    """What a verdict hangs on: its lines, its claims and its sources."""
    world = judge.world
    sets, complete = support_count(row)
    whole = "all of them" if complete else "the search was cut short there"
    yield f"{row_phrase(world, row)}: {sets} smallest sets of facts yield it; {whole}."
    for claim in hangs_on(row):
        yield f"Every one of them needs the claim: {world.base.label(claim)}"
    for trial in struck_out(judge, row):
        yield f"{trial.change.capitalize()}: {row_phrase(world, trial.verdict)}."
    works, exact = turning_sources(row)
    sure = "" if exact else " (not all sets of works were tried)"
    for names in works:
        shown = listed([world.base.label(name).rstrip(".") for name in names])
        yield f"It falls without what rests on this alone: {shown}{sure}."
    if not works:
        yield f"It falls without no one work{sure}."


def what_mends(judge: Judge, row: Verdict) -> Iterator[str]:
    """Why a wash does not clear a film, and the least that would make it."""
    world = judge.world
    for each in obstacles(row):
        yield _obstacle(world, each)
    found = repairs(judge, row)
    for trial in found:
        yield f"It would clear it {trial.change} (tried)."
    if not found:
        yield "No single change of its label that was tried would make it clear it."


def _obstacle(world: World, each: Obstacle) -> str:
    agent = world.base.label(each.agent)
    if each.how == NO_RULE:
        return f"{agent}: no claim in this base speaks of it and such a film."
    said = " ".join(world.base.label(claim) for claim in each.claims)
    head = "the base says otherwise" if each.how == CONTRADICTED else "nobody knows"
    return f"{agent}: {head}. {said}"
