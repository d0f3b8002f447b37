"""Plain questions: what each asks, and that nothing typed is left out."""

from __future__ import annotations

import random
from functools import cache

import pytest
from abluent.grammar.phrase.book import phrases
from abluent.grammar.plain.read import read_plain
from abluent.grammar.plain.ways import ASKS, Choice, Role, Slot, Sub, Word, forms, way
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from plain_names import LEXICON

SAMPLES = {
    "wash": ["Quay Wash", "Reed Wash"],
    "cleaner": ["Quay Wash"],
    "product": ["Reed Cream", "Moss Oil"],
    "film": ["tar", "pitch"],
    "pair": ["Quay Wash and Reed Wash"],
    "duo": ["Reed Cream and Moss Oil"],
    "called": ["lye"],
    "kindred": ["tar and lye"],
    "cleanser": ["lye"],
    "unwashed": ["Reed Cream and Moss Oil"],
    "films": ["tar or pitch"],
    "agent": ["lyes", "lye"],
    "washes": ["washes"],
    "products": ["creams"],
    "stuff": ["resins"],
    "class": ["resins"],
    "ingredient": ["tar"],
    "value": ["anionic"],
    "words": ["we like it"],
    "when": ["hard water", "damaged hair"],
    "number": ["3"],
    "promise": ["resin-free"],
}


def question(text: str) -> str:
    """What a line asks, if it can be answered without asking."""
    found = read_plain(text, LEXICON)
    return found[0].question if len(found) == 1 and found[0].sure else ""


ASKED = [
    ("Why does tar build up and pitch too?", ""),
    ("Why does tar build up and pitch?", ""),
    (
        "Why does tar build up but not pitch?",
        'why does "Tar" build up unlike "Pitch"',
    ),
    (
        "Is a wash free of build-up because it lists no resins?",
        "is it true that all washes without resins do not build up",
    ),
    ("Which washes leave the least?", ""),
    (
        "Which washes are too weak for tar?",
        'which washes do not clear "Tar"',
    ),
    ("Is Quay Wash useless against tar?", 'does "Quay Wash" not clear "Tar"'),
    (
        "Quay Wash is too weak for tar, right?",
        'is it true that "Quay Wash" does not clear "Tar"',
    ),
    (
        "Which washes are not strong enough to remove tar?",
        'which washes do not clear "Tar"',
    ),
    (
        "If tar evaporates, why does pitch stay?",
        'why does "Pitch" build up unlike "Tar"',
    ),
    ("Do I need a shampoo for tar or is rinsing enough?", 'does water clear "Tar"'),
    (
        "Is it fair to call Quay Wash clarifying?",
        'does "Quay Wash" rightly say "clarifying"',
    ),
    (
        "What does the label of Moss Oil not tell me about how much tar is in it?",
        'how much "Tar" does "Moss Oil" contain',
    ),
    (
        "What kind of evidence is there that Quay Wash does not remove tar?",
        'who says that it is true that "Quay Wash" does not clear "Tar"',
    ),
    (
        "What would change your verdict that Quay Wash removes tar?",
        'what would change whether "Quay Wash" clears "Tar"',
    ),
    (
        "Why is tar no problem but pitch in the same jar is?",
        'why does "Pitch" build up unlike "Tar"',
    ),
    (
        "Why does tar build up while pitch does not?",
        'why does "Tar" build up unlike "Pitch"',
    ),
    (
        "Does tar come off with plain water or only with a wash?",
        'does water clear "Tar"',
    ),
    ("How often should I use Quay Wash after Moss Oil?", ""),
    (
        "Is Quay Wash measured to remove tar?",
        "",
    ),
    ("Do I need a lye salt to remove tar?", ""),
    ("Is tar pitch?", 'is "tar" pitch'),
    ("Is tar the same thing as pitch?", 'is "tar" pitch'),
    ("Is tar resin?", ""),
    (
        "Tar has resin in the name, so it must be a resin.",
        'is "Tar" a resin',
    ),
    ("Tar has resin in its name, so it is mild.", ""),
    ("What is hidden in the label of Moss Oil?", 'what does "Moss Oil" hide'),
    (
        "What happens when Quay Wash is used in hard water?",
        'what does "Quay Wash" leave in hard water',
    ),
    (
        "What can I use instead of a resin wash to remove tar?",
        'which washes without resins clear "Tar"',
    ),
    (
        "Does Quay Wash take its own tar off?",
        'does "Quay Wash" clear "Tar" from "Quay Wash"',
    ),
    ("Does tar come off with plain water?", 'does water clear "Tar"'),
    ("Is there more tar than pitch in Moss Oil?", ""),
    ("Does Moss Oil have more resins than lyes in it?", ""),
    ("Which wash is the best for tar?", ""),
    ("Which wash takes off the most tar?", ""),
    ("Tar has resin in the name, so it must be lyes.", 'is "Tar" a lye salt'),
    ("Tar goes with plain water, no?", 'does water clear "Tar"'),
    ("Do you need lyes to remove tar?", 'does "Tar" need lyes'),
    (
        "Do I need lyes to get the tar of Reed Cream out?",
        'is it true that only washes with lyes clear "Tar" from "Reed Cream"',
    ),
    (
        "Does Quay Wash remove every film that Reed Cream leaves?",
        'does "Quay Wash" clear everything from "Reed Cream"',
    ),
    ("Does Quay Wash remove any film that Reed Cream leaves?", ""),
    (
        "Which washes on my shelf remove tar and also leave no resins of their own?",
        'which washes clear "Tar" and do not leave resins',
    ),
    (
        "Which of my washes is gentlest on damaged hair and still takes tar off?",
        'which washes clear "Tar" on damaged hair first 1 mildest first',
    ),
    (
        "Is hard water a problem with Quay Wash?",
        'what does "Quay Wash" leave in hard water',
    ),
    (
        "Would Quay Wash still take tar off if it had no resin?",
        'suppose "Quay Wash" had no resins: does "Quay Wash" clear "Tar"',
    ),
    (
        "What should I use instead of Quay Wash to remove tar?",
        'which washes except "Quay Wash" clear "Tar"',
    ),
    (
        "Why does Quay Wash fail on the tar of Reed Cream?",
        'why does "Quay Wash" not clear "Tar" from "Reed Cream"',
    ),
    (
        "Which films of Reed Cream does Quay Wash not remove?",
        'what does "Quay Wash" not clear from "Reed Cream"',
    ),
    ("How do you know that Quay Wash removes tar?", 'why does "Quay Wash" clear "Tar"'),
    (
        "Does Quay Wash remove less tar than Reed Wash?",
        'does "Reed Wash" clear "Tar" better than "Quay Wash"',
    ),
    (
        "Which of my creams come off with Quay Wash?",
        'which creams does "Quay Wash" clear',
    ),
    (
        "Which creams can't Quay Wash wash out?",
        'which creams does "Quay Wash" not clear',
    ),
    (
        "Do all my washes without resins remove tar?",
        'is it true that all washes without resins on my shelf clear "Tar"',
    ),
    (
        "My hair feels coated since Reed Cream, what do I wash it with?",
        'which washes clear everything from "Reed Cream" mildest first',
    ),
    (
        "I only have Quay Wash. Does it get Reed Cream out?",
        'does "Quay Wash" clear everything from "Reed Cream"',
    ),
    ("I use Reed Cream every day, what should I wash with?", ""),
    (
        "Is there anything in Reed Cream that needs lyes?",
        'does "Reed Cream" need lyes',
    ),
    (
        "Which of these is mildest for Reed Cream: Quay Wash or Reed Wash?",
        'which of "Quay Wash" and "Reed Wash" clear everything from "Reed Cream" '
        "first 1 mildest first",
    ),
    (
        "Is Quay Wash or Reed Wash better for tar?",
        'compare "Quay Wash" and "Reed Wash" for "Tar"',
    ),
    (
        "Does damaged hair hold more tar than hard water?",
        'is "Tar" harder to clear on damaged hair than in hard water',
    ),
    ("What on my shelf contains resins?", "which products contain resins"),
    (
        "What would have to be shown for you to say that Quay Wash removes tar?",
        'what would change whether "Quay Wash" clears "Tar"',
    ),
    (
        "Is there anything in Reed Cream that Quay Wash leaves?",
        'what does "Quay Wash" not clear from "Reed Cream"',
    ),
]


@pytest.mark.parametrize(("typed", "asked"), ASKED)
def test_a_plain_question_asks_what_it_says(typed: str, asked: str) -> None:
    assert question(typed) == asked


def test_what_asks_several_things_asks_all_of_them() -> None:
    """A changed wash may take off less, or leave more: both are asked."""
    found = read_plain("What would change if Quay Wash had no resin?", LEXICON)
    assert [each.question for each in found] == [
        'suppose "Quay Wash" had no resins: what does "Quay Wash" clear',
        'suppose "Quay Wash" had no resins: what does "Quay Wash" leave',
    ]
    assert all(each.sure for each in found)


def test_what_can_mean_several_things_is_offered() -> None:
    """The best wash may be the mildest or the strongest: which, is to be said."""
    found = read_plain("Which wash is the best for tar?", LEXICON)
    assert [each.sure for each in found] == [False, False]


def test_questions_that_follow_on_each_other_are_all_asked() -> None:
    found = read_plain("Is tar pitch? Does Quay Wash remove tar?", LEXICON)
    assert [(each.question, each.sure) for each in found] == [
        ('is "tar" pitch', True),
        ('does "Quay Wash" clear "Tar"', True),
    ]


def test_a_reason_that_is_given_is_asked_about() -> None:
    """That it is mild may be so, and for another reason."""
    found = read_plain("Is Quay Wash mild because it lists no resins?", LEXICON)
    assert [each.question for each in found] == [
        'is it true that "Quay Wash" contains no resins, so that "Quay Wash" is mild',
        'how mild is "Quay Wash"',
    ]


def test_films_that_are_numbered_are_judged_each() -> None:
    found = read_plain("Does lye remove (a) tar, (b) pitch?", LEXICON)
    assert [each.question for each in found] == [
        'does "Lye" clear "Tar"',
        'does "Lye" clear "Pitch"',
    ]


def test_how_often_is_offered_and_never_answered() -> None:
    """No label tells it: what one wash takes is offered."""
    found = read_plain("How often should I use Quay Wash after Moss Oil?", LEXICON)
    assert [(each.question, each.sure) for each in found] == [
        ('does "Quay Wash" clear everything from "Moss Oil"', False)
    ]


def test_what_is_put_on_after_a_wash_keeps_its_turn() -> None:
    """The wash came first: what the later one leaves is asked, not the other way."""
    found = read_plain("Does Moss Oil right after Quay Wash undo it?", LEXICON)
    assert [each.question for each in found] == [
        'what does "Moss Oil" leave',
        'what does "Quay Wash" clear from "Moss Oil"',
    ]


def test_a_word_of_its_name_is_a_product_and_its_sort_a_guess() -> None:
    """`heron` is of one name alone; `the pot` may be another."""
    word = read_plain("Does Quay Wash take heron out?", LEXICON)
    sort = read_plain("Does Quay Wash take the pot out?", LEXICON)
    assert [each.sure for each in (*word, *sort)] == [True, False]
    assert not word[0].mended


def test_what_the_question_before_is_about_is_meant_by_it() -> None:
    found = read_plain("Is tar pitch, and does it need lyes to come off?", LEXICON)
    assert [each.question for each in found] == [
        'is "tar" pitch',
        'does "Tar" need lyes',
    ]


@pytest.mark.parametrize(
    "typed",
    [
        "Does Quay Wash remove tar? Does it build up?",
        "Is tar pitch? Does Quay Wash zebra tar?",
        "Is tar pitch? Which wash is the best for tar?",
    ],
)
def test_one_that_is_not_read_whole_leaves_all_unread(typed: str) -> None:
    """Nothing is answered in silence about the rest of a line."""
    assert read_plain(typed, LEXICON) == ()


def test_what_was_spoken_of_before_is_not_guessed() -> None:
    """`it` stands for nothing in one line: what can be asked is offered."""
    found = read_plain("Would Quay Wash still take it off if it had no resin?", LEXICON)
    assert [(each.question, each.sure) for each in found] == [
        ('suppose "Quay Wash" had no resins: what does "Quay Wash" clear', False)
    ]


def test_a_slip_or_a_word_for_what_a_label_shows_is_asked_about() -> None:
    slip = read_plain("Which washes remove resinns?", LEXICON)
    sort = read_plain("Which keen washes remove tar?", LEXICON)
    assert [(each.sure, bool(each.mended)) for each in slip] == [(False, True)]
    assert [(each.sure, each.taken) for each in sort] == [
        (False, (("keen", "with lyes without resins"),))
    ]


@pytest.mark.parametrize("typed", ["", "?", "\u2603 \u05d0", "which", "a" * 4000])
def test_what_is_no_plain_question_is_left_alone(typed: str) -> None:
    assert read_plain(typed, LEXICON) == ()


@pytest.mark.parametrize(("typed", "asked"), ASKED)
def test_no_word_is_dropped(typed: str, asked: str) -> None:
    """With a word more that means nothing here, nothing is read; or it is told."""
    words = typed.split()
    for at in range(0, len(words) + 1, 3):
        longer = " ".join([*words[:at], "zebra", *words[at:]])
        told = [text for each in read_plain(longer, LEXICON) for text in each.unused]
        assert not read_plain(longer, LEXICON) or "zebra" in " ".join(told), longer


@cache
def _shortest(role: str) -> tuple[str, ...]:
    """The shortest phrase that does something."""
    held = [
        words
        for words, entries in phrases().items()
        if role in {f"{each.section}:{each.key}" for each in entries}
    ]
    return min(held, key=len)


def _spelt(nodes: tuple[object, ...], pick: random.Random) -> list[str]:
    """Words that a pattern fits."""
    found: list[str] = []
    for node in nodes:
        match node:
            case Word(text=text):
                found.append(text)
            case Role(key=key):
                found += _shortest(key)
            case Slot(name=name, sort=sort):
                fits = SAMPLES[sort]
                found.append(fits[name.endswith("2") and len(fits) > 1])
            case Sub(part=part, name=name):
                ways = forms().parts[part]
                two = name.endswith("2")
                found += _spelt((pick.choice(ways) if two else ways[0]).pattern, pick)
            case Choice(branches=branches):
                found += _spelt(pick.choice(branches), pick)
    return found


@pytest.mark.parametrize("at", range(len(forms().parts[ASKS])))
def test_every_way_asks_something(at: int) -> None:
    """What fits a way is read, and what it asks reads back as it stands."""
    pick = random.Random(at)
    for _ in range(2):
        typed = " ".join(_spelt(forms().parts[ASKS][at].pattern, pick))
        found = read_plain(typed, LEXICON)
        assert found, typed
        for each in found:
            assert print_query(parse_query(each.question)) == each.question


@pytest.mark.parametrize(
    "line", ["which {wash}", "which (a|b -> x", "a) -> x", "a ( b ] -> x"]
)
def test_what_is_no_way_is_refused(line: str) -> None:
    with pytest.raises(ValueError, match="`"):
        way(line)
