"""The rule language: print and parse are inverse, mistakes are pointed at.

What is refused later, when rules get their meaning, is tested with the engine.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.grammar.common.errors import GrammarProblems, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.parse import parse_rules
from abluent.grammar.rules.printer import print_rules
from hypothesis import given, settings
from hypothesis import strategies as st

NAMES = st.sampled_from(
    ["p", "line-marker", "rdf:type", "Größe", "rule", "not", "a b", "min", "1x", ""]
) | st.text(max_size=4)
VARIABLES = st.sampled_from(["x", "y", "n1", "Level"]).map(ast.Variable)
WHOLE = st.integers(-9, 99)
EXACT = WHOLE | st.fractions(-3, 3, max_denominator=7).map(
    lambda value: value.numerator if value.denominator == 1 else value
)
# A fraction inside an expression is written as a decimal, where it has one.
DECIMALS = (
    st.decimals(-9, 9, places=2)
    .map(Fraction)
    .map(lambda value: value.numerator if value.denominator == 1 else value)
)


@st.composite
def ranges(draw: st.DrawFn) -> ast.Range:
    low, high = draw(st.none() | EXACT), draw(st.none() | EXACT)
    if low is not None and high is not None and low >= high:
        low = None
    return ast.Range(
        low,
        high,
        low is None or draw(st.booleans()),
        high is None or draw(st.booleans()),
    )


TERMS = (
    VARIABLES | st.just(ast.Anything()) | (NAMES | EXACT | ranges()).map(ast.Constant)
)
ATOMS = st.builds(ast.Atom, NAMES, st.lists(TERMS, max_size=3).map(tuple))


def _operation(
    parts: st.SearchStrategy[ast.Expression],
) -> st.SearchStrategy[ast.Expression]:
    pairs = st.tuples(parts, parts)
    return (
        st.builds(ast.Operation, st.sampled_from("+-*/"), pairs)
        | st.builds(ast.Operation, st.sampled_from(["min", "max"]), pairs)
        | parts.filter(lambda part: not isinstance(part, ast.Constant)).map(
            lambda part: ast.Operation("-", (part,))
        )
    )


EXPRESSIONS = st.recursive(
    VARIABLES | (NAMES | WHOLE | DECIMALS | ranges()).map(ast.Constant),
    _operation,
    max_leaves=5,
)
SIGNS = st.sampled_from(["=", "!=", "<", "<=", ">", ">="])
SIMPLE = (
    ATOMS
    | ATOMS.map(ast.Absence)
    | st.builds(ast.Comparison, SIGNS, EXPRESSIONS, EXPRESSIONS, st.booleans())
    | st.builds(ast.Assignment, VARIABLES, EXPRESSIONS)
)
COLLECTED = VARIABLES | (NAMES | WHOLE | DECIMALS | ranges()).map(ast.Constant)
CONDITIONS = SIMPLE | st.builds(
    ast.Collection,
    VARIABLES,
    st.sampled_from(["count", "min", "max", "sum"]),
    st.lists(COLLECTED, min_size=1, max_size=2).map(tuple),
    st.lists(SIMPLE, min_size=1, max_size=2).map(tuple),
)
GROUPS = st.lists(CONDITIONS, min_size=1, max_size=3).map(tuple)
ENDINGS = {
    "unless": st.lists(GROUPS, max_size=2).map(tuple),
    "says": st.none() | st.text(max_size=12),
    "sources": st.lists(NAMES, max_size=2).map(tuple),
    "standing": st.none() | NAMES,
    "from_memory": st.booleans(),
}
BLOCKS = (
    st.builds(ast.Standings, st.lists(NAMES, min_size=1, max_size=3).map(tuple))
    | st.builds(
        ast.Predicate,
        NAMES,
        st.lists(NAMES, max_size=3).map(tuple),
        st.none() | st.text(max_size=8),
        st.none() | st.text(max_size=8),
    )
    | st.builds(
        ast.Rule,
        NAMES,
        st.lists(CONDITIONS, max_size=3).map(tuple),
        heads=st.lists(ATOMS, max_size=2).map(tuple),
        **ENDINGS,
    )
    | st.builds(
        ast.Override,
        NAMES,
        NAMES,
        st.lists(CONDITIONS, max_size=3).map(tuple),
        **ENDINGS,
    )
)


@pytest.mark.slow
@settings(deadline=None)
@given(st.lists(BLOCKS, max_size=3).map(tuple).map(ast.RuleFile))
def test_print_and_parse_are_inverse(tree: ast.RuleFile) -> None:
    """Every tree comes back from its own text, and that text is settled."""
    text = print_rules(tree)
    assert parse_rules(text) == tree
    assert print_rules(parse_rules(text)) == text


def test_a_file_reads_as_it_is_meant() -> None:
    """Comments, precedence, several clauses of a kind, all in any order."""
    tree = parse_rules(
        """
        # A comment may have "quotes" and rule words.
        rule late-below   # and stand behind a line
          says "one"
          if line(?p, ?n, _), ?k is ?n - 1 - 2 * -?n
          if not marker(?p)
          then late(?p, -1/3)
        end
        """
    )
    (rule,) = tree.blocks
    assert isinstance(rule, ast.Rule)
    n = ast.Variable("n")
    twice = ast.Operation("*", (ast.Constant(2), ast.Operation("-", (n,))))
    less = ast.Operation("-", (n, ast.Constant(1)))
    assert rule.conditions == (
        ast.Atom("line", (ast.Variable("p"), n, ast.Anything())),
        ast.Assignment(ast.Variable("k"), ast.Operation("-", (less, twice))),
        ast.Absence(ast.Atom("marker", (ast.Variable("p"),))),
    )
    assert rule.heads[0].args[1] == ast.Constant(Fraction(-1, 3))


def test_spans_point_into_the_file() -> None:
    """A node's span is its own text, whichever block it stands in."""
    text = "rule a\n  if p(?x)\n  then q(?x)\nend\n\nrule b\n  if  odd(?y, 3)\nend\n"
    _, second = parse_rules(text).blocks
    assert isinstance(second, ast.Rule)
    (atom,) = second.conditions
    assert text[atom.span.start : atom.span.end] == "odd(?y, 3)"


BAD = [
    ("rule a\n if p(?x) q(?x)\n then r(?x)\nend", "`q` cannot", "separated by commas"),
    ("rule a\n if ?x == 1\nend", "`=` cannot", "one `=`"),
    ("rule a\n if ?x <> 1\nend", "`>` cannot", "written `!=`"),
    ("rule a\n if p(?x) or q(?x)\nend", "`or` cannot", "no `or`"),
    ('rule a\n says "abc\nend', '`"` cannot', "closed by"),
    ("rule a\n if p(?x)\n then q(?x)", "ends too early", "closed by `end`"),
    ("rule a\n if p(?x), ?y < [2, 1]\nend", "holds no number", ""),
    ("rule a\n if p(1/0)\nend", "division by zero", ""),
    ("rule a\n standing x\n standing y\nend", "second `standing`", ""),
    ("exception a to b\n then c(?x)\nend", "has no `then`", ""),
    ("rule a\n if ?n is 1 + count(?x : p(?x))\nend", "stands alone", ""),
    ("rule a\n if ?n is count(?x)\nend", "needs conditions", ""),
    ("rule a\n if ?n is count(?x + 1 : p(?x))\nend", "over variables", ""),
    ("p(?x) :- q(?x)", "`p` cannot", ""),
]


@pytest.mark.parametrize(("text", "message", "hint"), BAD)
def test_usual_mistakes_are_named(text: str, message: str, hint: str) -> None:
    """What is wrong, and for the usual mistakes what to write instead."""
    with pytest.raises(GrammarProblems) as caught:
        parse_rules(text, "a.rules")
    (problem,) = caught.value.problems
    assert message in problem.message
    assert hint in problem.hint
    assert problem.span.start < len(text) + 1


def test_every_problem_of_a_file_is_reported() -> None:
    """A broken block does not hide the next one; carets stand in the whole file."""
    text = "\n".join(each for each, _, _ in BAD[:4])
    with pytest.raises(GrammarProblems) as caught:
        parse_rules(text, "a.rules")
    assert len(caught.value.problems) == 4
    rendered = str(caught.value)
    assert "a.rules:2:11: `q` cannot stand here\n   if p(?x) q(?x)" in rendered
    assert caught.value.span == Span(17, 18)
