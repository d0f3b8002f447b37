"""One session: a base, a shelf, and what was asked so far. The Python API.

    from abluent.shell.session.session import Session

    session = Session.open(["salon.csv"])
    answer = session.ask('which washes clear "Dimethicone"')
    print(session.export_trace(answer, "markdown"))

The one-shot commands and the interactive shell are thin layers over this object;
what it does itself is thin too, as all that is known lives in the engine.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from abluent.grammar.common.record import replace
from abluent.shell.session.over_base import OverBase
from abluent.shell.shelf.by_name import own_named, shelves_named
from abluent.shell.shelf.current import OWN
from abluent.shell.shelf.shelf import Shelf, ShelfLabel, checked_label
from abluent.shell.shelf.words import knowing

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from abluent.engine.amounts.lawful import Lawful
    from abluent.engine.amounts.levels import Levels
    from abluent.engine.questions.answers.answer import Answer
    from abluent.engine.questions.world.items import Item
    from abluent.engine.questions.world.vocabulary import Vocabulary
    from abluent.engine.questions.world.world import World
    from abluent.engine.reading.readings import Reading, ReadLabel
    from abluent.grammar.phrase.reading import Heard
    from abluent.grammar.query.tree import Query
    from abluent.shell.routine.heard import HeardWeek
    from abluent.shell.session.unexact import Choices


class Session(OverBase):
    """Answers questions about one shelf; what it works out is kept for the next."""

    def __init__(
        self,
        shelf: Shelf,
        knowledge: Sequence[str] = (),
        *,
        taught: bool = True,
        base: str | None = None,
    ) -> None:
        """Start on a shelf; nothing is loaded until something is asked.

        Args:
            shelf: the products that questions are about.
            knowledge: the user's own Turtle and rule files, or folders of them, to
                be laid over the base.
            taught: whether what the user taught counts.
            base: a folder that holds a base of one's own, in place of the shipped
                one; what was taught is none of its business.
        """
        super().__init__(shelf, knowledge, taught=taught, base=base)
        self._last: Answer | None = None
        self._untold: Callable[[], Answer] | None = None
        self._typed = ""
        self._sets: dict[str, Sequence[Item]] = {}
        self._named: Vocabulary | None = None

    @classmethod
    def open(  # noqa: PLR0913 - each can be said by itself
        cls,
        shelves: Sequence[str] = (),
        conditions: Mapping[str, str] | None = None,
        *,
        own: bool = False,
        knowledge: Sequence[str] = (),
        taught: bool = True,
        base: str | None = None,
    ) -> Session:
        """Start on the shelves named, read as one.

        Args:
            shelves: files, folders, names of the user's own shelves, or `demo`; if
                there are none, the demo shelf.
            conditions: how hair is washed, by aspect (`{"water": "hard"}`), in place
                of what the shelves say.
            own: if no shelf is named, start on the user's own if there is one.
            knowledge: the user's own Turtle and rule files, or folders of them.
            taught: whether what the user taught counts.
            base: a folder that holds a base of one's own, in place of the shipped
                one; what no shelf is named for is asked of the base alone.

        Raises:
            CommandError: there is no such shelf.
            DataError: one cannot be read at all. Faults of single products are in
                `shelf.problems`; the other products are there.
        """
        session = cls(Shelf("none", ()), knowledge, taught=taught, base=base)
        if base is not None and not shelves:
            session._shelf = replace(session._shelf, conditions=conditions or {})
            return session
        with knowing(session.words_base):
            mine = own_named(OWN) if own and not shelves else None
            if mine is None:
                session._shelf = shelves_named(shelves, conditions)
                return session
            session._put(mine.load(), mine)
        if conditions:
            # For this run alone: what the shelf itself says stays as it is.
            said = {**session._shelf.conditions, **conditions}
            session._shelf = replace(session._shelf, conditions=said)
        return session

    def on(self, shelf: Shelf) -> Session:
        """Go to a shelf that was read, and stay the same session."""
        self._put(shelf)
        return self

    def under(self, conditions: Mapping[str, str]) -> Session:
        """Return a session on the same shelf, washed otherwise; this one stays.

        What of an aspect is to be left unsaid is an empty word.
        """
        said = {**self._shelf.conditions, **conditions}
        kept = {aspect: word for aspect, word in said.items() if word}
        other = Session(replace(self._shelf, conditions=kept))
        other._with_taught, other._knowledge = self._with_taught, self._knowledge
        other._instead, other._base = self._instead, self._base
        other.practice = self.practice
        from abluent.shell.session.loading import moved

        other._world = moved(self.world, other._shelf)
        return other

    # -- questions ------------------------------------------------------------

    @property
    def last(self) -> Answer | None:
        """The last answer, if anything was asked yet."""
        if self._untold is not None:
            self._last, self._untold = self._untold(), None
            self._typed = self._last.query
        return self._last

    def told(self, answer: Callable[[], Answer]) -> None:
        """Take for the last answer what came of something that is no question.

        It is worked out where it is first asked for.
        """
        self._untold = answer

    @staticmethod
    def opening_words() -> Container[str]:
        """Words that no label begins with, as questions have them."""
        from abluent.grammar.query.words import reserved

        return reserved()

    @property
    def sets(self) -> Mapping[str, Sequence[Item]]:
        """What `let` and `save` named, by the name in its folded form."""
        return self._sets

    def ask(self, text: str) -> Answer:
        """Answer one question, in the words of the query language or nearly so.

        What the language does not accept is read for what it contains, and answered
        where one reading covers all that matters; `heard` tells it from the answer.

        The answer shows itself: printed, as text; in a notebook, as a page.

        `let`, `save` and `forget` act on the session itself; `those` and a bare `why`
        mean its last answer. A question that fails leaves all that as it was.

        Raises:
            GrammarError: the question is not understood.
            Unexact: it is free speech, and can be read in more than one way.
            CommandError: a name in it stands for nothing on this shelf or in the
                base, or it cannot be asked of these things.
        """
        from abluent.grammar.common.errors import GrammarError
        from abluent.grammar.query.parse import parse_query

        with self.speaking():
            try:
                query = parse_query(text)
            except GrammarError as error:
                return self._ask_heard(text, error)
            return self._answered(query, text)

    def speaking(self) -> AbstractContextManager[None]:
        """Read the conditions of the base at hand, the user's own among them."""
        from abluent.engine.base.conditions import speaking

        return speaking(self.world.base)

    def take(self, text: str, question: str) -> Answer:
        """Answer what a line of free speech was taken for, and remember the choice.

        Args:
            text: the line, as typed.
            question: one of its readings.

        Raises:
            CommandError: a name in it stands for nothing here.
        """
        from abluent.grammar.query.parse import parse_query

        with self.speaking():
            answer = self._answered(parse_query(question), question, heard=text)
        self._choices.take(text, question)
        return answer

    def hear(self, text: str) -> Heard:
        """Read free speech into exact questions, best first; at most three."""
        from abluent.engine.questions.forms.heard import heard

        with self.speaking():
            return heard(text, self._vocabulary())

    def week(self, text: str) -> HeardWeek | None:
        """Read the week that a line of free speech tells, if it tells one."""
        from abluent.shell.routine.heard import hear_week

        with self.speaking():
            return hear_week(text, self._vocabulary())

    def exact(self, text: str, error: Exception | None = None) -> str:
        """Return the question that a line is, or that free speech means.

        Args:
            text: the line, as typed.
            error: why it cannot be asked as it stands, if that is known.

        Raises:
            Unexact: it can be read, and not in one way only.
            GrammarError: it cannot be read at all.
        """
        from abluent.grammar.common.errors import GrammarError
        from abluent.grammar.query.parse import parse_query

        with self.speaking():
            if error is None:
                try:
                    parse_query(text)
                except GrammarError as refused:
                    error = refused
                else:
                    return text
            return self._meant(text, error)[0]

    def _meant(self, text: str, error: Exception) -> tuple[str, Sequence[str]]:
        """The question that free speech means, and what it says besides.

        Raises:
            Unexact: it can be read, and not in one way only.
            GrammarError: the one given, where it cannot be read at all.
        """
        from abluent.shell.session.hearing import sole_reading

        taken = self._choices.of(text)
        if taken:
            return taken, ()
        reading = sole_reading(text, error, self._vocabulary())
        return reading.question, reading.unused

    def _ask_heard(self, text: str, error: Exception) -> Answer:
        """Answer free speech where it can be read in one way only.

        Raises:
            Unexact: it can be read, and not in one way only.
            GrammarError: the one given, where it cannot be read at all.
        """
        from abluent.grammar.query.parse import parse_query

        with self.speaking():
            question, unused = self._meant(text, error)
        query = parse_query(question)
        return self._answered(query, question, heard=text, unused=unused)

    def _answered(
        self, query: Query, text: str, *, heard: str = "", unused: Sequence[str] = ()
    ) -> Answer:
        from abluent.engine.questions.forms.question import UnknownName, ask

        try:
            answer = ask(query, self.world, self._sets, self.last)
        except UnknownName as error:
            from abluent.shell.shelf.unknown_name import (
                is_loose,
                place_of,
                unknown_name,
            )

            told = unknown_name(error, text, self._shelf)
            loose = not heard and (
                is_loose(error, text) or self._is_heard(text, place_of(error))
            )
            if loose:
                return self._ask_heard(text, told)
            raise told from error
        from abluent.shell.session.answer_face import ShownAnswer
        from abluent.shell.session.left_out import left_out

        notes = (*answer.notes, *left_out(answer.query, self.world, self._shelf))
        answer = replace(answer, heard=heard, unused=unused, notes=notes)
        shown = ShownAnswer.of(answer)
        self._remember(query, shown)
        self._typed = text
        return shown

    def _is_heard(self, text: str, place: tuple[int, int]) -> bool:
        """Whether what is no name is read in a line, or nothing here settles it.

        Args:
            text: the line; one with a name in quotes is exact.
            place: where the name stands that is none.
        """
        if '"' in text:
            return False
        found, (start, end) = self.hear(text), place
        # What is only spelt wrong has a help of its own.
        words = text[start:end].casefold().split()
        slip = any(self._vocabulary().repair(each) not in ("", each) for each in words)
        read = (
            not any(
                span.start < end and start < span.end
                for span in (*each.unread, *(each.mended if slip else ()))
            )
            for each in found.readings[:1]
        )
        return bool(found.unsettled) or any(read)

    def _vocabulary(self) -> Vocabulary:
        """The names that free speech can mean, made anew for another shelf."""
        from abluent.engine.questions.world.nouns import Nouns
        from abluent.engine.questions.world.vocabulary import Vocabulary

        known = self._named
        if known is None or known.nouns.world is not self.world:
            known = self._named = Vocabulary(Nouns(self.world, self._sets))
        return known

    @cached_property
    def _choices(self) -> Choices:
        from abluent.shell.session.unexact import Choices

        return Choices()

    def keep(self) -> None:
        """Keep what was worked out about the base, so that the next run need not."""
        if self._world is not None:
            self._world.known.shared.keep()

    def name(self, printed: str) -> Reading:
        """Say what an ingredient name stands for; an unknown one is an answer too."""
        from abluent.engine.reading.names import resolve

        return resolve(printed, self.world.base)

    def read(self, text: str, kind: str = "", market: str = "") -> ReadLabel:
        """Read the text of a label, which need not be on the shelf.

        Raises:
            CommandError: the text is empty, or the kind is none.
        """
        from abluent.engine.reading.labels import label_facts

        base = self.world.base
        with knowing(self.words_base):
            label = checked_label("this label", kind, text, market)
        return label_facts(label.product, label.kind, market, label.text, base)

    def levels(
        self, read: ReadLabel, *, on: str = "", practice: bool = False
    ) -> Levels:
        """Say how much of each ingredient a label can mean, in per cent by weight.

        Args:
            read: the label, read.
            on: the day on which the product was on sale, as `2026-01-31`, by whose
                law the levels are bound; today if empty.
            practice: whether to narrow the levels by what the trade usually puts in.
        """
        from abluent.engine.amounts.label_levels import label_levels

        return label_levels(read, self.world.base, on=on, practice=practice)

    def lawful(self, read: ReadLabel, *, on: str = "") -> Lawful:
        """Say what may not lawfully stand in a product, by its market, kind and day.

        Args:
            read: the label, read.
            on: the day on which the product is sold, as `2026-01-31`; today if empty.
        """
        from abluent.engine.amounts.lawful import lawful

        return lawful(read, self.world.base, on)

    def read_product(self, product: str) -> tuple[ShelfLabel, ReadLabel]:
        """Read the label of a product on the shelf.

        Raises:
            CommandError: there is no such product.
        """
        label = self.on_shelf(product)
        return label, self.world.read(label.product)

    def export_trace(self, answer: Answer, form: str = "markdown") -> str:
        """Return an answer with every reason, to show or to check.

        Args:
            answer: one that `ask` returned.
            form: the name of one of `export.trace_forms`, such as `markdown` or
                `json`, or the ending of its files, such as `.md`. JSON is one object
                a line; most answers are one object.

        Raises:
            CommandError: the form is none of these, or the answer rests on no
                reasons, such as a list of names.
        """
        from abluent.shell.pages.export import exported

        question = self._typed if answer is self.last else answer.query
        return exported(answer, form, question)

    def base_for(
        self, trace: Mapping[str, Any], *, own: bool = False
    ) -> dict[str, Any]:
        """Return the installed base as the checker compares a trace with it.

        Args:
            trace: the trace.
            own: whether its products may have other labels than those of the same
                names here, as it may be of another shelf; the outcome then says so.
        """
        from abluent.engine.base.conditions import speaking
        from abluent.engine.questions.forms.question import ask
        from abluent.engine.trace.answer import base_for
        from abluent.grammar.query.parse import parse_query

        def again(text: str, world: World) -> Answer:
            with speaking(world.base):
                return ask(parse_query(text), world)

        return base_for(trace, self.world, again, own=own)

    def _remember(self, query: Query, answer: Answer) -> None:
        from abluent.engine.base.fold import fold
        from abluent.grammar.query.tree import Forget, Let, Save

        if isinstance(query, Forget):
            self._sets.pop(fold(query.name.text), None)
        elif isinstance(query, Let | Save):
            self._sets[fold(query.name.text)] = tuple(answer.members)
        self._last, self._untold = answer, None
