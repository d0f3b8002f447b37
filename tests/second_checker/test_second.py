"""The second checker, on a sample of traces and forgeries, and on its own parts."""

import json
import lzma
from collections.abc import Callable
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from second_checker import load, verdict
from second_checker.following import read_rule
from second_checker.strata import follows
from second_checker.values import comes_to, compare, digest, read_expression, read_value

SAMPLE = Path(__file__).parent / "sample.json.xz"
NAMES = """T14 T20 T22 T27 T29 T34 T35 T37 T38 T40 F01 F02 F03 F05 F06 F09 F10 F11 F13
F14 F15 F17 F19 F20 F21 F23 F24 F25 F26 F29 F30 F34 F38 F40""".split()
ALIKE = ("canonical", "verdict", "supposed", "cautions")

Trace = dict[str, Any]


@cache
def sample() -> dict[str, Any]:
    """The traces of the sample by name."""
    rows = load(lzma.decompress(SAMPLE.read_bytes()).decode())
    return {row["name"]: row for row in rows}


def base_of(trace: Trace) -> Trace:
    """The least base by which a trace holds."""
    facts: dict[str, list[Any]] = {}
    labels = {label["product"]: {**label, "facts": []} for label in trace["labels"]}
    for entry in trace["facts"]:
        facts.setdefault(entry["atom"][0], []).append(entry)
        for product, label in labels.items():
            if entry["origin"].startswith(f"label {product} "):
                label["facts"].append(entry["atom"])
    asked = {**{key: trace[key] for key in ALIKE}, "facts": [], "ownShelf": False}
    parts = ("program", "sources", "names", "terms")
    own = {key: trace[key] for key in parts}
    return {**own, "facts": facts, "labels": labels, "asked": [asked]}


def signed(trace: Trace) -> Trace:
    """A trace with the digest that it should have."""
    rest = {key: trace[key] for key in trace if key != "digest"}
    return {**rest, "digest": digest(rest)}


def test_the_sample_is_as_listed() -> None:
    assert sorted(sample()) == sorted(NAMES)


@pytest.mark.parametrize("name", [name for name in NAMES if name[0] == "T"])
def test_true_traces_hold(name: str) -> None:
    trace = sample()[name]["trace"]
    assert verdict(trace, base_of(trace)) == ("holds", "by the base")


@pytest.mark.parametrize("name", [name for name in NAMES if name[0] == "F"])
def test_forged_traces_are_refused(name: str) -> None:
    row = sample()[name]
    alone = verdict(row["trace"], None)
    assert alone[0] == ("holds" if row["alone"] else "refused"), alone
    if row["alone"]:
        true = sample()[row["of"]]["trace"]
        assert verdict(row["trace"], base_of(true))[0] == "refused"


def no_row(trace: Trace) -> None:
    """Leave a row out of a folding."""
    trace["foldings"]["said"][1]["rows"].pop()


def another_member(trace: Trace) -> None:
    """Let a class hold a thing less."""
    trace["foldings"]["held"]["FattyAlcohol"].pop()


def another_verdict(trace: Trace) -> None:
    """Let a folding say another verdict."""
    trace["foldings"]["said"][0]["verdict"] = "clears"


def uncontested(trace: Trace) -> None:
    """Let a folding leave out what is contested."""
    trace["foldings"]["said"][2]["contested"] = []


def nothing_said(trace: Trace) -> None:
    """Say nothing of the classes that are told."""
    trace["foldings"]["said"] = []


@pytest.mark.parametrize(
    "edit", [no_row, another_member, another_verdict, uncontested, nothing_said]
)
def test_forged_foldings_are_refused(edit: Callable[[Trace], None]) -> None:
    trace = deepcopy(sample()["T27"]["trace"])
    edit(trace)
    found = verdict(signed(trace), None)
    assert found[0] == "refused"
    assert found[1].startswith("foldings")


def closer(trace: Trace) -> None:
    """Prove a level to be closer than it is."""
    trace["bounds"][0]["low"]["inside"]["2"] = "4"


def no_case(trace: Trace) -> None:
    """Leave out a place of the line."""
    trace["bounds"][0]["high"]["cases"][0]["first"] = 1


def another_high(trace: Trace) -> None:
    """Let a limit allow more than its record."""
    trace["bounds"][0]["limits"]["t25-conditioner-fatty-alcohol"]["high"] = "9"


def nothing_stated(trace: Trace) -> None:
    """Leave out a proof."""
    trace["bounds"][0]["high"] = None


def second_proof(trace: Trace) -> None:
    """Prove a fact twice."""
    trace["bounds"].append(trace["bounds"][0])


@pytest.mark.parametrize(
    "edit", [closer, no_case, another_high, nothing_stated, second_proof]
)
def test_forged_bounds_are_refused(edit: Callable[[Trace], None]) -> None:
    trace = deepcopy(sample()["T37"]["trace"])
    edit(trace)
    found = verdict(signed(trace), None)
    assert found[0] == "refused"
    assert found[1].startswith("bounds")


@pytest.mark.parametrize("part", sorted(sample()["T29"]["trace"]))
def test_every_part_is_wanted(part: str) -> None:
    trace = dict(sample()["T29"]["trace"])
    del trace[part]
    assert verdict(trace, None) == ("refused", "trace: has other keys")


def test_a_key_given_twice_is_refused() -> None:
    with pytest.raises(ValueError, match="has a key twice"):
        load('{"a": 1, "a": 1}')


@pytest.mark.parametrize("text", ["1.0", "1e3", "NaN", "-Infinity"])
def test_numbers_of_json_are_whole(text: str) -> None:
    with pytest.raises(ValueError, match="is not a whole number"):
        load(text)


SUMS = [
    ("+", [{"n": "1/2"}, {"n": "1/3"}], {"n": "5/6"}),
    ("-", [{"i": ["0", "1", "[)"]}], {"i": ["-1", "0", "(]"]}),
    ("-", [{"i": ["0", None, "[)"]}, {"n": "1"}], {"i": ["-1", None, "[)"]}),
    ("*", [{"i": ["0", "1", "[)"]}, {"i": ["2", "3", "()"]}], {"i": ["0", "3", "[)"]}),
    ("*", [{"n": "0"}, {"i": ["0", None, "()"]}], {"n": "0"}),
    ("*", [{"i": ["-1", "1", "[)"]}, {"n": "-2"}], {"i": ["-2", "2", "(]"]}),
    ("/", [{"n": "1"}, {"i": ["0", "2", "(]"]}], {"i": ["1/2", None, "[)"]}),
    ("/", [{"n": "1"}, {"i": ["1", None, "[)"]}], {"i": ["0", "1", "(]"]}),
    ("min", [{"n": "1"}, {"i": ["1", "2", "(]"]}], {"n": "1"}),
    ("max", [{"n": "1"}, {"i": ["1", "2", "(]"]}], {"i": ["1", "2", "(]"]}),
]


@pytest.mark.parametrize(("sign", "parts", "wanted"), SUMS)
def test_expressions_come_to_intervals(sign: str, parts: Any, wanted: Any) -> None:
    expression = read_expression({"op": sign, "of": parts}, "here")
    assert comes_to(expression) == read_value(wanted, "here")


@pytest.mark.parametrize("by", [{"n": "0"}, {"i": ["-1", "1", "()"]}, "water"])
def test_some_expressions_are_errors(by: Any) -> None:
    with pytest.raises(ArithmeticError):
        comes_to(read_expression({"op": "/", "of": [{"n": "1"}, by]}, "here"))


COMPARED = [
    ("<", {"i": ["0", "1", "[)"]}, {"i": ["1", "2", "[]"]}, True),
    ("<", {"i": ["0", "1", "[]"]}, {"i": ["1", "2", "[]"]}, None),
    ("<=", {"i": ["0", "1", "[]"]}, {"i": ["1", "2", "[]"]}, True),
    ("<", {"n": "1"}, {"n": "1"}, False),
    (">=", {"i": ["0", "1", "[)"]}, {"n": "1"}, False),
    ("=", {"i": ["0", "1", "[)"]}, {"i": ["0", "1", "[)"]}, None),
    ("!=", {"i": ["0", "1", "[)"]}, {"n": "1"}, True),
    ("=", "water", {"n": "1"}, False),
    (">", "b", "a", True),
]


@pytest.mark.parametrize(("sign", "left", "right", "wanted"), COMPARED)
def test_comparisons_may_be_undecided(
    sign: str, left: Any, right: Any, wanted: bool | None
) -> None:
    ends = (read_value(end, "here") for end in (left, right))
    assert compare(sign, *ends) is wanted


def rule(head: str, *body: Any) -> Any:
    """A small rule of one variable."""
    return read_rule(head, {"head": [head, {"v": "x"}], "body": list(body)})


def test_denial_of_itself_is_refused() -> None:
    some, own = ["is", ["a", {"v": "x"}]], ["not", ["p", {"v": "x"}], "not"]
    with pytest.raises(ValueError, match="its own denial"):
        follows([rule("p", some, own)], [("a", "one")])


def test_what_follows_is_finished_before_it_is_denied() -> None:
    rules = [
        rule("q", ["is", ["a", {"v": "x"}]], ["not", ["p", {"v": "x"}], "not"]),
        rule("p", ["is", ["b", {"v": "x"}]]),
    ]
    known = follows(rules, [("a", "one"), ("a", "two"), ("b", "two")])
    assert known.atoms["q"] == {("q", "one")}


def test_a_collection_counts_distinct_tuples() -> None:
    inner = [["is", ["a", {"v": "y"}]], ["is", ["b", None]]]
    collection = ["collect", {"v": "x"}, "count", [{"v": "y"}], inner, []]
    facts = [("a", "one"), ("a", "two"), ("b", "one"), ("b", "two")]
    known = follows([rule("n", collection)], facts)
    assert known.atoms["n"] == {("n", (0, "2"))}


def test_text_of_a_trace_is_read_and_checked() -> None:
    text = json.dumps(sample()["T14"]["trace"])
    assert verdict(load(text), None) == ("holds", "by its own rules and facts")
