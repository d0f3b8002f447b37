"""Rules held against a base: every name that a rule uses stands for something there.

A misspelt name makes a rule that never applies, and nobody would notice. So a rule is
refused that speaks of a thing, a value, a kind or a source which the base does not
know, as a Turtle file that does is. The rules are looked at as they are compiled,
which is quick; only where something is wrong are the files read again, to mark the
place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from abluent.engine.base.contract import ISA, TERMS, TYPE, WORDS
from abluent.engine.base.files import BaseFile
from abluent.engine.base.near import nearest, offered
from abluent.engine.base.store import Base
from abluent.engine.errors import Problem, ProgramError
from abluent.engine.logic.clauses import Atom, Rule, body_atoms
from abluent.engine.logic.program import Program

CODES = ("unknown-predicate", "unknown-name", "unknown-value", "unknown-source")
"""What a rule can be refused for here; the others are told by the compiler."""

_OF_CLASS = frozenset([(TYPE, 1), (ISA, 1)])
_SOURCE = "Source"


class Strange(NamedTuple):
    """A name in a rule that stands for nothing.

    `place` is the number of the term, from zero; -1 for the predicate itself, and the
    atom is None where a source is meant.
    """

    rule: Rule
    code: str
    name: str
    message: str
    atom: Atom | None = None
    place: int = -1


def refuse_strange(program: Program, base: Base) -> None:
    """Refuse rules that speak of what the base does not know.

    Raises:
        ProgramError: with every such name, its place and the nearest that would do.
    """
    looking = _Looking(program, base)
    told = [(each, looking.advice(each)) for each in looking.found()]
    if told:
        raise ProgramError(_problem(program.files, *each) for each in told)


def strange(program: Program, base: Base) -> Iterator[Strange]:
    """Every name of a rule that stands for nothing, in the order of the rules."""
    return _Looking(program, base).found()


class _Looking:
    def __init__(self, program: Program, base: Base) -> None:
        self._program, self._base = program, base
        self._sources = frozenset(base.instances(_SOURCE))

    def found(self) -> Iterator[Strange]:
        for rule in self._program.rules:
            if not rule.generated:
                yield from self._sources_of(rule)
            for atom in dict.fromkeys((rule.head, *body_atoms(rule.body))):
                yield from self._in_atom(rule, atom)

    def _sources_of(self, rule: Rule) -> Iterator[Strange]:
        for name in rule.sources:
            if name not in self._sources:
                message = f"`{name}` is no source of the base"
                yield Strange(rule, "unknown-source", name, message)

    def _in_atom(self, rule: Rule, atom: Atom) -> Iterator[Strange]:
        name = atom.predicate
        if name not in self._predicates:
            message = f"nothing says of anything that it is `{name}`"
            yield Strange(rule, "unknown-predicate", name, message, atom)
            return
        for place, term in enumerate(atom.args):
            if isinstance(term, str):
                yield from self._constant(rule, atom, place, term)

    def _constant(
        self, rule: Rule, atom: Atom, place: int, name: str
    ) -> Iterator[Strange]:
        if name not in self._base:
            if name not in self._concluded(atom.predicate, place):
                message = f"the base describes no `{name}`"
                yield Strange(rule, "unknown-name", name, message, atom, place)
        elif not self._fits(atom.predicate, place, name):
            message = f"`{name}` is no value of `{atom.predicate}`"
            yield Strange(rule, "unknown-value", name, message, atom, place)

    def advice(self, found: Strange) -> str:
        """The nearest name that would do there."""
        name, atom = found.name, found.atom
        if atom is None:
            return offered(name, self._sources, self._base.label)
        if found.place < 0:
            if self._base.is_class(name):
                return f"Of what belongs to a class, say `{ISA} {name}`."
            return offered(name, self._predicates)
        for kind in self._ranges(atom.predicate, found.place):
            return offered(name, self._base.instances(kind), self._base.label)
        words = self._concluded(atom.predicate, found.place)
        return offered(name, words if nearest(name, words) else self._base.symbols)

    # -- what is known ------------------------------------------------------------

    @cached_property
    def _predicates(self) -> frozenset[str]:
        """All that facts are made of: by rules, by code, or by properties."""
        heads = {rule.head.predicate for rule in self._program.rules}
        properties = filter(self._is_property, self._base.symbols)
        return frozenset({*heads, *self._program.declarations, *TERMS, *properties})

    def _is_property(self, name: str) -> bool:
        """Whether a name is neither of a class nor of a thing."""
        return not (self._base.is_class(name) or self._base.types(name))

    def _concluded(self, predicate: str, place: int) -> frozenset[str]:
        """The words that rules conclude, or code asserts, where a term may stand."""
        return self._words.get(self._program.sorts[predicate][place], frozenset())

    @cached_property
    def _words(self) -> dict[int, frozenset[str]]:
        found: dict[int, set[str]] = {}
        for head in (rule.head for rule in self._program.rules):
            for sort, name in zip(
                self._program.sorts[head.predicate], head.args, strict=True
            ):
                if isinstance(name, str):
                    found.setdefault(sort, set()).add(name)
        for (predicate, place), names in WORDS.items():
            if predicate in self._program.sorts:
                sort = self._program.sorts[predicate][place]
                found.setdefault(sort, set()).update(names)
        return {sort: frozenset(names) for sort, names in found.items()}

    def _fits(self, predicate: str, place: int, name: str) -> bool:
        """Whether a thing may be the value of a property or the class of a thing."""
        if (predicate, place) in _OF_CLASS:
            return self._base.is_class(name) or self._base.record(name).space == "ing"
        return all(
            name in self._base.instances(kind) or name == kind
            for kind in self._ranges(predicate, place)
        )

    def _ranges(self, predicate: str, place: int) -> list[str]:
        """The kinds that a value must be of; none if anything will do."""
        if place != 1 or predicate not in self._base:
            return []
        named = self._base.record(predicate).links("range")
        return [kind for kind in named if self._base.instances(kind)]


def _problem(files: Sequence[BaseFile], found: Strange, advice: str) -> Problem:
    """What is strange, with its place marked in the text of the file."""
    from abluent.engine.base.marking import mark  # noqa: PLC0415 - needs a parser

    rule = found.rule
    line, excerpt = mark(files, rule, found.name, found.atom, found.place)
    named = "" if rule.generated else f"rule `{rule.id}`: "
    told = f"{named}{found.message}"
    return Problem(rule.place.file, line, found.code, rule.id, told, excerpt, advice)
