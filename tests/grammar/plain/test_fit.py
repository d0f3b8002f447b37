"""Questions of fitness, of harm, of how long and how to tell, each asked whole."""

from __future__ import annotations

import re
from pathlib import Path

import abluent.ontology
import pytest
from abluent.grammar.plain.read import read_plain
from abluent.grammar.plain.ways import ASKS, forms
from plain_names import LEXICON

_ASKED = re.compile(r'what of the saying "([^"]+)"')
_SAID = re.compile(r'abl:said "([^"]+)"')

ASKED = [
    (
        "Does Quay Wash remove tar, pitch, both or neither?",
        ['does "Quay Wash" clear "Tar"', 'does "Quay Wash" clear "Pitch"'],
    ),
    (
        "Would Quay Wash do for a client who wears Moss Oil every day?",
        ['does "Quay Wash" clear everything from "Moss Oil"'],
    ),
    (
        "A client uses Quay Wash as her clarifying wash; what would you tell her?",
        ['does "Quay Wash" rightly say "clarifying"', 'what does "Quay Wash" leave'],
    ),
    (
        "Is Quay Wash too strong for a child?",
        [
            'how mild is "Quay Wash"',
            'what of the saying "a strong wash is needed for a child"',
        ],
    ),
    (
        "How long does it take for tar to become a problem?",
        [
            'what of the saying "build-up shows after a fixed number of uses"',
            'does "Tar" build up',
        ],
    ),
    (
        "What would I lose if I left out Quay Wash?",
        ['which films on my shelf that build up do no washes except "Quay Wash" clear'],
    ),
    (
        "Can Quay Wash take the tar of Moss Oil off about as well as Reed Wash does?",
        [
            'does "Quay Wash" clear "Tar" from "Moss Oil"',
            'does "Reed Wash" clear "Tar" from "Moss Oil"',
        ],
    ),
    (
        "Tar is slow; does that mean that it builds up, and is it banned by law?",
        ['is it true that "Tar" builds up', 'what is "Tar"'],
    ),
    (
        "Two washes have tar in them, Quay Wash and Reed Wash; does that wax build up?",
        ['does "Tar" build up'],
    ),
    (
        "Does Quay Wash take off pitch if it is used three times in a row?",
        ['does "Quay Wash" clear "Pitch" after 3 rounds'],
    ),
    (
        "My client washes with Quay Wash and uses Moss Oil on her ends; is it enough?",
        ['does "Quay Wash" clear everything from "Moss Oil"'],
    ),
    (
        "What can I tell from the fact that tar stands after pitch in Moss Oil?",
        [
            'does "Moss Oil" contain "Pitch" before "Tar"',
            'how much "Tar" does "Moss Oil" contain',
        ],
    ),
    (
        "Can Quay Wash replace a clarifying shampoo?",
        ['does "Quay Wash" rightly say "clarifying"'],
    ),
    (
        "Is it better to use Quay Wash or Reed Wash for Moss Oil?",
        ['compare "Quay Wash" and "Reed Wash" for "Moss Oil"'],
    ),
    (
        "What does the position of tar in the list of Moss Oil tell us?",
        [
            'how much "Tar" does "Moss Oil" contain',
            'what of the saying "a label shows exactly how much of a thing is in a '
            'product"',
        ],
    ),
]


@pytest.mark.parametrize(("typed", "asked"), ASKED)
def test_it_is_asked_whole(typed: str, asked: list[str]) -> None:
    found = read_plain(typed, LEXICON)
    assert [each.question for each in found] == asked
    assert all(each.sure for each in found)


def test_every_saying_that_a_way_asks_of_is_known() -> None:
    folder = Path(next(iter(abluent.ontology.__path__))) / "sayings"
    files = [each.read_text(encoding="utf-8") for each in folder.glob("*.ttl")]
    known = {said for text in files for said in _SAID.findall(text)}
    meant = [meaning for each in forms().parts[ASKS] for meaning in each.meanings]
    asked = {said for text in meant for said in _ASKED.findall(text)}
    assert asked
    assert asked <= known


def test_how_often_somebody_uses_it_is_told_as_not_used() -> None:
    found = read_plain("Would Quay Wash do if I use Moss Oil every day?", LEXICON)
    assert [each.question for each in found] == [
        'does "Quay Wash" clear everything from "Moss Oil"'
    ]
    assert found[0].unused == ("every day",)
