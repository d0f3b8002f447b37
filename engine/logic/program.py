"""A program: compiled rules, ready to be evaluated.

`load_program` reads rule files and refuses, with every reason at once, what the
reasoner could not answer truly: a variable without a value, a negation that
depends on its own outcome, a predicate with two arities, an id used twice, an
exception to nothing, a rule without a sentence.

Reading needs the parser; a program can therefore be kept as plain data with
`dump` and restored with `undump`, without importing it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from functools import cached_property
from typing import Any

from abluent.engine.logic import term_data
from abluent.engine.logic._recipe import Recipes
from abluent.engine.logic.clauses import Declaration, Rule, body_atoms
from abluent.engine.logic.strata import Component
from abluent.engine.logic.symbols import infer_sorts


class Program:
    """Rules in an order of evaluation, with the sentences that show them.

    Attributes:
        rules: every rule, in the order of the files.
        declarations: the declared predicates, by name.
        standings: the scale of standings, best first; empty if none is declared.
        components: predicates that are finished together, dependencies first.
    """

    def __init__(
        self,
        rules: tuple[Rule, ...],
        declarations: tuple[Declaration, ...],
        standings: tuple[str, ...],
        components: tuple[Component, ...],
    ) -> None:
        self.rules = rules
        self.declarations = {each.predicate: each for each in declarations}
        self.standings = standings
        self.components = components
        self.stamps: object | None = None
        """What changes with the files it was read from, if it was read from some."""
        self.files: tuple[Any, ...] = ()
        """The files it was read from, if it was, as whoever read them names them."""

    def with_declarations(self, more: Iterable[Declaration]) -> Program:
        """The same rules with the sentences of further predicates."""
        declared = (*self.declarations.values(), *more)
        made = Program(self.rules, declared, self.standings, self.components)
        made.stamps, made.files = self.stamps, self.files
        made.recipes, made.shapes = self.recipes, self.shapes
        made.looked_at = self.looked_at
        if made.declarations.keys() <= self.arities.keys():
            made.arities, made.sorts = self.arities, self.sorts
        return made

    @cached_property
    def component_of(self) -> dict[str, int]:
        """The position in `components` of every predicate that a rule names."""
        return {
            name: position
            for position, part in enumerate(self.components)
            for name in part.predicates
        }

    @cached_property
    def looked_at(self) -> tuple[frozenset[str], ...]:
        """For every component the predicates that its rules look at."""
        return tuple(
            frozenset(
                atom.predicate
                for number in part.rules
                for atom in body_atoms(self.rules[number].body)
            )
            for part in self.components
        )

    def reach(self, position: int) -> frozenset[str]:
        """All predicates that a component and those below it are made from."""
        known = self._reached.get(position)
        if known is None:
            part = self.components[position]
            found = {*part.predicates, *self.looked_at[position]}
            for name in self.looked_at[position]:
                below = self.component_of.get(name, position)
                if below < position:
                    found |= self.reach(below)
            known = self._reached[position] = frozenset(found)
        return known

    @cached_property
    def _reached(self) -> dict[int, frozenset[str]]:
        return {}

    @cached_property
    def arities(self) -> dict[str, int]:
        """The number of terms of every predicate that is declared or used."""
        found = {name: len(each.columns) for name, each in self.declarations.items()}
        for rule in self.rules:
            for atom in (rule.head, *body_atoms(rule.body)):
                found[atom.predicate] = len(atom.args)
        return found

    @cached_property
    def sorts(self) -> dict[str, tuple[int, ...]]:
        """Which columns of which predicates can hold the same things, as numbers."""
        return infer_sorts(self.rules, self.arities)

    @cached_property
    def recipes(self) -> Recipes:
        """How its rules were evaluated so far."""
        return Recipes(self.rules)

    @cached_property
    def shapes(self) -> dict[Hashable, object]:
        """Kept for the modules that read instances off models of this program."""
        return {}

    @cached_property
    def _by_head(self) -> dict[str, tuple[Rule, ...]]:
        found: dict[str, list[Rule]] = {}
        for rule in self.rules:
            found.setdefault(rule.head.predicate, []).append(rule)
        return {name: tuple(rules) for name, rules in found.items()}

    def concluding(self, predicate: str) -> tuple[Rule, ...]:
        """The rules whose head is of a predicate, in the order of the files."""
        return self._by_head.get(predicate, ())

    def dump(self) -> Any:
        """The program as tuples, texts and numbers, fit for `marshal`."""
        declared = tuple(self.declarations.values())
        parts = (self.rules, declared, self.standings, self.components)
        looked_at = [[*each] for each in self.looked_at]
        return term_data.pack(parts), self.sorts, self.arities, looked_at

    @classmethod
    def undump(cls, data: Any) -> Program:
        """A program from what `dump` returned."""
        packed, sorts, arities, looked_at = data
        program = cls(*term_data.unpack(packed))
        program.sorts, program.arities = sorts, arities
        program.looked_at = tuple(map(frozenset, looked_at))
        return program


def load_program(sources: Iterable[tuple[str, str]]) -> Program:
    """Compile rule files, each given as its name and its text.

    Raises:
        ProgramError: the files say something that is refused; it holds every
            problem of every file, each with its place.
    """
    from abluent.engine.logic._compile import compile_files  # noqa: PLC0415 - needs lark

    done = compile_files(sources)
    return Program(done.rules, done.declarations, done.standings, done.components)
