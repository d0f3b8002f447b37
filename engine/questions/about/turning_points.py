"""What would turn an answer, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from abluent.engine.base.contract import SET_ASIDE
from abluent.engine.base.roles import Role
from abluent.engine.questions.about.other_conditions import under_conditions
from abluent.engine.questions.about.supports import enough_alone, needed
from abluent.engine.questions.about.tipping_level import tipping_levels
from abluent.engine.questions.about.trials import (
    CONTRADICTED,
    NO_RULE,
    UNKNOWN,
    Obstacle,
    hangs_on,
    obstacles,
    repairs,
    struck_out,
    turning_sources,
)
from abluent.engine.questions.answers.account import account
from abluent.engine.questions.answers.answer import Finding, Row
from abluent.engine.questions.answers.explained import Explained, Lacking
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.turns import turning_of
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.world import WATER, World
from abluent.grammar.common.text import as_sentence

_HOW = {
    UNKNOWN: "whether it takes all is not known here",
    CONTRADICTED: "it is known to take less",
    NO_RULE: "nothing here speaks of it and such a film",
}


def how_sure(world: World, row: Row) -> str:
    """How sure a row is, on what it turns and what is in doubt, in sentences."""
    told = f"{sureness(world, [row])}{as_sentence(row_phrase(world, row))}"
    if row.from_memory:
        told += " The source was not read again for it."
    if isinstance(row, Verdict) and row.disputed:
        told += " Sources of equal rank disagree on it."
    return told[:1].upper() + told[1:]


def sureness(world: World, rows: Sequence[Row]) -> str:
    """How sure the least sure of some rows is, as a sentence with a space after it."""
    stands = {row.standing for row in rows if row.standing}
    if not stands:
        return "It is read off labels. " if rows else ""
    base = world.base
    least = min(stands, key=lambda each: base.record(each).number("rank") or 0)
    said = base.record(least).text("howSure") or f"It stands as {base.label(least)}"
    return f"{said}. "


def turns_on(row: Row) -> str:
    """The step on which a row turns, as a sentence; empty if it rests on none."""
    step = turning_of(row).words if isinstance(row, Verdict) else ""
    step = step or next(iter(row.weakest), "")
    return as_sentence(step) if step else ""


def needed_lines(judge: Judge, row: Verdict) -> Iterator[Finding]:
    """Which lines must stand on a label for a verdict, one or another of them."""
    items = []
    for trial in struck_out(judge, row):
        names = " or ".join(trial.lines)
        said = row_phrase(judge.world, trial.verdict)
        said = said.replace(trial.verdict.wash, "it").removesuffix(".")
        items.append(f"{names} is on its label: without, {said}.")
    if not items and (any_of := enough_alone(row)):
        names = " or ".join(judge.world.base.label(each) for each in any_of)
        items.append(f"{names} does its work there: each by itself is enough.")
    if items:
        yield Finding(
            "lines", f"Of the label of {row.wash} it needs this", tuple(items)
        )


def what_turns(judge: Judge, row: Row) -> Iterator[Finding]:
    """What a row hangs on: its claims or facts, its lines and its sources."""
    if isinstance(row, Verdict):
        yield from _verdict_turns(judge, row)
    elif not isinstance(row, Lacking):
        yield needed(row)
    if not (isinstance(row, Verdict) and row.role is Role.OPEN):
        yield _sources(judge.world, row)


_UNTURNED = "Whichever line is missing, or whichever two, it stays as it is."
_TRIED = "If the label lacked a line (each was struck out and judged)"


def without_lines(judge: Judge, row: Verdict) -> list[Finding]:
    """The lines of a label without which a verdict changes; none if there are none."""
    lines = []
    for trial in struck_out(judge, row):
        said = row_phrase(judge.world, trial.verdict)
        said = said.replace(trial.verdict.wash, row.wash)
        lines.append(f"{trial.change[:1].upper()}{trial.change[1:]}: {said}.")
    return [Finding("lines", _TRIED, tuple(lines))] if lines else []


def _verdict_turns(judge: Judge, row: Verdict) -> Iterator[Finding]:
    world = judge.world
    phrase = row_phrase(world, row)
    claims = [as_sentence(world.base.label(claim)) for claim in hangs_on(row)]
    if claims:
        yield Finding("claims", f"{_first(phrase)} only if this is so", tuple(claims))
    yield from _open_end(row)
    lines = without_lines(judge, row)
    yield from lines or [Finding("lines", _TRIED, (_UNTURNED,))]
    if not lines and ENDS[row.role][0] is Role.NONE_OF_IT:
        yield from _added(judge, row)
    for found in (under_conditions(row), tipping_levels(row)):
        if found is not None:
            yield found


def _added(judge: Judge, row: Verdict) -> Iterator[Finding]:
    """The changes of a label after which a wash surely takes more."""
    told = tuple(
        as_sentence(row_phrase(judge.world, trial.verdict))
        for trial in repairs(judge, row)
    )
    if told:
        head = "With another label (each was judged), those that change least first"
        yield Finding("repairs", head, told)


_FIRST: Mapping[str, str] = {
    "lines": "One line less on the label would",
    "repairs": "Another label would",
    "conditions": "Washing otherwise would",
    "open end": "A measurement would",
    "claims": "Better evidence against one claim would",
}
"""What would change an answer, by the kind of finding, the nearest at hand first."""


def what_first(found: Sequence[Finding]) -> str:
    """What would change an answer, the nearest at hand, in a sentence."""
    of = {each.kind: each for each in found}
    for kind, head in _FIRST.items():
        items = of[kind].items if kind in of else ()
        if items and items[0] != _UNTURNED:
            return f"{head} change it. {items[0]}"
    return "Nothing that was tried here would change it."


def _open_end(row: Verdict) -> Iterator[Finding]:
    """What would settle the end of a verdict that nothing bounds."""
    least, most = ENDS[row.role]
    if least is most or row.disputed:
        return
    film = row.case.world.base.label(row.film)
    asked = []
    if least is Role.NONE_OF_IT:
        asked.append(f"whether it takes any of {film} at all")
    if most is Role.ALL_OF_IT:
        asked.append(f"whether it takes all of {film}")
    if unread := _unread(row):
        yield Finding("unread", "To know more, find out what this is", unread)
    told = as_sentence(f"{listed(asked)}, measured with {row.wash}")
    yield Finding("open end", "What would settle it", (told,))


def _unread(row: Verdict) -> tuple[str, ...]:
    """The lines of the label of a wash that were not read."""
    if row.wash == WATER:
        return ()
    readings = row.case.world.read(row.wash).readings
    names = [each.printed for each in readings if each.symbol is None]
    return tuple(as_sentence(f"`{name}`, on the label of {row.wash}") for name in names)


def _sources(world: World, row: Row) -> Finding:
    works, exact = turning_sources(row)
    head = "It would fall with this work"
    told = [
        as_sentence(listed([world.base.label(name).rstrip(".") for name in names]))
        for names in works
    ]
    return Finding(
        "sources",
        head,
        tuple(told or ["None alone: without each of them, others say the same."]),
        exact,
    )


def what_mends(judge: Judge, row: Verdict) -> Iterator[Finding]:
    """Why a wash does not clear a film, and the least after which it takes more."""
    if row.gone:
        yield Finding("holds", f"It does: {row_phrase(judge.world, row)}")
        return
    yield from _idle(row)
    said = {step.text for step in account(row, whole=True)}
    for found in map(_obstacle, _alike(judge.world, obstacles(row))):
        if found.kind != CONTRADICTED or not said.issuperset(found.items):
            yield found
    mended = repairs(judge, row)
    told = [
        as_sentence(f"{row_phrase(judge.world, trial.verdict)} (tried)")
        for trial in mended
    ]
    none = "No single change of its label that was tried would take more for certain."
    head = "Changes of the label, those that change least first"
    yield Finding("repairs", head, tuple(told or [none]))


def _idle(row: Verdict) -> Iterator[Finding]:
    """What the wash lists and cannot count on."""
    asides = sorted(row.case.model.match(SET_ASIDE, (row.goal[1][0], None)))
    for args in asides:
        reasons = Explained(row.case, (SET_ASIDE, args)).reasons
        agent = row.case.world.base.label(str(args[1]))
        head = f"{agent}: it does no work there, as far as the label shows"
        yield Finding(CONTRADICTED, head, reasons[-2:])


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _alike(
    world: World, found: Iterable[Obstacle]
) -> Iterator[tuple[list[str], Obstacle]]:
    """Agents for which the same is to be said, together."""
    groups: dict[tuple[str, tuple[str, ...]], tuple[list[str], Obstacle]] = {}
    for each in found:
        names, _ = groups.setdefault((each.how, each.claims), ([], each))
        names.append(world.base.label(each.agent))
    for names, each in groups.values():
        claims = tuple(as_sentence(world.base.label(claim)) for claim in each.claims)
        yield names, Obstacle(each.agent, each.how, claims)


def _obstacle(group: tuple[list[str], Obstacle]) -> Finding:
    names, each = group
    return Finding(each.how, f"{listed(names)}: {_HOW[each.how]}", each.claims)
