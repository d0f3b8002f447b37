"""Pictures of claims: true or not so first, quoted if not so, then what shows it."""

from __future__ import annotations

import pytest
from hard_pictures import (
    CLAIM,
    ONLY,
    told,
)
from shown import demo


def test_a_claim_names_what_shows_it_and_is_not_said_twice() -> None:
    true = 'is it true that "Cocamidopropyl Betaine" is an amphoteric surfactant'
    assert told(true).word == "True"
    assert told(true).claim not in told(true).reasons
    assert all("amphoteric" not in each for each in told(true).reasons)
    assert told(CLAIM).reasons[0].startswith("Sodium Benzoate is a preservative")
    assert "has no" in told(ONLY).reasons[0]


def test_what_is_not_so_is_quoted_and_calls_for_no_care() -> None:
    false = told('is it true that "Tideline Wash" clears "Petrolatum"')
    assert false.claim == "“Tideline Wash clears Petrolatum”"
    assert false.reasons[0] == "It takes it off in part."
    assert false.caution == ""


def test_a_pattern_within_a_quoted_claim_has_quotes_of_its_own() -> None:
    claim = told(
        'is it true that every silicone that is named "PEG-*" is water-soluble'
    )
    assert "beginning with \u2018PEG-\u2019 is" in claim.claim
    assert claim.claim[0] + claim.claim[-1] == "“”"


def test_a_wash_made_up_for_a_claim_has_no_label() -> None:
    said = told('is it true that every sulfate clears "Amodimethicone"')
    assert "label" not in " ".join(said.reasons)
    assert "Sodium Laureth Sulfate takes some of it off." in said.reasons


def test_that_a_label_lists_none_of_it_is_told() -> None:
    said = told('does "Tideline Wash" rightly say "sulfate-free"')
    assert said.word == "Yes"
    assert said.claim == "Tideline Wash may rightly say “sulfate-free”."
    assert said.reasons[-1] == (
        "We know all 25 names on the label, and none is a sulfate cleanser."
    )


def test_what_only_is_said_to_do_it_and_takes_a_part_is_not_as_said() -> None:
    """That a part goes without is shown; that all does is not, so it is not false."""
    question = "is it true that only sulfate surfactants clear silicones"
    said = told(question)
    assert said.word == "No, not only"
    assert demo(question).sentence.startswith("Not so as said: ")
    assert "has no sulfate cleanser and yet takes off" in said.reasons[0]
    assert not any("nobody has shown" in said.reasons[n] for n in said.chosen)


@pytest.mark.parametrize(
    ("claim", "word", "shows"),
    [
        (
            "no wash clears waxes",
            "Not so as said",
            "Tideline Wash takes off beeswax (Cera Alba) in part.",
        ),
        (
            "sulfates clear silicones",
            "False as said",
            "Sodium Laureth Sulfate alone takes off Amodimethicone in part.",
        ),
        (
            'nothing without sulfates clears "Dimethicone"',
            "Not so as said",
            "Tideline Wash takes off Dimethicone well.",
        ),
    ],
)
def test_a_claim_that_a_part_bears_out_or_belies_says_so(
    claim: str, word: str, shows: str
) -> None:
    """It is quoted, lest it be read as what the picture says."""
    question = f"is it true that {claim}"
    said = told(question)
    quoted = claim.replace('"', "")
    assert (said.word, said.claim) == (word, f"“{quoted[0].upper()}{quoted[1:]}”")
    assert said.reasons[0] == shows
    first = shows.partition(" takes")[0]
    assert demo(question).sentence.startswith(f"{word}: {first}")


def test_what_a_thing_is_not_is_said_in_everyday_words() -> None:
    said = told('is "Behentrimonium Methosulfate" a sulfate surfactant')
    assert said.word == "No"
    assert said.claim.endswith("with a positive charge, not a sulfate cleanser.")
    assert "“methosulfate” in its name" in said.reasons[0]


def test_each_part_of_a_claim_is_judged_by_itself() -> None:
    cream = '"Harbour Cream"'
    said = told(
        f"is it true that {cream} contains silicones, "
        f"and also that {cream} contains no silicones"
    )
    assert said.word == "Half true"
    assert [group.word for group in said.groups] == ["True", "False"]


def test_water_is_said_to_leave_only_what_it_is_shown_to_leave() -> None:
    """Of what nobody knows, or of what no product left, no such thing is said."""
    also = 'and also that "Harbour Cream" contains silicones'
    why = "and water alone does not take that off."
    said = told(f'is it true that "Harbour Cream" builds up, {also}').groups[0]
    assert said.why.startswith("It leaves Cetearyl Alcohol, Dimethicone, ")
    assert said.why.endswith(why)
    for film in ("PEG-12 Dimethicone", "Dimethicone"):
        said = told(f'is it true that water clears "{film}", {also}').groups[0]
        assert (said.names, said.mark) == ((f"Water clears {film}.",), None)
        assert said.why == ""
