"""Charges, limits and thresholds of the second checker, in small made-up worlds."""

from fractions import Fraction
from typing import Any

import pytest

from second_checker.charges import excess
from second_checker.following import known_of
from second_checker.levels import places_of, rows_of, threshold_of
from second_checker.limits import Limit, binding
from second_checker.proofs import check_end
from second_checker.values import NUM
from second_checker.world import Entry, World, by_predicate

WASH = "product/Wash"
SCALE = {"program": {"standings": ["law", "practice"]}}


def world(*atoms: tuple[Any, ...]) -> World:
    """A world in which some atoms are told, numbers being written plainly."""
    told = [
        tuple((NUM, str(each)) if isinstance(each, int) else each for each in atom)
        for atom in atoms
    ]
    entries = [Entry(atom, "law", False, frozenset(), "somewhere") for atom in told]
    return World(
        SCALE, {}, by_predicate(entries), known_of(told), frozenset(told), frozenset()
    )


BALANCE = [
    ("line", WASH, 1, "water"),
    ("line", WASH, 2, "sulfate"),
    ("line", WASH, 3, "quat"),
    ("isa", "sulfate", "Anionic"),
    ("isa", "quat", "Cationic"),
    ("balanceSign", "Anionic", 1),
    ("balanceSign", "Cationic", -1),
    ("ionCharge", "sulfate", -1),
    ("saltMass", "sulfate", 250),
    ("ionCharge", "quat", 1),
]


def form_of(here: World, sign: int) -> Any:
    """The form of the excess of the wash."""
    return excess(here, places_of(here, WASH, [], "here"), sign, "here")[0]


def test_a_gram_of_a_salt_brings_as_much_at_least_and_at_most() -> None:
    here = world(*BALANCE, ("saltMass", "quat", 500))
    assert form_of(here, 1) == {"2": 4, "3": -2}
    assert form_of(here, -1) == {"2": 4, "3": -2}


def test_what_is_charged_in_part_may_bring_nothing() -> None:
    here = world(*BALANCE, ("saltMass", "quat", 500), ("chargedInPart", "Cationic"))
    assert form_of(here, 1) == {"2": 4, "3": 0}
    assert form_of(here, -1) == {"2": 4, "3": -2}


def test_an_ion_without_its_salt_brings_at_most_that_of_its_acid() -> None:
    here = world(*BALANCE, ("ionMass", "quat", 500))
    assert form_of(here, 1) == {"2": 4, "3": 0}
    assert form_of(here, -1) == {"2": 4, "3": -1000 / (500 - Fraction("1.008"))}


def test_without_a_mass_there_is_no_end() -> None:
    here = world(*BALANCE)
    assert form_of(here, 1) == {"2": 4, "3": 0}
    assert form_of(here, -1) is None


def test_a_repeated_place_brings_nothing_for_sure() -> None:
    here = world(*BALANCE, ("saltMass", "quat", 500), ("line", WASH, 4, "quat"))
    assert form_of(here, 1) == {"2": 4, "3": -2, "4": 0}
    assert form_of(here, -1) == {"2": 4, "3": -2, "4": -2}


def test_a_charge_like_its_side_is_refused() -> None:
    here = world(*BALANCE, ("balanceSign", "sulfate", -1))
    with pytest.raises(ValueError, match="charged like its side"):
        form_of(here, 1)


def record(name: str, high: int, scope: str, *more: tuple[Any, ...]) -> Any:
    """A limit of law on one ingredient."""
    return [
        ("high", name, high),
        ("type", name, "ConcentrationLimit"),
        ("market", name, "eu"),
        ("unit", name, "percentByWeight"),
        ("appliesTo", name, "acid"),
        ("scope", name, scope),
        *more,
    ]


PLACES = [
    ("soldIn", WASH, "eu"),
    ("kind", WASH, "wash"),
    ("coversKind", "all", "wash"),
    ("mayCoverKind", "some", "wash"),
]
KEEP = record("keep", 1, "all", ("bindsPreservativeUse", "keep"))


@pytest.mark.parametrize(
    ("records", "wanted"),
    [
        (record("other", 3, "all"), ["other"]),
        (record("other", 3, "some"), []),
        (KEEP, ["keep"]),
        ([*KEEP, ("openToOtherUse", "keep")], []),
        ([*KEEP, *record("other", 3, "all")], ["other"]),
        (
            [*record("other", 3, "all"), *record("third", 9, "all"), *KEEP],
            ["other", "third"],
        ),
        (
            [
                *record("keep", 5, "all", ("bindsPreservativeUse", "keep")),
                *record("other", 3, "all"),
            ],
            ["keep"],
        ),
        ([*KEEP, *record("lift", 2, "some"), *record("more", 4, "some")], ["more"]),
        ([*KEEP, *record("us", 3, "all", ("low", "us", 1))], ["keep"]),
        ([*KEEP, *record("us", 3, "all", ("bindsSomeGrades", "us"))], ["keep"]),
    ],
)
def test_records_that_bind(records: Any, wanted: list[str]) -> None:
    assert binding(world(*PLACES, *records), WASH, "acid") == wanted


@pytest.mark.parametrize(
    ("told", "level", "strict"),
    [
        ([], 1, False),
        ([("freeBelow", "r", 2)], 2, True),
        ([("freeBelow", "r", 2), ("freeUpTo", "s", 2)], 2, False),
        (
            [("freeBelow", "r", 2), ("market", "s", "eu"), ("freeUpTo", "s", 1)],
            1,
            False,
        ),
    ],
)
def test_thresholds(told: Any, level: int, strict: bool) -> None:
    found = threshold_of(world(*PLACES, *told), WASH, "here")
    assert found.level == level
    assert found.strict is strict


LISTED = [
    ("line", WASH, 1, "water"),
    ("line", WASH, 2, "acid"),
    ("line", WASH, 3, "salt"),
]


def test_rows_of_three_places() -> None:
    here = world(*LISTED)
    places = places_of(here, WASH, [], "here")
    limits = {"some": Limit({"acid": Fraction(2)}, Fraction(1), Fraction(3))}
    rows = rows_of(places, limits, threshold_of(here, WASH, "here"), [])
    assert sorted(rows) == sorted(
        "sum at most|sum at least|part 1|part 2|part 3|present 1|present 2|present 3|"
        "above 1|above 2|above 3|below 1|below 2|below 3|order 1 2|order 2 3|"
        "cap some|least some".split("|")
    )
    assert rows["order 1 2"].form == {"2": 1, "1": -1}
    assert (rows["order 1 2"].first, rows["order 1 2"].last) == (2, 3)
    assert (rows["below 3"].first, rows["below 3"].last) == (0, 2)
    assert rows["cap some"].form == {"2": 2}


def test_what_is_unordered_has_no_chain() -> None:
    here = world(*LISTED, ("unordered", WASH), ("mayContain", WASH, 4, "dye"))
    places = places_of(here, WASH, [], "here")
    rows = rows_of(places, {}, threshold_of(here, WASH, "here"), ["whole"])
    assert not {row for row in rows if row.split()[0] in ("above", "below", "order")}
    assert "sum at least" not in rows
    assert "nothing less 4" in rows


def proof(first: int, parts: list[str]) -> Any:
    """A proof that the second place is half the product at most."""
    inside = dict(zip("123", parts, strict=True))
    weights = {"sum at most": "1/2", "order 1 2": "1/2", "present 3": "1/2"}
    less = {"first": 0, "last": 1, "weights": {"below 2": "1"}}
    more = {"first": first, "last": 3, "weights": weights}
    border = {"1": "50", "2": "50", "3": "0"}
    return {"cases": [less, more], "line": 2, "inside": inside, "border": border}


@pytest.mark.parametrize(
    ("first", "parts", "why"),
    [
        (2, ["60", "30", "1/2"], ""),
        (3, ["60", "30", "1/2"], "in no case"),
        (1, ["60", "30", "1/2"], "is not in force"),
        (2, ["60", "30", "2"], "does not keep below 3"),
        (2, ["30", "60", "1/2"], "does not keep order 1 2"),
        (2, ["60", "30", "0"], "does not keep present 3"),
    ],
)
def test_a_proof_of_an_end_that_is_approached(first: int, parts: Any, why: str) -> None:
    here = world(*LISTED)
    places = places_of(here, WASH, [], "here")
    rows = rows_of(places, {}, threshold_of(here, WASH, "here"), ["whole"])
    goal = ({"2": Fraction(1)}, 1, Fraction(50), True)
    if why:
        with pytest.raises(ValueError, match=why):
            check_end(proof(first, parts), goal, rows, places, "here")
    else:
        check_end(proof(first, parts), goal, rows, places, "here")
        reached = ({"2": Fraction(1)}, 1, Fraction(50), False)
        with pytest.raises(ValueError, match="a border without need"):
            check_end(proof(first, parts), reached, rows, places, "here")
