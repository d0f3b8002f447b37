"""The last resort: what can be asked of what a line names, where nothing was read.

All of it is offered and none of it answered. A line that names something is heard so
only if it speaks of washing hair, of labels or of what is known of them; a line that
names nothing is told that nothing here settles it.
"""

from __future__ import annotations

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import nothing_known
from abluent.grammar.phrase.pieces import Lexicon, cut, tokens
from abluent.grammar.phrase.reading import LONGEST, Heard, Reading
from abluent.grammar.phrase.recast import recast
from abluent.grammar.speech.joining import guesses, offers
from abluent.grammar.speech.likely import GENERAL, weight
from abluent.grammar.speech.parting import is_name
from abluent.grammar.speech.ranking import ranked
from abluent.grammar.speech.read import MOST
from abluent.grammar.speech.unsettled import instead, matters_of, told

FEWEST = 4
"""How many words a line has at least that is taken for speech."""
_ENOUGH = 2.0
"""How much must tell that a line speaks of this at all."""


def is_speech(text: str) -> bool:
    """Whether a line looks like something said: several words."""
    words = [token for token in tokens(text) if token.sort == "word"]
    return len(words) >= FEWEST


def read_nearest(text: str, lexicon: Lexicon) -> Heard:
    """What can be asked of the things a line names, or that nothing settles it.

    Args:
        text: as typed; nothing else was read from it.
        lexicon: the names that can be meant.
    """
    text = text[:LONGEST]
    pieces = recast(cut(text, lexicon))
    named = {each.sense.text for each in pieces if each.sense and is_name(each)}
    spoken = matters_of(text, pieces, lexicon)
    settled = told(spoken) or nothing_known()
    if not named - GENERAL or weight(pieces, tokens(text), named) < _ENOUGH:
        return Heard((), settled)
    found = ranked(pieces, [*offers(pieces), *guesses(pieces)], (), every=True)
    asks = ranked(pieces, [*instead(pieces, spoken)], (), every=True)
    kept: dict[str, Reading] = {}
    ahead = [each for each in found if _names_two(each, named)]
    for each in [*ahead[:1], *asks, *found] if spoken else [*found, *asks]:
        kept.setdefault(each.question, replace(each, sure=False))
    offered = tuple([*kept.values()][:MOST])
    return Heard(offered, settled if spoken or not offered else "")


def _names_two(reading: Reading, named: set[str]) -> bool:
    """Whether a question speaks of two of the things named."""
    return sum(f'"{name}"' in reading.question for name in named) > 1
