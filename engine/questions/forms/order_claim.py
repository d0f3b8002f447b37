"""Is it true that some washes are milder, or stronger, than others: by one pair.

What speaks for the claim is told before what only speaks against it, and of the pairs
the one of which most is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from abluent.engine.questions.answers.answer import PROVEN, REFUTED, Answer, Row
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.best_known import how_well_known
from abluent.engine.questions.answers.verdicts import TAKES, Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q

_NOTHING = "Cannot tell: nothing here compares them so."
_TRUTH = {PROVEN: True, REFUTED: False}


def of_order(  # noqa: PLR0913 - a claim, and what decides it
    judge: Judge,
    query: str,
    claim: str,
    said: q.Differs,
    ordered: Sequence[tuple[Item, Judged]],
    *,
    some: bool,
) -> Answer:
    """The answer to a claim of how some washes stand to others.

    Args:
        judge: knows the washes.
        query: the question in the language's own wording.
        claim: how it was judged.
        said: what is claimed.
        ordered: what decides, the best first.
        some: whether it is claimed of some washes, so that one is enough.
    """
    told: list[tuple[bool, int, Item, list[Row]]] = []
    for item, judged in ordered:
        own = judge.world.symbol(judge.removal.as_wash(item))
        pairs: dict[tuple[object, ...], list[Row]] = {}
        for row in judged.rows:
            pairs.setdefault(tuple(row.goal[1][:2]), []).append(row)
        for pair, rows in pairs.items():
            told.append((pair[0] != own, -len(rows), item, rows))
    members = [item for item, _ in ordered]
    against = not told or min(told, key=lambda each: each[:2])[0]
    if some and against and claim not in _TRUTH:
        if found := _film_by_film(judge, said, members):
            text, rows = found
            return Answer(query, text, rows, members=members, claim=claim)
    if not told:
        return Answer(query, _NOTHING, members=members, claim=claim)
    _, _, first, rows = min(told, key=lambda each: each[:2])
    members = [first, *(item for item in members if item != first)]
    statement = q.Statement(q.Name(first.key), said)
    truth = _TRUTH.get(claim)
    if said.strength is q.Strength.STRONGER:
        text = judge.strength.sentence(statement, truth, rows)
    else:
        text = judge.mildness.sentence(statement, truth, rows)
    if truth is None and against:
        other = text.partition(": ")[2]
        text = f"Cannot tell: nothing here shows it, and the other way round {other}"
    witness = judge.nouns.title(first)
    return Answer(query, text, rows, members=members, claim=claim, witness=witness)


def _film_by_film(
    judge: Judge, said: q.Differs, items: Sequence[Item]
) -> tuple[str, list[Row]] | None:
    """A film of which a wash surely takes part, and another perhaps takes none.

    Of the pairs that of which this is so of most films, and of these the best known.
    """
    if said.strength is not q.Strength.STRONGER:
        return None
    others = judge.terms.items(said.object, PRODUCT)
    names = [item.key for item in (*items, *others) if item.kind == PRODUCT]
    every = q.Clears(q.Quantified(q.Quantity.EVERY, q.Thing()))
    found = judge.removal.verdicts(list(dict.fromkeys(names)), every)
    of = {name: {row.film: row for row in rows} for name, rows in found.items()}
    best: list[tuple[Verdict, Verdict]] = []
    for one, two in product(items, others):
        mine, its = of.get(one.key, {}), of.get(two.key, {})
        pairs = [
            (row, its[film])
            for film, row in mine.items()
            if film in its and not telling_end(row) and telling_end(its[film])
        ]
        best = pairs if one != two and len(pairs) > len(best) else best
    if not best:
        return None
    base = judge.world.base

    def known(pair: tuple[Verdict, Verdict]) -> tuple[bool, int]:
        return not any(r.contested for r in pair), how_well_known(base, pair[0].film)

    row, other = max(best, key=known)
    film = base.label(row.film)
    text = (
        f"Film by film, yes: {row.wash} takes {TAKES[row.role]} of {film}, of which "
        f"{other.wash} takes {TAKES[other.role]}. Over all films nothing "
        "here compares them."
    )
    return text, [row, other]
