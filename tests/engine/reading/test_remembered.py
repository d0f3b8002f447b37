"""Labels read before: the same as read now, and never those of another base."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading import labels
from abluent.engine.reading.readings import ReadLabel
from abluent.engine.reading.remembered import RememberedLabels
from abluent.shell.shelf.demo import demo_shelf

SHELF = [(p.product, p.kind, p.market, p.text) for p in demo_shelf().labels]
OWN = """
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .

ing:zorkane a abl:Silicone ;
    abl:inci "Zorkane" ;
    abl:source src:common-practice ;
    abl:standing abl:commonPractice .
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that a base is kept in."""
    return tmp_path_factory.mktemp("kept")


@pytest.fixture
def base(folder: Path) -> Base:
    """A base beside which no label is kept yet."""
    for each in folder.glob("*-labels"):
        each.unlink()
    return Base.load(cache_folder=folder)


def _same(one: ReadLabel, other: ReadLabel) -> bool:
    return (one.label, one.readings, one.facts) == (
        other.label,
        other.readings,
        other.facts,
    )


def _unread(*_: object) -> ReadLabel:
    raise AssertionError("the label was read anew")


@pytest.mark.slow
def test_what_was_kept_is_what_is_read(
    base: Base, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Readings, facts and the label itself come back as they were."""
    read = [labels.label_facts(*each, base) for each in SHELF]
    first = RememberedLabels(base)
    assert all(map(_same, (first.read(*each) for each in SHELF), read))
    monkeypatch.setattr(labels, "label_facts", _unread)
    again = RememberedLabels(base)
    assert all(map(_same, (again.read(*each) for each in SHELF), read))


@pytest.mark.slow
@pytest.mark.parametrize("place", range(4))
def test_another_label_is_read_anew(base: Base, place: int) -> None:
    """The product, its kind, its market and its text all count."""
    kept = RememberedLabels(base)
    label = ["Zork", "wash", "EU", "Aqua, Dimethicone"]
    kept.read(*label)
    label[place] = ("Blorb", "rinse", "US", "Aqua, Glycerin")[place]
    assert _same(kept.read(*label), labels.label_facts(*label, base))


@pytest.mark.long
def test_another_base_reads_anew(base: Base, folder: Path, tmp_path: Path) -> None:
    """What one base made of a label is nothing to another."""
    own = tmp_path / "own.ttl"
    own.write_text("", encoding="utf-8")
    label = ("Zork", "wash", "EU", "Aqua, Zorkane")
    for text, known in (("", None), (OWN, "zorkane"), ("", None)):
        own.write_text(text, encoding="utf-8")
        wider = Base.load([own], cache_folder=folder)
        assert RememberedLabels(wider).read(*label).readings[1].ingredient == known
    assert RememberedLabels(base).read(*label).readings[1].ingredient is None


def test_a_spoiled_file_counts_as_none(base: Base, folder: Path) -> None:
    """A file cut short costs time and nothing else."""
    read = RememberedLabels(base).read(*SHELF[0])
    (place,) = folder.glob("*-labels")
    place.write_bytes(place.read_bytes()[:-5])
    assert _same(RememberedLabels(base).read(*SHELF[0]), read)


def test_a_base_that_is_kept_nowhere_keeps_no_labels(base: Base) -> None:
    """Its labels are read each time."""
    base.cached = None
    read = RememberedLabels(base).read(*SHELF[0])
    assert _same(read, labels.label_facts(*SHELF[0], base))


def test_a_large_shelf_keeps_a_few(base: Base) -> None:
    """The file stays small however many labels are read, and keeps what is in use."""
    RememberedLabels(base).read(*SHELF[0])
    for run in range(5):
        kept = RememberedLabels(base)
        kept.read(*SHELF[0])
        for number in range(70):
            kept.read(f"Zork {run}-{number}", "wash", "", "Aqua")
    known = RememberedLabels(base)._known
    assert len(known) == 256
    assert SHELF[0] in known
