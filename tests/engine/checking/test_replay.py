"""The checker's own evaluator against the reasoner's, which it must not share."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from abluent.engine.checking import follows, replay
from abluent.engine.logic import terms
from abluent.engine.logic.program import load_program
from abluent.engine.logic.reasoner import evaluate
from abluent.engine.logic.terms import Term
from abluent.engine.proof import encode
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.printer import print_rules
from hypothesis import given, settings
from hypothesis import strategies as st
from programs import LEVELS, Case, cases
from toys import Fact

NUMBERS = st.one_of(
    st.integers(-3, 3),
    st.fractions(min_value=-3, max_value=3, max_denominator=4).map(terms.number),
)


@st.composite
def intervals(draw: st.DrawFn) -> Term:
    """Any interval, half of them without a limit on some side."""
    low, high = sorted((draw(NUMBERS), draw(NUMBERS)))
    opened = draw(st.booleans()), draw(st.booleans())
    if low == high:
        return terms.interval(low, high)
    return terms.interval(
        draw(st.sampled_from([low, low, None])),
        draw(st.sampled_from([high, high, None])),
        *opened,
    )


QUANTITIES = st.one_of(NUMBERS, intervals())
TERMS = st.one_of(QUANTITIES, st.sampled_from(["a", "b"]))


def mine(term: Term) -> Any:
    """A term as the checker reads it from JSON."""
    return replay.value(encode.term_json(term))


@pytest.mark.slow
@settings(max_examples=400, deadline=None)
@given(TERMS, TERMS, st.sampled_from(sorted(terms.COMPARISONS)))
def test_comparisons_agree(left: Term, right: Term, operator: str) -> None:
    """True, false or straddling, and the same refusals."""
    try:
        want = terms.COMPARISONS[operator](left, right)
    except TypeError:
        with pytest.raises(ValueError, match="not a number"):
            replay.truth(operator, mine(left), mine(right))
    else:
        assert replay.truth(operator, mine(left), mine(right)) is want


@pytest.mark.slow
@settings(max_examples=600, deadline=None)
@given(QUANTITIES, QUANTITIES, st.sampled_from(sorted(terms.OPERATIONS)))
def test_arithmetic_agrees(left: Term, right: Term, operator: str) -> None:
    """Every operation, open ends and missing limits included."""
    expression = replay.Op(operator, (mine(left), mine(right)))
    try:
        want = terms.OPERATIONS[operator](left, right)
    except ZeroDivisionError:
        with pytest.raises((ValueError, ZeroDivisionError)):
            replay.worth(expression, {})
    else:
        assert replay.worth(expression, {}) == mine(want)


@pytest.mark.parametrize("term", [-2, Fraction(1, 3), terms.interval(0, 1, True)])
def test_a_sign_is_turned(term: Term) -> None:
    """Minus with one operand."""
    assert replay.worth(replay.Op("-", (mine(term),)), {}) == mine(terms.negate(term))


@pytest.mark.parametrize(
    "data",
    [
        {"n": "2/4"},
        {"n": "1.5"},
        {"n": "+1"},
        {"i": ["1", "1", "[]"]},
        {"i": ["2", "1", "[]"]},
        {"i": [None, "1", "[]"]},
        {"i": ["0", None, "[]"]},
        {"i": ["0", "1", "[>"]},
        {"i": ["0", "1", "[]]"]},
        {"q": "1"},
        {"n": "1", "v": "x"},
        17,
    ],
)
def test_a_value_has_one_way_to_be_written(data: Any) -> None:
    """Anything else is refused, so that equal values have equal hashes."""
    with pytest.raises((ValueError, KeyError, TypeError)):
        replay.value(data)


def rules_of(case: Case) -> tuple[list[Any], set[Any], Any]:
    program = load_program([("random", print_rules(ast.RuleFile(case.rules)))])
    rules = [encode.rule_json(rule) for rule in program.rules]
    read = [(replay.atom(r["head"]), replay.conditions(r["body"])) for r in rules]
    facts = {replay.atom(encode.atom_json(*fact)) for fact in case.facts}
    return read, facts, evaluate(program, [Fact(*fact) for fact in case.facts])


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(cases())
def test_random_stratified_programs_have_the_same_answers(case: Case) -> None:
    """Negation, arithmetic, collections and recursion: the same facts follow."""
    rules, facts, model = rules_of(case)
    found = follows.Follows(rules, follows.filed(facts))
    declared = {name: kinds for each in LEVELS.values() for name, kinds in each.items()}
    for name, columns in declared.items():
        want = {replay.atom(encode.atom_json(name, row)) for row in model.match(name)}
        assert set(found.ask((name, *[None] * len(columns)))) == want
        for fact in want:
            assert found.ask(fact) == [fact]


def test_negation_through_recursion_is_refused() -> None:
    """A trace with such rules proves nothing."""
    win = replay.atom(["win", {"v": "x"}])
    body = (replay.Is(replay.atom(["move", {"v": "x"}])), replay.Not(win, "not"))
    with pytest.raises(replay.Refused, match="win"):
        follows.Follows([(win, body)], follows.filed(()))


def test_a_variable_without_a_value_is_refused() -> None:
    """An unsafe rule is not evaluated by guessing."""
    head = replay.atom(["p", {"v": "x"}])
    body = (replay.Not(replay.atom(["q", {"v": "x"}]), "not"),)
    with pytest.raises(replay.Refused, match="without a value"):
        follows.Follows([(head, body)], follows.filed(())).ask(("p", None))
