"""Things set side by side: `compare A and B`."""

from __future__ import annotations

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.whether import truth_sentence
from abluent.engine.questions.forms.which import leaves_sentence
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.query import tree as q


def compare(judge: Judge, query: q.Compare, text: str) -> Answer:
    """Set some products side by side: what each leaves, or does to a film."""
    items = judge.terms.items(query.things, PRODUCT)
    said: q.Predicate = (
        q.Leaves(q.Thing()) if query.film is None else q.Clears(query.film)
    )
    parts = []
    for item in items:
        judged = judge.judge([item], said)[item]
        sentence = _side(judge, item, judged)
        parts.append(Answer(item.key, sentence, judged.rows, members=[item]))
    told = " ".join(part.sentence for part in parts)
    return Answer(text, told, members=items, compared=parts)


def _side(judge: Judge, item: Item, judged: Judged) -> str:
    rows = [row for row in judged.rows if isinstance(row, Verdict)]
    if rows:
        return truth_sentence(judge.world, judged.truth, rows)
    return leaves_sentence(judge.nouns, judge.nouns.title(item), judged.rows)
