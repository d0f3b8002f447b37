"""The official inventory: every name is known there, and none is taken for another."""

from __future__ import annotations

import csv
import subprocess
import sys
from importlib import resources

import pytest
from abluent.engine.base.fold import fold
from abluent.engine.base.kinds import telling
from abluent.engine.base.store import Base
from abluent.engine.reading.inventory import Inventory
from abluent.engine.reading.labels import label_facts, read_label
from abluent.engine.reading.names import Names, in_inventory, resolve


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


@pytest.fixture(scope="module")
def inventory() -> Inventory:
    """The shipped inventory."""
    return Inventory.shipped()


@pytest.mark.slow
def test_every_name_is_found(inventory: Inventory) -> None:
    """The table is in order, so that halving finds each of its names."""
    names = list(inventory.names())
    assert len(names) > 28_000
    assert names == sorted(names, key=lambda name: (fold(name), name))
    lost = [name for name in names if inventory.find(name.title()) is None]
    assert lost == []


def test_every_entry_has_functions_in_words(inventory: Inventory) -> None:
    """Each code of the table is spelt out; a name without a function is none."""
    told = {words for entry in inventory.entries() for words in entry.functions}
    assert {"hair conditioning", "surfactant - cleansing", "film forming"} <= told
    assert all(words[:1].isalpha() for words in told)


@pytest.mark.parametrize("name", ["", "  ", "Zorblenine", "\u00df\u2603", "zzzz", "0"])
def test_what_is_not_listed_is_not_found(inventory: Inventory, name: str) -> None:
    """No text that is no name finds an entry."""
    assert inventory.find(name) is None


def test_an_entry_carries_its_numbers(inventory: Inventory) -> None:
    """Name, CAS and EC number and official functions."""
    entry = inventory.find("poloxamine 704")
    assert entry is not None
    assert (entry.cas, entry.functions) == ("11111-34-5", ("surfactant - emulsifying",))
    assert entry.hair


def test_a_name_of_the_inventory_alone_has_no_class(base: Base) -> None:
    """It is known by name and function, and its kind is unknown."""
    reading = resolve("Delmopinol HCl", base)
    assert (reading.how, reading.official) == ("unknown", "DELMOPINOL HCL")
    assert (reading.classes, reading.charge) == ((), "unknown")
    entry = in_inventory(reading, base)
    assert entry is not None
    assert entry.functions


def test_it_counts_as_a_line_that_was_not_read(base: Base) -> None:
    """A verdict may not rest on a thing of which only the use is known."""
    text = "Ingredients: Water, Delmopinol HCl, Glycerin"
    facts = label_facts("product/x", "wash", "", text, base).facts
    unread = [fact.args for fact in facts if fact.predicate == "unreadLine"]
    assert unread == [("product/x", 2)]


def test_a_listed_ingredient_has_its_entry(base: Base) -> None:
    """The numbers and functions are told of what the base knows itself, too."""
    entry = in_inventory(resolve("SLES", base), base)
    assert entry is not None
    assert entry.name == "SODIUM LAURETH SULFATE"


@pytest.mark.slow
def test_no_name_of_it_is_taken_for_another(base: Base, inventory: Inventory) -> None:
    """What is listed there is no slip for what the base lists."""
    names, drawn = Names.of(base), list(inventory.names())[::5]
    bent = [n for n in drawn if names.resolve(n).how == "repaired"]
    assert bent == []


@pytest.mark.slow
@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        ("Ketotravoprosf", "KETOTRAVOPROST"),
        ("K e totravoprost", "KETOTRAVOPROST"),
        ("Paeonia Lactifiora Root Exudate", ""),
    ],
)
def test_its_names_are_mended(base: Base, printed: str, meant: str) -> None:
    """A slip in a name of the inventory is told, and what is too far is not."""
    reading = resolve(printed, base)
    assert reading.official == meant
    assert not meant or f"read as `{meant}`" in reading.note


def test_its_names_part_a_list_without_commas(base: Base) -> None:
    """The reader of labels cuts where two names of it meet."""
    text = (
        "Ingredients: Water\nGlyceryl Palmitate Lactate\nHexacosyl Glycol Isostearate"
    )
    names = [item.name for item in read_label(text, base).items]
    assert names[1:] == ["Glyceryl Palmitate Lactate", "Hexacosyl Glycol Isostearate"]


def test_one_word_of_prose_is_no_name(base: Base) -> None:
    """`Milk` is listed, and proves nothing of a text it stands in."""
    assert Names.of(base).known("Milk") is None
    assert not Names.of(base).told("Milk")
    assert resolve("Milk", base).official == "MILK"


def test_it_is_not_opened_for_what_is_listed() -> None:
    """A question about known names does without it, so a start costs the same."""
    code = (
        "import sys\n"
        "from abluent.engine.base.store import Base\n"
        "from abluent.engine.reading.names import resolve\n"
        "assert resolve('Dimethicone', Base.load()).how == 'listed'\n"
        "print('abluent.engine.reading.inventory' in sys.modules)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "False"


def _disagreeing(base: Base, inventory: Inventory) -> set[tuple[str, str]]:
    """Functions of listed ingredients with a kind that does not agree with them."""
    agree = {each.words: set(each.kinds) for each in inventory.functions if each.kinds}
    found = set()
    for symbol in {symbol for symbol, _ in base.names.values()}:
        entry = inventory.find(base.label(symbol))
        kinds = telling(base.classes_of(symbol), base)
        for words in entry.functions if entry else ():
            if words in agree and agree[words].isdisjoint(kinds):
                found.add((words, kinds[0]))
    return found


def test_each_disagreement_with_a_function_has_its_reason(
    base: Base, inventory: Inventory
) -> None:
    """What the register says and the base does not is listed with why, and no more."""
    table = resources.files("abluent.ontology") / "inventory" / "disagreements.tsv"
    lines = table.read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(lines, delimiter="\t"))
    listed = {(row["function"], row["kind"]) for row in rows}
    assert all(len(row["reason"]) > 20 for row in rows)
    assert len(listed) == len(rows)
    assert listed == _disagreeing(base, inventory)
