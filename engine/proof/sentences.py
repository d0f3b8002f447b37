"""Proof nodes as sentences, from the templates of the rule files.

Every step of a proof reads as a sentence: a rule's own `says`, a declared
predicate's `says` and `absent`, or for the rest a plain form made here. How a term
is written is the caller's business: a `Naming` is given the term and how the
template wants it, as in `{?class:a}`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from abluent.engine.logic import clauses as c
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Interval, Term
from abluent.engine.proof.nodes import (
    AbsenceNode,
    CollectionNode,
    ComparisonNode,
    ComputationNode,
    FactNode,
    Node,
    RuleNode,
)
from abluent.engine.proof.proofs import Proof
from abluent.grammar.common.text import in_a_row

Naming: TypeAlias = Callable[[Term, str], str]

ANY = "anything"
NO_EVIDENCE = "no evidence in this base that "
PLACE = re.compile(r"\{\??(\w+)(?::(\w+))?\}")
_OF_RULE = re.compile(r"\{\?(\w+)(:\w+)?\}")


def plain(term: Term, how: str = "") -> str:
    """A term as it is: a symbol's own text, exact numbers, both ends of an interval.

    Where nothing better is known; `how` is not looked at.
    """
    if isinstance(term, str):
        return term
    if not isinstance(term, Interval):
        return _figure(term)
    if term.low is None:
        return f"{'below' if term.high_open else 'at most'} {_end(term.high)}"
    low = f"{'above' if term.low_open else 'at least'} {_end(term.low)}"
    if term.high is None:
        return low
    if not term.low_open and not term.high_open:
        return f"{_end(term.low)} to {_end(term.high)}"
    high = f"{'below' if term.high_open else 'at most'} {_end(term.high)}"
    return f"{low} and {high}"


def _end(number: int | Fraction | None) -> str:
    return "any number" if number is None else _figure(number)


def _figure(number: int | Fraction) -> str:
    """A number in full: a decimal where that is exact, else a fraction."""
    if isinstance(number, int):
        return str(number)
    places = 0
    while number.denominator != 1 and 10**places % number.denominator:
        places += 1
        if places > 12:
            return str(number)
    digits = str(abs(number.numerator) * 10**places // number.denominator)
    digits = digits.rjust(places + 1, "0")
    return f"{'-' if number < 0 else ''}{digits[:-places]}.{digits[-places:]}"


class Reason(NamedTuple):
    """One numbered step of a proof in words.

    Args:
        number: from one, premises before conclusions.
        text: the sentence.
        node: the step.
        premises: the numbers of the steps it rests on.
    """

    number: int
    text: str
    node: Node
    premises: tuple[int, ...]


class Sentences:
    """The sentences of one program, with terms written by one naming."""

    def __init__(self, program: Program, naming: Naming = plain) -> None:
        self._program = program
        self._naming = naming
        self._templates: dict[str, tuple[str, str]] = {}

    def reasons(self, proof: Proof) -> list[Reason]:
        """Every step of a proof in words, each once, the conclusion last."""
        numbers = {key: number for number, key in enumerate(proof.nodes, 1)}
        return [
            Reason(
                numbers[key],
                self.node(node),
                node,
                tuple(dict.fromkeys(numbers[each] for each in node.premises)),
            )
            for key, node in proof.nodes.items()
        ]

    def node(self, node: Node) -> str:
        """One step in words."""
        if isinstance(node, FactNode):
            return self.claim(node.fact.predicate, node.fact.args)
        if isinstance(node, AbsenceNode):
            return self.absence(node.predicate, node.pattern)
        if isinstance(node, RuleNode):
            if node.rule.says:
                return self.fill(node.rule.says, dict(node.bindings))
            return self.claim(node.rule.head.predicate, node.args)
        return self._worked_out(node)

    def _worked_out(
        self, node: ComparisonNode | ComputationNode | CollectionNode
    ) -> str:
        if isinstance(node, ComparisonNode):
            text = f"{self.term(node.left)} {node.operator} {self.term(node.right)}"
            return f"{text} is possible" if node.perhaps else text
        if isinstance(node, ComputationNode):
            return f"{self._expression(node.expression)} = {self.term(node.value)}"
        function, count = node.condition.function, len(node.members)
        return f"{function} over {count} found = {self.term(node.value)}"

    def claim(self, predicate: str, args: Sequence[Term | None]) -> str:
        """A fact in words; `None` is anything."""
        return self.fill(self.templates(predicate)[0], _numbered(args))

    def absence(self, predicate: str, pattern: Sequence[Term | None]) -> str:
        """The absence of a pattern in words."""
        return self.fill(self.templates(predicate)[1], _numbered(pattern))

    def fill(self, template: str, terms: Mapping[str, Term | None]) -> str:
        """A template with terms in its places."""

        def put(place: re.Match[str]) -> str:
            name, how = place[1], place[2] or ""
            return self.term(terms[name], how) if name in terms else place[0]

        return PLACE.sub(put, template)

    def term(self, term: Term | None, how: str = "") -> str:
        """A term in words."""
        return ANY if term is None else self._naming(term, how)

    def _expression(self, expression: c.Expression) -> str:
        if isinstance(expression, c.Variable):
            return str(expression)
        if not isinstance(expression, c.Operation):
            return self.term(expression)
        parts = [self._expression(each) for each in expression.operands]
        if expression.operator in {"min", "max"}:
            return f"{expression.operator}({', '.join(parts)})"
        if len(parts) == 1:
            return f"{expression.operator}{parts[0]}"
        return f"({f' {expression.operator} '.join(parts)})"

    # -- templates --------------------------------------------------------------------

    def templates(self, predicate: str) -> tuple[str, str]:
        """The sentences for a fact of a predicate and for its absence."""
        known = self._templates.get(predicate)
        if known is None:
            declared = self._program.declarations.get(predicate)
            says = (declared.says if declared else "") or self._claim_of(predicate)
            absent = (declared.absent if declared else "") or NO_EVIDENCE + says
            known = self._templates[predicate] = says, absent
        return known

    def _claim_of(self, predicate: str) -> str:
        """A sentence for a predicate that declares none."""
        for rule in self._program.concluding(predicate):
            if rule.target and not rule.generated:
                return _renumbered(rule.says, rule.head)
            if rule.generated:
                return self._group(rule)
        arity = self._program.arities.get(predicate, 0)
        places = [f"{{{place}}}" for place in range(1, arity + 1)]
        if not places:
            return f"{predicate} holds"
        return f"{predicate} holds of {in_a_row(places)}"

    def _group(self, rule: c.Rule) -> str:
        """The sentence of an "unless" group: those of its own conditions."""
        shown = [self._condition(each) for each in rule.body]
        return _renumbered(in_a_row([each for each in shown if each]), rule.head)

    def _condition(self, literal: c.Literal) -> str:
        if isinstance(literal, c.Atom):
            return _replaced(self.templates(literal.predicate)[0], literal)
        if isinstance(literal, c.Absence):
            return _replaced(self.templates(literal.atom.predicate)[1], literal.atom)
        if isinstance(literal, c.Comparison | c.Assignment | c.Collection):
            return re.sub(r"\bthe (\w+)", r"{?\1}", str(literal))
        return ""


def _numbered(args: Sequence[Term | None]) -> dict[str, Term | None]:
    return {str(place): term for place, term in enumerate(args, 1)}


def _replaced(template: str, atom: c.Atom) -> str:
    """A predicate's template with the atom's own arguments in its places."""

    def put(place: re.Match[str]) -> str:
        argument = atom.args[int(place[1]) - 1]
        if isinstance(argument, c.Variable):
            how = f":{place[2]}" if place[2] else ""
            return f"{{?{argument.name}{how}}}"
        return ANY if isinstance(argument, c.Anything) else str(argument)

    return PLACE.sub(put, template)


def _renumbered(template: str, head: c.Atom) -> str:
    """A rule's template with the places of its head instead of its variables."""
    places = {
        argument.name: str(place)
        for place, argument in enumerate(head.args, 1)
        if isinstance(argument, c.Variable)
    }

    def put(place: re.Match[str]) -> str:
        number = places.get(place[1])
        return f"{{{number}{place[2] or ''}}}" if number else ANY

    return _OF_RULE.sub(put, template)
