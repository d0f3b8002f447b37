"""Labels read before: the same as read now, and never those of another base."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading import labels
from abluent.engine.reading.kept import KeptLabels
from abluent.engine.reading.readings import ReadLabel
from abluent.shell.demo_shelf import demo_shelf

BASE = Base.load()
SHELF = [(p.product, p.kind, p.market, p.text) for p in demo_shelf().labels]


def _same(one: ReadLabel, other: ReadLabel) -> bool:
    return (one.label, one.readings, one.facts) == (
        other.label,
        other.readings,
        other.facts,
    )


def _unread(*_: object) -> ReadLabel:
    raise AssertionError("the label was read anew")


def test_what_was_kept_is_what_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Readings, facts and the label itself come back as they were."""
    read = [labels.label_facts(*each, BASE) for each in SHELF]
    first = KeptLabels(BASE, str(tmp_path))
    assert all(map(_same, (first.read(*each) for each in SHELF), read))
    monkeypatch.setattr(labels, "label_facts", _unread)
    again = KeptLabels(BASE, str(tmp_path))
    assert all(map(_same, (again.read(*each) for each in SHELF), read))


@pytest.mark.parametrize("place", range(4))
def test_another_label_is_read_anew(tmp_path: Path, place: int) -> None:
    """The product, its kind, its market and its text all count."""
    kept = KeptLabels(BASE, str(tmp_path))
    label = ("Zork", "wash", "EU", "Aqua, Dimethicone")
    other = list(label)
    other[place] = ("Blorb", "rinse", "US", "Aqua, Glycerin")[place]
    kept.read(*label)
    assert _same(kept.read(*other), labels.label_facts(*other, BASE))


def test_another_base_reads_anew(tmp_path: Path) -> None:
    """What one base made of a label is nothing to another."""
    own = tmp_path / "own.ttl"
    own.write_text(
        """
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .

ing:zorkane a abl:Silicone ;
    abl:inci "Zorkane" ;
    abl:source src:common-practice ;
    abl:standing abl:commonPractice .
""",
        encoding="utf-8",
    )
    wider = Base.load([own], cache_folder=tmp_path / "bases")
    label = ("Zork", "wash", "EU", "Aqua, Zorkane")
    assert KeptLabels(BASE, str(tmp_path)).read(*label).readings[1].symbol is None
    known = KeptLabels(wider, str(tmp_path)).read(*label)
    assert known.readings[1].ingredient == "zorkane"


def test_a_spoiled_file_counts_as_none(tmp_path: Path) -> None:
    """A file cut short costs time and nothing else."""
    label = SHELF[0]
    read = KeptLabels(BASE, str(tmp_path)).read(*label)
    (place,) = tmp_path.iterdir()
    place.write_bytes(place.read_bytes()[:-5])
    assert _same(KeptLabels(BASE, str(tmp_path)).read(*label), read)


def test_a_large_shelf_keeps_a_few(tmp_path: Path) -> None:
    """The file stays small however many labels are read."""
    kept = KeptLabels(BASE, str(tmp_path))
    for number in range(70):
        kept.read(f"Zork {number}", "wash", "", "Aqua")
    assert len(KeptLabels(BASE, str(tmp_path))._known) == 64
