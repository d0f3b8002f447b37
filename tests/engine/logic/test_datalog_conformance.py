"""The core cases of a public conformance suite for Datalog.

`datalog-conformance` 0.1.0 (https://pypi.org/project/datalog-conformance/, MIT) holds
114 core programs with the answers that Soufflé, Nemo and crepe give, and rejections
by name. Its rules are translated to ours; the suite's own loader is slow, so the
files are read here.

Every case passes but those of `DEVIATIONS`. They share one program, with a variable
that occurs only in a negated literal. Another case of the same suite demands that
this shape be refused, so no engine can pass both; ours refuses and asks for `_`.
With `_` in its place the program gives the answers the suite expects, which is
tested too, where one variable needs only one `_`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import datalog_conformance
import pytest
import yaml
from abluent.engine.errors import FactError, ProgramError
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import Model, evaluate
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from datalog_conformance import schema
from datalog_conformance.runner import ConformanceFailure, YamlTestRunner

pytestmark = pytest.mark.slow

ROOT = Path(datalog_conformance.__file__).parent / "_tests"
FILES = sorted(
    path.relative_to(ROOT).as_posix()
    for folder in ("basic", "recursion", "negation", "errors")
    for path in (ROOT / folder).rglob("*.yaml")
)
LONG = ("souffle_example_hmmer", "souffle_example_lubm")
"""The cases that take as long as all the others; see `tests/README.md`."""
# The cases of one program; three of its rules repeat the variable in the literal.
REFUSED = "a variable that occurs only in a negated literal is refused"
REPEATED = ("projectedX", "projectedY", "projectedZ")
OPENED = (
    "filteredX",
    "filteredY",
    "filteredZ",
    "multiple",
    "projectedXY",
    "projectedXZ",
    "projectedYZ",
    "reordered",
    "singlePositionX",
    "singlePositionY",
    "singlePositionZ",
)
DEVIATIONS = {f"nemo_negation_{name}": REFUSED for name in (*OPENED, *REPEATED)}
# The names that the suite has for what is refused; it uses several.
CODES = {
    "unbound-head": "unbound_variable",
    "unbound-comparison": "unbound_variable",
    "unbound-arithmetic": "unbound_variable",
    "unbound-absence": "SafetyViolationError",
    "open-head": "safety_violations",
    "negative-cycle": "cyclic_negation",
}


class Refused(Exception):
    """A rejection under the name that the suite has for it."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


class Adapter:
    """Our engine as the suite calls it; the last program is kept, cases share it."""

    def __init__(self, open_absences: bool = False) -> None:
        self._open = open_absences
        self._rules: list[str] = []
        self._facts: Any = None
        self._model: Model | None = None

    def evaluate(self, program: schema.Program) -> dict[str, set[tuple[Any, ...]]]:
        same = self._rules == program.rules and self._facts == program.facts
        if self._model is None or not same:
            self._model = self._make(program)
            self._rules, self._facts = program.rules, program.facts
        try:
            return {
                name: set(self._model.match(name)) for name in self._model.predicates()
            }
        except FactError as error:
            raise Refused("arity_mismatch") from error

    def _make(self, program: schema.Program) -> Model:
        rules = tuple(
            _Rule(text, self._open).read(number)
            for number, text in enumerate(program.rules)
        )
        try:
            loaded = load_program([("suite", print_rules(ast.RuleFile(rules)))])
        except ProgramError as error:
            raise Refused(CODES[error.problems[0].code]) from error
        facts = [
            Fact(name, row) for name, rows in program.facts.items() for row in rows
        ]
        return evaluate(loaded, facts)


TOKEN = re.compile(r'\s*("[^"]*"|\d+|\w+|:-|!=|<=|>=|[^\s\w])')


class _Rule:
    """A reader of the suite's rules: every bare name in an atom is a variable."""

    def __init__(self, text: str, open_absences: bool) -> None:
        self._tokens = TOKEN.findall(text.rstrip(". \n"))
        self._open = open_absences
        self._extra: list[ast.Condition] = []
        self._in_head = True

    def read(self, number: int) -> ast.Rule:
        head = self._atom()
        conditions: list[ast.Condition] = []
        self._in_head = False
        if self._take(":-"):
            conditions.append(self._condition())
            while self._take(","):
                conditions.append(self._condition())
        assert not self._tokens, self._tokens
        conditions += self._extra
        if self._open:
            conditions = list(_opened(head, conditions))
        return ast.Rule(f"r{number}", tuple(conditions), (), (head,), says="holds")

    def _condition(self) -> ast.Condition:
        if self._take("not"):
            return ast.Absence(self._atom())
        if self._take("("):
            condition = self._condition()
            assert self._take(")")
            return condition
        if len(self._tokens) > 1 and self._tokens[1] == "(":
            return self._atom()
        left = self._sum()
        operator = self._tokens.pop(0)
        return ast.Comparison(operator, left, self._sum())

    def _atom(self) -> ast.Atom:
        name = self._tokens.pop(0)
        assert self._take("(")
        args: list[ast.TermNode] = []
        while not self._take(")"):
            args.append(self._argument())
            self._take(",")
        return ast.Atom(name, tuple(args))

    def _argument(self) -> ast.TermNode:
        """A term; arithmetic gets a name, computed in a head and met in a body."""
        if self._take("_"):
            return ast.Anything()
        value = self._sum()
        if not isinstance(value, ast.Operation):
            return value
        name = ast.Variable(f"t{len(self._extra)}")
        if self._in_head:
            self._extra.append(ast.Assignment(name, value))
        else:
            self._extra.append(ast.Comparison("=", name, value))
        return name

    def _sum(self) -> ast.Expression:
        value = self._operand()
        while self._tokens and self._tokens[0] in "+-":
            operator = self._tokens.pop(0)
            value = ast.Operation(operator, (value, self._operand()))
        return value

    def _operand(self) -> ast.Expression:
        token = self._tokens.pop(0)
        if token.startswith('"'):
            return ast.Constant(token[1:-1])
        return ast.Constant(int(token)) if token.isdigit() else ast.Variable(token)

    def _take(self, token: str) -> bool:
        if self._tokens and self._tokens[0] == token:
            self._tokens.pop(0)
            return True
        return False


def _opened(head: ast.Atom, conditions: list[ast.Condition]) -> Iterator[ast.Condition]:
    """Conditions with `_` for every variable that only negated literals have."""
    bound = {
        each
        for atom in (head, *conditions)
        if isinstance(atom, ast.Atom)
        for each in atom.args
    }
    for each in conditions:
        if isinstance(each, ast.Absence):
            args = tuple(
                ast.Anything()
                if isinstance(arg, ast.Variable) and arg not in bound
                else arg
                for arg in each.atom.args
            )
            yield ast.Absence(ast.Atom(each.atom.predicate, args))
        else:
            yield each


def cases_in(name: str) -> list[schema.TestCase]:
    """The cases of one file."""
    raw = yaml.load((ROOT / name).read_bytes(), yaml.CSafeLoader)
    shared = {key: raw[key] for key in ("source", "verification") if key in raw}
    return [
        schema.TestCase.from_dict(shared | each) for each in raw.get("tests", [raw])
    ]


def failures(adapter: Adapter, cases: list[schema.TestCase]) -> dict[str, str]:
    """The cases that fail, with what they say."""
    runner = YamlTestRunner(adapter)
    found = {}
    for case in cases:
        try:
            runner.run_test_case(case)
        except (ConformanceFailure, Refused) as error:
            found[case.name] = str(error)
    return found


def _marked(names: list[str]) -> list[object]:
    """The files as parameters, those that take long marked so."""
    long = pytest.mark.long
    return [
        pytest.param(name, marks=long) if Path(name).stem in LONG else name
        for name in names
    ]


@pytest.mark.parametrize("name", _marked(FILES))
def test_core_cases_pass_but_the_named_ones(name: str) -> None:
    """Answers and rejections are those of the suite, but for `DEVIATIONS`."""
    cases = cases_in(name)
    found = failures(Adapter(), cases)
    expected = {case.name for case in cases} & set(DEVIATIONS)
    assert set(found) == expected, found


def test_the_named_ones_pass_with_an_open_place() -> None:
    """Written with `_`, those that do not repeat the variable pass."""
    found = failures(Adapter(True), cases_in("negation/nemo_negation.yaml"))
    assert set(found) <= {f"nemo_negation_{name}" for name in REPEATED}


def test_all_core_cases_are_seen() -> None:
    """No file of the suite is passed over."""
    assert len(FILES) == 48
    assert len(DEVIATIONS) == 14
