"""What is said beside a question: what it changes, and what is told as not used."""

from __future__ import annotations

import pytest
from abluent.grammar.plain.beside import DEEDS
from abluent.grammar.plain.read import read_plain
from abluent.grammar.plain.ways import forms
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from plain_names import LEXICON

ASKED = [
    (
        "In hard water, does Quay Wash still take the tar off that Moss Oil leaves?",
        ['does "Quay Wash" clear "Tar" from "Moss Oil" in hard water'],
        [],
    ),
    (
        "Which washes take everything off that Moss Oil leaves, and which is the "
        "mildest of those?",
        [
            'which washes clear everything from "Moss Oil"',
            'which washes clear everything from "Moss Oil" first 1 mildest first',
        ],
        [],
    ),
    (
        "Can Quay Wash get tar out, and if not, what should I use instead?",
        ['does "Quay Wash" clear "Tar"', 'which washes except "Quay Wash" clear "Tar"'],
        [],
    ),
    (
        "My client has fine curls. Does Quay Wash remove tar?",
        ['does "Quay Wash" clear "Tar"'],
        ["My client has fine curls"],
    ),
    (
        "My client uses Moss Oil twice a week. Does Quay Wash remove tar?",
        ['does "Quay Wash" clear "Tar" from "Moss Oil"'],
        ["twice a week"],
    ),
    (
        "Does Quay Wash remove tar after weeks of use?",
        ['does "Quay Wash" clear "Tar"'],
        ["after weeks of use"],
    ),
    (
        "What does Moss Oil leave, and does plain water take it off again?",
        ['what does "Moss Oil" leave', 'does water clear everything from "Moss Oil"'],
        [],
    ),
    (
        "A student says only lyes remove tar. What do I tell her?",
        ['is it true that only lyes clear "Tar"'],
        [],
    ),
    (
        "Put tar and pitch in order of how hard they are to wash out, and say why.",
        ['which of "Tar" and "Pitch" hardest first'],
        [],
    ),
    (
        "Which washes remove tar without resins?",
        ['which washes clear "Tar" and do not contain resins'],
        [],
    ),
    (
        "Does Quay Wash take tar off? It lists no resins.",
        ['does "Quay Wash" not contain resins', 'does "Quay Wash" clear "Tar"'],
        [],
    ),
    (
        "Moss Oil has tar and pitch. Put them in order of how stubborn they are.",
        [
            'does "Moss Oil" contain "Tar" and "Pitch"',
            'which of "Tar" and "Pitch" hardest first',
        ],
        [],
    ),
    (
        "We have hard water. What does Moss Oil leave, and does Quay Wash get it out?",
        [
            'what does "Moss Oil" leave in hard water',
            'does "Quay Wash" clear everything from "Moss Oil" in hard water',
        ],
        [],
    ),
    (
        "My client washes only with Quay Wash. Does Moss Oil build up on her hair, and "
        "which wash would you suggest?",
        [
            'what does "Quay Wash" not clear from "Moss Oil"',
            'which washes clear "Moss Oil"',
        ],
        [],
    ),
    (
        "Does Quay Wash take tar off, and does it do so in hard water?",
        [
            'does "Quay Wash" clear "Tar"',
            'does "Quay Wash" clear "Tar" in hard water',
        ],
        [],
    ),
    (
        "Why does Moss Oil leave tar?",
        ['why does "Moss Oil" leave "Tar"'],
        [],
    ),
    (
        "For someone who uses Moss Oil, which wash would you suggest?",
        ['which washes clear everything from "Moss Oil" mildest first'],
        [],
    ),
    (
        "I teach that tar is harder to remove than pitch. Am I right, and what is that "
        "based on?",
        [
            'is it true that "Tar" is harder to clear than "Pitch"',
            'who says that it is true that "Tar" is harder to clear than "Pitch"',
        ],
        [],
    ),
    (
        "Does Quay Wash take tar off although we like the foam?",
        ['does "Quay Wash" clear "Tar"'],
        ["although we like the foam"],
    ),
    (
        "When does Quay Wash do, and when do I need Reed Wash?",
        [
            'what does "Quay Wash" clear',
            'what does "Quay Wash" not clear',
            'compare "Quay Wash" and "Reed Wash"',
        ],
        [],
    ),
]


@pytest.mark.parametrize(("typed", "asked", "unused"), ASKED)
def test_what_is_said_beside_is_heeded_or_told(
    typed: str, asked: list[str], unused: list[str]
) -> None:
    found = read_plain(typed, LEXICON)
    assert [each.question for each in found] == asked
    assert all(each.sure for each in found)
    assert [text for each in found for text in each.unused] == unused


def test_every_remark_does_something_that_is_known() -> None:
    for each in forms().parts["beside"]:
        assert each.meanings[0].split()[0] in DEEDS


@pytest.mark.parametrize(
    "typed",
    [
        "Quay Wash is strong. Does it?",
        "If I leave out the pitch, does Quay Wash remove tar?",
        "Which wash would you suggest?",
        "Is tar harder to remove than pitch for someone who uses Moss Oil?",
        "Moss Oil is thick. Reed Cream is thin. Does Quay Wash get it out?",
        "My client has fine curls.",
        "My client has fine curls. And?",
    ],
)
def test_what_can_mean_several_things_is_not_guessed(typed: str) -> None:
    assert not any(each.sure for each in read_plain(typed, LEXICON))


def test_what_is_asked_reads_back() -> None:
    for typed, _, _ in ASKED:
        for each in read_plain(typed, LEXICON):
            assert print_query(parse_query(each.question)) == each.question
