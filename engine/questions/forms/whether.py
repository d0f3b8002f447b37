"""Whether something is so: `does A clear B`, `is A a B`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import verdicts_sentence
from abluent.engine.questions.forms.notes import turning, unread
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q

_TRUTH = {True: "Yes", False: "No", None: "Open"}


def whether(judge: Judge, said: q.Statement, text: str) -> Answer:
    """Judge a statement.

    Args:
        judge: judges its predicate.
        said: the statement.
        text: the question in the language's own wording.
    """
    items = judge.terms.items(said.subject, place_of(said.predicate))
    judged = judge.judge(items, said.predicate)
    truths = [judged[item].truth for item in items]
    rows = tuple(row for item in items for row in judged[item].rows)
    truth = False if False in truths else None if None in truths else True
    notes = [*unread(judge, items, said.predicate), *turning(rows)]
    if not rows and isinstance(said.predicate, q.Clears):
        return _nothing_to_clear(judge, said.predicate, text, notes)
    sentence = truth_sentence(judge.world, truth, rows)
    if isinstance(said.predicate, q.Differs):
        strong = said.predicate.strength is q.Strength.STRONGER
        verb = judge.strength if strong else judge.mildness
        sentence = verb.sentence(said, truth, rows)
    return Answer(text, sentence, rows, notes=notes, members=items)


def truth_sentence(world: World, truth: bool | None, rows: Sequence[Row]) -> str:
    """Whether something is so, in words; its verdicts, where they decide it."""
    found = [row for row in rows if isinstance(row, Verdict)]
    return verdicts_sentence(world, found, truth) if found else f"{_TRUTH[truth]}."


def place_of(said: q.Predicate | None) -> str:
    """Where the subject of a predicate is looked for first."""
    while isinstance(said, q.Not):
        said = said.part
    about = q.Is | q.Named | q.Stays | q.Resists
    return INGREDIENT if isinstance(said, about) else PRODUCT


def _nothing_to_clear(
    judge: Judge, said: q.Clears, text: str, notes: Sequence[str]
) -> Answer:
    source = _products_of(judge, said.source)
    sentence = f"{source} is not shown to leave that, so there is nothing to clear."
    return Answer(text, sentence, notes=notes)


def _products_of(judge: Judge, term: q.Term | None) -> str:
    """The names of the products a term means, as a reader knows them."""
    if term is None:
        return "Nothing"
    items = judge.terms.items(term, PRODUCT)
    return " and ".join(judge.nouns.title(item) for item in items)
