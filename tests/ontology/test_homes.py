"""Every ingredient is in the file where the tables of `ontology/README.md` put it."""

import re
from fnmatch import fnmatchcase
from pathlib import Path
from typing import NamedTuple

import pyoxigraph as ox
import pytest
from abluent.engine.base.store import Base

ONTOLOGY = Path(__file__).parents[2] / "ontology"
README = (ONTOLOGY / "README.md").read_text(encoding="utf-8")
FOLDER = ONTOLOGY / "ingredients"
NAMESPACE = "https://abluent.example/ns#"
ENOUGH_LINES = 2000


class Row(NamedTuple):
    """A file, the kinds it takes (each one or more together), and words of names."""

    file: str
    kinds: list[set[str]]
    words: list[str]

    def takes(self, kinds: set[str], name: str) -> bool:
        """Whether an ingredient of these kinds and this name goes there."""
        said = re.split(r"[\s/()-]+", name)
        named = any(fnmatchcase(word, each) for each in self.words for word in said)
        return any(each <= kinds for each in self.kinds) and (named or not self.words)


def rows() -> list[Row]:
    """The rows of the tables that say where an ingredient goes, in their order."""
    found = []
    for line in README.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) == 4 and re.fullmatch(r"`[a-z/-]+\.ttl`", cells[0]):
            kinds = [set(re.findall(r"\w+", each)) for each in cells[2].split(",")]
            words = re.findall(r"`([^`]+)`", cells[3])
            found.append(Row(cells[0].strip("`"), kinds, words))
    return found


ROWS = rows()
FILES = sorted(path.relative_to(FOLDER).as_posix() for path in FOLDER.rglob("*.ttl"))


def home(kinds: set[str], name: str) -> str | None:
    """The file that the tables give an ingredient."""
    return next((row.file for row in ROWS if row.takes(kinds, name)), None)


def kinds_of(base: Base, symbol: str) -> set[str]:
    """The kinds of an ingredient and all that are wider."""
    stated = set(base.record(symbol).links("type"))
    return stated.union(*(base.ancestors(kind) for kind in stated))


def test_one_row_a_file() -> None:
    """Each file has a row, each row a file, and neither is told twice."""
    assert sorted(row.file for row in ROWS) == FILES


def test_kinds_of_the_rows(base: Base) -> None:
    """Every kind of a row is a kind of ingredient."""
    named = set().union(*(kinds for row in ROWS for kinds in row.kinds))
    assert [k for k in named if "Ingredient" not in base.ancestors(k)] == []


@pytest.mark.slow
@pytest.mark.parametrize("file", FILES)
def test_a_file_holds_what_its_path_says(base: Base, file: str) -> None:
    """Every ingredient of a file goes there by the first row that fits."""
    text = (FOLDER / file).read_text(encoding="utf-8")
    assert len(text.splitlines()) <= ENOUGH_LINES
    triples = ox.parse(text, format=ox.RdfFormat.TURTLE)
    subjects = {str(t.subject).strip("<>").rsplit("/", 1)[-1] for t in triples}
    assert subjects
    strays = {}
    for symbol in sorted(subjects):
        name = base.record(symbol).text("inci")
        assert name is not None, symbol
        if (where := home(kinds_of(base, symbol), name)) != file:
            strays[symbol] = where
    assert strays == {}


@pytest.mark.parametrize(
    ("kinds", "name", "file"),
    [
        ({"Acid"}, "Citric Acid", "salts/acids.ttl"),
        ({"Acid", "Preservative"}, "Some Acid", "preservation/preservatives.ttl"),
        ({"VegetableOil"}, "Nova Seed Oil", "lipids/oils/seed.ttl"),
        ({"VegetableOil"}, "Nova Fruit Oil", "lipids/oils/other.ttl"),
        ({"BotanicalExtract"}, "Nova Leaf Extract", "botanicals/leaves.ttl"),
        ({"Particulate", "Colorant"}, "Nova Lake", "minerals/pigments.ttl"),
        ({"Colorant"}, "Nova Red", "colour/colorants.ttl"),
        ({"Nothing"}, "Nova", None),
    ],
)
def test_where_a_new_one_goes(kinds: set[str], name: str, file: str | None) -> None:
    """The first row that fits decides, by kind and by the words of the name."""
    assert home(kinds, name) == file


def test_properties_that_are_wanted(base: Base) -> None:
    """The table of what a kind wants names kinds and properties that there are."""
    table = README.split("## What an ingredient wants")[1].split("\n## ")[0]
    lines = [line for line in table.splitlines() if line.startswith("| `")]
    assert len(lines) > 5
    stated = {symbol for symbol in base.symbols if base.record(symbol).space == "abl"}
    for line in lines:
        named = set(re.findall(r"`(\w+)`", line))
        assert named <= stated, line
