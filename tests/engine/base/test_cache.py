"""What something that is kept from run to run is found by."""

from __future__ import annotations

import marshal
import sys

from abluent.engine.base.cache import written


def test_what_is_equal_is_written_alike() -> None:
    """Be its texts one text or two, known by name or not, held by others or not."""
    text = "".join(("Aqua, ", "Glycérine \ud800"))
    other = "".join(("Aqua, ", "Glycérine \ud800"))
    known = sys.intern("".join(("sea", "salt")))
    held = [each := "".join(("sea", "salt")), each]
    assert text is not other
    assert known is not each
    shared, apart = [text, text, known, known], [text, other, *held]
    assert shared == apart
    assert marshal.dumps(shared) != marshal.dumps(apart)
    assert written(shared) == written(apart)


def test_what_differs_is_written_otherwise() -> None:
    """Also where it would be the same, said one after the other."""
    values = [("ab", "c"), ("a", "bc"), ("abc",), ("abc", None), (1, 2), (12,), (True,)]
    assert len({written(each) for each in values}) == len(values)
