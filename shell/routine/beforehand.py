"""What is told before any wash: to notes and their sayings, and what is not counted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.conditions import is_note
from abluent.engine.base.sayings import Saying, sayings
from abluent.engine.base.signs import SIGN, Sign, word_of
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.engine.questions.world.world import World
from abluent.engine.routines import noted as notes
from abluent.engine.routines import overview
from abluent.engine.routines.buildup import BuildUp, Effects
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import Overview
from abluent.engine.routines.routine import Schedule
from abluent.grammar.phrase.pieces import cut
from abluent.grammar.routine import tree as ast
from abluent.grammar.speech.sayings import heard_in
from abluent.shell.routine.words import kinds

_REMEMBERED = "(What is said to your note: common practice, no source.)"
_MOST = 2
"""How many sayings are met at most: whoever says more asks of them one by one."""


def noted(
    routine: ast.Routine, base: Base, *, after: bool | None = None
) -> Iterator[str]:
    """The cautions that the notes and the name of a routine call for.

    Args:
        routine: the routine.
        base: the base.
        after: whether those that are told after what is advised, or before; none for
            all.
    """
    for sign in notes.noted(routine, base):
        if after in {None, sign.after}:
            yield f"Your note says `{sign.words}`. {sign.text}"


def to_questions(then: Overview, routine: ast.Routine, world: World) -> Iterator[str]:
    """What meets a belief or a question of the notes and the name of a routine."""
    advised = _to_notes(then, routine, world)
    yield from (sign.text for sign in advised if sign.first)
    yield from (each.answer for each in _beliefs(routine, advised, world))


def to_do_first(then: Overview, routine: ast.Routine, world: World) -> list[str]:
    """What is to be done to the notes and the name, before what else is advised."""
    return [each.text for each in _to_notes(then, routine, world) if each.to_do]


def to_notes(found: Accounted, world: World) -> Iterator[str]:
    """What else is advised to the notes and the name, then what all of it rests on."""
    advised = _to_notes(found.overview, found.routine, world)
    yield from (e.text for e in advised if not (e.first or e.to_do))
    said = _beliefs(found.routine, advised, world)
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


# --- what people say ---------------------------------------------------------------


def _beliefs(routine: ast.Routine, met: Sequence[Sign], world: World) -> list[Saying]:
    """The sayings of the base that a routine's name and notes tell, the name first.

    Args:
        routine: the routine.
        met: the advice that is given to its words already.
        world: the base and the shelf.
    """
    known = Vocabulary(Nouns(world, {}))
    by = {each.said: each for each in sayings(world.base)}
    found: dict[str, Saying] = {}
    for text in _told(routine, world):
        taken: list[tuple[int, int]] = []
        for each in heard_in(text, cut(text, known), known):
            if any(_meet(span, each.spans) for span in taken):
                continue
            taken += each.spans
            words = [text[start:end] for start, end in each.spans]
            if not _met(words, met, world):
                said = each.saying.said
                found.setdefault(said, by[said])
    return list(found.values())[:_MOST]


def _told(routine: ast.Routine, world: World) -> list[str]:
    """The name of a routine, and what it notes of somebody."""
    notes = [s for s in routine.washing if is_note(world.base, s.aspect)]
    told = [routine.name or "", *(f"{s.aspect} is {s.words}" for s in notes)]
    return [text for text in told if text]


def _met(words: Sequence[str], met: Sequence[Sign], world: World) -> bool:
    """Whether an advice answers some words already."""
    return any(word_of(world.base, e.caution, SIGN, words) for e in met if e.first)


def _meet(span: tuple[int, int], others: Sequence[tuple[int, int]]) -> bool:
    """Whether a stretch overlaps one of some others."""
    return any(span[0] < end and start < span[1] for start, end in others)


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


def without_its_list(found: Accounted, world: World) -> Iterator[str]:
    """What cannot be said where all that is washed with has no list."""
    films = [each.film for each in found.overview.told]
    what = kinds(films, world) if films else "what else is used"
    names = listed(list(found.routine.unlisted_washes))
    yield (
        f"What {names} takes of {what} cannot be known, and not whether it leaves "
        "something itself, so there is nothing to buy or to blame before its list is "
        "at hand. If hair feels coated meanwhile, one wash with a plain shampoo whose "
        "list is known, without silicone and cationic polymer, is a cheap test: hair "
        "that is better for some days had a film on it."
    )


def well_of(built: BuildUp, world: World) -> str:
    """That nothing that is left needs a wash, but for what is not counted."""
    dark = overview.uncounted(built.schedule, built.effects, world)
    them = "nothing else" if dark else "nothing"
    known = " is known to need" if dark else " needs"
    return f"{them} that this routine leaves{known} a wash"
