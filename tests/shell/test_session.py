"""The session: which shelf it is on, and what it answers there."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.shell.errors import CommandError, DataError
from abluent.shell.session import Session

TEXT = "Aqua, Cetearyl Alcohol, Dimethicone, Parfum"


def products(session: Session) -> list[str]:
    return [label.product for label in session.shelf.labels]


def test_without_a_shelf_it_is_on_the_demo_shelf() -> None:
    session = Session.open()
    assert "Harbour Cream" in products(session)
    assert session.shelf.water == "hard"


def test_the_water_of_a_shelf_can_be_overruled() -> None:
    assert Session.open(water="soft").shelf.water == "soft"


def test_adding_a_label_goes_to_the_users_own_shelf() -> None:
    session = Session.open()
    session.add_label("  Cove   Cream", "conditioner", TEXT)
    assert (session.shelf.name, products(session)) == ("mine", ["Cove Cream"])
    assert products(Session.open(own=True)) == ["Cove Cream"]
    assert products(Session.open(["mine"])) == ["Cove Cream"]


def test_only_a_shelf_of_ones_own_can_be_changed() -> None:
    session = Session.open()
    for change in (lambda: session.drop("Harbour Cream"), session.undo):
        with pytest.raises(CommandError, match="not one of yours"):
            change()
    assert "Harbour Cream" in products(session)


def test_a_product_is_dropped_and_comes_back() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.drop("cove cream")
    assert products(session) == []
    assert session.undo() == 1
    assert products(session) == ["Cove Cream"]


def test_the_water_of_ones_own_shelf_lasts() -> None:
    session = Session.open()
    session.set_water("soft")
    assert session.shelf.water == "soft"
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.set_water("hard")
    assert Session.open(["mine"]).shelf.water == "hard"
    assert Session.open().shelf.water == "hard"
    with pytest.raises(CommandError, match='not "salt"'):
        session.set_water("salt")


@pytest.mark.parametrize(
    ("product", "kind", "text", "said"),
    [
        (" ", "wash", TEXT, "a product needs a name"),
        ("Ebb", "balm", TEXT, '"balm" is no kind of product'),
        ("Ebb", "wash", " \n", 'the label of "Ebb" is empty'),
    ],
)
def test_a_label_that_is_no_label_is_refused(
    product: str, kind: str, text: str, said: str
) -> None:
    with pytest.raises(CommandError, match=said):
        Session.open().add_label(product, kind, text)


def test_a_second_label_of_one_name_is_refused() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", TEXT)
    with pytest.raises(DataError, match="another name"):
        session.add_label("cove cream", "wash", TEXT)


def test_going_to_another_shelf(tmp_path: Path) -> None:
    (tmp_path / "ebb wash.txt").write_text(TEXT)
    session = Session.open()
    session.use(str(tmp_path / "ebb wash.txt"))
    assert products(session) == ["ebb wash"]
    session.use_new("salon")
    assert products(session) == []
    session.add_label("Cove Cream", "conditioner", TEXT)
    session.use("demo")
    session.use("salon")
    assert products(session) == ["Cove Cream"]
    with pytest.raises(CommandError, match="already"):
        session.use_new("salon")
    with pytest.raises(CommandError, match="there are: salon, demo"):
        session.use("saloon")
    assert session.shelf.name == "salon"
