"""Plain questions to exact ones: one by itself, or several in turn."""

from __future__ import annotations

from abluent.grammar.phrase.pieces import Lexicon
from abluent.grammar.phrase.reading import LONGEST, Reading
from abluent.grammar.plain.inturn import read_in_turn
from abluent.grammar.plain.sentences import sentences
from abluent.grammar.plain.whole import read_whole


def read_plain(text: str, lexicon: Lexicon) -> tuple[Reading, ...]:
    """Read a plain question; nothing is left aside, or nothing is read.

    Args:
        text: as typed.
        lexicon: the names that can be meant.

    Returns:
        The one reading, or all that are to be offered, or those that are asked
        together, which are sure; empty if there is none.
    """
    if len(text) > LONGEST:
        return ()
    alone = len(sentences(text)) < 2
    return read_whole(text, lexicon, freely=alone) or read_in_turn(text, lexicon)
