"""Products that are no washes side by side: what both leave, and what only one does."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.folded_words import by_class
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.rows import how_sure
from abluent.engine.questions.answers.verdicts import Left
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import Item
from abluent.grammar.common.record import replace

_BY_NAME = 8
"""So many films are told by name; more, by their classes."""


def compare_left(
    judge: Judge, items: Sequence[Item], parts: Sequence[Answer], text: str
) -> Answer:
    """What some products leave in common, and each by itself.

    Args:
        judge: names the things.
        items: the products.
        parts: what each leaves, as an answer of its own.
        text: the question in the language's own wording.
    """
    base, title = judge.world.base, judge.nouns.title
    left = {
        item: {row.film for row in part.rows if isinstance(row, Left)}
        for item, part in zip(items, parts, strict=True)
    }
    every = list(
        dict.fromkeys(
            row.film for part in parts for row in part.rows if isinstance(row, Left)
        )
    )
    made = Answer(text, "", members=items, compared=parts)
    if not every:
        none = "Neither is" if len(items) == 2 else "None of them is"
        return replace(made, sentence=f"{none} known to leave a film of its own.")
    shared = set.intersection(*left.values()) if len(items) > 1 else set()

    def said(films: set[str]) -> str:
        some = [each for each in every if each in films]
        if len(some) > _BY_NAME:
            return by_class(base, some, every)
        return listed([base.label(each) for each in some])

    told = []
    if shared:
        both = "Both leave" if len(items) == 2 else "All leave"
        told.append(f"{both} {said(shared)}.")
    for item, films in left.items():
        others = set[str]().union(*(left[each] for each in items if each != item))
        if own := films - others - shared:
            told.append(f"Only {title(item)} leaves {said(own)}.")
    some = set(every) - shared
    alone = {f for f in some if sum(f in films for films in left.values()) == 1}
    if between := [f for f in every if f in some - alone]:
        told.append(f"Some of them leave {listed([base.label(f) for f in between])}.")
    if not shared and len(items) == 2 and all(left.values()):
        told.insert(0, "They leave nothing in common.")
    rows = [row for part in parts for row in part.rows if isinstance(row, Left)]
    unsure = [row for row in rows if not row.sure]
    if unsure:
        perhaps = listed([f"{base.label(r.film)} ({r.source})" for r in unsure])
        told.append(f"Not sure is {perhaps}.")
    sure = Finding("sure", how_sure(rows).rstrip("."))
    return replace(made, sentence=" ".join(told), findings=[sure])
