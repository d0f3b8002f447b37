"""The demo shelf: lawful invented labels, and every case a reader should meet.

Order on a label: Regulation (EC) No 1223/2009, Art. 19(1)(g), and 21 CFR 701.3;
the active ingredients of an over-the-counter drug: 21 CFR 201.66.
"""

from __future__ import annotations

import pytest
from abluent.engine.reading.readings import ReadLabel
from abluent.shell.session.session import Session
from abluent.shell.shelf.demo import demo_shelf
from abluent.shell.shelf.words import shelf_words


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open()


def names(session: Session, product: str) -> list[str | None]:
    return [each.ingredient for each in read(session, product).readings]


def read(session: Session, product: str) -> ReadLabel:
    return session.read_product(product)[1]


def kinds(session: Session, product: str) -> list[set[str]]:
    """The kinds of each ingredient, in the order of the label."""
    return [set(each.classes) for each in read(session, product).readings]


def has(session: Session, product: str, kind: str) -> bool:
    return any(kind in each for each in kinds(session, product))


def first(session: Session, product: str, kind: str) -> int:
    """The place of the first ingredient of a kind."""
    found = kinds(session, product)
    return next(place for place, each in enumerate(found, 1) if kind in each)


SURFACTANTS = {
    "AnionicSurfactant",
    "AmphotericSurfactant",
    "CationicSurfactant",
    "NonionicSurfactant",
}


def test_there_are_products_of_every_kind_and_none_is_faulty() -> None:
    shelf = demo_shelf()
    assert len(shelf.labels) >= 18
    assert {label.kind for label in shelf.labels} == set(shelf_words().kinds)
    assert shelf.water == "hard"
    assert not shelf.problems
    assert not shelf.notes


def test_labels_are_as_long_as_labels_are(session: Session) -> None:
    for label in session.shelf.labels:
        assert 20 <= len(read(session, label.product).label.items) <= 35


@pytest.mark.parametrize(
    ("product", "charge"),
    [
        ("Shallows Wash", "AmphotericSurfactant"),
        ("Dune Grass Wash", "NonionicSurfactant"),
        ("Backwater Cream Cleanser", "CationicSurfactant"),
    ],
)
def test_washes_of_one_charge_only(session: Session, product: str, charge: str) -> None:
    assert has(session, product, charge)
    for other in SURFACTANTS - {charge}:
        assert not has(session, product, other)


@pytest.mark.parametrize("product", ["Tideline Wash", "Lamp Room Clarifying Wash"])
def test_washes_without_sulfates_that_leave_nothing(
    session: Session, product: str
) -> None:
    assert has(session, product, "AnionicSurfactant")
    assert not has(session, product, "SulfateSurfactant")
    assert not has(session, product, "Silicone")
    assert not has(session, product, "CationicPolymer")


def test_a_wash_that_leaves_silicone_itself(session: Session) -> None:
    assert has(session, "Gullwing Silk Wash", "SulfateSurfactant")
    assert has(session, "Gullwing Silk Wash", "InsolubleSilicone")
    assert has(session, "Gullwing Silk Wash", "CationicPolymer")


def test_a_wash_whose_anionic_stands_below_the_preservative(session: Session) -> None:
    late = first(session, "Sandpiper Wash", "AnionicSurfactant")
    found = names(session, "Sandpiper Wash")
    assert found.index("phenoxyethanol") + 1 < late


def test_a_wash_whose_cationic_outranks_the_anionic(session: Session) -> None:
    assert first(session, "Fog Bank Wash", "CationicSurfactant") < first(
        session, "Fog Bank Wash", "AnionicSurfactant"
    )


def test_a_soap_and_a_chelant(session: Session) -> None:
    assert first(session, "Shingle Soap Wash", "Soap") == 2
    assert has(session, "Lamp Room Clarifying Wash", "Chelant")


@pytest.mark.parametrize(
    ("product", "wanted"),
    [
        ("Harbour Cream", {"dimethicone", "behentrimonium-chloride"}),
        ("Mooring Mask", {"amodimethicone", "cetrimonium-chloride"}),
        ("Foreshore Leave-in", {"peg-12-dimethicone"}),
        ("Glass Float Serum", {"cyclopentasiloxane", "dimethiconol"}),
        ("Tarred Rope Pomade", {"petrolatum", "cera-alba"}),
        ("Headland Gel", {"pvp", "acrylates-copolymer", "aminomethyl-propanol"}),
        ("Cockle Protein Mask", {"hydrolyzed-keratin"}),
        ("Saltpan Rinse", {"citric-acid", "lactic-acid"}),
        ("Jetty Oil", {"cocos-nucifera-oil", "olea-europaea-fruit-oil"}),
        ("Oyster Shine Spray", {"dimethicone", "isododecane"}),
    ],
)
def test_products_leave_what_they_are_there_to_leave(
    session: Session, product: str, wanted: set[str]
) -> None:
    assert wanted <= set(names(session, product))


def test_one_name_is_invented_and_known_to_nobody(session: Session) -> None:
    unknown = [
        reading.printed
        for label in session.shelf.labels
        for reading in read(session, label.product).readings
        if reading.how == "unknown"
    ]
    assert unknown == ["Merrowex Tidal Complex"]


def test_one_label_holds_slips_of_scanning(session: Session) -> None:
    readings = read(session, "Old Chart Conditioner").readings
    repaired = {r.printed: r.ingredient for r in readings if r.how == "repaired"}
    assert repaired["Dirnethicone"] == "dimethicone"
    assert repaired["Cetearyl Alcoh0l"] == "cetearyl-alcohol"
    others = {label.product for label in session.shelf.labels}
    for product in others - {"Old Chart Conditioner"}:
        assert all(r.how != "repaired" for r in read(session, product).readings)


def test_one_label_names_an_active_ingredient_and_proves_no_order(
    session: Session,
) -> None:
    label = read(session, "Ferryman Dandruff Wash").label
    assert [item.printed for item in label.items if item.active] == ["Pyrithione zinc"]
    assert label.unordered
    listed = [item.name.casefold() for item in label.items if not item.active]
    assert listed == sorted(listed)
