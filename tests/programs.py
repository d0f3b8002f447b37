"""Random stratified programs, as trees of the rule language and for clingo.

Predicates stand in levels. A rule of a level may require predicates of its own
level and below, and deny or collect only those below; so every program drawn is
stratified and has exactly one answer, which an outside solver can give.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from abluent.grammar.rules import tree as ast
from hypothesis import strategies as st

# The columns of every predicate: `s` holds symbols, `n` small numbers.
BASE = {"edge": "ss", "mark": "s", "size": "sn", "link": "sns"}
DERIVED = {1: {"a": "ss", "b": "s", "c": "sn"}, 2: {"d": "ss", "e": "n", "f": "sns"}}
TOP = {"g": "s", "h": "ns", "k": "ss"}
LEVELS = {0: BASE, **DERIVED, 3: TOP}
SYMBOLS = ("u", "v", "w", "x")
LARGEST = 4


@dataclass(frozen=True)
class Case:
    """A program and its facts."""

    rules: tuple[ast.Rule, ...]
    facts: tuple[tuple[str, tuple[Any, ...]], ...]

    def clingo(self) -> str:
        """The same program for an answer set solver."""
        facts = [f"{name}({_list(args)})." for name, args in self.facts]
        return "\n".join([*facts, *map(_clingo_rule, self.rules)])


def _columns(level: int) -> dict[str, str]:
    return {
        name: kinds for each in range(level + 1) for name, kinds in LEVELS[each].items()
    }


@st.composite
def facts(draw: st.DrawFn) -> tuple[tuple[str, tuple[Any, ...]], ...]:
    """Facts of the base predicates."""
    found: set[tuple[str, tuple[Any, ...]]] = set()
    for name, kinds in BASE.items():
        column = {"s": st.sampled_from(SYMBOLS), "n": st.integers(0, LARGEST)}
        row = st.tuples(*(column[kind] for kind in kinds))
        found.update(
            (name, args) for args in draw(st.lists(row, min_size=4, max_size=12))
        )
    return tuple(sorted(found, key=str))


@st.composite
def rules(draw: st.DrawFn, level: int, number: int) -> ast.Rule:
    """One safe rule of a level."""
    body = _Body(draw, level)
    for _ in range(draw(st.integers(1, 3))):
        body.require()
    for _ in range(draw(st.sampled_from((0, 0, 1, 1, 2)))):
        body.add_filter()
    head = body.head()
    return ast.Rule(f"r{number}", tuple(body.conditions), (), (head,), says="holds")


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """A whole program with its facts."""
    found: list[ast.Rule] = []
    for level in (1, 2, 3):
        for _ in range(draw(st.integers(2, 5))):
            found.append(draw(rules(level, len(found))))
    return Case(tuple(found), draw(facts()))


class _Body:
    """Conditions under construction, with the variables they bind by kind."""

    def __init__(self, draw: st.DrawFn, level: int) -> None:
        self._draw = draw
        self._level = level
        self.conditions: list[ast.Condition] = []
        self._bound: dict[str, list[str]] = {"s": [], "n": []}
        self._fresh = 0

    def require(self) -> None:
        name, kinds = self._pick(self._level)
        args = tuple(self._argument(kind, fresh=True) for kind in kinds)
        self.conditions.append(ast.Atom(name, args))
        for kind, arg in zip(kinds, args, strict=True):
            if isinstance(arg, ast.Variable) and arg.name not in self._bound[kind]:
                self._bound[kind].append(arg.name)

    def add_filter(self) -> None:
        choices = [self._deny, self._compare, self._collect, self._compute]
        self._draw(st.sampled_from(choices))()

    def head(self) -> ast.Atom:
        own = sorted(LEVELS[self._level].items())
        possible = [
            (name, kinds)
            for name, kinds in own
            if all(self._bound[kind] for kind in kinds)
        ]
        # Level 1 has a predicate of one symbol; a body without one gets it.
        if not possible:
            self.conditions.append(ast.Atom("mark", (ast.Variable("m"),)))
            self.conditions.append(
                ast.Atom("size", (ast.Variable("m"), ast.Variable("z")))
            )
            self._bound["s"].append("m")
            self._bound["n"].append("z")
            possible = own
        name, kinds = self._draw(st.sampled_from(possible))
        return ast.Atom(name, tuple(self._old(kind) for kind in kinds))

    def _deny(self) -> None:
        name, kinds = self._pick(self._level - 1)
        args = tuple(self._argument(kind, fresh=False) for kind in kinds)
        self.conditions.append(ast.Absence(ast.Atom(name, args)))

    def _compare(self) -> None:
        kind = self._draw(st.sampled_from("sn"))
        if not self._bound[kind]:
            return
        operators = ["=", "!="] if kind == "s" else ["=", "!=", "<", "<=", ">", ">="]
        operator = self._draw(st.sampled_from(operators))
        perhaps = self._draw(st.booleans())
        left, right = self._old(kind), self._old_or_constant(kind)
        self.conditions.append(ast.Comparison(operator, left, right, perhaps))

    def _compute(self) -> None:
        if not self._bound["n"]:
            return
        operator = self._draw(st.sampled_from("+-*"))
        value = ast.Operation(operator, (self._old("n"), self._old_or_constant("n")))
        variable = self._new()
        self.conditions.append(ast.Assignment(variable, value))
        # A bound keeps recursion through arithmetic finite.
        for limit in ("<=", LARGEST), (">=", 0):
            self.conditions.append(
                ast.Comparison(limit[0], variable, ast.Constant(limit[1]))
            )
        self._bound["n"].append(variable.name)

    def _collect(self) -> None:
        name, kinds = self._pick(self._level - 1)
        inner: list[ast.TermNode] = []
        for kind in kinds:
            bound = self._bound[kind]
            if bound and self._draw(st.booleans()):
                inner.append(self._old(kind))
            else:
                inner.append(self._new())
        own = [
            (kind, each)
            for kind, each in zip(kinds, inner, strict=True)
            if isinstance(each, ast.Variable) and each.name not in self._bound[kind]
        ]
        if not own:
            return
        numeric = [each for kind, each in own if kind == "n"]
        functions = ["count", "sum", "min", "max"] if numeric else ["count"]
        function = self._draw(st.sampled_from(functions))
        terms = [each for _, each in own] if function == "count" else numeric[:1]
        variable = self._new()
        self.conditions.append(
            ast.Collection(
                variable, function, tuple(terms), (ast.Atom(name, tuple(inner)),)
            )
        )
        for limit in ("<=", LARGEST), (">=", 0):
            self.conditions.append(
                ast.Comparison(limit[0], variable, ast.Constant(limit[1]))
            )
        self._bound["n"].append(variable.name)

    def _pick(self, level: int) -> tuple[str, str]:
        return self._draw(st.sampled_from(sorted(_columns(level).items())))

    def _argument(self, kind: str, fresh: bool) -> ast.TermNode:
        choices = ("old", "new", "old", "new", "old", "new", "open", "constant")
        choice = self._draw(st.sampled_from(choices))
        if choice == "open":
            return ast.Anything()
        if choice == "old" and self._bound[kind]:
            return self._old(kind)
        if choice == "constant" or not fresh:
            return self._constant(kind)
        return self._new()

    def _old(self, kind: str) -> ast.Variable:
        return ast.Variable(self._draw(st.sampled_from(self._bound[kind])))

    def _old_or_constant(self, kind: str) -> ast.Variable | ast.Constant:
        return self._old(kind) if self._draw(st.booleans()) else self._constant(kind)

    def _constant(self, kind: str) -> ast.Constant:
        if kind == "s":
            return ast.Constant(self._draw(st.sampled_from(SYMBOLS)))
        return ast.Constant(self._draw(st.integers(0, LARGEST)))

    def _new(self) -> ast.Variable:
        self._fresh += 1
        return ast.Variable(f"v{self._fresh}")


# -- the same for clingo --------------------------------------------------------


def _clingo_rule(rule: ast.Rule) -> str:
    (head,) = rule.heads
    return f"{_clingo(head)} :- {', '.join(map(_clingo, rule.conditions))}."


def _clingo(node: Any) -> str:
    return _WRITERS[type(node)](node)


def _clingo_atom(node: ast.Atom) -> str:
    return f"{node.predicate}({_list(map(_clingo, node.args))})"


def _clingo_collection(node: ast.Collection) -> str:
    terms, body = (_list(map(_clingo, part)) for part in (node.terms, node.conditions))
    # clingo gives the minimum of nothing as #sup; here it has no value.
    value = _clingo(node.variable)
    return f"{value} = #{node.function}{{ {terms} : {body} }}, {value} < #sup"


def _list(parts: Any) -> str:
    return ",".join(map(str, parts))


_WRITERS: dict[type[Any], Callable[[Any], str]] = {
    ast.Atom: _clingo_atom,
    ast.Absence: lambda node: f"not {_clingo(node.atom)}",
    ast.Comparison: lambda node: (
        f"{_clingo(node.left)} {node.operator} {_clingo(node.right)}"
    ),
    ast.Assignment: lambda node: (
        f"{_clingo(node.variable)} = {_clingo(node.expression)}"
    ),
    ast.Operation: lambda node: f" {node.operator} ".join(map(_clingo, node.operands)),
    ast.Collection: _clingo_collection,
    ast.Variable: lambda node: node.name.upper(),
    ast.Anything: lambda node: "_",
    ast.Constant: lambda node: str(node.value),
}
