"""What to do where a library of the extra `export` is not installed."""

from __future__ import annotations

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.ground.extras import needing


def test_a_library_that_is_missing_is_named_with_the_cure() -> None:
    with pytest.raises(CommandError, match=r"a picture needs .*drawsvg") as caught:
        with needing("a picture"):
            raise ModuleNotFoundError(name="drawsvg")
    assert "pip install '.[export]'" in str(caught.value)


def test_a_module_of_our_own_that_is_missing_is_a_fault() -> None:
    with pytest.raises(ModuleNotFoundError), needing("a picture"):
        raise ModuleNotFoundError(name="abluent.shell.lost")
