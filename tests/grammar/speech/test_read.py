"""Free speech read with a few names: the question that is meant."""

from __future__ import annotations

import pytest
from quay import heard

READ = [
    (
        'does quay take off "tar" and pitch',
        'does "Quay Wash" clear "Tar" and "Pitch"',
    ),
    (
        "quay wash is mild only because there are no lyes in it",
        'is it true that "Quay Wash" contains no lyes, so that "Quay Wash" is mild',
    ),
    ("does the cream (reed cream) leave tar", 'does "Reed Cream" leave "Tar"'),
    ("does quay (a wash) get tar off", 'does "Quay Wash" clear "Tar"'),
    (
        "tar in reed cream, pitch in quay wash: which is the hardest to get out",
        'which of ("Tar" that is left by "Reed Cream") and "Pitch" that is left by '
        '"Quay Wash" hardest first',
    ),
    (
        "which of tar and pitch in reed cream is harder to wash out",
        'which of ("Tar" and "Pitch") that are left by "Reed Cream" hardest first',
    ),
    (
        "tried quay wash four times and the tar is still there. what takes it off",
        'which washes clear "Tar"',
    ),
    (
        "is the tar in reed cream more than the pitch",
        'does "Reed Cream" contain "Tar" before "Pitch"',
    ),
    (
        "Reed cream has tar second on the list. Is there less tar than pitch?",
        'does "Reed Cream" contain "Pitch" before "Tar"',
    ),
    (
        "i dont wanna use lyes, what on this shelf takes tar off",
        'which washes without lyes clear "Tar"',
    ),
    (
        "one wash with anything clears tar",
        'is it true that all washes clear "Tar"',
    ),
    ("tar wont budge for anything", 'is it true that no washes clear "Tar"'),
    ("tar wont budge with quay", 'is it true that "Quay Wash" does not clear "Tar"'),
    (
        "no lyes = can't remove tar",
        'is it true that no washes without lyes clear "Tar"',
    ),
    ("no lyes, cant shift tar", 'is it true that no washes without lyes clear "Tar"'),
    (
        "no lyes means it doesn't remove tar",
        'is it true that no washes without lyes clear "Tar"',
    ),
    (
        "no lyes so it wont remove tar",
        'is it true that no washes without lyes clear "Tar"',
    ),
    ("no lyes = removes tar", 'is it true that washes without lyes clear "Tar"'),
    ("no lyes remove tar", 'is it true that no lyes clear "Tar"'),
    ("quay wash - whats in it", 'what does "Quay Wash" contain'),
    (
        "does quay take tar off or just pitch",
        'which of "Tar" and "Pitch" does "Quay Wash" clear',
    ),
    (
        "can quay take tar from reed cream or only the pitch",
        'which of "Tar" and "Pitch" does "Quay Wash" clear from "Reed Cream"',
    ),
    (
        "tar vs pitch in reed cream, if i only got quay, which goes which stays",
        'which of "Tar" and "Pitch" does "Quay Wash" clear from "Reed Cream"',
    ),
    (
        "if i use quay 3 weeks straight after reed cream what stays on",
        'what does "Quay Wash" not clear from "Reed Cream" over repeated washes',
    ),
    (
        "how many washes with quay to get reed cream out",
        'how many rounds of "Quay Wash" clear everything from "Reed Cream"',
    ),
    (
        "how strong is quay compared w reed wash",
        'how strong are "Quay Wash" and "Reed Wash"',
    ),
    (
        "tar or pitch, which is worse for buildup, wash = quay only",
        'which of "Tar" and "Pitch" hardest first under "Quay Wash"',
    ),
    ("any tar in reed cream", 'is it true that "Reed Cream" contains "Tar"'),
    ("is tar volatile", 'does "Tar" need no wash'),
    (
        "reed cream has tar in it so it leaves a film",
        'is it true that "Reed Cream" contains "Tar", so that "Reed Cream" leaves '
        '"Tar"',
    ),
    ("does the tar in reed cream coat my hair", 'does "Reed Cream" leave "Tar"'),
    ("reed cream has tar. doesnt that build up", None),
    ("doesnt tar build up", 'does "Tar" build up'),
    (
        "so the lye in quay does nothing?",
        'what does "Lye" do in "Quay Wash"',
    ),
    ("how much tar is in reed cream", 'how much "Tar" does "Reed Cream" contain'),
    ("what percent tar in reed cream", 'how much "Tar" does "Reed Cream" contain'),
    ("which of my washes has the most lye", 'how much "Lye" do washes contain'),
    ("whats the point of the tar in reed cream", 'what does "Tar" do in "Reed Cream"'),
    ("why is there lye in quay", 'what does "Lye" do in "Quay Wash"'),
    ("does lye actually do anything in quay", 'what does "Lye" do in "Quay Wash"'),
    (
        "tar vs pitch, which is harder to shift w quay",
        'which of "Tar" and "Pitch" hardest first under "Quay Wash"',
    ),
    ("do i need lyes for tar", 'is it true that "Tar" needs lyes'),
    ("you need shampoo to get tar off", 'is it true that "Tar" needs washes'),
    (
        "quay takes tar off only in hard water",
        'is it true that "Quay Wash" clears "Tar" in hard water, and also that '
        '"Quay Wash" does not clear "Tar" in soft water',
    ),
    (
        "does quay take tar off unless the water is hard",
        'is it true that "Quay Wash" clears "Tar", and also that "Quay Wash" does not '
        'clear "Tar" in hard water',
    ),
    (
        "only if there is lye in it will a wash take tar off",
        'is it true that only washes with "Lye" clear "Tar"',
    ),
    (
        "reed cream has tar in it. do i need lyes",
        'is it true that "Reed Cream" contains "Tar", and also that "Tar" needs lyes',
    ),
    (
        "does reed cream leave anything that quay cant get out",
        'what is left by "Reed Cream" and is not cleared by "Quay Wash"',
    ),
    (
        "if a shampoo has tar in it, does the tar stay",
        'is it true that washes with "Tar" leave "Tar"',
    ),
    (
        "hard water + quay wash = tar, so soft water + quay wash = no tar",
        'is it true that "Quay Wash" leaves "Tar" in hard water, so that "Quay Wash" '
        'leaves no "Tar" in soft water',
    ),
    (
        "which resin in reed cream is the worst to get off",
        'which resins that are left by "Reed Cream" first 1 hardest first',
    ),
    (
        "without lyes tar stays",
        'is it true that no washes without lyes clear "Tar"',
    ),
    ("quay. will tar ever leave", 'does "Quay Wash" clear "Tar"'),
    (
        "there is no lye in quay so its gentle",
        'is it true that "Quay Wash" contains no "Lye", so that "Quay Wash" is mild',
    ),
    ("tar is only in reed cream", 'is it true that only "Reed Cream" contains "Tar"'),
    (
        "anything with peg washes out with water",
        'is it true that water clears all ingredients named "*peg*"',
    ),
    (
        "tar stays unless you wash with lyes",
        'is it true that no washes without lyes clear "Tar"',
    ),
    (
        "quay wont shift tar in hard water but will in soft water",
        'is it true that "Quay Wash" does not clear "Tar" in hard water, and also that '
        '"Quay Wash" clears "Tar" in soft water',
    ),
    ("tar in reed cream stays", 'is it true that "Reed Cream" leaves "Tar"'),
    (
        "what does quay have that reed wash hasnt",
        'compare "Quay Wash" and "Reed Wash" line by line',
    ),
    ("mild means no lyes", "is it true that mild washes contain no lyes"),
    ("which products are to blame for tar", 'which products leave "Tar"'),
    (
        "everything in reed cream evaporates except the tar",
        'is it true that all (things that are left by "Reed Cream") except "Tar" needs '
        "no wash",
    ),
    (
        "nothing in reed cream is a resin",
        'is it true that nothing that is left by "Reed Cream" is a resin',
    ),
    ("which ones are resin free", "which products contain no resins"),
    (
        "resin free shampoos are always gentler",
        "is it true that washes without resins are milder than (washes with resins)",
    ),
    ("tar: lyes needed?", 'does "Tar" need lyes'),
    (
        "i swap quay wash for reed wash, what stops coming off",
        'what is cleared by "Quay Wash" and is not cleared by "Reed Wash"',
    ),
    (
        "quay wash takes tar off and puts it back",
        'is it true that "Quay Wash" clears "Tar", and also that "Quay Wash" leaves '
        '"Tar"',
    ),
    ("doesn't quay take tar off?", 'does "Quay Wash" clear "Tar"'),
    ("reed cream in hard water", 'what does "Reed Cream" leave in hard water'),
    (
        "quay has no tar so no resin",
        'is it true that "Quay Wash" contains no "Tar", so that "Quay Wash" leaves no '
        "resins",
    ),
    (
        "tar evaporates so it cant build up, but pitch does",
        'is it true that "Pitch" builds up, and also that "Tar" needs no wash, so that '
        '"Tar" does not build up',
    ),
    (
        "if it says tar at the end it builds up",
        'is it true that ingredients named "*tar" build up',
    ),
    (
        "i count 2 resins in reed cream, who is right",
        'how many resins does "Reed Cream" contain',
    ),
    (
        "quay is milder than reed wash since it has no lyes",
        'is it true that "Quay Wash" contains no lyes, so that "Quay Wash" is milder '
        'than "Reed Wash"',
    ),
    ("quay gets tar off", 'is it true that "Quay Wash" clears "Tar"'),
    ("does quay wash get tar off ?", 'does "Quay Wash" clear "Tar"'),
    (
        "tar on my hair. hard water. will quay wash do it",
        'does "Quay Wash" clear "Tar" in hard water',
    ),
    (
        "tar is awful and quay wash has lye so does it take it off",
        'does "Quay Wash" clear "Tar"',
    ),
    ("mild wash for tar, does it come off", 'which washes clear "Tar" mildest first'),
    (
        "resin free means gentle",
        "is it true that washes without resins are milder than (washes with resins)",
    ),
    (
        "quay removes 100 % of buildup",
        'is it true that "Quay Wash" clears everything',
    ),
    ("hot air or not, shampoo just washes it away, the tar i mean", None),
    ("does tar or what", None),
    ("is tar a lye or what", 'what is "Tar"'),
    (
        "quay wash or reed wash for tar, in hard water, twice",
        'which of "Quay Wash" and "Reed Wash" clear "Tar" in hard water after 2 rounds',
    ),
    (
        "quay wash > reed wash in strength?",
        'rank "Quay Wash" and "Reed Wash"',
    ),
    (
        "which of tar and pitch gets left behind by quay wash",
        'which of "Tar" and "Pitch" does "Quay Wash" not clear',
    ),
    (
        "only quay wash takes tar off. reed wash does too, no?",
        'is it true that only "Quay Wash" clears "Tar", and also that "Reed Wash" '
        'clears "Tar"',
    ),
    (
        "what decides if quay wash gets tar off",
        'what would change whether it is true that "Quay Wash" clears "Tar"',
    ),
    ("reed cream leaves more than quay wash", 'compare "Reed Cream" and "Quay Wash"'),
    (
        "does quay wash take off what reed cream leaves",
        'does "Quay Wash" clear everything from "Reed Cream"',
    ),
    ("tar comes off with quay wash", 'is it true that "Quay Wash" clears "Tar"'),
    ("tar and pitch, same stuff?", 'is "Tar" "Pitch"'),
    ("what takes tar out", 'which washes clear "Tar"'),
    ("shampoo never shifts tar", 'is it true that no washes clear "Tar"'),
    ("lye-free shampoo can't strip resins", None),
    ("tar builds up", 'is it true that "Tar" builds up'),
    ("tar never builds up", 'is it true that "Tar" does not build up'),
    ("resins dont build up", "is it true that no resins build up"),
    ("only resins stay on", "is it true that only resins build up"),
    ("tar rinses out", 'is it true that water clears "Tar"'),
    ("does reed cream leave anything", 'does "Reed Cream" leave anything'),
    ("reed cream leaves no residue", 'is it true that "Reed Cream" leaves nothing'),
    ("is tar a resin", 'is "Tar" a resin'),
    ("tar needs a lye to come off", 'is it true that "Tar" needs "Lye"'),
    (
        "quay takes off everything reed cream leaves",
        'is it true that "Quay Wash" clears everything from "Reed Cream"',
    ),
    (
        "tar builds up but pitch does not",
        'is it true that "Tar" builds up, and also that "Pitch" does not build up',
    ),
    (
        "tar is a resin, therefore tar builds up",
        'is it true that "Tar" is a resin, so that "Tar" builds up',
    ),
    (
        "tar builds up because it is a resin",
        'is it true that "Tar" is a resin, so that "Tar" builds up',
    ),
    (
        "tar is harder to wash out than pitch",
        'is it true that "Tar" is harder to clear than "Pitch"',
    ),
    (
        "has anyone tested whether quay wash removes tar",
        'who says that it is true that "Quay Wash" clears "Tar"',
    ),
    ("quay vs reed wash for tar", 'compare "Quay Wash" and "Reed Wash" for "Tar"'),
    ("whats the mildest wash that lifts tar", None),
    (
        "does quay wash get tar out in two washes",
        'does "Quay Wash" clear "Tar" after 2 rounds',
    ),
    (
        "which is hardest to remove, tar or pitch",
        'which of "Tar" and "Pitch" hardest first',
    ),
    ("tar or pitch, which comes out easiest", None),
    ("quay wash or reed wash for tar", 'compare "Quay Wash" and "Reed Wash" for "Tar"'),
    (
        "all but the resins come off with quay wash",
        'is it true that "Quay Wash" clears everything except resins',
    ),
    (
        "reed cream leaves three things",
        'is it true that "Reed Cream" leaves exactly 3 things',
    ),
    (
        "reed cream has tar after pitch",
        'is it true that "Reed Cream" contains "Pitch" before "Tar"',
    ),
    (
        "what would happen if reed cream had no tar",
        'suppose "Reed Cream" had no "Tar": what does "Reed Cream" leave',
    ),
    ("do any of my products clash", "what conflicts on my shelf"),
    ("is there a dupe for reed cream", 'which products resemble "Reed Cream"'),
    ("rank my shampoos from mild to harsh", "rank washes"),
    (
        "keen shampoo gets tar off",
        'is it true that washes with lyes without resins clear "Tar"',
    ),
    (
        "lyes are the only thing that removes tar",
        'is it true that only lyes clear "Tar"',
    ),
    (
        "tar needs neither lyes nor resins",
        'is it true that "Tar" does not need lyes or resins',
    ),
    ("every resin ending in -ane builds up", None),
    (
        "what is the third ingredient of reed cream",
        'what does "Reed Cream" contain at place 3',
    ),
    ("what does -ane mean", 'which ingredients named "*ane"'),
    ('what is the meaning of "pitchy" in a name', 'which ingredients named "*pitchy*"'),
    (
        "if i only ever wash with quay wash, will the tar come out",
        'does "Quay Wash" clear "Tar"',
    ),
    (
        "tar clings harder in hard water than in soft water",
        'is it true that "Tar" is harder to clear in hard water than in soft water',
    ),
]


@pytest.mark.parametrize(("text", "question"), READ)
def test_a_saying_is_read(text: str, question: str | None) -> None:
    """The first reading is the one meant."""
    found = heard(text)
    assert found.readings, text
    if question is not None:
        assert found.readings[0].question == question


def test_it_is_the_product_after_what_is_in_it() -> None:
    """`it` after `has no pitch` is what has none."""
    found = heard("reed cream has no pitch, so quay wash takes it off")
    assert '"Quay Wash" clears everything from "Reed Cream"' in (
        found.readings[0].question
    )


def test_conditions_are_kept() -> None:
    """How the hair is washed stays in the question."""
    (reading, *_) = heard("quay wash removes tar in hard water").readings
    assert reading.question.endswith("in hard water")
    assert reading.sure


def test_a_reading_is_filled_and_never_sure_for_it() -> None:
    """What stands in another clause is taken in, and asked about."""
    found = heard("soft water here. does quay wash get tar off?").readings[0]
    assert found.question == 'does "Quay Wash" clear "Tar" in soft water'
    assert not found.unread
    assert not found.sure


def test_the_same_is_said_under_another_condition() -> None:
    """`but not in soft water` denies there what was said before, and both are asked."""
    found = heard("quay wash leaves tar in hard water but not in soft water")
    assert found.readings[0].question == (
        'is it true that "Quay Wash" leaves "Tar" in hard water, '
        'and also that "Quay Wash" does not leave "Tar" in soft water'
    )
    assert not found.readings[0].unread


def test_harsher_is_no_stronger() -> None:
    """What is said to be harsh is set against what is mild."""
    found = heard("quay wash is more drying than reed wash")
    question = found.readings[0].question
    assert question == 'is it true that "Quay Wash" is harsher than "Reed Wash"'


def test_two_questions_are_asked_together() -> None:
    """A question mark parts them, as a full stop does."""
    found = heard("does tar build up in hard water? and in soft water?")
    both = (
        'is it true that "Tar" builds up in hard water, '
        'and also that "Tar" builds up in soft water'
    )
    assert both in [each.question for each in found.readings]


def test_the_same_is_denied_of_another_wash() -> None:
    """`but not with …` says that the other does not."""
    found = heard("tar washes out with lye but not with quay wash")
    assert found.readings[0].question == (
        'is it true that "Lye" clears "Tar", '
        'and also that "Quay Wash" does not clear "Tar"'
    )
