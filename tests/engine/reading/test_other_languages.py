"""Names in other languages and in another alphabet."""

from __future__ import annotations

import re

import pytest
from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base
from abluent.engine.reading.inventory import Inventory
from abluent.engine.reading.labels import label_facts
from abluent.engine.reading.names import resolve
from abluent.engine.reading.sounded import Heard

CYRILLIC = re.compile("[Ѐ-ӿ]")


@pytest.fixture(scope="module")
def base() -> Base:
    return Base.load()


def native(base: Base) -> list[tuple[str, str]]:
    """Every native name with its ingredient."""
    return [
        (name, symbol)
        for symbol in base.instances("Ingredient")
        for name in base.record(symbol).texts("nativeName")
    ]


def read(base: Base, text: str) -> list[tuple[str | None, str]]:
    """What each place of a label stands for, and how it was told."""
    label = label_facts("p", "conditioner", "", text, base)
    return [(reading.ingredient, reading.how) for reading in label.readings]


def test_native_names(base: Base) -> None:
    """Each is a synonym of its ingredient, and of no other name in the inventory."""
    names = native(base)
    assert len({symbol for _, symbol in names}) >= 150
    official = Inventory.shipped()
    for name, symbol in names:
        assert base.lookup(name) == symbol, name
        listed = official.find(name) if official else None
        assert listed is None or base.lookup(listed.name) == symbol, name


def test_native_and_sound_agree(base: Base) -> None:
    """Where a native name has the sound of some ingredient, it is the same one."""
    heard = Heard((name, symbol) for name, (symbol, _) in base.names.items())
    names = [(n, s) for n, s in native(base) if CYRILLIC.search(n)]
    found = {name: (heard.find(name), symbol) for name, symbol in names}
    wrong = {n: f for n, (f, s) in found.items() if f not in {None, s}}
    assert wrong == {}
    assert sum(f is not None for f, _ in found.values()) >= 150


def test_russian_label(base: Base) -> None:
    """A label in Russian is read, each name in its place."""
    text = (
        "Состав: вода, цетеариловый спирт, диметиконол, пчелиный воск, ланолин, "
        "бегентримония хлорид, этилгексилглицерин, отдушка."
    )
    places = read(base, text)
    assert [symbol for symbol, _ in places] == [
        *("water", "cetearyl-alcohol", "dimethiconol", "cera-alba", "lanolin"),
        *("behentrimonium-chloride", "ethylhexylglycerin", "parfum"),
    ]
    assert [how for _, how in places][-2:] == ["repaired", "synonym"]


def test_bilingual_label(base: Base) -> None:
    """Both names of a place stand for one thing, whichever is known."""
    text = (
        "Ingredients / Состав: Aqua (вода), Sodium Laureth Sulfate (лауретсульфат "
        "натрия), кокамидопропил бетаин / Cocamidopropyl Betaine, поликватерниум-10, "
        "Глицерин/Glycerin, кислота лимонная."
    )
    assert [symbol for symbol, _ in read(base, text)] == [
        *("water", "sodium-laureth-sulfate", "cocamidopropyl-betaine"),
        *("polyquaternium-10", "glycerin", "citric-acid"),
    ]


@pytest.mark.parametrize(
    ("printed", "symbol"),
    [
        ("поликватерниум-6", "polyquaternium-6"),
        ("ПЭГ-8 диметикон", "peg-8-dimethicone"),
        ("лаурат натрия", "sodium-laurate"),
        ("каприлил метикон", "caprylyl-methicone"),
        ("масло жожоба", "simmondsia-chinensis-seed-oil"),
        ("кокамидопропіл бетаїн", "cocamidopropyl-betaine"),
        ("cera de abelha", "cera-alba"),
        ("alkohol behenylowy", "behenyl-alcohol"),
        ("Zitronensäure", "citric-acid"),
    ],
)
def test_read(base: Base, printed: str, symbol: str) -> None:
    assert resolve(printed, base).ingredient == symbol


NOT_READ = (
    *("поликватерниум-99", "крем", "воск", "масло", "силикон", "роза", "витамин Ж"),
    *("бальзам для волос", "экстракт крапивы", "лаурилсульфат", "спирт"),
    *("диметикон/лавандовый сополимер", "вода термальная", "ая", "-", "10"),
)
"""What sounds like nothing, or proves nothing by its sound."""


def test_not_read(base: Base) -> None:
    heard = Heard((name, symbol) for name, (symbol, _) in base.names.items())
    assert [name for name in NOT_READ if heard.find(name) or base.lookup(name)] == []


@pytest.mark.long
@pytest.mark.parametrize("printed", NOT_READ)
def test_not_mended_either(base: Base, printed: str) -> None:
    """None is taken for a slip of another native name."""
    assert resolve(printed, base).how == "unknown"


def test_two_of_one_sound() -> None:
    """Two names of one sound are none; the words set apart may stand anywhere."""
    pairs = [("Sodium Mallate", "a"), ("Sodium Malate", "b"), ("Sodium Ferrate", "c")]
    heard = Heard(pairs)
    assert heard.find("малат натрия") is None
    assert heard.find("натрия феррат") == "c"
    assert heard.find("феррат натрия") == "c"
    assert heard.find("феррат калия") is None
    assert heard.find("Sodium Ferrate") is None


def test_folding_keeps_native_names_apart(base: Base) -> None:
    """No native name folds to nothing."""
    assert all(fold(name) for name, _ in native(base))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ("Weizenprotein (hydrolysiert)", "hydrolyzed-wheat-protein"),
        ("protéines de blé (hydrolysées)", "hydrolyzed-wheat-protein"),
        ("Extrait d'ortie", "urtica-dioica-extract"),
        ("Brennnesselextrakt", "urtica-dioica-extract"),
        ("Farbstoff CI 19140", "ci-19140"),
        ("Colorant CI 19140", "ci-19140"),
        ("Farbstoff Zirbelin", None),
        ("Extrait de Zirbel", None),
        ("Weizen (hydrolysiert)", None),
    ],
)
def test_words_round_a_name(base: Base, printed: str, expected: str | None) -> None:
    """A bracket, a word for extract or for colourant is read; no name is made up."""
    assert read(base, f"Aqua, {printed}, Glycerin")[1][0] == expected
