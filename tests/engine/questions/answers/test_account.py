"""A verdict said aloud, and its reasons on one screen."""

from __future__ import annotations

import re
from pathlib import Path
from statistics import median

import pytest
from abluent.engine.proof.without import stands_without
from abluent.engine.questions.answers.account import (
    account,
    deciding,
    number_of,
    numbered_sources,
)
from abluent.engine.questions.answers.turns import turning_of
from abluent.engine.questions.answers.verdicts import Verdict, verdicts
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.record import replace
from abluent.shell.pages.answer import answer_page
from abluent.shell.session.session import Session
from shown import demo as asked
from shown import demo_session as session

SCREEN = 22
SECOND = Path(__file__).parents[3] / "shell" / "pages" / "second_shelf.jsonl"
SAID = {
    'does "Tideline Wash" clear "Dimethicone"': (
        "Yes, likely: Tideline Wash takes most of Dimethicone off, perhaps not all in "
        "one wash, by common practice."
    ),
    'does "Breakwater Wash" clear "Dimethicone"': (
        "Yes, likely: Breakwater Wash takes most of Dimethicone off, perhaps not all "
        "in one wash, by common practice; whether it takes all, "
        "sources of equal rank disagree."
    ),
    'does "Gullwing Silk Wash" clear "Dimethicone"': (
        "In part at best: Gullwing Silk Wash takes at most part of Dimethicone, by "
        "common practice, for it can leave that itself."
    ),
    'does "Shallows Wash" clear "Dimethicone"': (
        "Not for sure: Shallows Wash takes at most part of Dimethicone, if any, by "
        "common practice."
    ),
    'does "Tideline Wash" clear "Amodimethicone"': (
        "Yes, likely in part: Tideline Wash takes part of Amodimethicone, "
        "by common practice."
    ),
    'does "Backwater Cream Cleanser" clear "Cetrimonium Chloride"': (
        "No: Backwater Cream Cleanser takes none of Cetrimonium Chloride, "
        "by common practice."
    ),
    'does water clear "Cyclopentasiloxane"': (
        "Cyclopentasiloxane needs no wash, for it evaporates, by the handbooks."
    ),
}


def row(question: str) -> Verdict:
    (found,) = asked(question).rows
    assert isinstance(found, Verdict)
    return found


@pytest.mark.parametrize("question", SAID)
def test_the_first_line_is_the_answer(question: str) -> None:
    """How much is taken, who says so, and what is in doubt."""
    assert asked(question).sentence == SAID[question]


def test_a_product_is_folded_to_its_films_the_worst_first() -> None:
    """What is told last is the rest of it."""
    told = asked('does "Tideline Wash" clear everything from "Tarred Rope Pomade"')
    assert told.sentence == (
        "Yes, in part: of what Tarred Rope Pomade leaves, Tideline Wash takes part "
        "of waxes and Petrolatum and takes at least part of the rest."
    )


@pytest.mark.parametrize("question", SAID)
def test_every_claim_that_bounds_is_told_by_why(question: str) -> None:
    """No bound without its claim; the screen has one for each end at the least."""
    found = row(question)
    base = found.case.world.base
    whole = " ".join(step.text for step in account(found, whole=True))
    short = " ".join(step.text for step in account(found))
    statements = {base.label(claim).rstrip(".") for claim in deciding(found)}
    assert statements
    assert all(each in whole for each in statements)
    assert any(each in short for each in statements)


@pytest.mark.parametrize(
    ("question", "said", "unsaid"),
    [
        (
            'does "Lamp Room Clarifying Wash" clear "Calcium Deposit"',
            "Tetrasodium EDTA binds calcium",
            "with no chelant at work",
        ),
        (
            'does "Breakwater Wash" clear "Lanolin"',
            "Lanolin counts as a wax: Sodium laureth-2 sulfate took",
            "Cocamidopropyl Betaine",
        ),
        (
            'does "Gullwing Silk Wash" clear "Dimethicone"',
            "strong sulfates at a working level break it into",
            "Glycol Distearate",
        ),
        (
            'does "Tideline Wash" clear "Amodimethicone" from "Mooring Mask"',
            "Amodimethicone, number 4 of Mooring Mask, is an amino silicone. "
            "Positive charges on this silicone grip hair",
            "Without an anionic",
        ),
        (
            'does "Dune Grass Wash" clear "PVP"',
            "PVP and VP/VA dissolve in water, which takes at least part",
            "What a weaker",
        ),
    ],
)
def test_a_reason_speaks_of_these_labels_and_sets_this_end(
    question: str, said: str, unsaid: str
) -> None:
    """The chelant on the label; by class what was tested on another; no idle line."""
    told = " ".join(step.text for step in account(row(question)))
    assert said in told
    assert unsaid not in told


def test_how_sure_is_said_once_and_wash_day_last() -> None:
    """The first line has said it; what to do stands below, before the cautions."""
    page = " ".join(answer_page(asked(list(SAID)[3]), 80).split())
    assert "How sure" not in page
    assert "A label does not tell how much of it there is" in page
    assert page.count("On wash day: ") == 1


@pytest.mark.parametrize("question", SAID)
def test_sources_are_works_and_are_numbered_as_they_are_cited(question: str) -> None:
    """No convention is a source, and every number stands at a step."""
    found = row(question)
    numbers = numbered_sources(account(found))
    assert not numbers.keys() & found.case.world.known.conventions
    page = answer_page(asked(question), 80)
    steps = page.partition("Sources:")[0]
    cited = {int(number) for number in re.findall(r"\[(\d+)\]", steps)}
    assert cited == set(numbers.values())


@pytest.mark.parametrize("question", SAID)
def test_without_its_turning_step_a_verdict_falls_or_another_chain_is_told(
    question: str,
) -> None:
    """Without it and its equals nothing that stands as high is left in any case."""
    assert turns_or_says_so(row(question))
    turn = turning_of(row(question))
    page = answer_page(replace(asked(question), why=True), 80)
    assert turn.alone or "without it others show" in " ".join(page.split())


@pytest.mark.long
@pytest.mark.parametrize("shelf", ["demo", str(SECOND)])
def test_every_verdict_turns_on_its_turning_step(shelf: str) -> None:
    """Forty verdicts of all washes of a shelf on what its products leave."""
    world = Session.open([shelf]).world
    products = world.products
    washes = [name for name in products if products[name].kind == "wash"]
    found = verdicts(Case.of(world, washes, sources=list(products)))
    bounded = [each for each in found if each.weakest and each.at_least is not None]
    sample = bounded[:: max(1, len(bounded) // 40)]
    assert len(sample) >= 40
    for each in sample:
        turns_or_says_so(each)
    told = [turning_of(each) for each in sample]
    assert sum(turn.alone and turn.claim for turn in told) > len(told) / 4


def turns_or_says_so(found: Verdict) -> bool:
    """What is left without the turning step is no proof, or it is told that it is.

    Whether without all steps that stand as low some end falls.
    """
    turn = turning_of(found)
    assert turn.words in found.weakest
    ends = [e for e in (found.at_least, found.at_most) if e] or [found]
    weak = [end for end in ends if end.standing == found.standing]
    falls = [
        not stands_without(
            end.case.prover,
            *end.goal,
            [n for n in end.proof.nodes.values() if end.weak_step(n) == turn.words],
        )
        for end in weak
    ]
    assert any(falls) or not turn.alone or not turn.claim
    everything = [
        not stands_without(end.case.prover, *end.goal, end.proof.weakest)
        for end in weak
        if end.proof.weakest
    ]
    assert any(everything) or not turn.alone or not turn.claim
    return any(everything)


def test_it_turns_on_a_claim_that_sets_a_bound() -> None:
    """And not on a step that stands as low and says little."""
    for question in list(SAID)[:2]:
        found = row(question)
        turn = turning_of(found)
        labels = {found.case.world.base.label(claim) for claim in found.bounding}
        assert turn.words in labels
        assert number_of(turn.words, account(found))


def test_a_plain_answer_fits_a_screen() -> None:
    """The whole chain is one word away."""
    lines = [len(answer_page(asked(q), 80).splitlines()) for q in SAID]
    assert median(lines) <= SCREEN
    assert max(lines) <= 28
    first = next(iter(SAID))
    whole = answer_page(session().ask(f"why {first}"), 80, whole=True)
    assert all(reason[:30] in whole for reason in row(first).reasons)


@pytest.mark.parametrize("question", SAID)
def test_at_most_two_cautions_are_shown(question: str) -> None:
    """A trace has them all."""
    assert answer_page(asked(question), 80).count("Mind:") <= 2


def test_a_step_that_only_counts_is_told_by_why_alone() -> None:
    """Where a claim bounds what goes, that a blend adds up carries nothing more."""
    found = row('does "Dune Grass Wash" clear "Dimethiconol"')
    short = [step.text for step in account(found)]
    whole = [step.text for step in account(found, whole=True)]
    (counted,) = (text for text in whole if "its strongest part" in text)
    assert counted not in short
    (stated,) = (text for text in short if "without an anionic one" in text)
    assert stated.startswith("Water cannot dissolve this silicone, and amphoteric, ")
    assert stated.endswith("poorly: they take at most part, as of dimethicone.")
