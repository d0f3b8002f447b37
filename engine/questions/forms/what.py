"""What things do: `what does B leave`, `what do A clear`, `what does C hide`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import LEAVES, LEAVING_UNKNOWN, MAY_LEAVE
from abluent.engine.base.roles import VERDICTS
from abluent.engine.questions.answers.advised import leading
from abluent.engine.questions.answers.answer import Answer, Row, symbol_of
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.spoken import spoken
from abluent.engine.questions.answers.verdicts import Left, Verdict, not_left
from abluent.engine.questions.answers.wording import leave_verb
from abluent.engine.questions.forms.notes import left_else, under_conditions, unread
from abluent.engine.questions.forms.which import EASE, in_order, which
from abluent.engine.questions.forms.which_words import in_common
from abluent.engine.questions.verbs.doing import told_below, what_it_does
from abluent.engine.questions.verbs.hidden_words import hidden_sentence
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.staying import (
    at_hand,
    names_read,
    told_besides,
    why_it_stays,
)
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.query import tree as q

_LINES = 3
"""So many ingredients are told of of which it is asked what they contain."""
_FILMS = 20
"""So many films that a product leaves are named."""


def what(judge: Judge, query: q.What, text: str) -> Answer:
    """Find what some things do, such as what they leave."""
    said = q.asked_act(query.predicate)
    if isinstance(said, q.Leaves) and not isinstance(query.predicate, q.Not):
        return _what_left(judge, query, said, text)
    if isinstance(query.subject, q.Thing):
        tails = query.order, query.limit, query.under
        asked = q.Which(query.subject, query.predicate, *tails)
        return which(judge, asked, text)
    items = judge.terms.items(query.subject, PRODUCT)
    if isinstance(said, q.Contains) and all(i.kind == INGREDIENT for i in items):
        return _of_one_line(judge, items, text)
    judged = judge.judge(items, said)
    rows = tuple(row for item in items for row in judged[item].rows)
    others: tuple[Row, ...] = ()
    if isinstance(said, q.Clears):
        rows, others = _parted(rows, not isinstance(query.predicate, q.Not))
    if query.order or query.limit:
        if rows:
            rows, others = _first_films(judge, rows, query), ()
        else:
            if query.order is None:
                others = tuple(sorted(others, key=_least_first, reverse=True))
            others = _first_films(judge, others, query)
    films = [Item(INGREDIENT, symbol_of(row)) for row in rows]
    looked = [Item(INGREDIENT, symbol_of(row)) for row in (*rows, *others)]
    films, looked = list(dict.fromkeys(films)), list(dict.fromkeys(looked))
    told = in_common(judge.nouns, films, looked)
    if films:
        who = _plural(judge, query.subject, items)
        told = _of_each(query, [*rows, *others], who) or told
    else:
        told = "None of what was looked at" if looked else "Nothing"
        told = _amounts(others, _plural(judge, query.subject, items)) or told
        if query.limit and others:
            first = in_common(judge.nouns, looked, looked)
            told = f"None is surely taken whole; of these goes most: {first}"
    told += "."
    notes = [*unread(judge, items, said), *under_conditions(judge, said)]
    shown: tuple[Left, ...] | None = None
    if isinstance(said, q.Hides) and not isinstance(query.predicate, q.Not):
        shown = tuple(row for row in rows if isinstance(row, Left))
        told, notes = hidden_sentence(judge.nouns, items, shown), []
    return Answer(text, told, rows, others, films, notes, by_film=True, shown=shown)


def _of_one_line(judge: Judge, items: Sequence[Item], text: str) -> Answer:
    """That a list names an ingredient and nothing within it, and what it is."""
    names = listed([judge.nouns.title(item) for item in items[:_LINES]], _LINES)
    one = len(items) == 1
    line, them = ("is one line", "it") if one else ("are lines", "them")
    told = f"{names} {line} of a list, and no list tells what is in {them}."
    does = [what_it_does(judge.world, item.key) for item in items[:_LINES]]
    findings = told_below(judge.world, items[0].key) if one else []
    said = " ".join(dict.fromkeys(filter(None, [told, *does])))
    return Answer(text, said, members=items, findings=findings)


def _denied(query: q.What) -> bool:
    return isinstance(query.predicate, q.Not)


def _may_stay(row: Row) -> bool:
    return not isinstance(row, Left) or row.how in {LEAVES, MAY_LEAVE}


def _amounts(rows: Sequence[Row], who: str) -> str:
    """How much goes of the films that some washes do not take whole."""
    verdicts = [row for row in rows if isinstance(row, Verdict)]
    if not verdicts:
        return ""
    told = spoken(verdicts, who)
    films = len({row.film for row in verdicts})
    none = "It is not" if films == 1 else "None is"
    return f"{told[:1].upper()}{told[1:]}. {none} known to go whole"


def _of_each(query: q.What, rows: Sequence[Row], who: str) -> str:
    """How much goes of each of some films, where that is what is asked."""
    said = q.asked_act(query.predicate)
    if query.order or query.limit or not isinstance(said, q.Clears):
        return ""
    if _denied(query):
        return _amounts(rows, who)
    if not isinstance(said.object, q.And):
        return ""
    # Which of some films goes: what goes of the others is asked as well.
    verdicts = [row for row in rows if isinstance(row, Verdict)]
    told = spoken(verdicts, who) if verdicts else ""
    return f"{told[:1].upper()}{told[1:]}"


def _plural(judge: Judge, term: q.Term, items: Sequence[Item]) -> str:
    """Several washes as the question names them; empty for one, or a longer term."""
    if len(items) < 2 or not isinstance(term, q.Name):
        return ""
    kind = judge.terms.noun(term, PRODUCT).kind or ""
    return judge.world.base.plural(kind) if judge.world.base.is_class(kind) else ""


def leaves_sentence(
    nouns: Nouns, who: str, rows: Sequence[Row], others: Sequence[Left] = ()
) -> str:
    """What somebody leaves, and what is not known of it, in a sentence or two."""
    told = _left_words(nouns, who, list(filter(_may_stay, rows)))
    doubted = [row.film for row in others if row.how == LEAVING_UNKNOWN]
    if not doubted:
        return told
    names = listed([nouns.title(Item(INGREDIENT, film)) for film in doubted])
    which = "it stays" if len(dict.fromkeys(doubted)) == 1 else "they stay"
    return f"{told} Of {names} nothing here says whether {which}."


def _left_words(nouns: Nouns, who: str, rows: Sequence[Row]) -> str:
    sure = [row for row in rows if not isinstance(row, Left) or row.sure]
    films = [nouns.title(Item(INGREDIENT, symbol_of(row))) for row in sure]
    maybe = [nouns.title(Item(INGREDIENT, symbol_of(r))) for r in rows if r not in sure]
    may = f"may leave {listed(maybe)}" if maybe else ""
    if may and not films:
        return f"{who} {may}."
    if not films:
        return f"{who} is not known to leave any film."
    verbs = {leave_verb(nouns.world, r.source) for r in sure if isinstance(r, Left)}
    verb = verbs.pop() if len(verbs) == 1 else "{} leaves"
    told = f"{verb.format(who)} {listed(films, _FILMS)}"
    return f"{told}, and {may}." if may else f"{told}."


def _what_left(judge: Judge, query: q.What, said: q.Leaves, text: str) -> Answer:
    subject = query.subject
    found = judge.terms.items(subject, PRODUCT)
    items = [item for item in found if item.kind == PRODUCT]
    if not items:
        problem = "what a product leaves can be asked, and this names no product"
        raise Unanswerable(problem, subject.span)
    judged = judge.judge(items, said)
    films = judge.terms.wanted(said.object)
    every = [row for item in items for row in leading(judged[item].rows)]
    rows = _first_films(judge, [row for row in every if _may_stay(row)], query)
    names, under = [item.key for item in items], judge.terms.under(said)
    case = every[0].case if every else Case.of(judge.world, sources=names, stated=under)
    beside_left = (row for name in names for row in not_left(case, name))
    others = [row for row in beside_left if films is None or row.film in films]
    who = listed([judge.nouns.title(item) for item in items])
    if query.order or query.limit:
        others = []
    sentence = leaves_sentence(judge.nouns, who, rows, others)
    if query.order or query.limit:
        how = in_order(query)
        how = how.replace("in the order of the shelf", "in the order of the label")
        sentence = f"{sentence.removesuffix('.')} ({how})."
    more = left_else(judge.world, items, said, rows)
    notes = [*unread(judge, items, said), *more]
    plain = films is None and not (query.order or query.limit)
    if len(items) == 1 and plain:
        left = [row for row in rows if isinstance(row, Left)]
        sentence += told_besides(left, others)
        if not left:
            sentence += names_read(judge.world, items[0].key)
        notes += [*why_it_stays(left), *at_hand(judge, items[0].key, left)]
    members = [Item(INGREDIENT, symbol_of(row)) for row in rows]
    return Answer(text, sentence, rows, others, members, notes)


def _least_first(row: Row) -> int:
    """How much goes of the film of a row: the greater, the more."""
    return VERDICTS.index(row.role) if isinstance(row, Verdict) else 0


def _first_films(judge: Judge, rows: Sequence[Row], query: q.What) -> tuple[Row, ...]:
    """Rows in the order that was asked for, and as many as were asked for."""
    if query.order in EASE:
        items = [Item(INGREDIENT, symbol_of(row)) for row in rows]
        told, _ = judge.contrasts.by_ease(items, EASE[query.order], query.under)
        place = {item.key: number for number, item in enumerate(told)}
        rows = sorted(rows, key=lambda row: place.get(symbol_of(row), len(place)))
    return tuple(rows)[: query.limit]


def _parted(
    rows: Sequence[Row], wanted: bool
) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
    hits = tuple(r for r in rows if isinstance(r, Verdict) and r.gone is wanted)
    return hits, tuple(row for row in rows if row not in hits)
