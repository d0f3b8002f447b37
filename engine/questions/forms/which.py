"""Which things are so, and what things do: `which … clear A`, `what does B leave`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    Answer,
    Finding,
    Order,
    Row,
)
from abluent.engine.questions.answers.graded import foremost
from abluent.engine.questions.answers.graded_words import said_aloud, said_in_order
from abluent.engine.questions.answers.laid_out import of_products
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    Verdict,
)
from abluent.engine.questions.forms.notes import (
    beside,
    own_films,
    under_conditions,
    unread,
)
from abluent.engine.questions.forms.nothing_left import nothing_left
from abluent.engine.questions.forms.whether import place_of
from abluent.engine.questions.forms.which_words import (
    Asked,
    best_sentence,
    cannot_tell,
    denied_sentence,
    members_sentence,
    nearest_sentence,
    taken_sentence,
)
from abluent.engine.questions.sides.foremost_of import foremost_of
from abluent.engine.questions.sides.kinds_by_ease import (
    films_in,
    kinds_of,
    told_by_kind,
)
from abluent.engine.questions.sides.side_by_side import compare_films, compare_hardest
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.verbs.mildness import milder_than, not_compared
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q

_FEW = 2
"""So many make a class of which what is at hand is looked at."""
_NAMED = 6
"""So many are named that do not fit."""

_SIDE_BY_SIDE = 4
"""So many films are set side by side where no wash tells which goes first."""


def which(judge: Judge, query: q.Which, text: str) -> Answer:
    """Find the things of which something is so.

    Args:
        judge: judges the predicate.
        query: the question.
        text: it in the language's own wording.
    """
    query = _spelt_out(query)
    said = query.predicate
    place = INGREDIENT if query.order in EASE else place_of(said)
    items = judge.terms.items(query.subject, place)
    if _is_done_to(said):
        items = _at_hand(judge, query.subject, items)
    if said is None:
        ease = EASE.get(query.order) if query.order else None
        kinds = kinds_of(judge, query) if ease else {}
        items = films_in(kinds) or items
        first = _ordered(judge, items, query)
        if ahead := foremost_of(judge, items, first, query.order, text):
            return ahead
        answer = named(judge.nouns, first, text)
        if kinds and ease is not None:
            told = told_by_kind(judge, kinds, query, ease)
            how = in_order(query).removeprefix("the ").capitalize()
            told = f"{told} {how}: {answer.sentence}"
            answer = replace(answer, sentence=told)
        apart = (
            ease is not None
            and not judge.contrasts.by_ease(items, ease, query.under, sure=True)[0]
        )
        films = [item for item in items if judge.removal.is_film(item)]
        if (not first or apart) and 1 < len(films) == len(items) <= _SIDE_BY_SIDE:
            return compare_films(judge, items, text, query.under)
        if ease is not None and _are_labels(judge, items):
            return compare_hardest(judge, items, text, query.under)
        if items and not first:
            told = "Cannot tell: nothing here compares these by how they come off."
            answer = replace(answer, sentence=told)
        return replace(answer, notes=_mind(judge, first, items, query))
    judged = judge.judge(items, said)
    act = q.asked_act(said)
    single = isinstance(act, q.Clears) and not isinstance(act.object, q.Quantified)
    # Every wash clears all of nothing; what is named is missing where it is not left.
    if isinstance(act, q.Clears) and single and act.source and items:
        if not any(judged[item].rows for item in items):
            return nothing_left(judge, act, text)
    return _Which(judge, query, said, items, judged).answer(text)


def _are_labels(judge: Judge, items: Sequence[Item]) -> bool:
    """Whether some things are a few products with a label."""
    products = judge.world.products
    labels = [i for i in items if i.kind == PRODUCT and i.key in products]
    return 1 < len(labels) == len(items) <= _SIDE_BY_SIDE


class _Which:
    """The answer to which of some things something is so of."""

    def __init__(
        self,
        judge: Judge,
        query: q.Which,
        said: q.Predicate,
        items: Sequence[Item],
        judged: Mapping[Item, Judged],
    ) -> None:
        self.judge, self.query, self.said = judge, query, said
        self.items, self.judged = items, judged
        self.true = [i for i in items if judged[i].truth]
        self.kept = _ordered(judge, self.true, query)
        rest = [i for i in items if i not in self.kept and not judged[i].truth]
        if not self.kept and query.order:
            rest = _ordered(judge, rest, replace(query, limit=None))
        self.sure = [] if self.kept or not _orders(query) else _surely(rest, judged)
        self.best = self.sure[: query.limit]
        if self.best:
            more = [i for i in rest if i not in self.best]
            rest = self.best if query.limit else [*self.best, *more]
        self.rest = rest
        self.undecided = [item for item in rest if judged[item].truth is None]
        self.about = _about_films(said)
        self.shown: tuple[Row, ...] = ()
        self.graded = self._graded()
        self.order = self._in_order() if self.graded else None
        first = [*self.kept, *self.best]
        self.mind = _mind(judge, first, [*self.true, *self.sure], query)

    def _graded(self) -> list[Verdict]:
        """The verdicts of several products, told by how far each goes."""
        first = [*self.kept, *self.best, *self.rest] if self.about else []
        # Of an order it is told who stands outside; of the first few only these.
        more = self.items if first and self.query.order else []
        items = dict.fromkeys([*first, *more])
        every = [row for item in items for row in self.judged[item].rows]
        rows = [row for row in every if isinstance(row, Verdict)]
        return rows if of_products(rows) else []

    def _in_order(self) -> Order | None:
        """The steps in which the washes stand that surely take part."""
        query = self.query
        items = [i for i in self.items if i in self.true or i in self.sure]
        if query.order is q.Order.MILDEST:
            steps, apart = self.judge.mildness.in_steps(items)
        elif query.order is q.Order.STRONGEST:
            film = _cleared(self.said)
            steps, apart = self.judge.strength.in_steps(items, film)
        else:
            return None
        return Order(query.order.value, steps, apart)

    def answer(self, text: str) -> Answer:
        judge, kept, query = self.judge, self.kept, self.query
        rows = tuple(row for item in kept for row in self.judged[item].rows)
        others = tuple(row for item in self.rest for row in self.judged[item].rows)
        if self.graded:
            self.shown = tuple(self.graded)
        sentence = self._sentence(rows)
        findings = []
        if len(kept) > _NAMED and not rows:
            names = ", ".join(judge.nouns.title(item) for item in kept)
            findings = [Finding("members", "They are", (f"{names}.",))]
        doubted = self.undecided if not self.about else ()
        notes = [*unread(judge, [*kept, *doubted], self.said)]
        notes += under_conditions(judge, self.said)
        if query.order is q.Order.MILDEST:
            # Those that may be as mild belong to what was asked.
            beneath = [i for i in self.items if self._perhaps(i)] if self.best else []
            perhaps = self._milder(beneath)
            mind = [] if "nothing here tells which" in sentence else self.mind
            if perhaps:
                sure = "Of those that surely do none is"
                mind = [each.replace("None is", sure, 1) for each in mind]
            sentence = " ".join(filter(None, [sentence, *mind, perhaps]))
        else:
            notes += self.mind
        notes += _ordered_nothing([*kept, *self.best], query)
        notes += beside(judge, kept, self.said)
        if self.about or self.best or self.shown:
            helping = self.best or kept or _surely(self.rest, self.judged)
            notes += own_films(judge, helping, self.shown or (*rows, *others))
        if kept and _is_without(self.said):
            notes += own_films(judge, kept, ())
        in_order = bool(rows or self.best) and query.order is not None
        return Answer(
            text,
            sentence,
            rows,
            others,
            kept,
            notes,
            findings=findings,
            in_order=in_order,
            shown=self.shown or None,
            order=self.order,
        )

    def _milder(self, beneath: Sequence[Item]) -> str:
        """Milder washes than the first that perhaps take some; the stronger first."""
        milder = milder_than(self.judge.world, self.best, beneath)
        if not milder:
            return ""
        rows = [row for item in milder for row in self.judged[item].rows]
        best, _ = foremost([row for row in rows if isinstance(row, Verdict)])
        first = [item.key for item in milder if item.key in best]
        rest = [item.key for item in milder if item.key not in best]
        told = "Milder, and perhaps some of it over several washes:"
        if first and rest:
            return f"{told} {listed(first, _NAMED)}, before {listed(rest, _NAMED)}."
        return f"{told} {listed([*first, *rest], _NAMED)}."

    def _perhaps(self, item: Item) -> bool:
        """Whether a wash perhaps takes part of all that is asked, and not surely."""
        rows = [row for row in self.judged[item].rows if isinstance(row, Verdict)]
        none = any(ENDS[row.role][1] is Role.NONE_OF_IT for row in rows)
        return bool(rows) and not none and item not in self.sure

    def _sentence(self, rows: Sequence[Row]) -> str:
        """The answer in a sentence or two."""
        if alone := _by_themselves(self.judge, rows):
            return alone
        asked = self._asked(self.said, self.items)
        kept, rest, judged = self.kept, self.rest, self.judged
        if self.graded:
            told = self._by_grade(asked)
        elif self.best:
            whole = not self.query.limit
            others = [i for i in rest if whole and i not in self.best]
            how = in_order(self.query, len(self.best))
            compared = not self.mind
            told = best_sentence(
                asked, self.best, others, judged, how, compared=compared
            )
        elif self.about and any(judged[item].rows for item in (*kept, *rest)):
            told = taken_sentence(asked, kept, rest, judged, whole=_whole(self.said))
        elif denied := self._denied(asked):
            told = denied
        elif not kept and (both := _clearing(self.said)):
            told = self._both(both)
        elif kept and self.query.order:
            told = f"{listed(asked.titles(kept))}."
        else:
            unsure = _unread_of(self.judge, self.undecided)
            told = members_sentence(asked, kept, self.undecided, unread=unsure)
        return told + (nearest_sentence(asked.nouns, rest, judged) if not kept else "")

    def _denied(self, asked: Asked) -> str:
        """How little each wash takes of a film that it is asked not to clear."""
        act = self.said.part if isinstance(self.said, q.Not) else None
        if not isinstance(act, q.Clears) or self.query.order or self.query.limit:
            return ""
        return denied_sentence(asked, [*self.kept, *self.undecided], self.judged)

    def _by_grade(self, asked: Asked) -> str:
        """How far each of several products goes, in the order that was asked for."""
        films = {row.film for row in self.graded if row.role is not Role.NO_WASH_NEEDED}
        words, whole = asked.films(len(films)), _whole(self.said)
        if self.order is None or not (self.kept or self.best):
            told = said_aloud(self.graded, words, whole=whole)
            return f"{told}{self._not_looked_at()}"
        first = [item.key for item in (*self.kept, *self.best)]
        limit = len(first) if self.query.limit else 0
        return said_in_order(self.graded, words, self.order, first[:limit])

    def _not_looked_at(self) -> str:
        """Which products were not looked at for what they hold, where they are few."""
        subject = self.query.subject
        if not isinstance(subject, q.Such) or len(subject.conditions) != 1:
            return ""
        every = self.judge.terms.items(subject.term, PRODUCT)
        out = [item for item in every if item not in self.items]
        if not 0 < len(out) <= _NAMED:
            return ""
        return f" Left out: {self._left_out(out, subject.conditions[0])}."

    def _asked(self, said: q.Predicate, items: Sequence[Item]) -> Asked:
        act, kind = q.asked_act(said), ""
        if isinstance(act, q.Clears) and isinstance(act.object, q.Name):
            kind = self.judge.terms.noun(act.object, INGREDIENT).kind or ""
            kind = kind if self.judge.world.base.is_class(kind) else ""
        return Asked(self.judge.nouns, self.query.subject, said, items, kind)

    def _both(self, both: tuple[q.Clears, q.Predicate]) -> str:
        """How much those take that are else as asked, and why others are not."""
        clears, besides = both
        fits = self.judge.judge(self.items, besides)
        fitting = [item for item in self.items if fits[item].truth]
        unsure = [item for item in self.items if fits[item].truth is None]
        unread_lines = _unread_of(self.judge, unsure)
        asked = self._asked(besides, self.items)
        if not fitting:
            return members_sentence(asked, [], unsure, unread=unread_lines)
        judged = self.judge.judge(fitting, clears)
        of_these = self._asked(clears, fitting)
        rows = [r for i in fitting for r in judged[i].rows if isinstance(r, Verdict)]
        if of_products(rows):
            words = of_these.films(len({row.film for row in rows}))
            told = said_aloud(rows, words, whole=_whole(clears))
        else:
            told = taken_sentence(of_these, [], fitting, judged, whole=_whole(clears))
        out = [item for item in self.items if fits[item].truth is False]
        if out:
            told += f" Left out: {self._left_out(out, besides)}."
        self.shown = tuple(row for item in fitting for row in judged[item].rows)
        return told + cannot_tell(asked, unsure, unread=unread_lines)

    def _left_out(self, out: Sequence[Item], besides: q.Predicate) -> str:
        """Which do not fit, with what they do instead."""
        opposite = besides.part if isinstance(besides, q.Not) else q.Not(besides)
        asked = self._asked(opposite, self.items)
        names = listed(asked.titles(out), _NAMED)
        return f"{names}, which {asked.verb(len(out) > 1)}"


def _unread_of(judge: Judge, items: Sequence[Item]) -> bool:
    """Whether of each of some products a line was not read."""
    products = judge.world.products
    return all(
        item.key in products
        and any(r.symbol is None for r in judge.world.read(item.key).readings)
        for item in items
    )


def _clearing(said: q.Predicate) -> tuple[q.Clears, q.Predicate] | None:
    """What is asked to be taken off, and what is asked besides; None if not both."""
    if not isinstance(said, q.Both):
        return None
    clears = [part for part in said.parts if isinstance(part, q.Clears)]
    rest = tuple(part for part in said.parts if part not in clears)
    if len(clears) != 1 or not rest:
        return None
    return clears[0], rest[0] if len(rest) == 1 else q.Both(rest)


def _is_done_to(said: q.Predicate | None) -> bool:
    """Whether a predicate tells what is done to a film: that it is cleared, or left."""
    while isinstance(said, q.Not | q.Both | q.Either):
        said = said.part if isinstance(said, q.Not) else said.parts[0]
    return isinstance(said, q.Undergoes)


def _at_hand(judge: Judge, term: q.Term, items: list[Item]) -> list[Item]:
    """Of a whole class, what is on some label here, if anything of it is."""
    base = term.term if isinstance(term, q.Such) else term
    if isinstance(base, q.And | q.Or) or len(items) < _FEW:
        return items
    nouns = judge.nouns
    there = set[str]().union(*map(nouns.on_label, nouns.all_products))
    return [item for item in items if item.key in there] or items


def _is_without(said: q.Predicate | None) -> bool:
    """Whether products are asked for that do not contain, or leave, something."""
    return isinstance(said, q.Not) and isinstance(said.part, q.Contains | q.Leaves)


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
    need = "needs" if len({row.film for row in verdicts}) == 1 else "need"
    return f"{films} {need} no wash{f', for {how}' if how else ''}; any would do."


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


def in_order(query: q.Which | q.What, found: int | None = None) -> str:
    """An order that was asked for, and how many, in words."""
    if query.order and (query.limit == 1 or (found == 1 and not query.limit)):
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


def _mind(
    judge: Judge, kept: Sequence[Item], items: Sequence[Item], query: q.Which
) -> list[str]:
    """What to mind of the first, where an order does not compare them all."""
    if query.order in EASE:
        _, mind = judge.contrasts.by_ease(items, EASE[query.order], query.under)
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
    if query.order in EASE:
        first, _ = judge.contrasts.by_ease(kept, EASE[query.order], query.under)
        rest = [] if query.limit else [item for item in kept if item not in first]
        kept = [*first, *rest]
    if query.order is q.Order.STRONGEST:
        kept = judge.strength.strongest(kept, _cleared(query.predicate))
    return kept[: query.limit]


EASE = {q.Order.HARDEST: q.Ease.HARDER, q.Order.EASIEST: q.Ease.EASIER}


def _cleared(said: q.Predicate | None) -> q.Term | None:
    """The films that a predicate is about taking off, if it is; one list of them."""
    return said.object if isinstance(said, q.Clears) else None
