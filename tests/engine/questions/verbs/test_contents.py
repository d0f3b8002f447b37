"""Levels in questions: certainly so, certainly not, or open with the interval."""

from __future__ import annotations

import json
from typing import Any

import pytest
from abluent.engine.base.contract import LINE
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.checking import checker
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import Product, World
from abluent.engine.trace.answer import base_for, traces
from abluent.grammar.query.parse import parse_query

SHELF = (
    ("Capstan Wash", "wash", "EU", "Aqua, Sodium Lauryl Sulfate 12%, Glycerin, Parfum"),
    (
        "Bollard Mask",
        "conditioner",
        "EU",
        "Aqua, Cetearyl Alcohol, Behentrimonium Chloride, Phenoxyethanol, Dimethicone",
    ),
    ("Fender Serum", "leave-in", "EU", "Aqua, Dimethicone, Glycerin, Glycerin"),
)
WORLD = World(Base.load(), load_rulebook(), [Product(*each) for each in SHELF])
LAW = World(Base.load(), load_rulebook(), [Product(*each) for each in SHELF])
LAW.amounts.practice = False
EMPTY = World(Base.load(), load_rulebook())


def answer(text: str, world: World = LAW) -> Answer:
    return ask(parse_query(text), world)


def head(sentence: str) -> str:
    """Yes, no or open; no answer is that word alone."""
    word, _, more = sentence.partition(": ")
    assert more
    return f"{word}."


@pytest.mark.parametrize(
    ("level", "said"),
    [
        ("above 10 %", "Yes."),
        ("above 12 %", "No."),
        ("at least 12 %", "Yes."),
        ("below 12 %", "No."),
        ("at most 12 %", "Yes."),
        ("at 12 %", "Yes."),
        ("at 11 to 13 %", "Yes."),
        ("at 12.5 to 13 %", "No."),
        ("at 1 to 11.9 %", "No."),
    ],
)
def test_a_printed_figure_decides(level: str, said: str) -> None:
    found = answer(f'does "Capstan Wash" contain "Sodium Lauryl Sulfate" {level}')
    assert head(found.sentence) == said
    assert found.rows[0].standing == "lawOrStandard"


@pytest.mark.parametrize(
    ("level", "said"),
    [
        ("at most 1 %", "Yes."),  # after phenoxyethanol, capped at 1 %
        ("above 1 %", "No."),
        ("below 1 %", "Cannot tell."),  # 1 % itself is allowed
        ("at least 0.5 %", "Cannot tell."),
        ("at 0.1 to 1 %", "Cannot tell."),
        ("at 1.5 to 2 %", "No."),
    ],
)
def test_the_ends_of_an_interval_decide(level: str, said: str) -> None:
    found = answer(f'does "Bollard Mask" contain "Dimethicone" {level}')
    assert head(found.sentence) == said


def test_what_is_open_is_listed_apart_with_its_interval() -> None:
    found = answer('which products contain "Dimethicone" above 1 %')
    assert found.sentence == (
        "For certain none of the 3 products contains Dimethicone above 1 %. "
        "Cannot tell for Fender Serum."
    )
    opened = [row.goal for row in found.others if row.goal[0] == "level"]
    assert [(goal[1][1], str(goal[1][2])) for goal in opened] == [(2, "(0, 50)")]


def test_no_level_is_claimed_of_what_is_not_on_the_label() -> None:
    found = answer('does "Capstan Wash" contain "Dimethicone" below 1 %')
    assert found.sentence.startswith("No: ")
    assert "names read" in found.sentence
    assert found.rows == ()


def test_a_name_printed_twice_may_be_two_portions() -> None:
    """Neither place bounds the whole from above; both do from below."""
    found = answer('does "Fender Serum" contain "Glycerin" below 60 %')
    assert found.sentence.startswith("Cannot tell: ")


def test_counting_what_is_open_leaves_the_count_open() -> None:
    text = "which products contain at least 2 surfactants above 1 %"
    assert answer(text).sentence.startswith("None of the ")


def test_custom_decides_where_law_does_not_and_says_so() -> None:
    """T01 to T31: what a figure of the trade decides stands as common practice."""
    text = 'does "Fender Serum" contain "Glycerin" below 50 %'
    open_by_law = 'does "Bollard Mask" contain "Behentrimonium Chloride" above 0.5 %'
    assert head(answer(open_by_law).sentence) == "Cannot tell."
    assert head(answer(text).sentence) == "Cannot tell."
    usual = answer(open_by_law, WORLD)
    standing = usual.rows[0].standing
    assert (head(usual.sentence), standing) in {
        ("Yes.", "commonPractice"),
        ("Cannot tell.", "commonPractice"),
        ("Cannot tell.", "lawOrStandard"),
    }


@pytest.mark.parametrize(
    ("change", "level", "said"),
    [
        ('had "Dimethicone" at 5 %', "above 1 %", "Yes."),
        ('had "Dimethicone" at least 5 %', "above 1 %", "Yes."),
        ('had "Dimethicone" below 0.5 %', "below 0.5 %", "Yes."),
        ('had "Panthenol" at 3 %', "at most 1 %", "Yes."),
        ('had "Dimethicone" at place 2', "above 1 %", "Cannot tell."),
        ('had no "Phenoxyethanol"', "above 1 %", "Cannot tell."),
    ],
)
def test_what_is_supposed_of_a_label_is_honoured(
    change: str, level: str, said: str
) -> None:
    text = f'suppose "Bollard Mask" {change}: '
    found = answer(text + f'does "Bollard Mask" contain "Dimethicone" {level}')
    assert head(found.sentence) == said


@pytest.mark.slow
@pytest.mark.parametrize(
    "text",
    [
        'does "Capstan Wash" contain "Sodium Lauryl Sulfate" at 11 to 13 %',
        'does "Bollard Mask" contain "Dimethicone" above 1 %',
        'does "Fender Serum" contain "Dimethicone" above 1 %',
        "which products contain anything below 1 %",
        'suppose "Bollard Mask" had "Dimethicone" at 5 %: '
        'does "Bollard Mask" contain "Dimethicone" above 1 %',
        'suppose "Bollard Mask" had "Panthenol" at place 2: '
        'does "Bollard Mask" contain "Cetearyl Alcohol" above 40 %',
    ],
)
def test_every_level_comes_with_proofs_that_are_checked(text: str) -> None:
    found = traces(answer(text, WORLD), text)
    assert found
    for trace in map(_as_read, found):
        assert checker.check(trace).problems == ()
        assert trace["bounds"]


@pytest.mark.slow
def test_a_supposed_level_is_that_of_the_base_as_supposed() -> None:
    text = (
        'suppose "Bollard Mask" had "Panthenol" at place 2: '
        'does "Bollard Mask" contain "Cetearyl Alcohol" above 40 %'
    )
    trace = _as_read(traces(answer(text, WORLD), text)[0])
    base = _as_read(base_for(trace, WORLD))
    result = checker.check(trace, base)
    assert result[:2] == (True, ())
    assert "that line(product/Bollard Mask, 2, panthenol)" in result.supposed
    assert trace["base"]["digest"] in result.base
    level = next(f for f in trace["facts"] if f["atom"][0] == "level")
    filed = base["facts"]["level"]
    base["facts"]["level"] = [f for f in filed if f["atom"] != level["atom"]]
    assert len(base["facts"]["level"]) == len(filed) - 1
    assert not checker.check(trace, base).ok


def _as_read(data: Any) -> Any:
    return json.loads(json.dumps(data))


@pytest.mark.slow
def test_what_would_change_a_verdict_names_the_level_at_which_charges_meet() -> None:
    """W75 by a tenth to either side; every verdict told there was tried."""
    wash = Product(
        "Lock Wash",
        "wash",
        "EU",
        "Aqua, Cetrimonium Chloride 2%, Sodium Lauryl Sulfate",
    )
    world = LAW.with_products([wash])
    found = answer('what would change whether "Lock Wash" clears "Dimethicone"', world)
    (levels,) = (each for each in found.findings if each.kind == "levels")
    # 2 % of 320 g/mol against 288.38 g/mol is 1.802 %; nine elevenths of that.
    (below,) = levels.items
    assert below.startswith("At or below 1.475 % of Sodium Lauryl Sulfate anionic")
    other = 'what would change whether "Capstan Wash" clears "Dimethicone"'
    assert not [f for f in answer(other).findings if f.kind == "levels"]


@pytest.mark.slow
def test_a_product_on_no_shelf_is_taken_as_its_trace_describes_it() -> None:
    """C01 and C02: a supposed kind brings other limits, the label is still the same."""
    text = (
        'suppose "Bollard Mask" were a leave-in: '
        'does "Bollard Mask" contain "Behentrimonium Chloride" at most 3 %'
    )
    found = answer(text)
    assert found.sentence.startswith("Yes: ")
    assert found.sentence.endswith(
        "The list allows above 0 and at most 5 % of its weight)."
    )
    trace = _as_read(traces(found, text)[0])
    result = checker.check(trace, _as_read(base_for(trace, EMPTY)))
    assert result[:2] == (True, ())
    assert result.supposed == (
        "that kind(product/Bollard Mask, leaveIn)",
        "not that kind(product/Bollard Mask, conditioner)",
    )
    assert trace["base"]["digest"] in result.base


def test_a_name_of_several_grades_may_be_what_is_asked_for() -> None:
    """One grade of dimethicone is a gum, so that whether a label has one is open."""
    found = answer('does "Fender Serum" contain a silicone gum')
    assert found.truth == "open"
    (note,) = found.notes
    assert note.startswith("Dimethicone (Fender Serum) may be a silicone fluid or ")
    assert answer('does "Fender Serum" contain no silicone gum').truth == "open"
    assert answer('does "Capstan Wash" contain a silicone gum').truth == "no"
    assert answer('does "Fender Serum" contain a silicone').truth == "yes"


def test_a_name_that_was_only_read_has_no_salts() -> None:
    """It is on the label, and what is asked for is found beside it."""
    tar = Product("Rope Balm", "leave-in", "EU", "Aqua, Pinus Pinaster Tar Oil, PVP")
    world = World(Base.load(), load_rulebook(), [tar])
    listed = [f.args[2] for f in world.read("Rope Balm").facts if f.predicate == LINE]
    assert any(each not in world.base for each in listed)
    assert answer('does "Rope Balm" contain PVP', world).sentence.startswith("Yes")
