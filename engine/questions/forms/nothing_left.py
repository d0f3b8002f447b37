"""That a product is not known to leave what a question asks to take off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q


def nothing_left(
    judge: Judge, said: q.Clears, text: str, notes: Sequence[str] = ()
) -> Answer:
    """Say so, and which mixture that the product leaves holds what was asked about.

    Args:
        judge: judges the question.
        said: what was asked, of films from a product that leaves none of them.
        text: the question in the language's own wording.
        notes: what a reader should know about the labels.
    """
    if said.source is None:
        return Answer(text, "Nothing is left that was asked about.", notes=notes)
    items = judge.terms.items(said.source, PRODUCT)
    products = [item for item in items if item.kind == PRODUCT]
    source = " and ".join(judge.nouns.title(item) for item in products)
    if isinstance(said.object, q.Quantified):
        told = f"{source} is not known to leave anything, so there is nothing to take"
        return Answer(text, f"{told} off.", notes=notes)
    films = judge.terms.items(said.object, INGREDIENT)
    asked = listed([judge.nouns.title(film) for film in films]) or "that"
    told = f"{source} is not known to leave {asked}"
    mixtures = list(_mixtures(judge, products, films))
    if not mixtures:
        return Answer(text, f"{told}, so there is none of it to take off.", notes=notes)
    names = listed(mixtures)
    asks = f'ask for "{mixtures[0]}" from "{source}"'
    sentence = f"{told} by itself; it leaves {names}, which holds it: {asks}."
    return Answer(text, sentence, notes=notes)


def _mixtures(
    judge: Judge, products: Sequence[Item], films: Sequence[Item]
) -> Iterator[str]:
    """What some products leave that is a mixture of one of some films and others."""
    base = judge.world.base
    wanted = {film.key for film in films}
    case = Case.of(judge.world, sources=[item.key for item in products])
    for item in products:
        for left in films_left(case, item.key):
            if wanted.intersection(base.record(left.film).links("mixtureOf")):
                yield base.label(left.film)
