"""The page about the rule language says what is so."""

from __future__ import annotations

import re
from importlib.resources import files

from abluent.engine.base.strict import CODES
from abluent.engine.logic._compile import ADVICE
from abluent.engine.logic.program import load_program

PAGE = files("abluent.grammar.rules").joinpath("RULES.md").read_text("utf-8")
EXAMPLES = re.findall(r"```rules\n(.*?)```", PAGE, re.DOTALL)


def test_the_examples_are_a_program() -> None:
    """All examples together load, and are what the page says."""
    program = load_program([("RULES.md", "\n".join(EXAMPLES))])
    assert {rule.id for rule in program.rules} == {
        "late-below-marker",
        "stated-level",
        "crowded",
    }
    assert program.standings[0] == "lawOrStandard"


def test_every_code_is_explained() -> None:
    """The table of refusals has every code, and no other."""
    section = PAGE.split("## What is refused")[1]
    first_column = "".join(re.findall(r"^\|[^|]*", section, re.MULTILINE))
    named = set(re.findall(r"`([a-z-]+)`", first_column))
    assert named == {*ADVICE, "syntax", *CODES}


def test_every_word_of_the_grammar_is_explained() -> None:
    """No keyword of the grammar is missing from the page."""
    grammar = files("abluent.grammar.rules").joinpath("rules.lark").read_text("utf-8")
    words = set(re.findall(r'"([a-z]{2,})"', re.sub(r"//.*", "", grammar)))
    assert {word for word in words if word not in PAGE} == set()
