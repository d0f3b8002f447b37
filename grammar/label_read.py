"""Reading a label: text to places, notes and gaps that tile it.

The steps: make the text plain (`label_clean`), cut it at its headings
(`label_sections`), cut the lists at their separators (`label_cut`), drop sentences
that are no list, and parse every place (`label_place`). Each takes time linear in
the text, and none of them refuses a text.
"""

from __future__ import annotations

from functools import lru_cache

from abluent.grammar.label_breaks import settle_breaks
from abluent.grammar.label_clean import clean
from abluent.grammar.label_cut import Cutter
from abluent.grammar.label_items import Collector
from abluent.grammar.label_names import Namer, Nobody
from abluent.grammar.label_place import place_parser
from abluent.grammar.label_sections import LISTS, Part, brackets, parts
from abluent.grammar.label_sentences import Judge
from abluent.grammar.label_tree import Label
from abluent.grammar.label_words import LabelWords, shadow

_parser = lru_cache(maxsize=8)(place_parser)


def read_label(text: str, words: LabelWords, namer: Namer | None = None) -> Label:
    """Read the text of a label.

    Args:
        text: any text, as pasted, scanned or saved.
        words: the words of headings, footnotes and talk.
        namer: tells names where the text may be cut in two ways.

    Returns:
        The label; its items, notes and gaps tile the text.
    """
    namer = namer or Nobody()
    cleaned = settle_breaks(clean(text), namer)
    low = shadow(cleaned.text)
    pairs = brackets(cleaned.text)
    cutter = Cutter(cleaned.text, words, namer, pairs)
    judge = Judge(cleaned.text, low, words, namer)
    collector = Collector(text, cleaned, _parser(words), words, namer)
    for part in parts(cleaned.text, low, words, namer, pairs):
        if part.heading[0] < part.heading[1]:
            collector.note("heading", *part.heading)
            if part.kind == "list" and part.at_most is None:
                collector.begin()
        if part.kind not in LISTS:
            _note_whole(collector, cleaned.text, part)
            continue
        first = True
        opening = part.heading[1] == 0
        for sentence in judge.sentences(cutter.cut(part.start, part.end)):
            for kind, start, end in judge.verdicts(sentence, first, first and opening):
                if kind:
                    collector.note(kind, start, end)
                else:
                    collector.place(start, end, part.kind, part.at_most)
            first = False
    return collector.label()


def _note_whole(collector: Collector, plain: str, part: Part) -> None:
    body = plain[part.start : part.end]
    start = part.start + len(body) - len(body.lstrip())
    end = part.start + len(body.rstrip())
    if start < end:
        collector.note(part.kind, start, end)
