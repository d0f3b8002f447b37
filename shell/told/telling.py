"""From an answer to what a picture of it says, by what was asked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import PROVEN, Answer, NotMember, Row
from abluent.engine.questions.answers.cautions import plain_caution
from abluent.engine.questions.answers.rows import all_rows, named
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.shell.ground.strand import strand_of
from abluent.shell.told.advising import advice_of
from abluent.shell.told.asking import Asking, asking_of
from abluent.shell.told.cited import cited_of, works_of
from abluent.shell.told.claims import claimed, in_its_name, is_not
from abluent.shell.told.compound import compound
from abluent.shell.told.films_in_order import films_in_order
from abluent.shell.told.hiding import hidden
from abluent.shell.told.in_order import by_order
from abluent.shell.told.in_steps import in_steps
from abluent.shell.told.labels import YES_NO, containing, of_label
from abluent.shell.told.leaving import each_leaves, left, products
from abluent.shell.told.long_names import long_ones
from abluent.shell.told.many import listed
from abluent.shell.told.plain import caption_of, claim_of, sure_of
from abluent.shell.told.reasons import reasons_of
from abluent.shell.told.scenes import with_scene
from abluent.shell.told.told import Told

__all__ = ["told_of"]

_LONG = 110
"""Letters of a sentence that is too long for four lines of a heading."""
_SHORTEST = 20
"""Letters of a part of it that can stand by itself."""
_OF_SAYING = 2
"""So many reasons are told of what people say."""


def told_of(answer: Answer, question: str, world: World | None = None) -> Told:
    """Return what a picture of an answer says.

    Args:
        answer: the answer.
        question: as it was typed.
        world: what was asked, where the answer has no row that knows it.
    """
    rows = list(all_rows(answer))
    shown = rows if answer.claim else [*rows, *answer.others]
    disputes = [d for row in shown if isinstance(row, Verdict) for d in row.disputes]
    sure, works = _sure(shown), works_of((*shown, *disputes))
    asking = asking_of(answer, world)
    told = Told(
        sure=sure,
        works=tuple(each.citation for each in works),
        # Where nothing is known no source is counted for it.
        cited=cited_of(works) if sure else "",
        # What is not so, or of which nothing is known, calls for no care.
        caution=plain_caution(answer) if sure and answer.claim in {"", PROVEN} else "",
        names=long_ones([*_names(shown), *asking.products]),
    )
    told = _told(told, answer, question, asking, rows)
    if answer.why and told.word in YES_NO.values():
        # No yes stands over a question for reasons.
        told = told._replace(word="")
    told = with_scene(told, asking, rows, answer.others)
    return told._replace(advice=advice_of(answer, asking, told.advice))


def _told(  # noqa: PLR0912 - each kind of question is told by itself
    told: Told, answer: Answer, question: str, asking: Asking, rows: Sequence[Row]
) -> Told:
    found = _of_several(told, answer, asking, rows)
    if found is not None:
        return found
    if answer.claim:
        return claimed(told, answer, asking, rows)
    every = [*rows, *answer.others]
    single = every[0] if len(every) == 1 else None
    if isinstance(single, Verdict):
        return _judged(told, single)
    first = rows[0] if rows else None
    if isinstance(first, NotMember) and len(every) == 1 and answer.truth == "no":
        return told._replace(
            word=YES_NO[answer.truth], claim=is_not(first)
        ).with_reasons(list(in_its_name(first)))
    if isinstance(first, Verdict) and not answer.others and _goes_by_itself(rows):
        return _judged(told, first)
    if isinstance(asking.act, q.Hides) and isinstance(asking.query, q.What):
        found = hidden(told, answer, asking, rows)
    elif isinstance(asking.act, q.Contains | q.Says) and asking.statement is not None:
        found = of_label(told, answer, question, asking, rows)
    elif isinstance(asking.act, q.Leaves) and asking.statement is not None:
        found = of_label(told, answer, question, asking, rows)
    elif isinstance(asking.act, q.Contains) and isinstance(asking.query, q.Which):
        found = containing(told, answer, asking)
    elif isinstance(asking.act, q.Leaves) and rows:
        if isinstance(asking.query, q.What) and len(asking.products) == 1:
            found = left(told, asking, answer, rows)
        elif isinstance(asking.query, q.What):
            found = each_leaves(told, asking, answer, rows)
        elif isinstance(asking.query, q.Which):
            found = products(told, asking, answer, rows)
    if isinstance(asking.query, q.Rank | q.HowMuch):
        found = in_steps(told, answer, asking, rows)
    return found or listed(told, answer, question, asking, rows)


def _of_several(
    told: Told, answer: Answer, asking: Asking, rows: Sequence[Row]
) -> Told | None:
    """What is said of a claim of several parts, of films in an order, and of how much
    of all there is.
    """
    in_order = films_in_order(told, answer, asking)
    if in_order is not None:
        return in_order
    if isinstance(asking.query, q.Argue) and answer.compared:
        return compound(told, answer)
    lefts = [row for row in rows if isinstance(row, Left)]
    why_left = answer.why and len(asking.products) == 1 and len(lefts) == len(rows) > 1
    if why_left and isinstance(asking.act, q.Leaves):
        # Why a product leaves them is told as what it leaves, with why.
        return left(told, asking, answer, rows)
    whole = isinstance(asking.query, q.What) and isinstance(asking.act, q.Contains)
    if isinstance(asking.query, q.Amount) or whole:
        return by_order(told, asking, rows)
    if isinstance(asking.query, q.Saying) and rows:
        return _of_saying(told, answer, asking.query, rows[0])
    return None


def _of_saying(told: Told, answer: Answer, query: q.Saying, row: Row) -> Told:
    """What is so stands whole; the saying above it in small, as one that is said."""
    record = row.case.world.base.record(answer.members[0].key)
    caveat = record.text("caveat")
    claim, rest = _in_two(answer.sentence)
    told = told._replace(
        above=f"It is said: “{query.said.text}”",
        claim=claim,
        advice=as_sentence(caveat) if caveat else "",
    )
    return told.with_reasons([rest, *row.reasons[:_OF_SAYING]])


def _in_two(sentence: str) -> tuple[str, str]:
    """A long sentence as its first part, which stands by itself, and the rest."""
    head, *more = re.split(r"[:;] ", sentence, maxsplit=1)
    if len(sentence) > _LONG and more and len(head) >= _SHORTEST:
        return as_sentence(head), as_sentence(more[0])
    return sentence, ""


def _judged(told: Told, row: Verdict) -> Told:
    told = told._replace(
        mark=strand_of(row.role), caption=caption_of(row), claim=claim_of(row)
    )
    return told.with_reasons([each.text for each in reasons_of(row)])


def _goes_by_itself(rows: Sequence[Row]) -> bool:
    """Whether rows say of one film alone, and of every wash, that none is needed."""
    found = [
        r for r in rows if isinstance(r, Verdict) and r.role is Role.NO_WASH_NEEDED
    ]
    films = {(row.film, row.source) for row in found}
    return len(found) == len(rows) > 0 and len(films) == 1


def _sure(rows: Sequence[Row]) -> str:
    known = [r for r in rows if not (isinstance(r, Verdict) and r.role is Role.OPEN)]
    said = sure_of(known)
    return as_sentence(said[:1].upper() + said[1:]) if said else ""


def _names(rows: Iterable[Row]) -> list[str]:
    found: list[str] = []
    for row in rows:
        if isinstance(row, Verdict | Left):
            found += [row.source, named(row, row.film)]
        if isinstance(row, Verdict):
            found.append(row.wash)
    return found
