"""Conditions of claims: what a question, a shelf and a routine make of a verdict.

The evidence is named by its id in `tests/cases/removal_evidence.tsv`.
"""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.roles import Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.question import Unanswerable, ask
from abluent.engine.questions.world.world import Product, World
from abluent.engine.routines.buildup import washed_as
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.query.parse import parse_query
from abluent.grammar.routine.parse import parse_routines

SHELF = [
    Product("Sulfate", "wash", "EU", "Aqua, Sodium Laureth Sulfate, Sodium Chloride"),
    Product("Soap", "wash", "EU", "Aqua, Potassium Cocoate, Glycerin"),
    Product("Silk", "wash", "EU", "Aqua, Ammonium Laureth Sulfate, Amodimethicone"),
    Product("Mask", "conditioner", "EU", "Aqua, Cetyl Alcohol, Hydrolyzed Keratin"),
]


@cache
def world(*stated: str) -> World:
    return World(Base.load(), load_rulebook(), SHELF, stated)


def answer(text: str, *stated: str) -> Answer:
    return ask(parse_query(text), world(*stated))


def only(text: str, *stated: str) -> Verdict:
    (row,) = answer(text, *stated).rows
    assert isinstance(row, Verdict)
    return row


def told(row: Verdict) -> str:
    return " ".join(row.reasons)


# --- a condition that turns a verdict ----------------------------------------------


@pytest.mark.slow
def test_the_general_claim_holds_where_nothing_is_stated() -> None:
    """Both waters are judged, and the answer tells which would turn it (E29)."""
    found = answer("does water clear hard-water minerals")
    (row,) = found.rows
    assert isinstance(row, Verdict)
    assert row.value == "atMostPartlyClears"
    notes = " ".join(found.notes)
    assert "In hard water: water takes none of" in notes


@pytest.mark.slow
def test_several_conditions_hold_together() -> None:
    """Deionised water lowered the minerals of bleached hair (E29)."""
    row = only(
        "does water clear hard-water minerals in deionised water "
        "and on freshly bleached hair"
    )
    assert row.value == "partlyClears"
    assert row.at_least is not None
    assert "evans-2011" in row.at_least.sources


def test_of_merely_soft_water_practice_alone_speaks() -> None:
    """Merely soft water was never measured: at most part, by practice (E29)."""
    row = only("does water clear hard-water minerals in soft water")
    assert (row.value, row.standing) == ("atMostPartlyClears", "commonPractice")


@pytest.mark.slow
def test_salt_water_takes_half_of_a_cationic_cellulose() -> None:
    """Salt solutions took about half of it (E15)."""
    plain = only('does water clear "Polyquaternium-10"')
    salt = only('does water clear "Polyquaternium-10" in salt water')
    assert (plain.value, salt.value) == ("doesNotClear", "partlyClears")


def test_soap_is_bounded_in_each_water() -> None:
    """Practice bounds it in each water; unsaid, both waters count."""
    assert only('does "Soap" clear "Dimethicone" in soft water').role in TAKES
    hard = only('does "Soap" clear "Dimethicone" in hard water')
    assert hard.value == "atMostPartlyClears"
    assert only('does "Soap" clear "Dimethicone"').value == "atMostPartlyClears"


TAKES = {Role.PARTLY_CLEARED, Role.AT_LEAST_PARTLY}


# --- a condition that changes a degree ---------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(
    ("phrase", "degree"),
    [
        ("in warm water", "More of it comes off"),
        ("in cold water", "Less of it comes off"),
        ("on a heavy load", "A greater share of it comes off"),
        ("on a light load", "A smaller share of it comes off"),
    ],
)
def test_what_only_changes_a_degree_is_told_and_turns_nothing(
    phrase: str, degree: str
) -> None:
    """Warmth (E23) and load (E24)."""
    plain = only('does "Sulfate" clear "Paraffinum Liquidum"')
    under = only(f'does "Sulfate" clear "Paraffinum Liquidum" {phrase}')
    assert plain.value == "atLeastPartlyClears"
    assert under.role in {Role.PARTLY_CLEARED, Role.AT_LEAST_PARTLY, Role.CLEARED}
    assert degree in told(under)
    assert degree not in told(plain)


@pytest.mark.parametrize(
    ("product", "film", "word"),
    [("Silk", "Amodimethicone", "cuticle"), ("Mask", "Hydrolyzed Keratin", "sorbs")],
)
def test_more_is_left_on_damaged_hair(product: str, film: str, word: str) -> None:
    """Amodimethicone (E03) and protein hydrolysates (E28)."""

    def reasons(text: str) -> str:
        return " ".join(r for row in answer(text).rows for r in row.reasons)

    asked = f'does "{product}" leave "{film}"'
    assert "More of it is left" in reasons(f"{asked} on damaged hair")
    assert word in reasons(f"{asked} on damaged hair")
    assert "More of it is left" not in reasons(asked)


@pytest.mark.slow
def test_what_would_change_tells_of_conditions() -> None:
    """Those that turn the verdict and those that change a degree."""
    found = answer('what would change whether "Sulfate" clears "Paraffinum Liquidum"')
    (conditions,) = [each for each in found.findings if each.kind == "conditions"]
    items = " ".join(conditions.items)
    assert "In warm water: more of it comes off." in items
    assert "On a light load: Sulfate takes part of Paraffinum Liquidum" in items


# --- who states it -----------------------------------------------------------------


@pytest.mark.slow
def test_the_shelf_states_a_condition_and_a_question_stands_above_it() -> None:
    """By its own words; the origin is told in the proof."""
    text = "does water clear hard-water minerals"
    assert only(text, "soft").value == "atMostPartlyClears"
    assert only(f"{text} in hard water", "soft").value == "doesNotClear"
    said = only(text, "soft").case.own
    assert [f.basis.origin for f in said if f.predicate == "circumstance"] == [
        "the shelf"
    ]


@pytest.mark.slow
def test_of_an_aspect_that_is_stated_nothing_is_noted() -> None:
    """Who washes in hard water need not be told of soft water each time."""
    notes = " ".join(answer("does water clear hard-water minerals", "hard").notes)
    assert "soft water" not in notes


@pytest.mark.slow
def test_a_supposition_keeps_its_conditions() -> None:
    """`suppose` and conditions go together."""
    text = (
        'suppose "Sulfate" had no "Sodium Laureth Sulfate": '
        'does "Sulfate" clear "Polyquaternium-10" in salt water'
    )
    (row,) = answer(text).rows
    assert isinstance(row, Verdict)
    assert row.value == "partlyClears"


def test_a_routine_passes_its_conditions_on() -> None:
    """Its water, and of its note on the hair what begins with a condition."""
    (routine,) = parse_routines(
        'water is soft and warm\nhair is bleached twice, fine\nwash with "Soap" daily'
    )
    assert set(washed_as(routine, world("hard")).stated) == {
        "inSoftWater",
        "warmWater",
        "damagedHair",
    }


def test_a_routine_in_two_waters_is_refused() -> None:
    """Two that exclude one another are named."""
    (routine,) = parse_routines('water is hard and soft\nwash with "Soap" daily')
    with pytest.raises(GrammarError, match="cannot both be"):
        washed_as(routine, world())


def test_two_waters_in_one_question_are_refused() -> None:
    """As on a shelf and in a routine."""
    with pytest.raises(Unanswerable, match="cannot both be"):
        answer('does "Soap" clear "Dimethicone" in hard water in soft water')


def test_damaged_hair_calls_for_its_caution() -> None:
    """The caution on treated hair comes with every answer about such hair."""
    text = 'does "Sulfate" clear "Cetyl Alcohol"'
    plain, damaged = answer(text), answer(f"{text} on damaged hair")
    assert not any("Bleached" in each for each in cautions(plain.rows))
    assert any("Bleached" in each for each in cautions(damaged.rows))


def test_what_a_wash_leaves_under_other_conditions_is_told() -> None:
    """Soap leaves lime soap in hard water (E31), which nobody spoke of here."""
    text = 'what does "Soap" leave'
    assert answer(text).sentence == "Soap may leave Lime Soap."
    assert answer(text, "hard").sentence == "Soap can leave Lime Soap."
    assert not any("Lime Soap" in note for note in answer(text, "soft").notes)
