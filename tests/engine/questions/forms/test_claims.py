"""Claims judged: what decides comes first, and a witness is named."""

from __future__ import annotations

import pytest
from demo_world import answer, world


@pytest.mark.slow
@pytest.mark.parametrize(
    ("claim", "judged"),
    [
        ("only sulfates clear water-insoluble silicones", "unsupported"),
        ('only sulfates at least partly clear "Dimethicone"', "refuted"),
        ("every sulfate is an anionic surfactant", "proven"),
        ("every anionic surfactant is a sulfate", "refuted"),
        ("no sulfate is a cationic surfactant", "proven"),
        ("some anionic surfactant is not a sulfate", "proven"),
        ('"Dimethicone" needs a sulfate', "unsupported"),
        ('every amphoteric surfactant clears "Dimethicone"', "refuted"),
        ('every sulfate clears "Dimethicone"', "refuted"),
        ('"Breakwater Wash" clears "Dimethicone"', "disputed"),
        ('"Tideline Wash" clears "Dimethicone"', "unsupported"),
        ('at least 3 washes at least partly clear "Dimethicone"', "proven"),
        ('at most 2 washes at least partly clear "Dimethicone"', "refuted"),
        ("no co-wash clears silicones", "proven"),
    ],
)
def test_a_claim_is_judged(claim: str, judged: str) -> None:
    found = answer(f"is it true that {claim}")
    assert found.claim == judged
    assert found.witness or judged == "proven"


@pytest.mark.parametrize(
    ("claim", "verdict"),
    [
        ('"Tideline Wash" clears silicones', "partlyClears"),
        ("every wash clears silicones", "partlyClears"),
        ('only sulfates at least partly clear "Dimethicone"', "atLeastPartlyClears"),
    ],
)
def test_the_row_that_decides_comes_first(claim: str, verdict: str) -> None:
    """A counterexample is the film that refutes, and not the first by name."""
    found = answer(f"is it true that {claim}")
    assert found.claim == "refuted"
    assert found.rows[0].goal[1][-1] == verdict
    shown = world().base.label(found.rows[0].film)  # type: ignore[union-attr]
    assert shown in found.sentence


def test_a_refutation_names_what_readers_know_first() -> None:
    found = answer("is it true that every anionic surfactant is a sulfate")
    listed = {name for p in world().products.values() for name in p.text.split(", ")}
    assert found.witness.casefold() in {name.strip().casefold() for name in listed}


def test_a_claim_of_what_is_needed_is_judged_by_what_does_without() -> None:
    """Never by a sulfate that a sulfate is needed."""
    found = answer('is it true that "Amodimethicone" needs a sulfate')
    assert found.sentence.startswith(
        "Not so as said: Tideline Wash, without sulfate surfactants, takes some of "
        "Amodimethicone too. "
    )


def test_what_is_so_of_none_is_not_so_of_some_alone() -> None:
    """The others that come as near are named."""
    found = answer("is it true that only sulfates clear waxes")
    assert found.sentence.startswith(
        "False: Tideline Wash, Lamp Room Clarifying Wash and Plover Mild Wash, without "
        "sulfate surfactants, take some of each of the waxes too. "
    )
    assert found.sentence.endswith("None is shown to take all in one wash.")
    assert found.others


def test_what_is_not_cleared_is_not_told_as_if_it_were_asked_whole() -> None:
    """`only water does not clear` and what is taken in part are other matters."""
    for asked in (
        'is it true that only water does not clear "Cyclopentasiloxane"',
        'is it true that only sulfates at least partly clear "hard-water minerals"',
    ):
        assert "othing is shown to take all" not in answer(asked).sentence


def test_what_holds_of_all_says_of_how_many() -> None:
    """An example proves none; what water leaves may go with a wash."""
    found = answer("is it true that every wax builds up")
    head = "Partly true: water alone takes none of all 44 looked at, such as "
    assert found.sentence.startswith(head)
    assert "some at each wash, so with those it levels off" in found.sentence


def test_what_builds_up_hangs_on_water_and_wash() -> None:
    """What water loosens hardly gathers; the denial is judged the other way."""
    assert answer('does "PVP" build up').sentence.startswith("Hardly: water alone ")
    said = 'is it true that "PVP" does not build up'
    assert answer(said).sentence.startswith("Mostly true: ")
    found = answer("is it true that every silicone builds up").sentence
    assert found.startswith("False: ")
    assert "It can be so of Dimethicon" in found


@pytest.mark.parametrize(
    ("verb", "said", "heads"),
    [
        (
            "need a sulfate",
            "without sulfate surfactants, take some of",
            ("No: ", "Not so as said: "),
        ),
        ("build up", "it levels off", ("It can: ", "Partly true: ")),
    ],
)
def test_what_is_needed_or_builds_up_is_answered_as_a_claim(
    verb: str, said: str, heads: tuple[str, str]
) -> None:
    """What a wash takes, or water, is no answer to that by itself."""
    found = answer(f'does "Dimethicone" {verb}')
    assert said in found.sentence
    claimed = verb.replace("need ", "needs ").replace("build ", "builds ")
    again = answer(f'is it true that "Dimethicone" {claimed}')
    asked, stated = heads
    assert found.sentence.startswith(asked)
    assert again.sentence == stated + found.sentence.removeprefix(asked)


@pytest.mark.slow
def test_how_a_wash_stands_to_what_is_needed_is_not_said_of_a_film() -> None:
    found = answer("is it true that silicones need a sulfate").sentence
    assert found.startswith(
        "False: Tideline Wash, without sulfate surfactants, takes some of each of the "
        "silicones too. "
    )
    assert "Caprylyl Methicone, Cyclohexasiloxane and 1 more need no wash at " in found


@pytest.mark.slow
def test_some_are_stronger_film_by_film() -> None:
    """One pair and one film is enough to be told; over all films nothing is shown."""
    found = answer(
        "is it true that some washes without sulfates are stronger than some washes "
        "that contain sulfates"
    )
    assert found.claim == "unsupported"
    assert found.sentence.startswith("Film by film, yes: Tideline Wash takes at least ")
    assert len(found.rows) == 2
