"""A question, asked of a world: the one way from a syntax tree to an answer.

Each form of question has a module of its own; here is which form is answered by which.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from abluent.engine.base.conditions import speaking
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.whether import whether
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.nouns import Nouns, UnknownName
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_query

__all__ = ["Unanswerable", "UnknownName", "ask"]


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
    with speaking(world.base):
        return _Asked(judge, print_query(query), last).answer(query)


class _Asked:
    """A question in one world, with the answer before it."""

    def __init__(self, judge: Judge, text: str, last: Answer | None) -> None:
        self.judge, self._text, self._last = judge, text, last

    def answer(self, query: q.Query) -> Answer:
        """Answer a query by its form."""
        text = self._text
        ways: dict[type[q.Node], Callable[[Any], Answer]] = {
            q.Whether: self._whether,
            q.Claim: self._claim,
            q.Argue: self._argue,
            q.Which: self._which,
            q.What: self._what,
            q.HowMany: self._how_many,
            q.Rounds: self._rounds,
            q.NotUnderstood: self._not_understood,
            q.HowMuch: self._how_much,
            q.Amount: self._amount,
            q.Task: self._task,
            q.Rank: self._rank,
            q.Define: self._define,
            q.About: self._about,
            q.Unlike: self._unlike,
            q.Compare: self._compare,
            q.Unlawful: self._unlawful,
            q.Saying: self._saying,
            q.Conflicts: self._conflicts,
            q.Let: self._let,
            q.Save: lambda each: self.answer(each.question),
            q.Suppose: self._suppose,
            q.Forget: lambda each: Answer(text, f"{each.name.text}: forgotten."),
        }
        way = ways.get(type(query))
        if way is None:
            raise Unanswerable("this form is not answered yet", query.span)
        return way(query)

    def _let(self, query: q.Let) -> Answer:
        from abluent.engine.questions.forms.which import named  # noqa: PLC0415

        items = self.judge.terms.items(query.term, PRODUCT)
        return named(self.judge.nouns, items, self._text)

    def _how_many(self, query: q.HowMany) -> Answer:
        if query.share:
            from abluent.engine.questions.forms.share import share_of  # noqa: PLC0415

            return share_of(self.judge, query, self._text)
        found = self.answer(query.question)
        told = f"{len(found.members)}: {found.sentence}"
        rows, others, members = found.rows, found.others, found.members
        return Answer(self._text, told, rows, others, members, found.notes)

    # What only some forms need is imported for them: a plain question is to be
    # answered in a fifth of a second, imports included.

    def _which(self, query: q.Which) -> Answer:
        from abluent.engine.questions.forms.which import which  # noqa: PLC0415

        return which(self.judge, query, self._text)

    def _what(self, query: q.What) -> Answer:
        from abluent.engine.questions.forms.what import what  # noqa: PLC0415

        return what(self.judge, query, self._text)

    def _whether(self, query: q.Whether) -> Answer:
        subject, said = query.statement.subject, query.statement.predicate
        if isinstance(subject, q.Quantified):
            if subject.quantity is q.Quantity.SOME:
                # `does any conditioner contain a silicone` asks which.
                return self._which(q.Which(subject.term, said))
            every = subject.quantity is q.Quantity.EVERY
            if not every or isinstance(said, q.Leaves | q.Contains | q.Is):
                # What each takes off is shown of all; of the rest a claim tells it.
                return self._claim(q.Claim(query.statement))
        while isinstance(said, q.Not):
            said = said.part
        if isinstance(said, q.Needs | q.Stays):
            # What shows it speaks of a wash or of water, and is no answer by itself.
            return self._claim(q.Claim(query.statement))
        return whether(self.judge, query.statement, self._text)

    def _rounds(self, query: q.Rounds) -> Answer:
        from abluent.engine.questions.about.rounds import by_rounds  # noqa: PLC0415

        one = len(self.judge.terms.items(query.washes, PRODUCT)) == 1
        said = q.Statement(query.washes, query.clears)
        asked = q.Whether(said) if one else q.Which(query.washes, query.clears)
        return by_rounds(self.answer(asked), sole=one)

    def _not_understood(self, query: q.NotUnderstood) -> Answer:
        from abluent.engine.questions.forms.not_understood import (  # noqa: PLC0415
            not_understood,
        )

        return not_understood(self.judge, query, self._text)

    def _claim(self, query: q.Claim) -> Answer:
        from abluent.engine.questions.forms.claim import judge_claim  # noqa: PLC0415

        return judge_claim(self.judge, query.statement, self._text)

    def _argue(self, query: q.Argue) -> Answer:
        from abluent.engine.questions.forms.argument import judge_argument  # noqa: PLC0415

        return judge_argument(self.judge, query, self._text)

    def _how_much(self, query: q.HowMuch) -> Answer:
        from abluent.engine.questions.forms.measure import how_mild  # noqa: PLC0415
        from abluent.engine.questions.forms.strength import how_strong  # noqa: PLC0415

        mild = query.measure is q.Measure.MILD
        return (how_mild if mild else how_strong)(self.judge, query, self._text)

    def _amount(self, query: q.Amount) -> Answer:
        from abluent.engine.questions.verbs.levels import amount  # noqa: PLC0415

        return amount(self.judge, query, self._text)

    def _task(self, query: q.Task) -> Answer:
        from abluent.engine.questions.verbs.task import task  # noqa: PLC0415

        return task(self.judge, query, self._text)

    def _rank(self, query: q.Rank) -> Answer:
        from abluent.engine.questions.forms.measure import ranked  # noqa: PLC0415
        from abluent.engine.questions.forms.strength import (  # noqa: PLC0415
            ranked_by_strength,
        )

        if query.film is None:
            return ranked(self.judge, query, self._text)
        return ranked_by_strength(self.judge, query, query.film, self._text)

    def _define(self, query: q.Define) -> Answer:
        from abluent.engine.questions.forms.definition import define  # noqa: PLC0415

        return define(self.judge, query.term, self._text)

    def _compare(self, query: q.Compare) -> Answer:
        if not query.lines:
            from abluent.engine.questions.forms.comparison import (  # noqa: PLC0415
                compare,
            )

            return compare(self.judge, query, self._text)
        from abluent.engine.questions.forms.lines import compare_lines  # noqa: PLC0415

        return compare_lines(self.judge, query, self._text)

    def _unlawful(self, query: q.Unlawful) -> Answer:
        from abluent.engine.questions.forms.unlawful import unlawful  # noqa: PLC0415

        return unlawful(self.judge, query, self._text)

    def _saying(self, query: q.Saying) -> Answer:
        from abluent.engine.questions.about.saying import saying  # noqa: PLC0415

        return saying(self.judge, query, self._text)

    def _conflicts(self, query: q.Conflicts) -> Answer:
        from abluent.engine.questions.forms.conflicts import conflicts  # noqa: PLC0415

        return conflicts(self.judge, query, self._text)

    def _unlike(self, query: q.Unlike) -> Answer:
        from abluent.engine.questions.forms.unlike import unlike  # noqa: PLC0415

        return unlike(self.judge, query, self._text)

    def _about(self, query: q.About) -> Answer:
        from abluent.engine.questions.about.follow_up import About  # noqa: PLC0415

        name, nouns = query.matter, self.judge.nouns
        if isinstance(name, q.Name) and not nouns.knows(name.text):
            near = nouns.near(name.text)
            raise UnknownName(name.text, "product or ingredient", near, name.span)
        return About(self.judge, self.answer, self._last).answer(query, self._text)

    def _suppose(self, query: q.Suppose) -> Answer:
        from abluent.engine.questions.forms.difference import told_apart  # noqa: PLC0415
        from abluent.engine.questions.forms.supposition import supposed  # noqa: PLC0415

        now = self._in(self.judge.world.remembering())
        # First as it is: what is read and worked out for that serves the other too.
        before = now.answer(query.question)
        told: list[str] = []
        then = self._in(supposed(now.judge, query.changes, told))
        return told_apart(self._text, before, then.answer(query.question), told)

    def _in(self, world: World) -> _Asked:
        """The same question asked in another world."""
        judge = Judge(Nouns(world, self.judge.nouns.sets), self.judge.terms.last)
        return _Asked(judge, self._text, self._last)
