"""Lists amid the talk, tables and numberings that they are copied with."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading.labels import read_label

LIST = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Parfum"
NAMES = ("Aqua", "Sodium Laureth Sulfate", "Cocamidopropyl Betaine", "Parfum")


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


@pytest.mark.slow
@pytest.mark.parametrize(
    "text",
    [
        f"Gloss drops / 50 ml\n{LIST}",
        f"so here is the whole list of that wash → {LIST}",
        f"The tube says, “{LIST}”",
        f"Hi Dana,\n\nas asked:\n\n{LIST}\n\nLet me know.\nKind regards\nZork",
        f"Ingredients: {LIST}\nOparfymerad. Förpackningen sorteras som plast.",
        f"Ingredients: {LIST} 400 ml LOT 7K31",
        f"Ingredients: {LIST} Šarža L2409 09/2026",
        f"Ingredients: {LIST}.\nContains betaine-like things. Keep away.",
        "> Ingredients: Aqua, Sodium Laureth\n> Sulfate,\n"
        "> Cocamidopropyl Betaine, Parfum\n> thanks, Zork",
        "(1) Aqua (2) Sodium Laureth Sulfate (3) Cocamidopropyl Betaine (4) Parfum",
        "Ingredients ① Aqua ② Sodium Laureth Sulfate ③ Cocamidopropyl Betaine ④ Parfum",
        "No.\tName\tFunction\n1\tAqua\tsolvent\n2\tSodium Laureth Sulfate\tsurfactant"
        "\n3\tCocamidopropyl Betaine\tsurfactant\n4\tParfum\tperfume",
        "| # | INCI |\n|---|---|\n| 1 | Aqua |\n| 2 | Sodium Laureth Sulfate |"
        "\n| 3 | Cocamidopropyl Betaine |\n| 4 | Parfum |",
    ],
)
def test_the_list_is_found(text: str, base: Base) -> None:
    """Nothing before, beside or after the list is taken for an ingredient."""
    label = read_label(text, base)
    assert tuple(" ".join(item.name.split()) for item in label.items) == NAMES


@pytest.mark.slow
@pytest.mark.parametrize("text", ["Zorkolin, ", "Aqua, Zorkolin\n", "Aqua, Zorkolin."])
def test_an_unknown_name_that_the_list_parts_off_stays(text: str, base: Base) -> None:
    """At either end of a list, what its own signs part from it is an ingredient."""
    label = read_label(f"Ingredients: {text}", base)
    assert "Zorkolin" in [item.name for item in label.items]


def test_a_table_states_its_shares(base: Base) -> None:
    """A column of figures beside the names is read, and its total is no name."""
    text = "Ingredient\t% w/w\nAqua\t80.5%\nGlycerin\t19%\nParfum\t0.5%\nTotal\t100%"
    label = read_label(text, base)
    stated = {item.name: item.stated for item in label.items}
    assert stated == {
        "Aqua": Fraction(161, 2),
        "Glycerin": Fraction(19),
        "Parfum": Fraction(1, 2),
    }


@pytest.mark.parametrize(
    "text",
    [
        f"Ingredients (in no particular order): {LIST}",
        f"Inactive ingredients: {LIST}",
        f"Ingrédients par ordre alphabétique : {LIST}",
    ],
)
def test_an_order_that_means_nothing_is_not_believed(text: str, base: Base) -> None:
    """A label that says so, and a panel of a drug, prove no order."""
    assert read_label(text, base).unordered


@pytest.mark.parametrize("word", ["and", "&"])
def test_a_bare_and_before_the_last_name_parts_two(word: str, base: Base) -> None:
    """Only an "and" in parentheses, or within the list, makes a blend."""
    label = read_label(f"Aqua, Glycerin, Citric Acid {word} Parfum.", base)
    assert [item.blend for item in label.items] == [None] * 4
    blended = read_label(f"Aqua, Citric Acid ({word}) Parfum, Glycerin", base)
    assert [item.blend for item in blended.items] == [None, 1, 1, None]
