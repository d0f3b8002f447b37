"""The checker refuses a folding that means other rows than it names."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from abluent.engine.checking import foldings

Part = dict[str, Any]
HELD = {"Bird": ["gull", "tern", "wren"], "Wader": ["gull", "tern"]}
FILMS = ("tar", "salt")


def row(number: int, bird: str, film: str, value: str) -> Part:
    atom = ["verdict", f"only {bird}", film, "any", value]
    return {"atom": atom, "row": number, "part": False, "holds": True}


GOALS = [
    row(0, "gull", "tar", "clears"),
    row(1, "tern", "tar", "clears"),
    row(2, "wren", "tar", "open"),
    row(3, "gull", "salt", "open"),
    row(4, "tern", "salt", "open"),
    row(5, "wren", "salt", "open"),
    {
        "atom": ["contested", "only wren", "tar", "any", "all"],
        "row": 2,
        "part": True,
        "holds": False,
    },
]
WREN = {"thing": ["only wren"]}
TAR, SALT = ({"thing": [film, "any"]} for film in FILMS)


def said(verdict: str, washes: Any, films: Any, rows: Any) -> Part:
    told = {"verdict": verdict, "contested": [], "washes": washes, "films": films}
    return {**told, "rows": rows}


TRUE: Part = {
    "held": HELD,
    "whole": ["Bird"],
    "alone": {bird: f"only {bird}" for bird in HELD["Bird"]},
    "said": [
        said("clears", [{"class": "Bird", "but": [WREN]}], [TAR], [0, 1]),
        said("open", [WREN], [TAR, SALT], [2, 5]),
        said("open", [{"class": "Wader", "but": []}], [SALT], [3, 4]),
    ],
}


class Model:
    """Facts by pattern, as a `Follows` gives them."""

    def __init__(self, held: Any = None) -> None:
        self.rows = {
            ("isa", each, name) for name in HELD for each in (held or HELD)[name]
        }
        for bird in HELD["Bird"]:
            self.rows |= {("line", f"only {bird}", 2, bird)}
            self.rows |= {("line", f"only {bird}", 1, "sea")}

    def ask(self, want: tuple[Any, ...]) -> list[tuple[Any, ...]]:
        """All that agrees."""
        return [
            each
            for each in self.rows
            if len(each) == len(want)
            and all(w is None or w == e for w, e in zip(want, each, strict=True))
        ]


def problems(part: Part, model: Model | None = None) -> list[tuple[str, str]]:
    trace = {"goals": GOALS, "foldings": part}
    found = foldings.tests(trace, model or Model())
    return [(place, text) for ok, place, text in found if not ok]


def test_a_true_folding_is_accepted() -> None:
    """And so is none at all."""
    assert not problems(TRUE)
    assert not problems({"held": {}, "whole": [], "alone": {}, "said": []})


def drop_a_member(part: Part) -> None:
    part["held"]["Wader"].pop()


def add_a_member(part: Part) -> None:
    part["held"]["Wader"].append("wren")


def drop_a_row(part: Part) -> None:
    part["said"][0]["rows"].pop()


def name_a_row_twice(part: Part) -> None:
    part["said"][0]["rows"] = [0, 0, 1]


def name_another_row(part: Part) -> None:
    part["said"][0]["rows"] = [0, 1, 2]


def another_verdict(part: Part) -> None:
    part["said"][0]["verdict"] = "open"


def a_dispute_that_is_none(part: Part) -> None:
    part["said"][1]["contested"] = ["all"]


def leave_a_group_out(part: Part) -> None:
    part["said"].pop(1)


def drop_the_exception(part: Part) -> None:
    part["said"][0]["washes"][0]["but"] = []


def except_another(part: Part) -> None:
    part["said"][0]["washes"][0]["but"] = [{"thing": ["only tern"]}]


def widen_the_films(part: Part) -> None:
    part["said"][0]["films"].append(deepcopy(SALT))


def another_agent(part: Part) -> None:
    part["alone"] |= {"gull": "only wren", "wren": "only gull"}


def tell_of_nothing(part: Part) -> None:
    part["said"].clear()


def call_whole_what_is_not_used(part: Part) -> None:
    part["whole"].append("Fish")


FORGERIES: list[Callable[[Part], None]] = [
    *(drop_a_member, add_a_member, drop_a_row, name_a_row_twice, name_another_row),
    *(another_verdict, a_dispute_that_is_none, leave_a_group_out, drop_the_exception),
    *(except_another, widen_the_films, another_agent, tell_of_nothing),
    call_whole_what_is_not_used,
]


@pytest.mark.parametrize("forge", FORGERIES, ids=lambda each: each.__name__)
def test_a_forged_folding_is_refused(forge: Callable[[Part], None]) -> None:
    """Whatever was changed."""
    part = deepcopy(TRUE)
    forge(part)
    assert problems(part)


def test_a_class_that_holds_more_is_refused() -> None:
    """By whoever knows of the other member, where the class is said to be whole."""
    model = Model({**HELD, "Bird": [*HELD["Bird"], "owl"]})
    assert problems(TRUE, model) == [("Bird", "held owl too, which is in no row")]
