"""Why one film is harder to clear than another: `why is A harder to clear than B`.

What each film is and what holds it to hair comes first, then which washes at hand take
less of the one, then the rule for each. Of a product the film is meant that the fewest
washes at hand take.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.account import film_step
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.sides.better import reach
from abluent.engine.questions.sides.contrasted import films_apart, on_wash_day, sure_of
from abluent.engine.questions.sides.side_by_side import films_of, hardest_of
from abluent.engine.questions.verbs.contrasts import less_known
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q

_NAMED = 4
"""So many washes are named of which the same is so."""


def why_harder(judge: Judge, said: q.Statement, inner: Answer) -> Answer:
    """Why one film is harder, or easier, to clear than another.

    Args:
        judge: of the world it is asked in.
        said: the statement, of which the predicate is `is harder to clear than`.
        inner: whether it is so, which stands where it is not asked of one and one.
    """
    assert isinstance(said.predicate, q.Resists)
    sides = [
        judge.terms.items(term, INGREDIENT)
        for term in (said.subject, said.predicate.object)
    ]
    if any(len(side) != 1 for side in sides):
        return inner
    (one,), (other,) = sides
    if said.predicate.way is not q.Ease.HARDER:
        one, other = other, one
    mine = {item: films_of(judge, item) for item in (one, other)}
    films = [film for some in mine.values() for film in some]
    found = judge.contrasts.under_washes(films, under=said.predicate.under)
    if not all(any(found.get(film) for film in some) for some in mine.values()):
        return inner
    hard, easy = (hardest_of(mine[item], found) for item in (one, other))
    if hard == easy:
        return inner
    pairs = [
        (found[hard][wash], found[easy][wash])
        for wash in found[hard]
        if wash in found[easy]
    ]
    return _told(judge, inner, (one, other), pairs)


def _told(
    judge: Judge,
    inner: Answer,
    sides: tuple[Item, Item],
    pairs: Sequence[tuple[Verdict, Verdict]],
) -> Answer:
    # What a wash lays down itself says nothing of how either film goes.
    pairs = [pair for pair in pairs if not any(map(puts_back, pair))] or pairs
    label = judge.world.base.label
    hard, easy = (label(row.film) for row in pairs[0])
    worse = [pair for pair in pairs if less_known(*pair)]
    turned = [pair for pair in pairs if less_known(*pair[::-1])]
    parts = [
        f"Of what {item.key} leaves, {film} is the hardest to clear."
        for item, film in zip(sides, (hard, easy), strict=True)
        if item.kind == PRODUCT
    ]
    first = min(worse or turned or pairs, key=lambda pair: reach(pair[0]))
    parts += [film_step(row).text for row in first]
    parts.append(_with(worse, hard, easy))
    parts.append(_with([(b, a) for a, b in turned], easy, hard))
    if not worse and not turned:
        every = f"the {len(pairs)} washes here"
        parts.append(f"By what is shown {every} take as much of the one as the other.")
    findings = [f for f in films_apart(*first) if f.kind == "side"]
    findings = [_without_film(f, first) for f in findings]
    findings += [*sure_of(first), *on_wash_day(first[:1])]
    text = " ".join(filter(None, parts))
    shown = [each for each in findings if each.items or each.kind != "side"]
    return replace(inner, sentence=text, rows=first, others=(), findings=shown)


def _with(pairs: Sequence[tuple[Verdict, Verdict]], less: str, more: str) -> str:
    """Which washes take less of one film than of another."""
    if not pairs:
        return ""
    names = listed(list(dict.fromkeys(row.wash for row, _ in pairs)), _NAMED)
    takes = "takes" if len(pairs) == 1 else "take"
    return f"As far as is shown, {names} {takes} less of {less} than of {more}."


def _without_film(found: Finding, rows: Sequence[Verdict]) -> Finding:
    """A finding without what a film is, which the sentence has said."""
    said = {film_step(row).text for row in rows}
    return found._replace(items=tuple(i for i in found.items if i not in said))
