"""The reasoner: every fact that follows from a program and a base.

Predicates are finished component by component, each after those it depends on, so
a negated condition always looks at a finished predicate and the answer is the one
perfect model. Inside a component evaluation is semi-naive: a round joins only
what the last round added. Nothing is recursive in Python, so depth is no limit.

A component is evaluated when its first predicate is asked for; a question about
one product does not pay for predicates it never reaches.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence

from abluent.engine._bits import Row
from abluent.engine._evaluate import finish
from abluent.engine._relation import Relation
from abluent.engine._symbols import Symbols, infer_sorts
from abluent.engine.clauses import body_atoms
from abluent.engine.errors import FactError
from abluent.engine.facts import Fact, Table
from abluent.engine.program import Program
from abluent.engine.terms import Term


class Model:
    """All facts of a program and a base, asserted and inferred.

    Made by `evaluate`. Terms go in and come out as values; the numbers that stand
    for them inside are nobody else's business.
    """

    def __init__(
        self, program: Program, facts: Iterable[Fact], tables: Iterable[Table] = ()
    ) -> None:
        self.program = program
        self._facts: dict[str, list[Fact]] = {}
        for fact in facts:
            self._facts.setdefault(fact.predicate, []).append(fact)
        self._given: dict[str, list[Table]] = {}
        for table in tables:
            self._given.setdefault(table.predicate, []).append(table)
        # Kept for the modules that read instances off a finished model.
        self.readers: dict[Hashable, object] = {}
        self._asserted: dict[str, dict[tuple[Term, ...], tuple[Fact, ...]]] = {}
        self._relations: dict[str, Relation] = {}
        self._stages: dict[str, dict[Row, int]] = {}
        self._rounds: dict[str, list[Relation]] = {}
        self._tables: dict[int, Symbols] = {}
        self._columns: dict[str, tuple[Symbols, ...]] = {}
        self._sorts = infer_sorts(program.rules, program.arities)

    # -- questions ----------------------------------------------------------------

    def predicates(self) -> tuple[str, ...]:
        """Every predicate that is asserted, declared or named by a rule."""
        names = dict.fromkeys([*self.program.arities, *self._facts, *self._given])
        return tuple(names)

    def count(self, predicate: str) -> int:
        """How many facts of a predicate hold."""
        return len(self.relation(predicate))

    def holds(self, predicate: str, args: Sequence[Term]) -> bool:
        """Whether a fact holds, asserted or inferred."""
        row = self._row(predicate, args)
        return row is not None and row in self.relation(predicate)

    def match(
        self, predicate: str, pattern: Sequence[Term | None] | None = None
    ) -> Iterator[tuple[Term, ...]]:
        """The facts that agree with a pattern, in no particular order.

        Args:
            predicate: the predicate.
            pattern: one term per place, `None` where any will do; all facts if left
                out.
        """
        relation = self.relation(predicate)
        columns = [table.terms for table in self.symbols(predicate)]
        if pattern is None:
            return relation.decoded(columns)
        rows = self._rows(predicate, relation, pattern)
        if len(columns) == 1:
            (only,) = columns
            return iter([(only[number],) for (number,) in rows])
        getters = [terms.__getitem__ for terms in columns]
        return (
            tuple([get(n) for get, n in zip(getters, row, strict=True)]) for row in rows
        )

    def asserted(self, predicate: str, args: Sequence[Term]) -> tuple[Fact, ...]:
        """The assertions of a fact, each with its basis, in the order given.

        Empty for a fact that is only inferred, or does not hold.
        """
        known = self._asserted.get(predicate)
        if known is None:
            known = self._asserted[predicate] = self._assertions(predicate)
        return known.get(tuple(args), ())

    def stage(self, predicate: str, args: Sequence[Term]) -> int | None:
        """The round of its component in which a fact was found; `None` if it fails.

        An asserted fact has stage 0. An inferred fact has a rule instance whose
        premises of the same component all have smaller stages.
        """
        row = self._row(predicate, args)
        if row is None or row not in self.relation(predicate):
            return None
        stages = self._stages.get(predicate)
        if stages is None:
            stages = self._stages[predicate] = self._read_stages(predicate)
        return stages.get(row, 1)

    def _read_stages(self, predicate: str) -> dict[Row, int]:
        rounds = self._rounds.get(predicate)
        if rounds is None:
            return dict.fromkeys(self._base(predicate), 0)
        return {row: number for number, rows in enumerate(rounds) for row in rows}

    # -- what plans read ------------------------------------------------------------

    def relation(self, predicate: str) -> Relation:
        """The finished relation of a predicate; evaluates what it depends on."""
        known = self._relations.get(predicate)
        if known is None:
            self._finish(predicate)
            known = self._relations[predicate]
        return known

    def symbols(self, predicate: str) -> tuple[Symbols, ...]:
        """The symbol table of every column of a predicate."""
        known = self._columns.get(predicate)
        if known is None:
            known = self._columns[predicate] = self._make_columns(predicate)
        return known

    def _make_columns(self, predicate: str) -> tuple[Symbols, ...]:
        sorts = self._sorts.get(predicate)
        if sorts is None:
            return tuple(Symbols() for _ in range(self._arity(predicate)))
        return tuple(self._tables.setdefault(sort, Symbols()) for sort in sorts)

    def _arity(self, predicate: str) -> int:
        arity = self.program.arities.get(predicate)
        if arity is not None:
            return arity
        if predicate in self._facts:
            return len(self._facts[predicate][0].args)
        if predicate in self._given:
            return len(self._given[predicate][0].columns)
        return 0

    # -- evaluation -----------------------------------------------------------------

    def _finish(self, predicate: str) -> None:
        """Evaluate the component of a predicate, and first those it needs."""
        program = self.program
        if predicate not in program.component_of:
            self._relations[predicate] = self._base(predicate)
            return
        last = program.component_of[predicate]
        wanted = {predicate}
        # Components stand in order, so one walk backwards finds the whole cone.
        cone = []
        for position in range(last, -1, -1):
            part = program.components[position]
            if wanted.isdisjoint(part.predicates):
                continue
            if part.predicates[0] in self._relations:
                continue
            cone.append(part)
            for number in part.rules:
                rule = program.rules[number]
                wanted.update(atom.predicate for atom in body_atoms(rule.body))
        for part in reversed(cone):
            for name in part.predicates:
                self._relations[name] = self._base(name)
            rules = [program.rules[number] for number in part.rules]
            rounds = finish(rules, part.predicates, self._relations, self)
            self._rounds.update(rounds)

    def _base(self, predicate: str) -> Relation:
        """The asserted rows of a predicate."""
        symbols = self.symbols(predicate)
        columns = [_columns(self._facts.get(predicate, ()), len(symbols))]
        columns += [table.columns for table in self._given.get(predicate, ())]
        found = [_numbered(predicate, each, symbols) for each in columns]
        rows = found[0].union(*found[1:]) if found[0] else set[Row]().union(*found[1:])
        return Relation(len(symbols), rows)

    def _assertions(self, predicate: str) -> dict[tuple[Term, ...], tuple[Fact, ...]]:
        found: dict[tuple[Term, ...], list[Fact]] = {}
        for fact in self._facts.get(predicate, ()):
            found.setdefault(fact.args, []).append(fact)
        for table in self._given.get(predicate, ()):
            for args in zip(*table.columns, strict=True):
                fact = Fact(predicate, args, table.basis)
                found.setdefault(args, []).append(fact)
        return {args: tuple(facts) for args, facts in found.items()}

    # -- rows -------------------------------------------------------------------------

    def _row(self, predicate: str, args: Sequence[Term]) -> Row | None:
        """The row of a fact, or `None` if one of its terms is unknown."""
        self.relation(predicate)
        columns = self.symbols(predicate)
        if len(columns) != len(args):
            return None
        numbers = [table.get(term) for table, term in zip(columns, args, strict=True)]
        if None in numbers:
            return None
        return tuple(number for number in numbers if number is not None)

    def _rows(
        self,
        predicate: str,
        relation: Relation,
        pattern: Sequence[Term | None],
    ) -> Iterable[Row]:
        columns = self.symbols(predicate)
        keys = tuple(i for i, term in enumerate(pattern) if term is not None)
        numbers: list[int] = []
        for place in keys:
            term = pattern[place]
            number = columns[place].get(term) if term is not None else None
            if number is None:
                return ()
            numbers.append(number)
        return relation.find(keys, numbers[0] if len(keys) == 1 else tuple(numbers))


def evaluate(
    program: Program, facts: Iterable[Fact], tables: Iterable[Table] = ()
) -> Model:
    """The model of a program over a base of facts.

    Args:
        program: the rules.
        facts: assertions, each with its basis.
        tables: assertions in bulk.

    Raises:
        FactError: a fact has another number of terms than the rules expect; this and
            an `EvaluationError` come when a predicate is first asked for.
    """
    return Model(program, facts, tables)


def _columns(facts: Sequence[Fact], width: int) -> Sequence[Sequence[Term]]:
    """The terms of facts by column, as many as they should have."""
    for fact in facts:
        if len(fact.args) != width:
            args = ", ".join(map(str, fact.args))
            raise FactError(
                f"`{fact.predicate}` has {len(fact.args)} terms in the fact "
                f"`{fact.predicate}({args})` and {width} elsewhere"
            )
    return list(zip(*(fact.args for fact in facts), strict=True))


def _numbered(
    predicate: str, columns: Sequence[Sequence[Term]], symbols: Sequence[Symbols]
) -> set[Row]:
    """Columns of terms as rows of numbers."""
    if not columns:
        return set()
    if len(columns) != len(symbols):
        raise FactError(
            f"`{predicate}` has {len(columns)} columns in a table and {len(symbols)} "
            "elsewhere"
        )
    numbers = [
        map(table.__getitem__, column)
        for table, column in zip(symbols, columns, strict=True)
    ]
    return set(zip(*numbers, strict=True))
