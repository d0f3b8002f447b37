"""Records behave as frozen dataclasses with keyword-only fields set aside."""

import copy
import pickle

import pytest
from abluent.grammar.common.record import Record, aside, replace


class Pair(Record):
    """Two values and a remark that does not count."""

    left: int
    right: int = 7
    remark: str = aside(default="", kw_only=True)


class Triple(Pair):
    """A pair that must be in order, and one more."""

    more: str = ""

    def check(self) -> None:
        if self.left > self.right:
            raise ValueError("not in order")


def test_fields_are_given_by_place_or_by_name() -> None:
    """Places come first, defaults fill what is left out."""
    assert Pair(1) == Pair(left=1, right=7)
    assert Pair(1, 2).remark == ""


def test_fields_set_aside_do_not_count() -> None:
    """A remark changes neither equality nor the hash nor the printed form."""
    plain, remarked = Pair(1), Pair(1, remark="here")
    assert plain == remarked
    assert hash(plain) == hash(remarked)
    assert repr(remarked) == "Pair(left=1, right=7)"


def test_kinds_differ() -> None:
    """Records of two classes are never equal."""
    assert Pair(1, 2) != Triple(1, 2, "x")


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), ((1, 2, 3), {}), ((1,), {"lef": 2}), ((1,), {"more": "x"})],
)
def test_wrong_fields_are_refused(
    values: tuple[int, ...], named: dict[str, int]
) -> None:
    """A field lacking, one too many or one unknown is an error, as in a call."""
    with pytest.raises(TypeError, match="left, right"):
        Pair(*values, **named)  # type: ignore[arg-type]


def test_nothing_changes_once_made() -> None:
    """A record is changed only by making another."""
    pair = Pair(1)
    with pytest.raises(AttributeError):
        pair.left = 2  # type: ignore[misc]
    with pytest.raises(AttributeError):
        del pair.left
    assert replace(pair, left=2) == Pair(2)
    assert replace(Pair(1, remark="kept"), left=2).remark == "kept"


def test_fields_are_checked_together() -> None:
    """A class refuses values that do not fit each other."""
    with pytest.raises(ValueError, match="order"):
        Triple(9, 2, "x")


def test_records_are_copied_and_stored() -> None:
    """They survive copying and pickling."""
    triple = Triple(1, 2, "x", remark="here")
    for twin in (copy.deepcopy(triple), pickle.loads(pickle.dumps(triple))):
        assert twin == triple
        assert twin.remark == "here"
