"""What if, why not, how sure, and what would change an answer."""

from __future__ import annotations

import pytest
from abluent.engine.questions.answers.account import account
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import Verdict
from demo_world import answer


@pytest.mark.slow
def test_a_supposition_is_answered_beside_the_label_as_it_is() -> None:
    found = answer(
        'suppose "Tideline Wash" had dimethicone: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    assert found.sentence.startswith(
        "In part at best: Tideline Wash takes at most part of Dimethicone"
    )
    assert "for it can leave that itself" in found.sentence
    assert "as it is now: Tideline Wash takes most of Dimethicone" in found.sentence
    (now,) = found.compared
    assert now.rows[0].goal[1][-1] == "atLeastPartlyClears"


@pytest.mark.slow
def test_what_is_supposed_is_told_as_supposed() -> None:
    found = answer(
        'suppose "Tideline Wash" had "Cetrimonium Chloride" at place 2: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    told = found.rows[0].reasons
    assert "Cetrimonium Chloride is number 2 on the label of Tideline Wash." in told


def test_a_supposed_label_leaves_the_real_one_alone() -> None:
    before = answer('what does "Harbour Cream" leave').sentence
    answer('suppose "Harbour Cream" had no silicones: what does "Harbour Cream" leave')
    assert answer('what does "Harbour Cream" leave').sentence == before


@pytest.mark.slow
def test_why_not_tells_obstacles_and_repairs_that_were_tried() -> None:
    found = answer('why not does "Gullwing Silk Wash" clear "Dimethicone"')
    (repairs,) = [each for each in found.findings if each.kind == "repairs"]
    assert repairs.items == (
        "Gullwing Silk Wash without Dimethicone takes at least part of Dimethicone "
        "(disputed) (tried).",
    )
    tried = answer(
        'suppose "Gullwing Silk Wash" had no dimethicone: '
        'does "Gullwing Silk Wash" clear "Dimethicone"'
    )
    assert tried.rows[0].goal[1][-1] == "atLeastPartlyClears"


@pytest.mark.slow
def test_why_not_tells_unknown_from_contradicted() -> None:
    unknown = answer('why not does "Tideline Wash" clear "Dimethicone"')
    assert "unknown" in kinds(unknown)
    assert kinds(unknown)[-1] == "repairs"
    # What contradicts it stands among the reasons, and is not said again.
    against = answer('why not does "Tideline Wash" clear "Amodimethicone"')
    (row,) = against.rows
    assert isinstance(row, Verdict)
    reasons = " ".join(step.text for step in account(row, whole=True))
    assert "so an anionic wash takes at most part" in reasons
    assert kinds(against) == ["repairs"]


def kinds(found: Answer) -> list[str]:
    """What was found out about an answer, a word each."""
    return [each.kind for each in found.findings]


def test_how_sure_names_the_standing_and_the_weakest_step() -> None:
    told = answer('how sure is it that "Tideline Wash" clears "Dimethicone"')
    assert told.sentence.startswith("Likely, but not measured: some of it is the")
    (turns,) = told.findings
    assert turns.items == (
        "Water cannot dissolve a silicone fluid; sulfonates at a working level break "
        "it into droplets that rinse off, so at least part of it goes.",
    )


@pytest.mark.slow
def test_what_would_change_names_the_claim_that_everything_hangs_on() -> None:
    found = answer(
        'what would change whether "Backwater Cream Cleanser" '
        'clears "Cetrimonium Chloride"'
    )
    claims, _, works = found.findings
    assert "only if this is so" in claims.head
    assert "A cationic wash lays down more cationic" in claims.items[0]
    assert works.kind == "sources"


@pytest.mark.slow
def test_what_would_change_says_what_would_settle_an_open_end() -> None:
    """An end that nothing bounds is settled by whoever bounds it."""
    found = answer('what would change whether "Tideline Wash" clears "Dimethicone"')
    (opened,) = [each for each in found.findings if each.kind == "open end"]
    assert opened.items == (
        "Whether it takes all of Dimethicone, measured with Tideline Wash.",
    )
