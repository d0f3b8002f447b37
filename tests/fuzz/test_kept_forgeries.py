"""Forgeries that were accepted once are tried again."""

from __future__ import annotations

import json

import pytest

from fuzz.answers import cases
from fuzz.tables import KEPT, tried

pytestmark = pytest.mark.long


def test_no_forgery_that_was_accepted_once_is_accepted() -> None:
    """By kind, question and seed, as the command kept them."""
    kept = [json.loads(line) for line in KEPT.read_text("utf-8").splitlines()]
    wanted = {(each["kind"], each["question"], each["seed"]) for each in kept}
    assert wanted
    seen = set()
    for case in cases():
        for kind, question, seed in sorted(wanted):
            if question == case.name:
                found = list(tried([case], [kind], (seed,)))
                assert [each.accepted for each in found] == [False], (kind, seed)
                seen.add((kind, question, seed))
    assert seen == wanted
