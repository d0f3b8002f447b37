"""Names as rows of parts: where parts are found, how they join, which shape fits."""

from __future__ import annotations

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading._part_book import part_book
from abluent.grammar.name.read import NameReader
from abluent.grammar.name.tree import Part, PartBook, Shape
from hypothesis import given, settings
from hypothesis import strategies as st

SMALL = PartBook(
    parts=(
        Part("p-laur", "ROOT", ("laur-",), "twelve carbons", 12),
        Part("p-cet", "ROOT", ("cet-",), "sixteen carbons", 16),
        Part("p-yl", "YL", ("-yl",)),
        Part("p-eth", "ETH", ("-eth",)),
        Part("p-sodium", "ALKALI", ("sodium",)),
        Part("p-di", "MULT", ("di-",)),
        Part("p-sulfate", "SULFATE", ("sulfate",), "a head"),
        Part("p-zorkate", "HEAD", ("zorkate",), "a head", classes=("Zork",)),
        Part("p-blimate", "HEAD", ("blimate",), "a head", classes=("Blim",)),
        Part("p-siloxane", "SILICONE", ("*siloxane",)),
    ),
    shapes=(
        Shape("s-sulfate", ("cations (alkyl|ether) SULFATE",), classes=("Sulfate",)),
        Shape("s-head", ("alkyl HEAD",), decided_by=frozenset({"HEAD"})),
        Shape("s-silicone", ("any*SILICONE",), classes=("Silicone",), precedence=3),
        Shape("s-two", ("alkyl alkyl",), classes=("One",)),
        Shape("s-too", ("alkyl+",), classes=("Other",)),
    ),
    groups={"cations": "base+"},
)


@pytest.fixture(scope="module")
def small() -> NameReader:
    """A reader with a handful of parts."""
    return NameReader(SMALL)


@pytest.fixture(scope="module")
def reader() -> NameReader:
    """A reader with the parts of the shipped base."""
    return NameReader(part_book(Base.load()))


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        ("Sodium Lauryl Sulfate", ["ALKALI", "ROOT", "YL", "SULFATE"]),
        (
            "disodium laureth-2 sulfate",
            ["MULT", "ALKALI", "ROOT", "ETH", "NUMBER", "SULFATE"],
        ),
        ("SODIUM CÉTYL SULFATE", ["ALKALI", "ROOT", "YL", "SULFATE"]),
        ("Acetate", ["OTHER"]),
        ("Laurus Nobilis", ["OTHER", "OTHER"]),
        ("Lauryl/Cetyl", ["ROOT", "YL", "SLASH", "ROOT", "YL"]),
        ("C12-15 Zork", ["CHAIN", "OTHER"]),
        ("Cyclopentasiloxane", ["SILICONE"]),
        ("Laurylsulfate", ["OTHER"]),
    ],
)
def test_parts_are_found_at_joints_only(
    small: NameReader, name: str, kinds: list[str]
) -> None:
    """A part counts where a word or another part begins, and a word counts whole."""
    assert [piece.terminal for piece in small.pieces(name)] == kinds


def test_parts_point_into_the_name(small: NameReader) -> None:
    """Every part knows which letters of the printed name spell it."""
    name = "Sodium  Lauryl-Sulfate"
    spelt = [name[slice(*piece.span)] for piece in small.pieces(name)]
    assert spelt == ["Sodium", "Laur", "yl", "Sulfate"]


def test_parts_join_into_wholes(small: NameReader) -> None:
    """Chain and ending make one whole, a count and its counter-ion another."""
    row = small.row(small.pieces("Disodium Laureth-2 Sulfate"))
    assert row == ["base", "numbered_ether", "SULFATE"]


def test_a_shape_says_what_a_name_is(small: NameReader) -> None:
    """The kind comes from the shape; chain and its telling part are at hand."""
    found = small.read("Sodium Lauryl Sulfate")
    assert found is not None
    assert found.classes == ("Sulfate",)
    assert found.chain == 12
    assert found.exact
    assert found.deciding is not None
    assert found.deciding.symbol == "p-sulfate"


@pytest.mark.parametrize(
    ("name", "kind"), [("Lauryl Zorkate", "Zork"), ("Cetyl Blimate", "Blim")]
)
def test_a_part_may_decide_the_kind(small: NameReader, name: str, kind: str) -> None:
    """Where a shape leaves it to a part, the part in the name decides."""
    found = small.read(name)
    assert found is not None
    assert found.classes == (kind,)


def test_a_row_that_passes_words_by_is_not_exact(small: NameReader) -> None:
    """`any` makes a reading, but not one that vouches for every word."""
    found = small.read("Blimmy Trisiloxane")
    assert found is not None
    assert not found.exact


@pytest.mark.parametrize("name", ["Lauryl Cetyl", "Sodium Sulfate", "Zork", "", "/-,."])
def test_what_does_not_fit_is_not_read(small: NameReader, name: str) -> None:
    """Two shapes that disagree, no shape, no part: nothing is read."""
    assert small.read(name) is None


def test_groups_in_a_ring_are_refused() -> None:
    """A group that stands for itself is an error, not an endless loop."""
    book = PartBook((), (Shape("s", ("a",)),), {"a": "b", "b": "a"})
    with pytest.raises(ValueError, match="in a ring"):
        NameReader(book)


@given(st.text(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_text_can_be_asked_about(reader: NameReader, text: str) -> None:
    """No text fails; pieces follow each other inside the text."""
    at = 0
    for piece in reader.pieces(text):
        start, end = piece.span
        assert at <= start < end <= len(text)
        at = end
    reader.read(text)


# The traps of spelling that a reader of names must not fall into.
@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("Sodium Laureth-2 Sulfate", "ether-sulfate"),
        ("Sodium Sulfate", "mineral-salt"),
        ("Behentrimonium Methosulfate", "mono-quat"),
        ("Sodium Cocoyl Glutamate", "acyl-amino-acid"),
        ("Tetrasodium Glutamate Diacetate", "chelant"),
        ("Sodium Cocoamphoacetate", "ampho"),
        ("Sodium Lauroyl Methylaminopropionate", "acyl-amino-acid"),
        ("Sodium Lauraminopropionate", "imino"),
        ("Dihydroxyethyl Tallow Glycinate", "glycinate-betaine"),
        ("Sodium Laurate", "soap"),
        ("Glyceryl Laurate", "glyceryl-ester"),
        ("Sucrose Laurate", "sucrose-ester"),
        ("Magnesium Stearate", "metal-soap"),
        ("Sodium Lauryl Glucose Carboxylate", "glucoside-carboxylate"),
        ("Lauryl Glucoside", "glucoside"),
        ("Sodium Cocoyl Hydrolyzed Wheat Protein", "acyl-protein"),
        ("Hydrolyzed Wheat Protein", "hydrolysed-protein"),
        ("Hydroxypropyltrimonium Hydrolyzed Wheat Protein", "protein-quat"),
        ("Guar Hydroxypropyltrimonium Chloride", "gum-quat"),
        ("Polyquaternium-22", "amphoteric-polyquaternium"),
        ("Quaternium-80", "silicone-quat"),
        ("PEG-12 Dimethicone", "polyether-silicone"),
        ("Amodimethicone", "amino-silicone"),
        ("Trimethylsiloxysilicate", "silicone-resin"),
        ("Stearamidopropyl Dimethylamine Lactate", "amidoamine"),
        ("Cocamidopropyl Betaine", "amidopropyl-betaine"),
        ("Diethylhexyl Sodium Sulfosuccinate", "di-sulfosuccinate"),
        ("Oleth-3 Phosphate", "phosphate-ester"),
        ("Oleth-20", "ethoxylate"),
        ("Isopropyl Myristate", "emollient-ester"),
        ("Coneflower Extract", "extract"),
    ],
)
def test_names_with_traps_have_their_shape(
    reader: NameReader, name: str, shape: str
) -> None:
    """The head decides, not a syllable that looks like one."""
    found = reader.read(name)
    assert found is not None
    assert found.shape.symbol == f"shape-{shape}"


@pytest.mark.parametrize(
    "name",
    [
        "Phenoxyethanol",
        "Betaine",
        "Petroleum Distillates",
        "Polyquaternium-48",
        "Quaternium-15",
        "Acetyl Tetrapeptide-3",
        "Silica",
        "Carnitine",
    ],
)
def test_names_that_hide_their_kind_are_not_read(reader: NameReader, name: str) -> None:
    """Unknown beats wrong: a name that tells nothing for sure stays unread."""
    assert reader.read(name) is None


@pytest.mark.parametrize(
    ("name", "chain", "moles"),
    [
        ("Sodium Laureth-2 Sulfate", 12, 2),
        ("Sodium Myreth Sulfate", 14, None),
        ("Cetearyl Alcohol", None, None),
        ("Oleth-20", 18, 20),
        ("PEG-7 Glyceryl Cocoate", None, 7),
        ("Behentrimonium Chloride", 22, None),
        ("Caprylyl/Capryl Glucoside", None, None),
    ],
)
def test_chain_and_ethoxylation_are_given_where_fixed(
    reader: NameReader, name: str, chain: int | None, moles: int | None
) -> None:
    """One chain gives its length; a mixture or a bare stem gives none."""
    found = reader.read(name)
    assert found is not None
    assert (found.chain, found.ethoxylation) == (chain, moles)
