"""Reading a label: text to places, notes and gaps that tile it.

The steps: make the text plain (`clean`), cut it at its headings
(`sections`), cut the lists at their separators (`cut`), drop sentences
that are no list, and parse every place (`place`). Each takes time linear in
the text, and none of them refuses a text.
"""

from __future__ import annotations

from functools import lru_cache

from abluent.grammar.label.breaks import settle_breaks
from abluent.grammar.label.clean import clean
from abluent.grammar.label.cut import Cutter, Fragment
from abluent.grammar.label.edges import Edges
from abluent.grammar.label.items import Collector
from abluent.grammar.label.names import Namer, Nobody
from abluent.grammar.label.place import place_parser
from abluent.grammar.label.sections import LISTS, Part, brackets, parts
from abluent.grammar.label.sentences import Judge
from abluent.grammar.label.tree import Label
from abluent.grammar.label.words import LabelWords, shadow

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
    edges = Edges(cleaned.text, judge)
    pieces = [
        (part, _fragments(part, cutter, edges))
        for part in parts(cleaned.text, low, words, namer, pairs)
    ]
    listed = max((edges.names(fragments) for _, fragments in pieces), default=0)
    for part, fragments in pieces:
        if part.heading[0] < part.heading[1]:
            collector.note("heading", *part.heading)
            if part.kind == "list" and part.at_most is None:
                collector.begin()
        if part.kind not in LISTS:
            _note(collector, cleaned.text, part.kind, part.start, part.end)
        elif part.kind == "list" and listed > 1 and not edges.names(fragments):
            _note(collector, cleaned.text, "aside", part.start, part.end)
        elif fragments:
            _read_list(part, fragments, edges, judge, collector)
    return collector.label()


def _fragments(part: Part, cutter: Cutter, edges: Edges) -> list[Fragment]:
    """The fragments of a list; of what is none, nothing."""
    if part.kind not in LISTS:
        return []
    found = cutter.cut(part.start, part.end, rows=part.kind == "active")
    return list(edges.introduced(found, part.heading[1] == 0))


def _read_list(
    part: Part,
    fragments: list[Fragment],
    edges: Edges,
    judge: Judge,
    collector: Collector,
) -> None:
    opening = part.heading[1] == 0
    runs_on = not opening and judge.in_line(part.heading[1], fragments[0].start)
    low, high, inner = edges.trimmed(fragments, opening or runs_on)
    if low:
        collector.note("before", fragments[0].start, fragments[low - 1].end)
    first = True
    before = fragments[low].start
    leads = {(f.start, f.end) for f in inner if f.leads}
    for sentence in judge.sentences(inner):
        for kind, start, end in judge.verdicts(sentence, first, first and opening):
            if kind or (start, end) in leads:
                collector.note(kind or "aside", start, end)
            else:
                last = end == sentence[-1][1] and judge.in_line(before, start)
                collector.place(start, end, part.kind, part.at_most, last=last)
            before = end
        first = False
    if high < len(fragments):
        collector.note("prose", fragments[high].start, fragments[-1].end)


def _note(collector: Collector, plain: str, kind: str, start: int, end: int) -> None:
    body = plain[start:end]
    end = start + len(body.rstrip())
    start += len(body) - len(body.lstrip())
    if start < end:
        collector.note(kind, start, end)
