"""Which things are so, and what things do: `which … clear A`, `what does B leave`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import LEAVES, LEAVING_UNKNOWN, MAY_LEAVE
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Answer, Row, symbol_of
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.spoken import spoken
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    Left,
    Verdict,
    films_left,
    not_left,
    sorted_grades,
)
from abluent.engine.questions.forms.notes import beside, left_else, unread
from abluent.engine.questions.forms.nothing_left import nothing_left
from abluent.engine.questions.forms.sentences import (
    in_common,
    nearest_sentence,
    which_sentence,
)
from abluent.engine.questions.forms.whether import place_of
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged, Unanswerable
from abluent.engine.questions.verbs.mildness import not_compared
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q


def which(judge: Judge, query: q.Which, text: str) -> Answer:
    """Find the things of which something is so.

    Args:
        judge: judges the predicate.
        query: the question.
        text: it in the language's own wording.
    """
    query = _spelt_out(query)
    said = query.predicate
    place = INGREDIENT if query.order in _EASE else place_of(said)
    items = judge.terms.items(query.subject, place)
    if said is None:
        first = _ordered(judge, items, query)
        answer = named(judge.nouns, first, text)
        if items and not first:
            told = "Nothing here compares these by how they come off."
            answer = replace(answer, sentence=told)
        return replace(answer, notes=_mind(judge, first, items, query))
    judged = judge.judge(items, said)
    act = q.asked_act(said)
    single = isinstance(act, q.Clears) and not isinstance(act.object, q.Quantified)
    # Every wash clears all of nothing; what is named is missing where it is not left.
    if isinstance(act, q.Clears) and single and act.source and items:
        if not any(judged[item].rows for item in items):
            return nothing_left(judge, act, text)
    true = [i for i in items if judged[i].truth]
    kept = _ordered(judge, true, query)
    rest = [i for i in items if i not in kept and not judged[i].truth]
    rows = tuple(row for item in kept for row in judged[item].rows)
    if not kept and query.order:
        rest = _ordered(judge, rest, replace(query, limit=None))
    sure = [] if kept or not _orders(query) else _surely(rest, judged)
    best = sure[: query.limit]
    if best:
        rest = best if query.limit else [*best, *(i for i in rest if i not in best)]
    others = tuple(row for item in rest for row in judged[item].rows)
    undecided = [item for item in rest if judged[item].truth is None]
    about = _about_films(said)
    alone = _by_themselves(judge, [row for item in kept for row in judged[item].rows])
    amounts = {i: judged[i] for i in (*kept, *rest)} if about else {}
    sentence = which_sentence(
        judge.nouns,
        kept,
        undecided,
        items,
        amounts,
        whole=about and _whole(said),
        best=best,
        how=_in_order(query, len(best)),
    )
    sentence = f"{alone} {sentence}" if alone else sentence
    bounded = [i for i in undecided if any(map(_bounds, judged[i].rows))]
    if bounded:
        sentence = sentence.replace(" Open: ", " Undecided: ")
    if not kept:
        sentence += nearest_sentence(judge.nouns, rest, judged)
    notes = [*unread(judge, [*kept, *(undecided if not about else ())], said)]
    mind = _mind(judge, [*kept, *best], [*true, *sure], query)
    if query.order is q.Order.MILDEST:
        # Those that may be as mild belong to what was asked.
        sentence, mind = " ".join([sentence, *mind]), []
    notes += mind
    notes += _ordered_nothing([*kept, *best], query)
    notes += beside(judge, kept, said)
    in_order = bool(rows or best) and query.order is not None
    return Answer(text, sentence, rows, others, kept, notes, in_order=in_order)


def _bounds(row: Row) -> bool:
    """Whether a row says something of how much is taken, if not what was asked."""
    return isinstance(row, Verdict) and row.role is not Role.OPEN


def _about_films(said: q.Predicate) -> bool:
    """Whether a predicate is of how much of a film is taken, and not denied."""
    return isinstance(said, q.Clears | q.Suffices)


def _by_themselves(judge: Judge, rows: Sequence[Row]) -> str:
    """That no wash is needed for what was asked, where every row says so."""
    verdicts = [row for row in rows if isinstance(row, Verdict)]
    if not verdicts or len({row.wash for row in verdicts}) < len(verdicts):
        return ""
    if any(row.role is not Role.NO_WASH_NEEDED for row in verdicts):
        return ""
    base = judge.world.base
    films = listed([base.label(row.film) for row in verdicts])
    how = base.record(verdicts[0].value).text("spokenAs")
    return f"{films} needs no wash{f', for {how}' if how else ''}; any would do:"


def _whole(said: q.Predicate) -> bool:
    """Whether a predicate asks what takes all of a film, as plain `clear` does."""
    wanted = {q.Clears(q.Thing()).extent, q.Extent.SURELY}
    return not isinstance(said, q.Clears) or said.extent in wanted


def _orders(query: q.Which) -> bool:
    """Whether an order or a number of washes was asked for that take films whole."""
    said = query.predicate
    asked = query.order is not None or query.limit is not None
    return asked and said is not None and _about_films(said) and _whole(said)


def _surely(items: Sequence[Item], judged: Mapping[Item, Judged]) -> list[Item]:
    """Those of some things that surely take part of every film asked about."""
    found = []
    for item in items:
        rows = [row for row in judged[item].rows if isinstance(row, Verdict)]
        if rows and all(ENDS[row.role][0] is not Role.NONE_OF_IT for row in rows):
            found.append(item)
    return found


def _in_order(query: q.Which | q.What, found: int | None = None) -> str:
    """An order that was asked for, and how many, in words."""
    if query.order and query.limit == 1:
        return f"the {query.order.value.removesuffix(' first')}"
    order = f"the {query.order.value}" if query.order else "in the order of the shelf"
    if query.limit and found is not None and found < query.limit:
        return f"{order}, all there are"
    return f"{order}, {query.limit} of them" if query.limit else order


def _spelt_out(query: q.Which) -> q.Which:
    """`the mildest wash that clears gums` as `which wash clears gums, mildest first`.

    What is said of the subject alone would leave out why nothing is so.
    """
    subject = query.subject
    if query.predicate is not None or not isinstance(subject, q.Such):
        return query
    clauses = [
        each
        for each in subject.conditions
        if isinstance(q.asked_act(each), q.Clears | q.Suffices)
    ]
    if not clauses:
        return query
    said = clauses[0] if len(clauses) == 1 else q.Both(tuple(clauses))
    kept = tuple(each for each in subject.conditions if each not in clauses)
    term = replace(subject, conditions=kept) if kept else subject.term
    return replace(query, subject=term, predicate=said)


def named(nouns: Nouns, items: Sequence[Item], text: str) -> Answer:
    """An answer that only names some things."""
    names = ", ".join(nouns.title(item) for item in items)
    return Answer(text, f"{names or 'None here'}.", members=items)


def what(judge: Judge, query: q.What, text: str) -> Answer:
    """Find what some things do, such as what they leave."""
    said = q.asked_act(query.predicate)
    if isinstance(said, q.Leaves) and not isinstance(query.predicate, q.Not):
        return _what_left(judge, query, said, text)
    if isinstance(query.subject, q.Thing):
        asked = q.Which(query.subject, query.predicate, query.order, query.limit)
        return which(judge, asked, text)
    items = judge.terms.items(query.subject, PRODUCT)
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
    if not films:
        told = "None of what was looked at" if looked else "Nothing"
        told = _amounts(others, _plural(judge, query.subject, items)) or told
        if query.limit and others:
            first = in_common(judge.nouns, looked, looked)
            told = f"None is surely taken whole; of these goes most: {first}"
    told += "."
    if isinstance(said, q.Hides) and not isinstance(query.predicate, q.Not):
        who = listed([judge.nouns.title(item) for item in items])
        missed = missed_words(judge.nouns, rows)
        told = f"Easy to miss on the label of {who}: {missed}."
        if not missed:
            told = _nothing_hidden(judge, who, items)
    notes = unread(judge, items, said)
    return Answer(text, told, rows, others, films, notes, by_film=True)


def _nothing_hidden(judge: Judge, who: str, items: Sequence[Item]) -> str:
    """What was looked for in vain, and what the names themselves leave open."""
    washes = any(judge.nouns.cleans(item) for item in items)
    looked = "a film that it leaves itself, or a cleanser that may do no work there"
    told = f"Nothing is hidden on the label of {who}, looking for {looked}."
    if not washes:
        told = (
            f"{who} is made to leave what its label names, so nothing is hidden there "
            "in the sense of this question, which is asked of washes."
        )
    grades = [name for item in items for name in _of_several_kinds(judge, item)]
    if grades:
        told += f" Its names do not tell which sort is meant: {'; '.join(grades)}."
    return f"{told} How much of each there is no list of names tells."


def _of_several_kinds(judge: Judge, item: Item) -> Iterator[str]:
    """The names on a label that stand for grades of several kinds, with the kinds."""
    base = judge.world.base
    case = Case.of(judge.world, sources=[item.key])
    for left in films_left(case, item.key):
        if grades := sorted_grades(left):
            kinds = dict.fromkeys(base.label(base.classes_of(g)[0]) for g in grades)
            if len(kinds) > 1:
                yield f"{base.label(left.film)} ({' or '.join(kinds)})"


def missed_words(nouns: Nouns, rows: Sequence[Row]) -> str:
    """What is easy to miss on a label, with why, as a part of a sentence."""
    parts = []
    for some, why in (
        ([r for r in rows if isinstance(r, Left)], "which the wash leaves on hair"),
        (
            [r for r in rows if not isinstance(r, Left)],
            "which may do no work there",
        ),
    ):
        symbols = dict.fromkeys(symbol_of(row) for row in some)
        names = listed([nouns.title(Item(INGREDIENT, each)) for each in symbols])
        parts += [f"{names}, {why}"] if names else []
    return "; ".join(parts)


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
    return f"{told} Not known here: {names}, of which nothing says whether it stays."


def _left_words(nouns: Nouns, who: str, rows: Sequence[Row]) -> str:
    sure = [row for row in rows if not isinstance(row, Left) or row.sure]
    films = [nouns.title(Item(INGREDIENT, symbol_of(row))) for row in sure]
    maybe = [nouns.title(Item(INGREDIENT, symbol_of(r))) for r in rows if r not in sure]
    may = f"may leave {listed(maybe)}" if maybe else ""
    if may and not films:
        return f"{who} {may}."
    told = f"{who} leaves {listed(films) or 'nothing that this base knows of'}"
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
    every = [row for item in items for row in judged[item].rows]
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
        how = _in_order(query)
        how = how.replace("in the order of the shelf", "in the order of the label")
        sentence = f"{sentence.removesuffix('.')} ({how})."
    more = left_else(judge.world, items, said, rows)
    notes = [*unread(judge, items, said), *more]
    members = [Item(INGREDIENT, symbol_of(row)) for row in rows]
    return Answer(text, sentence, rows, others, members, notes)


def _least_first(row: Row) -> int:
    """How much goes of the film of a row: the greater, the more."""
    return VERDICTS.index(row.role) if isinstance(row, Verdict) else 0


def _first_films(judge: Judge, rows: Sequence[Row], query: q.What) -> tuple[Row, ...]:
    """Rows in the order that was asked for, and as many as were asked for."""
    if query.order in _EASE:
        items = [Item(INGREDIENT, symbol_of(row)) for row in rows]
        told, _ = judge.contrasts.by_ease(items, _EASE[query.order])
        place = {item.key: number for number, item in enumerate(told)}
        rows = sorted(rows, key=lambda row: place.get(symbol_of(row), len(place)))
    return tuple(rows)[: query.limit]


def _mind(
    judge: Judge, kept: Sequence[Item], items: Sequence[Item], query: q.Which
) -> list[str]:
    """What to mind of the first, where an order does not compare them all."""
    if query.order in _EASE:
        _, mind = judge.contrasts.by_ease(items, _EASE[query.order])
        return [mind] if mind else []
    if query.limit is None:
        return []
    rest = [item for item in items if item not in kept]
    if query.order is q.Order.STRONGEST:
        note = judge.strength.not_compared(kept, rest, _cleared(query.predicate))
        return [note] if note else []
    if query.order is not q.Order.MILDEST:
        return []
    note = not_compared(judge.world, kept, rest)
    return [note] if note else []


def _ordered_nothing(kept: Sequence[Item], query: q.Which) -> list[str]:
    """That an order or a limit had nothing to work on."""
    if kept or (query.order is None and query.limit is None):
        return []
    how = query.order.value if query.order else f"first {query.limit}"
    rest = "; what was looked at is told in that order" if query.order else ""
    return [f"`{how}` is of the members of an answer, and this has none{rest}."]


def _ordered(judge: Judge, kept: list[Item], query: q.Which) -> list[Item]:
    if query.order is q.Order.MILDEST:
        kept = judge.mildness.mildest(kept)
    if query.order in _EASE:
        first, _ = judge.contrasts.by_ease(kept, _EASE[query.order])
        rest = [] if query.limit else [item for item in kept if item not in first]
        kept = [*first, *rest]
    if query.order is q.Order.STRONGEST:
        kept = judge.strength.strongest(kept, _cleared(query.predicate))
    return kept[: query.limit]


_EASE = {q.Order.HARDEST: q.Ease.HARDER, q.Order.EASIEST: q.Ease.EASIER}


def _cleared(said: q.Predicate | None) -> q.Term | None:
    """The films that a predicate is about taking off, if it is; one list of them."""
    return said.object if isinstance(said, q.Clears) else None


def _parted(
    rows: Sequence[Row], wanted: bool
) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
    hits = tuple(r for r in rows if isinstance(r, Verdict) and r.gone is wanted)
    return hits, tuple(row for row in rows if row not in hits)
