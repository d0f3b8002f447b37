"""The rule language: print and parse are inverse, mistakes are pointed at.

What is refused later, when rules get their meaning, is tested with the engine.
"""

from __future__ import annotations

import re
from fractions import Fraction
from importlib.resources import files

import pytest
from abluent.grammar.common.errors import GrammarProblems, Span
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.parse import parse_rules
from abluent.grammar.rules.printer import print_rules
from abluent.grammar.rules.words import STRANGE
from hypothesis import given, settings
from hypothesis import strategies as st

GRAMMAR = files("abluent.grammar.rules").joinpath("rules.lark").read_text("utf-8")
WORDS = sorted({*re.findall(r"[a-z]+", GRAMMAR), *STRANGE})
NAMES = st.sampled_from(
    ["p", "line-marker", "rdf:type", "Größe", "a b", "1x", "", "_", *WORDS]
) | st.text(max_size=4)
VARIABLES = st.sampled_from(["x", "n1", "Level", "the", "and"]).map(ast.Variable)
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
    "says": st.none()
    | st.text(max_size=12)
    | st.from_regex(r"\A(a|\{\??x(:a)?\}|\\){,4}\Z"),
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
        # A comment may have "quotes" and words of rules.
        "one"
          rule late-below   # and stand behind a line
          because the p line the n, something
              and the k comes to the n - 1 - 2 * -the n
          because nothing shows the p marker
          so the p late -1/3
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
    text = '"a"\n  because the x p\n  rule a\n\n"b"\n  because the y  odd 3\n rule b\n'
    _, second = parse_rules(text).blocks
    assert isinstance(second, ast.Rule)
    (atom,) = second.conditions
    assert text[atom.span.start : atom.span.end] == "the y  odd 3"
    assert [(each.kind, text[slice(*each.span)]) for each in second.words] == [
        ("name", "b"),
        ("sentence", '"b"'),
    ]


def test_a_place_in_a_sentence_has_no_mark() -> None:
    """The tree has one, as traces do; letters in braces can still be written."""
    (rule,) = parse_rules('"{x:a} and \\{x}"\n  rule a\n').blocks
    assert isinstance(rule, ast.Rule)
    assert rule.says == "{?x:a} and {x}"


BAD = [
    ('"a"\n because the x p the x q\n so the x r\n rule a', "`q` cannot", "by `and`"),
    ('"a"\n because the x == 1\n rule a', "`=` cannot", "`equals`"),
    ('"a"\n because the x < 1\n rule a', "`<` cannot", "`is below`"),
    ('"a"\n because the x p or the x q\n rule a', "`or` cannot", "no `or`"),
    ('"abc\n rule a', '`"` cannot', "closed by"),
    ('"a"\n because the x p and', "ends too early", "Name a thing next"),
    ('"a"\n because the y is below [2, 1]\n rule a', "holds no number", ""),
    ('"a"\n because the y is below [1/0, )\n rule a', "division by zero", ""),
    ('"a"\n because the x p 1/0\n rule a', "division by zero", ""),
    ('"a"\n because 1/0 p\n rule a', "division by zero", ""),
    ('"a"\n because 1 + 1 p\n rule a', "not of a sum", "`comes to`"),
    ('"a"\n because something is below 1\n rule a', "no value", "`the` and a word"),
    ('"a"\n rule a, standing x, standing y', "second `standing`", "Leave one"),
    ('"a"\n stops b\n so the x c\n rule a', "has no `so`", ""),
    ('"a"\n or else "b"\n rule a', "has no `or else`", ""),
    ('"a"\n so the x p', "has no name", "`rule`"),
    (
        '"a"\n because the n comes to 1 + count of (the x where the x p)\n rule a',
        "stands alone",
        "",
    ),
    ('"a"\n because the n comes to count of (the x)\n rule a', "needs conditions", ""),
    (
        '"a"\n because the n comes to count of (the x + 1 where the x p)\n rule a',
        "over variables",
        "",
    ),
    ('"a"\n because ?x p\n rule a', "`?` cannot", "`the` and a word"),
    ('"{?a}"\n rule a', "no mark", "`{a}`"),
    ('"a"\n because if the x p\n rule a', "`if` cannot", "`because`"),
    ('"a"\n becuase the x p\n rule a', "`becuase` cannot", "`because`?"),
    ("the x p\n", "`the x` cannot", "begins with its sentence"),
    ("p(?x) :- q(?x)", "`p` cannot", ""),
    ("rule a\n if p(?x)\n then q(?x)\nend", "former shape", "FILE` writes it anew"),
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
    assert "a.rules:2:24: `q` cannot stand here\n   because the x p the x q" in rendered
    assert "There could have stood" not in rendered
    assert "There could have stood: `,`, `and`" in caught.value.render(could=True)
    assert caught.value.span == Span(27, 28)
