"""Spelling repair: what is mended, what is left alone, and that it finds all."""

from __future__ import annotations

import random
import string

import pytest
from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base
from abluent.engine.reading.names import resolve
from abluent.engine.reading.spelling import Speller, distance
from hypothesis import given
from hypothesis import strategies as st

WORDS = st.text("abcdlmnro10s5", max_size=9)


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


@pytest.fixture(scope="module")
def speller(base: Base) -> Speller:
    """A speller over all names of the base."""
    return Speller(base.names)


# The slips that scanners, fonts and typists make.
@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        ("Dirnethicone", "Dimethicone"),
        ("Cetearyl Alcoho1", "Cetearyl Alcohol"),
        ("G1ycerin", "Glycerin"),
        ("PEG-4O Hydrogenated Castor Oil", "PEG-40 Hydrogenated Castor Oil"),
        ("Polyquaternium-l0", "Polyquaternium-10"),
        ("Polyquatemiurn-7", "Polyquaternium-7"),  # one slip each way
        ("Glycenn", "Glycerin"),
        ("Citric Acicl", "Citric Acid"),
        ("Polyquaternium-lO", "Polyquaternium-10"),
        ("Polyquaterniurn-7", "Polyquaternium-7"),
        ("Cl 1914O", "CI 19140"),
        ("C1 77891", "CI 77891"),
        ("Cetearyl A|cohol", "Cetearyl Alcohol"),
        ("Sodium Laureth 5ulfate", "Sodium Laureth Sulfate"),
        ("Parfurn", "Parfum"),
        ("Cl 19140", "CI 19140"),
        ("Pan thenol", "Panthenol"),
        ("SodiumLauroyl Sarcosinate", "Sodium Lauroyl Sarcosinate"),
        ("Poly quaternium-10", "Polyquaternium-10"),
        ("BEHENTRIM0NIUM CHL0RIDE", "Behentrimonium Chloride"),
        ("Panthenoll", "Panthenol"),
        ("Glicerin", "Glycerin"),
    ],
)
def test_slips_of_scanning_and_spacing_are_mended(
    base: Base, speller: Speller, printed: str, meant: str
) -> None:
    """One listed name has the same skeleton, and it costs nothing."""
    found = speller.slips(printed)
    assert [(r.symbol, r.cost) for r in found] == [(base.lookup(meant), 0)]


@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        ("Behentrimonium Cloride", "Behentrimonium Chloride"),
        ("Phenoxyethanl", "Phenoxyethanol"),
        ("Cetrimonuim Chloride", "Cetrimonium Chloride"),
        ("Potasium Sorbate", "Potassium Sorbate"),
        ("Panthanol", "Panthenol"),
        ("Sodium Lauroyl Sarcosinat", "Sodium Lauroyl Sarcosinate"),
    ],
)
def test_typing_slips_are_mended(
    base: Base, speller: Speller, printed: str, meant: str
) -> None:
    """The nearest name is the one meant, and no other is near."""
    assert {r.symbol for r in speller.near(printed)} == {base.lookup(meant)}


# Names of things that are really different.
@pytest.mark.parametrize(
    ("printed", "listed"),
    [
        ("Polyquaternium-11", "Polyquaternium-10"),
        ("Laureth-5", "Laureth-4"),
        ("Cocamide DEA", "Cocamide MEA"),
        ("Retinal", "Retinol"),
        ("Maleic Acid", "Oleic Acid"),
        ("Mannitol", "Maltitol"),
        ("Tin Oxide", "Zinc Oxide"),
        ("Dextran", "Dextrin"),
        ("Ceramide EOP", "Ceramide EOS"),
        ("Sodium Bisulfate", "Sodium Bisulfite"),
        ("Triethylene Glycol", "Diethylene Glycol"),
        ("Glyceryl Tricaprylate", "Glyceryl Caprylate"),
    ],
)
def test_another_thing_is_not_mended_into_a_listed_one(
    printed: str, listed: str
) -> None:
    """Numbers, short words, beginnings and endings carry meaning and stay."""
    alone = Speller({fold(listed): ("it", "listed")})
    assert alone.slips(printed) == []
    assert alone.near(printed) == []


def test_a_word_in_use_is_never_changed(speller: Speller) -> None:
    """`Laurate` is no slip for `Lactate` once both are words of listed names."""
    names = {
        "sodium lactate": ("lactate", "listed"),
        "glyceryl laurate": ("x", "listed"),
    }
    assert Speller(names).near("Sodium Laurate") == []
    assert speller.near("Zorblenine Complex") == []


@pytest.mark.slow
def test_no_slip_ever_leads_to_another_ingredient(base: Base) -> None:
    """One slip in a thousand names: mended right, or not mended, but never wrong."""
    chance = random.Random(11)
    listed = [base.label(s) for s in base.instances("Ingredient")]
    plain = [name for name in listed if "(" not in name]
    wrong, right = [], 0
    for name in chance.sample(plain, 1000):
        printed = _slip(name, chance)
        meant, reading = base.lookup(name), resolve(printed, base)
        right += reading.ingredient == meant
        if reading.how == "repaired" and reading.ingredient != meant:
            wrong.append((printed, reading.ingredient))
    assert wrong == []
    assert right >= 700


def _slip(name: str, chance: random.Random) -> str:
    at, letter = chance.randrange(len(name)), chance.choice(string.ascii_lowercase)
    return chance.choice(
        [
            name[:at] + letter + name[at + 1 :],
            name[:at] + letter + name[at:],
            name[:at] + name[at + 1 :],
            name.replace("m", "rn", 1),
            name.replace("o", "0", 1),
            name.replace(" ", "", 1),
        ]
    )


@given(WORDS, WORDS)
def test_distance_is_symmetric_and_zero_on_equals(left: str, right: str) -> None:
    """Either word may be the printed one."""
    assert distance(left, left, 3) == 0
    there, back = distance(left, right, 3), distance(right, left, 3)
    assert there == back or min(there, back) > 3


@given(WORDS, WORDS)
def test_distance_agrees_with_a_plain_slow_version(left: str, right: str) -> None:
    """Looking only near the diagonal finds the same figure, up to the limit."""
    plain = _plain_distance(left, right)
    found = distance(left, right, 3)
    assert found == plain if plain <= 3 else found > 3


def _plain_distance(left: str, right: str) -> float:
    """The whole table, from the definition."""
    table = [[0.0] * (len(right) + 1) for _ in range(len(left) + 1)]
    for i in range(len(left) + 1):
        for j in range(len(right) + 1):
            ways = [0.0] if i == j == 0 else []
            if i:
                ways.append(table[i - 1][j] + _drop(left, i - 1))
            if j:
                ways.append(table[i][j - 1] + _drop(right, j - 1))
            if i and j:
                ways.append(table[i - 1][j - 1] + _change(left, i - 1, right, j - 1))
            if i > 1 and j > 1 and left[i - 2 : i] == right[j - 2 : j][::-1]:
                ways.append(
                    table[i - 2][j - 2] + (1 if left[i - 1] != right[j - 1] else 9)
                )
            table[i][j] = min(ways)
    return table[-1][-1]


def _drop(text: str, at: int) -> float:
    return 0.5 if at and text[at] == text[at - 1] else 1


def _change(left: str, at: int, right: str, to: int) -> float:
    if left[at] == right[to]:
        return 0
    groups = ({"0", "o"}, {"1", "l", "i", "j", "y"}, {"5", "s", "z"}, {"c", "k"})
    if any({left[at], right[to]} <= group for group in groups):
        return 0.5
    inside = min(at, to) >= 2 and at < len(left) - 3 and to < len(right) - 3
    return 1 if inside else 9
