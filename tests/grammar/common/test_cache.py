"""Values kept from run to run: whole or not at all, and never in the way."""

from __future__ import annotations

import os
import zlib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import abluent.grammar.query
import platformdirs
import pytest
from abluent.grammar.common import cache as _kept
from abluent.grammar.common.packaged import packaged_text

VALUE = {"a": [1, (2, "three")], "b": b"four"}


def test_a_value_comes_back(tmp_path: Path) -> None:
    """What was kept is recalled, and another value takes its place."""
    place = _kept.kept_place("some", str(tmp_path / "made"))
    assert _kept.recall(place) is None
    _kept.remember(place, VALUE)
    assert _kept.recall(place) == VALUE
    _kept.remember(place, 5)
    assert _kept.recall(place) == 5
    assert len(list((tmp_path / "made").iterdir())) == 1


@pytest.mark.parametrize("cut", [0, 3, 20, -1])
def test_a_file_cut_short_counts_as_none(tmp_path: Path, cut: int) -> None:
    """However much of it is left."""
    place = tmp_path / "some"
    _kept.remember(str(place), VALUE)
    place.write_bytes(place.read_bytes()[:cut])
    assert _kept.recall(str(place)) is None


def test_a_folder_that_cannot_be_written_is_no_harm(tmp_path: Path) -> None:
    """Nothing is kept, nothing raised."""
    (tmp_path / "file").write_text("in the way", "utf-8")
    _kept.remember(str(tmp_path / "file" / "some"), VALUE)
    assert _kept.recall(str(tmp_path / "file" / "some")) is None


def test_writing_at_once_leaves_one_whole_value(tmp_path: Path) -> None:
    """A reader beside many writers sees a whole value or none."""
    place = str(tmp_path / "some")
    values = [[number] * 5000 for number in range(20)]

    def write_and_read(value: list[int]) -> object:
        _kept.remember(place, value)
        return _kept.recall(place)

    with ThreadPoolExecutor(4) as pool:
        seen = list(pool.map(write_and_read, values))
    assert all(each in values for each in seen)
    assert _kept.recall(place) in values


@pytest.mark.parametrize("named", ["", " ", "/somewhere/else"])
def test_the_folder_is_that_of_the_library(
    named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where no library is imported for it, the folder is what it would be."""
    monkeypatch.setenv("XDG_CACHE_HOME", named)
    monkeypatch.setenv("XDG_DATA_HOME", named)
    cache = platformdirs.user_cache_dir("abluent", appauthor=False)
    data = platformdirs.user_data_dir("abluent", appauthor=False)
    assert (_kept.cache_folder(), _kept.data_folder()) == (cache, data)


def test_a_packaged_file_is_read() -> None:
    """As it lies in the package."""
    path = Path(next(iter(abluent.grammar.query.__path__))) / "query.lark"
    assert packaged_text(abluent.grammar.query, "query.lark") == path.read_text("utf-8")
    with pytest.raises(OSError, match="nothing"):
        packaged_text(abluent.grammar.query, "nothing.lark")


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="files have no owner here")
@pytest.mark.parametrize("mode", [0o666, 0o620, 0o602])
def test_what_others_may_write_counts_as_none(tmp_path: Path, mode: int) -> None:
    """Whoever wrote it last; and whatever the umask, what is kept is private."""
    place = tmp_path / "some"
    before = os.umask(0)
    try:
        _kept.remember(str(place), VALUE)
    finally:
        os.umask(before)
    assert _kept.recall(str(place)) == VALUE
    place.chmod(mode)
    assert _kept.recall(str(place)) is None


def test_what_is_not_ones_own_counts_as_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = str(tmp_path / "some")
    _kept.remember(place, VALUE)
    monkeypatch.setattr(os, "geteuid", lambda: os.getuid() + 1, raising=False)
    assert _kept.recall(place) is None


@pytest.mark.parametrize("body", [b"", b"[", b"i", b"\xff" * 9, b"(\xff\xff\x0f\x00"])
def test_a_good_head_before_a_bad_body_counts_as_none(
    tmp_path: Path, body: bytes
) -> None:
    place = tmp_path / "some"
    place.write_bytes(_kept._FORM + b" %08x\n" % zlib.crc32(body) + body)
    place.chmod(0o600)
    assert _kept.recall(str(place)) is None
