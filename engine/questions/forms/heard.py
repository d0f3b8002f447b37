"""Free speech, read for one world: the questions it can mean, which all resolve."""

from __future__ import annotations

from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.nouns import Nouns, UnknownName
from abluent.engine.questions.world.vocabulary import Vocabulary
from abluent.grammar.common.record import records, replace
from abluent.grammar.phrase.reading import Heard, Reading
from abluent.grammar.plain.read import read_plain
from abluent.grammar.query import tree as q
from abluent.grammar.speech.nearest import read_nearest
from abluent.grammar.speech.read import MOST, read_speech


def heard(text: str, vocabulary: Vocabulary) -> Heard:
    """Read a saying; what is offered has names that stand for something here.

    One that is worded as questions plainly are is read so, and only so; where a name
    in it was mended, what else it can be read as stands after that. Several questions
    in one line are its parts.
    """
    read = _unsaid(read_plain(text, vocabulary), vocabulary)
    together = len(read) if len(read) > 1 and all(each.sure for each in read) else 0
    asked = _resolved(Heard(read, parts=together), vocabulary)
    plain = asked.readings if asked.parts == together else ()
    if any(each.sure for each in plain) or len(plain) > 1:
        return Heard(plain, parts=together)
    found = _resolved(read_speech(text, vocabulary), vocabulary)
    known = {each.question for each in plain}
    others = (each for each in found.readings if each.question not in known)
    parts = 0 if plain else found.parts
    return replace(found, readings=(*plain, *others)[:MOST], parts=parts)


def _unsaid(
    readings: tuple[Reading, ...], vocabulary: Vocabulary
) -> tuple[Reading, ...]:
    """Readings without what was said to be so, where it is; what is not so stays."""
    unused = tuple(text for each in readings for text in each.unused)
    kept = [
        replace(each, unused=())
        for each in readings
        if not each.premise or not _is_so(each, vocabulary)
    ]
    if kept and unused:
        kept[0] = replace(kept[0], unused=unused)
    return tuple(kept)


def _is_so(reading: Reading, vocabulary: Vocabulary) -> bool:
    """Whether what a reading asks is answered with yes."""
    try:
        answer = ask(reading.query, vocabulary.nouns.world)
    except (Unanswerable, UnknownName):
        return False
    return answer.truth == "yes"


def nearest(text: str, vocabulary: Vocabulary) -> Heard:
    """What can be asked of what a line names, where nothing else was read of it."""
    return _resolved(read_nearest(text, vocabulary), vocabulary)


def _resolved(found: Heard, vocabulary: Vocabulary) -> Heard:
    kept = tuple(
        each for each in found.readings if resolves(each.query, vocabulary.nouns)
    )
    whole = kept[: found.parts] == found.readings[: found.parts]
    return replace(found, readings=kept, parts=found.parts if whole else 0)


def resolves(query: q.Query, nouns: Nouns) -> bool:
    """Whether every name of a question stands for something."""
    if isinstance(query, q.Saying):
        # It was found among those of the base.
        return True
    names = (each for each in records(query) if isinstance(each, q.Name))
    return all(nouns.knows(name.text) for name in names)
