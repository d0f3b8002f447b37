"""Many labels are read as one is, in order, by any number of processes, and kept."""

from __future__ import annotations

import multiprocessing
import sqlite3
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from abluent.engine.base.store import Base
from abluent.engine.sights import reader as reading
from abluent.engine.sights.kept import KeptSights
from abluent.engine.sights.reader import Reader
from abluent.engine.sights.sight import Seen, Sight, look

sys.path.insert(0, str(Path(__file__).parents[2] / "bench"))
from catalogue import catalogue


@pytest.fixture(scope="module")
def base() -> Base:
    return Base.load()


@pytest.fixture(scope="module")
def labels(base: Base) -> list[Seen]:
    made = catalogue(base, 60, seed=11)
    return [Seen(each.kind, each.market, each.text) for each in made]


def is_wash(label: Seen) -> bool:
    return label.kind == "wash"


@pytest.mark.slow
def test_processes_change_neither_sights_nor_their_order(
    base: Base, labels: list[Seen], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One process, and three with small portions, see the same."""
    monkeypatch.setattr(reading, "_PORTION", 7)
    plain = [look(each, base, balance=is_wash(each)) for each in labels]
    for processes in (1, 3):
        with Reader(base, processes=processes, keeps=False) as reader:
            assert list(reader.sights(labels, is_wash)) == plain


@pytest.mark.slow
def test_what_is_kept_is_what_was_seen(
    base: Base, labels: list[Seen], tmp_path: Path
) -> None:
    """Fractions and intervals too; a balance is kept apart from none."""
    sights = {}
    for balance in (False, True):
        kept = KeptSights(base, balance=balance, folder=str(tmp_path))
        keys = [kept.key(each) for each in labels[:20]]
        assert not kept.find(keys)
        seen = [look(each, base, balance=balance) for each in labels[:20]]
        kept.keep(zip(keys, seen, strict=True))
        found = kept.find(keys)
        assert [found[key] for key in keys] == seen
        sights[balance] = dict(zip(keys, seen, strict=True))
        kept.close()
    assert sights[False].keys().isdisjoint(sights[True])


def test_a_sight_depends_on_kind_market_and_text(base: Base, tmp_path: Path) -> None:
    """And on nothing else, so two products of one label share it."""
    kept = KeptSights(base, balance=False, folder=str(tmp_path))
    one = Seen("wash", "EU", "Aqua, Dimethicone")
    others = [one._replace(kind="oil"), one._replace(market="")]
    others.append(one._replace(text="Aqua"))
    assert kept.key(one) == kept.key(Seen(*one))
    assert len({kept.key(each) for each in [one, *others]}) == 4


def test_several_writers_do_not_get_in_each_others_way(
    base: Base, tmp_path: Path
) -> None:
    """Eight at once, each with a connection of its own."""
    sight = look(Seen("wash", "EU", "Aqua, Dimethicone"), base, balance=False)

    def write(number: int) -> None:
        kept = KeptSights(base, balance=False, folder=str(tmp_path))
        for at in range(20):
            kept.keep([(b"%d-%d" % (number, at), sight)])
        kept.close()

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(write, range(8)))
    kept = KeptSights(base, balance=False, folder=str(tmp_path))
    keys = [b"%d-%d" % (n, at) for n in range(8) for at in range(20)]
    assert len(kept.find(keys)) == 160


@pytest.mark.parametrize("content", [b"", b"no database at all" * 100])
def test_a_broken_file_costs_time_and_nothing_else(
    base: Base, tmp_path: Path, content: bytes
) -> None:
    """Whatever lies there, labels are read."""
    (tmp_path / "labels-2.sqlite").write_bytes(content)
    kept = KeptSights(base, balance=False, folder=str(tmp_path))
    label = Seen("wash", "EU", "Aqua, Dimethicone")
    sight = look(label, base, balance=False)
    kept.keep([(kept.key(label), sight)])
    assert kept.find([kept.key(label)]) in ({}, {kept.key(label): sight})


def test_a_sight_that_was_cut_short_is_read_again(base: Base, tmp_path: Path) -> None:
    """A value that cannot be read counts as none."""
    kept = KeptSights(base, balance=False, folder=str(tmp_path))
    key = kept.key(Seen("wash", "EU", "Aqua"))
    kept.keep([(key, Sight((), (), (), None))])
    kept.close()
    with sqlite3.connect(tmp_path / "labels-2.sqlite") as file:
        file.execute("UPDATE sights SET sight = x'00'")
    again = KeptSights(base, balance=False, folder=str(tmp_path))
    assert not again.find([key])


def test_what_was_not_understood_is_named(base: Base) -> None:
    """With its place, as it is printed."""
    text = "Ingredients: Aqua, Extractum Ignotum, Dimethicone, Quod Nemo Novit"
    sight = look(Seen("oil", "EU", text), base, balance=False)
    assert sight.unread == ((2, "Extractum Ignotum"), (4, "Quod Nemo Novit"))


def test_no_process_outlives_its_reader(base: Base, labels: list[Seen]) -> None:
    """Whether it comes to its end or is stopped."""
    before = {*multiprocessing.active_children()}

    def stopped() -> None:
        with Reader(base, processes=2, keeps=False) as reader:
            next(reader.sights(labels[:4]))
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    for child in {*multiprocessing.active_children()} - before:
        child.join(20)
    assert {*multiprocessing.active_children()} <= before
