"""Every form of question, asked of the built-in shelf.

The shelf is invented; what holds on it follows from the claims of the base.
"""

from __future__ import annotations

import re
from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import account
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.question import Unanswerable, UnknownName, ask
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    shelf = demo_shelf()
    return World(Base.load(), load_rulebook(), products(shelf), shelf.water)


def answer(text: str, last: Answer | None = None) -> Answer:
    return ask(parse_query(text), world(), last=last)


def names(found: Answer) -> list[str]:
    base = world().base
    return [
        item.key if item.kind == "product" else base.label(item.key)
        for item in found.members
    ]


# --- sets -------------------------------------------------------------------------


@pytest.mark.slow
def test_which_keeps_those_that_do_and_lists_what_is_open() -> None:
    found = answer('which washes at least partly clear "Dimethicone"')
    assert "Tideline Wash" in names(found)
    assert "Backwater Cream Cleanser" not in names(found)
    told = (
        "Best for Dimethicone: Tideline Wash and Breakwater Wash. Lamp Room Clarifying "
        "Wash and Plover Mild Wash take some too, as weaker cleansers. Gullwing Silk "
        "Wash and Ferryman Dandruff Wash put Dimethicone on hair themselves, whatever "
        "they take off; the other 6 take little or none."
    )
    assert found.sentence == told
    assert {row.wash for row in found.others} & {"Backwater Cream Cleanser"}  # type: ignore[union-attr]
    none = answer('which washes clear "Dimethicone"').sentence
    assert none == (f"{told} None is shown to take all in one wash.")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("question", "inside", "outside"),
    [
        ("which washes contain no sulfates", "Tideline Wash", "Breakwater Wash"),
        ("which washes without sulfates", "Tideline Wash", "Breakwater Wash"),
        ("which sulfate-free washes", "Tideline Wash", "Breakwater Wash"),
        ("which products leave nothing", "Tideline Wash", "Harbour Cream"),
        ("which products leave a silicone", "Harbour Cream", "Tideline Wash"),
        ("which conditioners", "Harbour Cream", "Tideline Wash"),
        (
            'which washes at least partly clear "Dimethicone" '
            "and do not leave silicones",
            "Tideline Wash",
            "Gullwing Silk Wash",
        ),
        (
            'which washes perhaps clear "Dimethicone"',
            "Tideline Wash",
            "Backwater Cream Cleanser",
        ),
        (
            'which washes except "Tideline Wash" at least partly clear "Dimethicone"',
            "Breakwater Wash",
            "Tideline Wash",
        ),
        (
            'which ingredients named "*cone" are silicones',
            "Dimethicone",
            "Simethicone X",
        ),
        ("which films need no wash", "Cyclopentasiloxane", "Dimethicone"),
    ],
)
def test_which(question: str, inside: str, outside: str) -> None:
    found = names(answer(question))
    assert inside in found
    assert outside not in found


def test_nobody_clears_every_silicone_and_the_nearest_are_named() -> None:
    found = answer("which washes clear silicones")
    assert not found.members
    assert found.sentence.startswith(
        "Tideline Wash and Breakwater Wash take some of each of the 6 silicones. Lamp "
        "Room Clarifying Wash and Plover Mild Wash take some, but little or none of "
        "Amodimethicone; "
    )
    assert found.sentence.endswith("None is shown to take all in one wash.")


def test_a_limit_and_an_order_by_mildness() -> None:
    found = answer(
        'which washes at least partly clear "Dimethicone" first 2 mildest first'
    )
    assert len(found.members) == 2


def test_those_are_the_members_of_the_last_answer() -> None:
    last = answer('which washes at least partly clear "Dimethicone"')
    kept = names(answer("which of those contain sulfates", last))
    assert kept
    assert set(kept) < set(names(last))


def test_how_many_counts_what_which_lists() -> None:
    listed = answer("which washes contain no sulfates")
    counted = answer("how many washes contain no sulfates")
    assert counted.sentence.startswith(str(len(listed.members)))


# --- what a product leaves, hides, is ------------------------------------------------


def test_what_a_wash_hides_is_what_it_leaves_and_what_does_not_count() -> None:
    left = answer('what does "Gullwing Silk Wash" hide')
    assert "Dimethicone" in names(left)
    assert left.sentence.startswith("No name is hidden on the label of Gullwing Silk")
    assert "easy to miss: Gullwing Silk Wash leaves Dimethicone, Guar" in left.sentence
    complex_ = answer('what does "Kelp Line Curl Cream" hide').sentence
    assert complex_.startswith("Merrowex Tidal Complex on the label of Kelp Line")
    open_ = answer('what does "Harbour Cream" hide')
    assert not open_.rows  # a conditioner that prints its silicone hides nothing
    hidden = answer('what does "Fog Bank Wash" hide')
    assert "Sodium Cocoyl Isethionate" in names(hidden)
    assert "Isethionate" not in hidden.sentence  # that it may do no work is not asked


def test_what_is_tells_the_class_with_its_source() -> None:
    found = answer('what is "Dimethicone"')
    assert "silicone fluid" in found.sentence
    assert all(row.sources for row in found.rows)


# --- claims ---------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(
    ("claim", "judged"),
    [
        ("only sulfates clear water-insoluble silicones", "unsupported"),
        ('only sulfates at least partly clear "Dimethicone"', "refuted"),
        ("every sulfate is an anionic surfactant", "proven"),
        ("every anionic surfactant is a sulfate", "refuted"),
        ("no sulfate is a cationic surfactant", "proven"),
        ("some anionic surfactant is not a sulfate", "proven"),
        ('"Dimethicone" needs a sulfate', "unsupported"),
        ('every amphoteric surfactant clears "Dimethicone"', "refuted"),
        ('every sulfate clears "Dimethicone"', "refuted"),
        ('"Breakwater Wash" clears "Dimethicone"', "disputed"),
        ('"Tideline Wash" clears "Dimethicone"', "unsupported"),
        ('at least 3 washes at least partly clear "Dimethicone"', "proven"),
        ('at most 2 washes at least partly clear "Dimethicone"', "refuted"),
        ("no co-wash clears silicones", "proven"),
    ],
)
def test_a_claim_is_judged(claim: str, judged: str) -> None:
    found = answer(f"is it true that {claim}")
    assert found.claim == judged
    assert found.witness or judged == "proven"


@pytest.mark.parametrize(
    ("claim", "verdict"),
    [
        ('"Tideline Wash" clears silicones', "partlyClears"),
        ("every wash clears silicones", "partlyClears"),
        ('only sulfates at least partly clear "Dimethicone"', "atLeastPartlyClears"),
    ],
)
def test_the_row_that_decides_comes_first(claim: str, verdict: str) -> None:
    """A counterexample is the film that refutes, and not the first by name."""
    found = answer(f"is it true that {claim}")
    assert found.claim == "refuted"
    assert found.rows[0].goal[1][-1] == verdict
    shown = world().base.label(found.rows[0].film)  # type: ignore[union-attr]
    assert shown in found.sentence


def test_a_refutation_names_what_readers_know_first() -> None:
    found = answer("is it true that every anionic surfactant is a sulfate")
    listed = {name for p in world().products.values() for name in p.text.split(", ")}
    assert found.witness.casefold() in {name.strip().casefold() for name in listed}


# --- what if, why not, what would change ----------------------------------------------


@pytest.mark.slow
def test_a_supposition_is_answered_beside_the_label_as_it_is() -> None:
    found = answer(
        'suppose "Tideline Wash" had dimethicone: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    assert found.sentence.startswith(
        "Not for sure: Tideline Wash takes little or none of Dimethicone"
    )
    assert "for it can leave that itself" in found.sentence
    assert "as it is now: Tideline Wash takes Dimethicone off" in found.sentence
    (now,) = found.compared
    assert now.rows[0].goal[1][-1] == "atLeastPartlyClears"


@pytest.mark.slow
def test_what_is_supposed_is_told_as_supposed() -> None:
    found = answer(
        'suppose "Tideline Wash" had "Cetrimonium Chloride" at place 2: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    told = found.rows[0].reasons
    assert "Cetrimonium Chloride is number 2 on the label of Tideline Wash." in told


def test_a_supposed_label_leaves_the_real_one_alone() -> None:
    before = answer('what does "Harbour Cream" leave').sentence
    answer('suppose "Harbour Cream" had no silicones: what does "Harbour Cream" leave')
    assert answer('what does "Harbour Cream" leave').sentence == before


@pytest.mark.slow
def test_why_not_tells_obstacles_and_repairs_that_were_tried() -> None:
    found = answer('why not does "Gullwing Silk Wash" clear "Dimethicone"')
    (repairs,) = [each for each in found.findings if each.kind == "repairs"]
    assert repairs.items == (
        "Gullwing Silk Wash without Dimethicone takes at least part of Dimethicone "
        "(disputed) (tried).",
    )
    tried = answer(
        'suppose "Gullwing Silk Wash" had no dimethicone: '
        'does "Gullwing Silk Wash" clear "Dimethicone"'
    )
    assert tried.rows[0].goal[1][-1] == "atLeastPartlyClears"


@pytest.mark.slow
def test_why_not_tells_unknown_from_contradicted() -> None:
    unknown = answer('why not does "Tideline Wash" clear "Dimethicone"')
    assert "unknown" in kinds(unknown)
    assert kinds(unknown)[-1] == "repairs"
    # What contradicts it stands among the reasons, and is not said again.
    against = answer('why not does "Tideline Wash" clear "Amodimethicone"')
    (row,) = against.rows
    assert isinstance(row, Verdict)
    reasons = " ".join(step.text for step in account(row, whole=True))
    assert "so an anionic wash takes at most part" in reasons
    assert kinds(against) == ["repairs"]


def kinds(found: Answer) -> list[str]:
    """What was found out about an answer, a word each."""
    return [each.kind for each in found.findings]


def test_how_sure_names_the_standing_and_the_weakest_step() -> None:
    told = answer('how sure is it that "Tideline Wash" clears "Dimethicone"')
    assert told.sentence.startswith("Not very sure: some of it is the experience")
    (turns,) = told.findings
    assert turns.items == (
        "Water cannot dissolve a silicone fluid; sulfonates at a working level break "
        "it into droplets that rinse off, so at least part of it goes.",
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("wash", "what"),
    [
        ("Gullwing Silk Wash", '"Dimethicone"'),
        ("Sandpiper Wash", '"Amodimethicone"'),
        ("Sandpiper Wash", '"Cera Alba"'),
        ("Dune Grass Wash", '"Dimethiconol" from "Glass Float Serum"'),
        ("Shingle Soap Wash", '"Polyquaternium-7"'),
        ("Plover Mild Wash", 'everything from "Mooring Mask"'),
    ],
)
def test_the_washes_named_beside_are_those_of_the_list(wash: str, what: str) -> None:
    """All where they are few; else the mildest, how many more, and how to ask."""
    notes = answer(f'does "{wash}" clear {what}').notes
    (note,) = (each for each in notes if each.startswith("Of the washes at hand "))
    listed = answer(f"which washes at least partly clear {what}")
    names = {item.key for item in listed.members}
    named = {name for name in names if name in note}
    more = re.search(r"and (\d+) more take .*; all: `(.*)`\.", note)
    assert len(named) + (int(more[1]) if more else 0) == len(names)
    assert bool(more) == (len(names) > 4)
    if more:
        assert answer(more[2]).members == listed.members


def test_no_wash_is_named_beside_where_one_takes_part() -> None:
    found = answer('does "Tideline Wash" clear "Amodimethicone"')
    assert not any("at hand" in each for each in found.notes)


def test_a_name_of_several_kinds_is_told_alike_everywhere() -> None:
    """As in a verdict, so where it is asked what it is."""
    kinds = "may be a dispersible PEG silicone or soluble PEG silicone"
    for asked in ("what is {}", "is {} a silicone", "is {} a water-soluble silicone"):
        assert kinds in answer(asked.format('"PEG-12 Dimethicone"')).sentence


def test_spellings_that_are_not_asked_about_are_left_out() -> None:
    """A line that was not read may be anything, and stays."""
    found = answer("which products leave proteins").notes
    assert not any("is read as" in each for each in found)
    assert any("was not read" in each for each in found)


def test_a_claim_of_what_is_needed_is_judged_by_what_does_without() -> None:
    """Never by a sulfate that a sulfate is needed."""
    found = answer('is it true that "Amodimethicone" needs a sulfate')
    first = "Not so as said: Tideline Wash, without sulfate surfactants, takes some of "
    assert found.sentence.startswith(first)


def test_what_is_so_of_none_is_not_so_of_some_alone() -> None:
    """The others that come as near are named."""
    found = answer("is it true that only sulfates clear waxes")
    assert found.sentence.startswith("False: Tideline Wash, Lamp Room Clarifying Wash ")
    assert found.sentence.endswith("None is shown to take all in one wash.")
    assert found.others


def test_what_is_not_cleared_is_not_told_as_if_it_were_asked_whole() -> None:
    """`only water does not clear` and what is taken in part are other matters."""
    for asked in (
        'is it true that only water does not clear "Cyclopentasiloxane"',
        'is it true that only sulfates at least partly clear "hard-water minerals"',
    ):
        assert "othing is shown to take all" not in answer(asked).sentence


@pytest.mark.slow
def test_two_ingredients_are_compared() -> None:
    """Neither is a product, and neither leaves a film of its own."""
    found = answer('compare "Sodium Laureth Sulfate" and "Decyl Glucoside"')
    assert len(found.compared) == 2


def test_what_holds_of_all_says_of_how_many() -> None:
    """An example proves none; what water leaves may go with a wash."""
    found = answer("is it true that every wax builds up")
    head = "It stays under water alone, as do all 44 looked at; for one, "
    assert found.sentence.startswith(head)
    assert "hangs on the wash" in found.sentence


def test_many_pairs_begin_with_what_goes() -> None:
    """Classes and no counts come first."""
    found = answer("what do betaine surfactants remove").sentence
    assert found.startswith("Betaine surfactants take at least part of most oily films")
    assert "They take little or none of waxes, cationic surfactants" in found


@pytest.mark.slow
def test_what_would_change_names_the_claim_that_everything_hangs_on() -> None:
    found = answer(
        'what would change whether "Backwater Cream Cleanser" '
        'clears "Cetrimonium Chloride"'
    )
    claims, _, works = found.findings
    assert "only if this is so" in claims.head
    assert "A cationic wash lays down more cationic" in claims.items[0]
    assert works.kind == "sources"


@pytest.mark.slow
def test_what_would_change_says_what_would_settle_an_open_end() -> None:
    """An end that nothing bounds is settled by whoever bounds it."""
    found = answer('what would change whether "Tideline Wash" clears "Dimethicone"')
    (opened,) = [each for each in found.findings if each.kind == "open end"]
    assert opened.items == (
        "Whether it takes all of Dimethicone, measured with Tideline Wash.",
    )


# --- what cannot be answered ------------------------------------------------------


def test_an_unknown_name_is_told_with_its_place_and_what_is_near() -> None:
    with pytest.raises(UnknownName) as caught:
        answer('does "Tidline Wash" clear "Dimethicone"')
    assert caught.value.name == "Tidline Wash"
    assert "Tideline Wash" in caught.value.near


def test_pointing_back_needs_an_answer_to_point_to() -> None:
    with pytest.raises(Unanswerable):
        answer("which of those contain sulfates")


def test_what_is_no_film_cannot_be_cleared() -> None:
    with pytest.raises(Unanswerable, match="leaves no film"):
        answer('does "Tideline Wash" clear "Citric Acid"')


def test_what_is_no_product_leaves_nothing_to_tell() -> None:
    with pytest.raises(Unanswerable, match="names no product"):
        answer("what does water-insoluble silicone leave")


def test_a_thing_is_described_by_what_it_is() -> None:
    """What a label shows by it is told after what kind of thing it is."""
    described = answer('what is "Sodium Benzoate"')
    assert described.sentence == "Sodium Benzoate is a preservative."


def test_what_an_ingredient_is_comes_with_the_law_that_names_it() -> None:
    """A limit, a ban, and for a class those on its members; of others nothing."""
    one = answer('what is "Methylisothiazolinone"')
    assert any("0.0015 %" in note and "Annex V 57" in note for note in one.notes)
    assert any("barred from leave-on" in note for note in one.notes)
    assert any("0.0015 %" in n for n in answer("what are isothiazolinones").notes)
    assert not answer('what is "Dimethicone"').notes


@pytest.mark.parametrize(
    ("verb", "said"),
    [
        ("need a sulfate", "without sulfate surfactants, take some of"),
        ("build up", "hangs on"),
    ],
)
def test_what_is_needed_or_builds_up_is_answered_as_a_claim(
    verb: str, said: str
) -> None:
    """What a wash takes, or water, is no answer to that by itself."""
    found = answer(f'does "Dimethicone" {verb}')
    assert said in found.sentence
    claimed = verb.replace("need ", "needs ").replace("build ", "builds ")
    again = answer(f'is it true that "Dimethicone" {claimed}')
    same = (each.sentence.partition(": ")[2] for each in (again, found))
    assert len({*same}) == 1 or again.sentence == found.sentence


@pytest.mark.slow
def test_how_a_wash_stands_to_what_is_needed_is_not_said_of_a_film() -> None:
    found = answer("is it true that silicones need a sulfate").sentence
    assert found.startswith("False: Tideline Wash, without sulfate surfactants, ")
    assert " need no wash at all." in found


# --- first lines of lists -------------------------------------------------------------


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (
            'which washes clear "Petrolatum" and do not leave silicones',
            "Left out: Gullwing Silk Wash and Ferryman Dandruff Wash, which leave",
        ),
        (
            "which washes clear minerals",
            "Clarifying Wash takes some of each of the 6 ",
        ),
        ("which products leave silicones", "9 of the 25 products leave silicones, "),
        (
            'which of "Amodimethicone" and "Dimethicone" hardest first',
            "Amodimethicone is the harder to take off: with",
        ),
        (
            'which washes clear "Dimethicone" first 1 mildest first',
            "Lamp Room Clarifying Wash or Plover Mild Wash; nothing here tells which ",
        ),
        (
            "is it true that every anionic surfactant clears lanolin",
            "Sulfate alone takes part of Lanolin, not all",
        ),
        (
            "is it true that no co-wash clears some silicones",
            "Cannot tell: how much of PEG-10 Dimethicone Backwater Cream Cleanser",
        ),
    ],
)
def test_a_list_begins_with_a_sentence_that_answers(question: str, said: str) -> None:
    sentence = answer(question).sentence
    assert said in sentence
    assert not sentence.startswith(("Open", "None ", "Unsupported"))


def test_washes_that_are_offered_say_what_they_leave_themselves() -> None:
    found = answer("which washes clear Polyquaternium-11")
    (note,) = [each for each in found.notes if "of their own" in each]
    assert "Gullwing Silk Wash (" in note
    assert "Tideline" not in note


@pytest.mark.slow
def test_some_are_stronger_film_by_film() -> None:
    """One pair and one film is enough to be told; over all films nothing is shown."""
    found = answer(
        "is it true that some washes without sulfates are stronger than some washes "
        "that contain sulfates"
    )
    assert found.claim == "unsupported"
    assert found.sentence.startswith("Film by film, yes: Tideline Wash takes at least ")
    assert len(found.rows) == 2
