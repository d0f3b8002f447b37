"""Labels read against the base, and the facts that follow from them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.origins import label_origin
from abluent.engine.reading.labels import (
    ReadLabel,
    label_facts,
    label_words,
    read_label,
)
from labelled import Expected, assert_reads, assert_tiles, labels


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


@pytest.mark.slow
@pytest.mark.parametrize("expected", labels("labels_dev"), ids=str)
def test_labels_tuned_on_read_right(expected: Expected, base: Base) -> None:
    """Every label that the reader was tuned on reads as a person reads it."""
    assert_reads(expected, base)


HELD_OUT = [
    each
    for name in (
        "labels_heldout",
        "labels_heldout_2",
        "labels_heldout_3",
        "labels_heldout_4",
        "labels_heldout_5",
        "labels_heldout_6",
        "labels_heldout_7",
        "labels_heldout_8",
        "labels_heldout_9",
        "labels_heldout_10",
        "labels_heldout_11",
        "labels_heldout_12",
    )
    for each in labels(name)
]
KNOWN_MISSES = [each for each in HELD_OUT if each.known_miss]


@pytest.mark.slow
@pytest.mark.parametrize(
    "expected", [each for each in HELD_OUT if not each.known_miss], ids=str
)
def test_labels_held_out_read_right(expected: Expected, base: Base) -> None:
    """So does every label whose reading was written down beforehand."""
    assert_reads(expected, base)


@pytest.mark.slow
@pytest.mark.parametrize("expected", KNOWN_MISSES, ids=str)
def test_labels_known_to_be_missed_lose_no_text(expected: Expected, base: Base) -> None:
    """Even a label read wrong is accounted for to the last letter."""
    assert_tiles(read_label(expected.text, base))


@pytest.mark.parametrize(
    "expected",
    [
        pytest.param(
            each,
            id=str(each),
            marks=pytest.mark.xfail(
                reason=each.known_miss, raises=AssertionError, strict=True
            ),
        )
        for each in KNOWN_MISSES
    ],
)
def test_labels_known_to_be_missed(expected: Expected, base: Base) -> None:
    """A label known to be read wrong; once it reads right, the mark must go."""
    assert_reads(expected, base)


def _read(text: str, base: Base, kind: str = "wash") -> ReadLabel:
    return label_facts("product/Zork", kind, "EU", text, base)


def _args(read: ReadLabel, predicate: str) -> list[tuple[object, ...]]:
    return [fact.args for fact in read.facts if fact.predicate == predicate]


def test_every_item_is_a_line_with_its_place_in_the_text(base: Base) -> None:
    """A line names product, place and ingredient, and its origin can be looked up."""
    text = "Aqua, Sodium Laureth Sulfate*, Parfum"
    read = _read(text, base)
    lines = [fact for fact in read.facts if fact.predicate == "line"]
    assert [fact.args for fact in lines] == [
        ("product/Zork", 1, "water"),
        ("product/Zork", 2, "sodium-laureth-sulfate"),
        ("product/Zork", 3, "parfum"),
    ]
    for fact, printed in zip(
        lines, ["Aqua", "Sodium Laureth Sulfate", "Parfum"], strict=True
    ):
        origin = label_origin(fact.basis.origin)
        assert origin is not None
        assert origin.product == "product/Zork"
        assert text[origin.start : origin.end] == printed
        assert fact.basis.standing == ""


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("co-wash", "coWash"),
        ("leave-in", "leaveIn"),
        ("wash", "wash"),
        ("zork", "other"),
    ],
)
def test_the_kind_of_product_is_a_value_of_the_base(
    base: Base, said: str, kind: str
) -> None:
    """Kinds come in the words people use; an unknown one is `other`."""
    assert _args(_read("Aqua", base, said), "kind") == [("product/Zork", kind)]


def test_an_unread_line_keeps_its_place(base: Base) -> None:
    """What cannot be understood is said to be so, at its place."""
    read = _read("Aqua, Zorblenine Complex, Glycerin", base)
    assert _args(read, "unreadLine") == [("product/Zork", 2)]
    assert [args[1] for args in _args(read, "line")] == [1, 3]


def test_a_name_of_common_words_amid_names_is_not_lost(base: Base) -> None:
    """Words of talk between two known names are a name; after the last they are not."""
    amid = read_label("Aqua, Zork de la Blim, Glycerin", base)
    assert amid.names() == ("Aqua", "Zork de la Blim", "Glycerin")
    after = read_label("Aqua, Glycerin, made with all our love", base)
    assert after.names() == ("Aqua", "Glycerin")


def test_a_mended_line_stands_lower(base: Base) -> None:
    """A repaired spelling is used, but a proof over it stands as inferred."""
    read = _read("Aqua, Dirnethicone", base)
    line = next(f for f in read.facts if f.args[-1] == "dimethicone")
    assert line.basis.standing == "inferred"
    assert "Dirnethicone" in read.readings[1].note


def test_letters_of_other_alphabets_are_never_mended_in_silence(base: Base) -> None:
    """A listed name with look-alike letters counts as repaired and says why."""
    reading = _read("Gly\N{CYRILLIC SMALL LETTER ES}erin", base).readings[0]
    assert (reading.ingredient, reading.how) == ("glycerin", "repaired")
    assert reading.standing == "inferred"
    assert reading.note


def test_a_read_name_brings_facts_of_its_own(base: Base) -> None:
    """A name read from its parts is a thing with kind, charge and chain, inferred."""
    read = _read("Aqua, Sodium Octeth-2 Sulfate", base)
    symbol = "name/Sodium Octeth-2 Sulfate"
    about = {f.predicate: f for f in read.facts if f.args[0] == symbol}
    assert about["type"].args[1] == "AlkylEtherSulfate"
    assert about["charge"].args[1] == "anionic"
    assert about["carbonChain"].args[1] == 8
    assert about["ethoxylation"].args[1] == 2
    for fact in about.values():
        assert fact.basis.standing == "inferred"
        assert fact.basis.sources
        assert fact.basis.from_memory
        assert "part-sulfate" in fact.basis.origin


def test_may_contain_is_not_on_the_label(base: Base) -> None:
    """What may be in a product makes no line."""
    read = _read("Aqua, Glycerin. May contain: CI 77891", base)
    assert len(_args(read, "line")) == 2
    assert _args(read, "mayContain") == [("product/Zork", 3, "titanium-dioxide")]


def test_figures_blends_and_order_are_facts(base: Base) -> None:
    """Stated levels, blends and lists without order are told to the rules."""
    active = "Active ingredients: Zinc Pyrithione 1%. "
    others = "Inactive ingredients: Aqua, Cetyl Alcohol (and) Glycerin"
    read = _read(active + others, base)
    assert _args(read, "stated") == [("product/Zork", 1, Fraction(1))]
    assert _args(read, "inBlend") == [("product/Zork", 3), ("product/Zork", 4)]
    assert _args(read, "unordered") == [("product/Zork",)]


def test_places_outside_the_order_are_facts(base: Base) -> None:
    """Blends and closing colorants prove no order; an allergen counts within."""
    text = "Aqua, Cetyl Alcohol (and) Glycerin, Parfum, Linalool, CI 77891"
    read = _read(text, base)
    assert [args[1] for args in _args(read, "outOfOrder")] == [2, 3, 6]
    assert [args[1] for args in _args(read, "withinAnother")] == [5]


def test_names_of_different_things_are_parted_at_a_slash(base: Base) -> None:
    """Two ingredients between slashes are two places, two languages are one."""
    text = "Aqua/Water, Sodium Lauryl Sulfate/Sodium Laureth Sulfate, VP/VA Copolymer"
    read = _read(text, base)
    assert [reading.ingredient for reading in read.readings] == [
        "water",
        "sodium-lauryl-sulfate",
        "sodium-laureth-sulfate",
        "vp-va-copolymer",
    ]


def test_a_shared_limit_is_a_fact(base: Base) -> None:
    """ "2 % or less of" is told to the rules for every name it holds for."""
    read = _read("Aqua, Contains 2% or less of: Parfum, Glycerin", base)
    assert [args[1:] for args in _args(read, "statedAtMost")] == [(2, 2), (3, 2)]


@pytest.mark.parametrize(
    ("text", "forms"),
    [
        ("Aqua, Lauric Acid, Potassium Hydroxide", True),
        ("Aqua, Stearic Acid, Triethanolamine", True),
        ("Aqua, Lauric Acid, Citric Acid", False),
        ("Aqua, Glycerin, Sodium Hydroxide", False),
    ],
)
def test_soap_may_form_from_acid_and_alkali(base: Base, text: str, forms: bool) -> None:
    """A fatty acid and an alkali on one list may make soap; either alone does not."""
    assert bool(_args(_read(text, base), "couldForm")) == forms


def test_a_label_without_a_base_is_cut_all_the_same() -> None:
    """Signs alone suffice for a plain list."""
    label = read_label("Ingredients: Aqua, Zork (and) Blim.")
    assert label.names() == ("Aqua", "Zork", "Blim")
    assert_tiles(label)


def test_facts_about_the_product_come_from_the_shelf(base: Base) -> None:
    """Kind and market are not read off the label, and do not claim to be."""
    facts: tuple[Fact, ...] = _read("Aqua", base).facts
    shelf = [f for f in facts if f.predicate in {"product", "kind", "soldIn"}]
    assert len(shelf) == 3
    assert {f.basis.origin for f in shelf} == {"the shelf"}


def test_the_words_of_labels_are_read_once() -> None:
    """The words come from the base and are compiled one time."""
    assert label_words() is label_words()
