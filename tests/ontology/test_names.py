"""The parts and shapes of names, and the words of labels, as data."""

from __future__ import annotations

import re
from collections import Counter
from importlib.resources import files

import pytest
from abluent.engine.base.store import Base
from abluent.engine.reading.labels import label_words

WORD = re.compile(r"[A-Za-z_]+")
GRAMMAR = files("abluent.grammar.name").joinpath("name.lark").read_text("utf-8")
WHOLES = set(re.findall(r"^([a-z_]+):", GRAMMAR, re.MULTILINE)) - {"name"}
JOINING = set(" ".join(re.findall(r"^%declare (.*)$", GRAMMAR, re.MULTILINE)).split())
# Kinds that the cutting of names makes itself.
MADE = {"NUMBER", "CHAIN", "SLASH", "OTHER"}


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


def _kinds(base: Base) -> Counter[str]:
    parts = base.instances("NamePart")
    return Counter(str(base.record(s).text("terminal")) for s in parts)


def _patterns(base: Base) -> list[tuple[str, str]]:
    owners = [*base.instances("NameShape"), *base.instances("NameGroup")]
    return [(s, p) for s in owners for p in base.record(s).texts("pattern")]


def test_patterns_use_known_words_only(base: Base) -> None:
    """Every word of a pattern is a whole, a kind of part, a group or `any`."""
    groups = {base.record(s).text("groupName") for s in base.instances("NameGroup")}
    known = {*WHOLES, *groups, *_kinds(base), *MADE, "any"}
    unknown = {
        (symbol, word)
        for symbol, pattern in _patterns(base)
        for word in WORD.findall(pattern)
        if word not in known
    }
    assert unknown == set()


def test_every_kind_of_part_is_used(base: Base) -> None:
    """A kind of part joins with others, or some pattern asks for it, or it blocks."""
    used = {word for _, pattern in _patterns(base) for word in WORD.findall(pattern)}
    assert set(_kinds(base)) - used - JOINING == {"DOUBTFUL"}


def test_every_kind_that_joins_is_spelt(base: Base) -> None:
    """The grammar declares no kind that no part has."""
    assert JOINING - MADE - {"WORD"} - set(_kinds(base)) == set()


def test_no_two_parts_share_a_spelling(base: Base) -> None:
    """One spelling means one thing."""
    spelt = Counter(
        spelling
        for symbol in base.instances("NamePart")
        for spelling in base.record(symbol).texts("spelling")
    )
    assert [spelling for spelling, count in spelt.items() if count > 1] == []


def test_parts_and_shapes_explain_themselves(base: Base) -> None:
    """Each says what it tells, and has a source and a standing of `inferred`."""
    for kind in ("NamePart", "NameShape", "NameGroup"):
        for symbol in base.instances(kind):
            record = base.record(symbol)
            assert record.text("says"), symbol
            assert record.basis.standing == "inferred"
            assert record.basis.sources


def test_a_shape_tells_a_kind_or_nothing(base: Base) -> None:
    """A charge agrees with the kind it comes with."""
    for symbol in base.instances("NameShape"):
        record = base.record(symbol)
        for kind in record.links("suggestsClass"):
            implied = base.implied(kind, "charge")
            charge = record.link("suggestsCharge")
            assert implied is None or charge is None or implied == charge, symbol


def test_parts_of_names_stay_out_of_the_reasoner(base: Base) -> None:
    """Parts serve to read names; no fact is made of them."""
    parts = set(base.instances("NamePart"))
    assert base.facts_about(parts) == []


def test_words_of_labels_are_phrases_of_one_part_each() -> None:
    """Every heading phrase opens one part of a label."""
    words = label_words()
    assert set(words.kinds.values()) == {
        "list",
        "active",
        "inactive",
        "may contain",
        "allergens",
        "content",
        "absent",
        "aside",
    }
    assert all(words.heading.fullmatch(phrase) for phrase in words.kinds)
