"""What is told before any wash: what notes call for, and what is not counted."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.signs import Sign
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.engine.routines import noted as notes
from abluent.engine.routines import overview
from abluent.engine.routines.buildup import BuildUp, Effects
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import Overview
from abluent.engine.routines.routine import Schedule
from abluent.grammar.routine import tree as ast
from abluent.shell.routine.beliefs import beliefs

_REMEMBERED = "(What is said to your note: common practice, no source.)"


def noted(routine: ast.Routine, base: Base) -> Iterator[str]:
    """The cautions that the notes and the name of a routine call for."""
    for sign in notes.noted(routine, base):
        yield f"Your note says `{sign.words}`. {sign.text}"


def to_questions(then: Overview, routine: ast.Routine, world: World) -> Iterator[str]:
    """What meets a belief or a question of the notes and the name of a routine."""
    advised = _to_notes(then, routine, world)
    yield from (sign.text for sign in advised if sign.first)
    yield from (each.answer for each in beliefs(routine, advised, world))


def to_notes(found: Accounted, world: World) -> Iterator[str]:
    """What else is advised to the notes and the name, then what all of it rests on."""
    advised = _to_notes(found.overview, found.routine, world)
    yield from (sign.text for sign in advised if not sign.first)
    said = beliefs(found.routine, advised, world)
    told = [*(sign.caution for sign in advised), *(each.symbol for each in said)]
    rests = (world.base.record(each).basis for each in told)
    if any(basis.from_memory for basis in rests):
        yield _REMEMBERED


def _to_notes(then: Overview, routine: ast.Routine, world: World) -> list[Sign]:
    films = {each.film.former for each in then.told}
    return notes.advised_to(routine, world.base, films)


def if_coated(routine: ast.Routine, base: Base) -> str:
    """On what condition hair is washed harder: if it feels coated, or as it does."""
    word = notes.coated(routine, base)
    return (
        f"as your note says `{word}`" if word else "only if hair comes to feel coated"
    )


# --- what is not counted --------------------------------------------------------------


def uncounted(days: Schedule, effects: Effects, world: World) -> Iterator[str]:
    """Which products are not counted, and what would let them be."""
    names = overview.uncounted(days, effects, world)
    if names:
        them, its = ("it", "its kind") if len(names) == 1 else ("them", "their kinds")
        verb = "leaves" if len(names) == 1 else "leave"
        yield (
            f"What {listed(names)} {verb} is not counted: the shelf has {them} as "
            f"`other`. Give {its} there, such as leave-in, oil or styler, and ask "
            "again."
        )


def unlisted(routine: ast.Routine) -> Iterator[str]:
    """Which products have no list or are not at hand, and so are left out."""
    if absent := list(routine.absent):
        verb, its = ("is", "its list") if len(absent) == 1 else ("are", "their lists")
        yield (
            f"{listed(absent)} {verb} not on the shelf and left out here: what is said "
            f"is said of the rest; add {its} and ask again."
        )
    if names := list(routine.unlisted):
        its = "its" if len(names) == 1 else "their"
        yield (
            f"Nothing can be said of {listed(names)} without {its} list of "
            f"ingredients, and what is said here is said of the rest: ask {its} maker "
            "for it."
        )


def well_of(built: BuildUp, world: World) -> str:
    """That nothing that is left needs a wash, but for what is not counted."""
    dark = overview.uncounted(built.schedule, built.effects, world)
    them = "nothing else" if dark else "nothing"
    known = " is known to need" if dark else " needs"
    return f"{them} that this routine leaves{known} a wash"
