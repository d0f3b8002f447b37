"""What people say, heard in the name and the notes of a routine, and what is so."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.conditions import is_note
from abluent.engine.base.sayings import Saying, sayings
from abluent.engine.base.signs import SIGN, Sign, word_of
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.engine.questions.world.world import World
from abluent.grammar.phrase.pieces import cut
from abluent.grammar.routine import tree as ast
from abluent.grammar.speech.sayings import heard_in

MOST = 2
"""How many sayings are met at most: whoever says more asks of them one by one."""


def beliefs(routine: ast.Routine, met: Sequence[Sign], world: World) -> list[Saying]:
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
    return list(found.values())[:MOST]


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
