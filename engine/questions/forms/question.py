"""A question, asked of a world: the one way from a syntax tree to an answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from abluent.engine.base.contract import ISA
from abluent.engine.base.kinds import telling
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    INGREDIENT,
    PRODUCT,
    Answer,
    Item,
    Member,
    Row,
    symbol_of,
)
from abluent.engine.questions.answers.verdicts import Verdict, films_left
from abluent.engine.questions.answers.wording import (
    listed,
    nearest_sentence,
    verdicts_sentence,
    which_sentence,
)
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged, Unanswerable
from abluent.engine.questions.verbs.mildness import Mildness
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.nouns import Nouns, UnknownName
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_query

__all__ = ["Unanswerable", "UnknownName", "ask"]

_CONDITIONED = 3
"""To how many verdicts of an answer it is told which conditions would turn them."""
_TRUTH = {True: "Yes", False: "No", None: "Open"}


def ask(
    query: q.Query,
    world: World,
    sets: Mapping[str, Sequence[Item]] | None = None,
    last: Answer | None = None,
) -> Answer:
    """Answer a query.

    Args:
        query: the tree that `parse_query` made.
        world: the base and the shelf it is asked of.
        sets: the sets that the reader named, by folded name.
        last: the answer before, which `those` and a bare `why` mean.

    Raises:
        UnknownName: a name in it stands for nothing here.
        Unanswerable: it cannot be asked of these things, or is not answered yet.
    """
    judge = Judge(Nouns(world, sets or {}), last.members if last else ())
    return _Asking(judge, print_query(query), last).answer(query)


class _Asking:
    def __init__(self, judge: Judge, query: str, last: Answer | None) -> None:
        self.judge, self.query, self.last = judge, query, last
        self.nouns, self.world = judge.nouns, judge.world

    def answer(self, query: q.Query) -> Answer:
        """Answer a query by its form."""
        ways: dict[type[q.Node], Callable[[Any], Answer]] = {
            q.Whether: lambda each: self._whether(each.statement),
            q.Claim: self._claim,
            q.Argue: self._argue,
            q.Which: self._which,
            q.What: self._what,
            q.HowMany: self._how_many,
            q.Define: lambda each: self._define(each.term),
            q.About: self._about,
            q.Compare: self._compare,
            q.Let: lambda each: self._named(self.judge.items(each.term, PRODUCT)),
            q.Save: lambda each: self.answer(each.question),
            q.Suppose: self._suppose,
            q.Forget: lambda each: Answer(self.query, f"{each.name.text}: forgotten."),
        }
        way = ways.get(type(query))
        if way is None:
            raise Unanswerable("this form is not answered yet", query.span)
        return way(query)

    # What only some forms need is imported for them: a plain question is to be
    # answered in a fifth of a second, imports included.

    def _claim(self, query: q.Claim) -> Answer:
        from abluent.engine.questions.forms.claim import judge_claim  # noqa: PLC0415

        return judge_claim(self.judge, query.statement, self.query)

    def _argue(self, query: q.Argue) -> Answer:
        from abluent.engine.questions.forms.argument import judge_argument  # noqa: PLC0415

        return judge_argument(self.judge, query, self.query)

    # -- whether ------------------------------------------------------------------

    def _whether(self, said: q.Statement) -> Answer:
        items = self.judge.items(said.subject, _place(said.predicate))
        judged = self.judge.judge(items, said.predicate)
        truths = [judged[item].truth for item in items]
        rows = tuple(row for item in items for row in judged[item].rows)
        truth = False if False in truths else None if None in truths else True
        notes = [*self._unread(items, said.predicate), *_conditions(rows)]
        if not rows and isinstance(said.predicate, q.Clears):
            return self._nothing_to_clear(said.predicate, notes)
        return Answer(
            self.query,
            self._verdict_sentence(truth, rows),
            rows,
            notes=notes,
            members=items,
        )

    def _nothing_to_clear(self, said: q.Clears, notes: Sequence[str]) -> Answer:
        source = print_term_of(self.judge, said.source)
        text = f"{source} is not shown to leave that, so there is nothing to clear."
        return Answer(self.query, text, notes=notes)

    def _verdict_sentence(self, truth: bool | None, rows: Sequence[Row]) -> str:
        found = [row for row in rows if isinstance(row, Verdict)]
        if found:
            return verdicts_sentence(self.world, found, truth)
        return f"{_TRUTH[truth]}."

    def _unread(self, items: Sequence[Item], said: q.Predicate) -> list[str]:
        """Lines that were not understood on the labels a question looks at."""
        looked = [item.key for item in items if item.kind == PRODUCT]
        if isinstance(said, q.Clears) and said.source is not None:
            looked += [i.key for i in self.judge.items(said.source, PRODUCT)]
        return [
            f"{name}: {note}"
            for name in dict.fromkeys(looked)
            if name in self.world.products
            for note in self._remarks(name)
        ]

    def _remarks(self, name: str) -> list[str]:
        """What a reader should know of how the lines of a label were understood."""
        told = []
        for reading in self.world.read(name).readings:
            if reading.symbol is None:
                known = f"`{reading.printed}` is not known"
                known = reading.note if reading.official else known
                told.append(f"{known}, so nothing rests on it.")
            elif reading.note:
                told.append(reading.note)
        return told

    # -- which and what -----------------------------------------------------------

    def _which(self, query: q.Which) -> Answer:
        said = query.predicate
        items = self.judge.items(query.subject, _place(said))
        if said is None:
            return self._named(items)
        judged = self.judge.judge(items, said)
        kept = self._ordered([i for i in items if judged[i].truth], query)
        rest = [i for i in items if i not in kept and not judged[i].truth]
        rows = tuple(row for item in kept for row in judged[item].rows)
        others = tuple(row for item in rest for row in judged[item].rows)
        undecided = [item for item in rest if judged[item].truth is None]
        sentence = which_sentence(self.nouns, kept, undecided)
        if not kept:
            sentence += nearest_sentence(self.nouns, rest, judged)
        notes = self._unread(kept, said)
        return Answer(self.query, sentence, rows, others, kept, notes)

    def _ordered(self, kept: list[Item], query: q.Which) -> list[Item]:
        if query.order is not None:
            kept = Mildness(self.judge).mildest(kept)
        if query.order is q.Order.STRONGEST:
            kept.reverse()
        return kept[: query.limit]

    def _what(self, query: q.What) -> Answer:
        said = q.asked_act(query.predicate)
        if isinstance(said, q.Leaves) and not isinstance(query.predicate, q.Not):
            return self._what_left(query.subject, said)
        if isinstance(query.subject, q.Thing):
            return self._which(
                q.Which(query.subject, query.predicate, query.order, query.limit)
            )
        items = self.judge.items(query.subject, PRODUCT)
        judged = self.judge.judge(items, said)
        rows = tuple(row for item in items for row in judged[item].rows)
        if isinstance(said, q.Clears):
            wanted = not isinstance(query.predicate, q.Not)
            rows, others = _parted(rows, wanted)
        else:
            others = ()
        films = [Item(INGREDIENT, symbol_of(row)) for row in rows]
        names = ", ".join(dict.fromkeys(self.nouns.title(item) for item in films))
        return Answer(
            self.query,
            f"{names or 'Nothing'}.",
            rows,
            others,
            films,
            self._unread(items, said),
        )

    def _what_left(self, subject: q.Term, said: q.Leaves) -> Answer:
        items = [i for i in self.judge.items(subject, PRODUCT) if i.kind == PRODUCT]
        if not items:
            what = "what a product leaves can be asked, and this names no product"
            raise Unanswerable(what, subject.span)
        judged = self.judge.judge(items, said)
        rows = tuple(row for item in items for row in judged[item].rows)
        films = [Item(INGREDIENT, symbol_of(row)) for row in rows]
        who = listed([self.nouns.title(item) for item in items])
        text = self._leaves_sentence(who, rows)
        more = self._left_else(items, said, rows)
        notes = [*self._unread(items, said), *more]
        return Answer(self.query, text, rows, (), films, notes)

    def _left_else(
        self, items: Sequence[Item], said: q.Leaves, rows: Sequence[Row]
    ) -> Iterator[str]:
        """Under which conditions the products of a short question leave more."""
        names = [item.key for item in items]
        if len(names) <= _CONDITIONED:
            from abluent.engine.questions.about.other_conditions import (  # noqa: PLC0415
                leaving_notes,
            )

            asked = [row.case for row in rows[:1]]
            more = said.circumstances
            (case,) = asked or [Case.of(self.world, sources=names, stated=more)]
            for name in names:
                yield from leaving_notes(case, name)

    def _how_many(self, query: q.HowMany) -> Answer:
        inner = self.answer(query.question)
        text = f"{len(inner.members)}: {inner.sentence}"
        return Answer(
            self.query, text, inner.rows, inner.others, inner.members, inner.notes
        )

    def _named(self, items: Sequence[Item]) -> Answer:
        names = ", ".join(self.nouns.title(item) for item in items)
        return Answer(self.query, f"{names or 'None here'}.", members=items)

    # -- what something is, and about answers -------------------------------------

    def _define(self, term: q.Term) -> Answer:
        place = PRODUCT
        items = self.judge.items(term, place)
        described = [self._described(item) for item in items[:20]]
        more = f" And {len(items) - 20} more." if len(items) > 20 else ""
        rows: list[Row] = []
        for item in items[:20]:
            rows += self._facts_of(item)
        return Answer(self.query, " ".join(described) + more, rows, (), items)

    def _described(self, item: Item) -> str:
        base = self.world.base
        if item.kind == PRODUCT:
            product, wash = self.world.products.get(item.key), base.term(Role.WASH)
            if product is None:
                return f"{item.key} alone is {self.world.known.phrases(wash, 'a')}."
            kind = base.label(self.nouns.kind_of(item))
            return f"{item.key} is a product of the shelf, sold as {kind}."
        kinds = telling(base.classes_of(item.key), base)
        return f"{base.label(item.key)} is {self.world.known.phrases(kinds[0], 'a')}."

    def _facts_of(self, item: Item) -> list[Row]:
        if item.kind == PRODUCT:
            case = Case.of(self.world, sources=[item.key])
            return list(films_left(case, item.key))

        base, case = (
            self.world.base,
            Case(self.world, self.world.known.about([item.key])),
        )
        kinds = telling(base.classes_of(item.key), base)
        goals = [(ISA, (item.key, kind)) for kind in kinds]
        return [Member(case, item, g) for g in goals if case.model.holds(*g)]

    def _about(self, query: q.About) -> Answer:
        from abluent.engine.questions.about.follow_up import About  # noqa: PLC0415 - see above

        return About(self.judge, self.answer, self.last).answer(query, self.query)

    def _suppose(self, query: q.Suppose) -> Answer:
        from abluent.engine.questions.forms.difference import told_apart  # noqa: PLC0415
        from abluent.engine.questions.forms.supposition import supposed  # noqa: PLC0415

        now = self._in(self.world.remembering())
        # First as it is: what is read and worked out for that serves the other too.
        before = now.answer(query.question)
        then = self._in(supposed(now.judge, query.changes))
        return told_apart(self.query, before, then.answer(query.question))

    def _in(self, world: World) -> _Asking:
        """The same question asked in another world."""
        judge = Judge(Nouns(world, self.nouns.sets), self.judge.last)
        return _Asking(judge, self.query, self.last)

    def _compare(self, query: q.Compare) -> Answer:
        items = self.judge.items(query.things, PRODUCT)
        parts = []
        for item in items:
            if query.film is None:
                said: q.Predicate = q.Leaves(q.Thing())
            else:
                said = q.Clears(query.film)
            judged = self.judge.judge([item], said)[item]
            parts.append(
                Answer(item.key, self._side(item, judged), judged.rows, members=[item])
            )
        text = " ".join(part.sentence for part in parts)
        return Answer(self.query, text, members=items, compared=parts)

    def _side(self, item: Item, judged: Judged) -> str:
        rows = [r for r in judged.rows if isinstance(r, Verdict)]
        if rows:
            return self._verdict_sentence(judged.truth, rows)
        return self._leaves_sentence(self.nouns.title(item), judged.rows)

    def _leaves_sentence(self, who: str, rows: Sequence[Row]) -> str:
        films = [self.nouns.title(Item(INGREDIENT, symbol_of(row))) for row in rows]
        return f"{who} leaves {listed(films) or 'nothing that this base knows of'}."


def _conditions(rows: Sequence[Row]) -> Iterator[str]:
    """Which conditions would turn the verdicts of a short answer."""
    found = [row for row in rows if isinstance(row, Verdict)]
    if len(found) <= _CONDITIONED:
        # Only few answers have a claim that waits for a condition.
        from abluent.engine.questions.about.other_conditions import turning_notes  # noqa: PLC0415

        yield from turning_notes(found)


def _place(said: q.Predicate | None) -> str:
    """Where the subject of a predicate is looked for first."""
    while isinstance(said, q.Not):
        said = said.part
    about = q.Is | q.Named | q.Stays | q.Resists
    return INGREDIENT if isinstance(said, about) else PRODUCT


def _parted(
    rows: Sequence[Row], wanted: bool
) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
    hits = tuple(r for r in rows if isinstance(r, Verdict) and r.gone is wanted)
    return hits, tuple(row for row in rows if row not in hits)


def print_term_of(judge: Judge, term: q.Term | None) -> str:
    """The names of the products a term means, as a reader knows them."""
    if term is None:
        return "Nothing"
    return " and ".join(judge.nouns.title(item) for item in judge.items(term, PRODUCT))
