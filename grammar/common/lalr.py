"""Running a grammar's parse tables, without importing the library that makes them.

Lark turns the grammar into tables once (`lalr_tables`); a question asked from the
command line then costs a few dictionary lookups a word. The same stack of states
tells which words may come next, for messages and for completion.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeAlias

from abluent.grammar.common.record import Record

END = "$END"
"""The kind of word that stands for the end of the text."""


class Rule(Record):
    """A rule of the grammar, as the last step of reading it needs it."""

    origin: str
    size: int
    call: str
    """The builder's method; empty where the parts are passed on as they are."""
    single: bool
    """One part is passed on as it is, without a call."""


class Tables(Record):
    """For each state, what each kind of word or part leads to.

    A number from zero up is the next state; below zero, -1 - n, is rule n, whose
    parts are complete.
    """

    rules: list[Rule]
    states: list[dict[str, int]]
    start: int
    end: int


Word: TypeAlias = Any
"""What a builder takes for a word; it has at least a `kind`."""


class Stuck(Exception):
    """A word that cannot stand where it does; None is the end of the text."""

    def __init__(self, word: Word | None, stack: Stack) -> None:
        super().__init__("this word cannot stand here")
        self.word = word
        self.stack = stack


class _Parts(list[Any]):
    """Parts on their way into the rule above."""


class Stack:
    """Where the reading of a text has come to."""

    def __init__(self, tables: Tables, builder: object | None = None) -> None:
        """Start with nothing read; without a builder, nothing is built."""
        self._tables = tables
        self._builder = builder
        self._states = [tables.start]
        self._values: list[Any] = []
        self._kinds: list[str] = []

    def feed(self, word: Word) -> None:
        """Take the next word.

        Raises:
            Stuck: it cannot stand here; the stack is left as it was before
                or with the parts before the word completed.
        """
        if not self._advance(word.kind, word):
            raise Stuck(word, self)

    def finish(self) -> Any:
        """Take the end of the text, and give what was built.

        Raises:
            Stuck: the text is not complete.
        """
        if not self._advance(END, None):
            raise Stuck(None, self)
        return self._values[0]

    def accepts(self) -> frozenset[str]:
        """The kinds of word that may come next, `END` among them."""
        here = self._tables.states[self._states[-1]]
        return frozenset(kind for kind in here if kind.isupper() and self.would(kind))

    def would(self, kind: str) -> bool:
        """Whether a word of this kind may come next."""
        states = list(self._states)
        while True:
            step = self._tables.states[states[-1]].get(kind)
            if step is None:
                return False
            if step >= 0:
                return True
            rule = self._tables.rules[-1 - step]
            del states[len(states) - rule.size :]
            states.append(self._tables.states[states[-1]][rule.origin])
            if kind == END and states[-1] == self._tables.end:
                return True

    def waiting(self) -> tuple[str, ...]:
        """The kinds of the words that belong to no complete part yet.

        What is complete is an empty text.
        """
        return tuple(self._kinds)

    def copy(self) -> Stack:
        """A stack that goes on from here by itself."""
        twin = Stack(self._tables, self._builder)
        twin._states = list(self._states)
        twin._values = list(self._values)
        twin._kinds = list(self._kinds)
        return twin

    def _advance(self, kind: str, word: Word | None) -> bool:
        while True:
            step = self._tables.states[self._states[-1]].get(kind)
            if step is None:
                return False
            if step >= 0:
                self._states.append(step)
                self._values.append(word)
                self._kinds.append(kind)
                return True
            self._complete(self._tables.rules[-1 - step])
            if kind == END and self._states[-1] == self._tables.end:
                return True

    def _complete(self, rule: Rule) -> None:
        first = len(self._states) - rule.size
        value = self._build(rule, self._values[first - 1 :])
        del self._states[first:], self._values[first - 1 :], self._kinds[first - 1 :]
        self._states.append(self._tables.states[self._states[-1]][rule.origin])
        self._values.append(value)
        self._kinds.append("")

    def _build(self, rule: Rule, values: list[Any]) -> Any:
        parts = _Parts(_spread(values))
        if rule.single and len(parts) == 1:
            return parts[0]
        if not rule.call or self._builder is None:
            return parts
        method: Callable[[Sequence[Any]], Any] = getattr(self._builder, rule.call)
        return method(parts)


def _spread(values: Iterable[Any]) -> Iterable[Any]:
    for value in values:
        if isinstance(value, _Parts):
            yield from value
        else:
            yield value
