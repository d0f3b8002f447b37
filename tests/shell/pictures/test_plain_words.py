"""Pictures speak as one does: everyday words, every row, each script in its face."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.account import acting
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.shell.pictures.card_lists import _packed
from abluent.shell.pictures.faces import flows_left
from abluent.shell.pictures.shapes import SHAPES
from abluent.shell.pictures.sheet import Sheet, contrast
from abluent.shell.pictures.text import even_lines, lines_of, runs
from abluent.shell.told.asking import is_wash
from abluent.shell.told.groups import verdicts_among
from abluent.shell.told.long_names import MOST, long_ones, shortened
from abluent.shell.told.plain import claim_of
from abluent.shell.told.reasons import reasons_of
from abluent.shell.told.spoken_names import common_name
from abluent.shell.told.telling import told_of
from abluent.shell.told.told import Told
from hard_pictures import (
    CLAIM,
    MANY,
    NAMES,
    NIGHT,
    ONE,
    ONLY,
    WHICH,
    card,
    foreign,
)
from shown import LONG, answered, demo, demo_session, session

SVG = "{http://www.w3.org/2000/svg}"
LEAVES = 'what does "Kelp Line Curl Cream" leave'
SIDES = 'compare "Tideline Wash" and "Shallows Wash" for silicones'
OPEN = 'does "Shallows Wash" clear "PEG-10 Dimethicone"'
DISPUTED = 'does "Breakwater Wash" clear "Dimethicone"'
ITSELF = 'does "Fog Bank Wash" clear "Polyquaternium-7"'
EVERY = "which washes clear silicones"
ASKED = (ONE, ONLY, CLAIM, MANY, WHICH, LEAVES, SIDES, OPEN, DISPUTED, ITSELF, EVERY)
UNSAID = re.compile(
    r"known here|reckoned|Not shown|from memory|this base|recalled|"
    r"at most|at least|measurement|equal rank|equal weight|at best|differs|\*"
)
"""What a reader of a picture would have to ask about."""


def told(question: str) -> Told:
    """What a picture of an answer of the demo shelf says."""
    return told_of(demo(question), question, demo_session().world)


def texts(sheet: Sheet) -> list[str]:
    """The lines of a picture."""
    found = ET.fromstring(sheet.bare()).iter(f"{SVG}text")
    return [each.text or "" for each in found]


@pytest.mark.parametrize("question", ASKED)
def test_nothing_on_a_picture_has_to_be_explained(question: str) -> None:
    said = told(question).aloud()
    assert not UNSAID.search(said), said
    assert said.endswith(".")


def test_a_reason_takes_a_line_or_two() -> None:
    for question in ASKED:
        for reason in told(question).reasons:
            assert len(reason) <= 150, reason


def test_every_verdict_and_standing_is_told_plainly() -> None:
    world = session().world
    values = world.known.verdict_roles
    assert {values[each] for each in values} == set(VERDICTS)
    for symbol in (*values, *world.base.instances("Standing")):
        assert world.base.record(symbol).text("plainly"), symbol


def test_a_bound_is_told_whole() -> None:
    """Some, at best, maybe: each verdict says what may be and what may not."""
    (row,) = demo(ONE).rows
    told_well = "Tideline Wash takes off Dimethicone from Harbour Cream well."
    assert claim_of(row) == told_well  # type: ignore[arg-type]
    whole = "Whether all of it really goes, nobody has shown."
    assert whole in told(ONE).reasons
    assert told(ITSELF).claim == "Fog Bank Wash hardly takes off Polyquaternium-7."
    assert told(OPEN).claim.startswith("We cannot tell whether")
    assert told(OPEN).cited == ""
    assert told(OPEN).sure == ""
    assert told(DISPUTED).claim.endswith("All of it? Sources disagree.")
    sides = told(DISPUTED).reasons[1:3]
    assert [s.split(" says")[0] for s in sides] == [
        "A supplier",
        "A popular book by a chemist",
    ]
    assert len(told(DISPUTED).works) >= len(sides)
    assert "on hair itself" in told(ITSELF).reasons[0]


def test_what_a_wash_leaves_itself_is_named_as_it_is() -> None:
    """Another film of the same family is not called the film that was asked about."""
    found = told('does "Gullwing Silk Wash" clear "Polyquaternium-7"').reasons
    (itself,) = (each for each in found if "on hair itself" in each)
    assert "Guar Hydroxypropyltrimonium Chloride" in itself
    assert "same family" in itself


def test_names_that_were_not_understood_are_told() -> None:
    """A list of what a product leaves is no longer than what was read of its label."""
    assert (
        told(LEAVES).beneath[0].startswith("We do not know what Merrowex Tidal Complex")
    )
    assert "on its label" in told(LEAVES).beneath[0]
    assert told('what does "Tarred Rope Pomade" leave').beneath == ()


def test_that_no_test_was_made_is_said_only_where_the_base_has_none() -> None:
    world = session().world
    for symbol in world.base.instances("Standing"):
        record = world.base.record(symbol)
        said = "not a lab test" in (record.text("plainly") or "")
        assert said is (record.number("rank") in {1, 2}), symbol


@pytest.mark.parametrize("shape", ["16:9", "9:16", "1:1"])
def test_a_list_has_every_row(shape: str) -> None:
    """A question for at least a part lists what takes less under words of its own."""
    answer = demo(WHICH)
    shown = " ".join(texts(card(answer, WHICH, shape)))
    rows = [*answer.rows, *answer.others]
    assert len(rows) == 12
    named = [row.wash for row in rows if row.wash in shown]  # type: ignore[union-attr]
    counted = [int(each) for each in re.findall(r"and (\d+) more", shown)]
    assert len(named) + sum(counted) == 12
    # A picture that is broad has room for few words; a phone held upright for each.
    assert shape == "16:9" or not counted
    assert "at least" not in shown


def test_what_is_compared_stands_side_by_side_and_is_all_there() -> None:
    table = told(SIDES).table
    assert table is not None
    assert table.columns == ("Tideline Wash", "Shallows Wash")
    assert told(SIDES).claim.startswith("For silicones, Tideline Wash is a better bet")
    shown = " ".join(texts(card(demo(SIDES), SIDES, "9:16")))
    for film, cells in table.rows:
        assert film.split(",")[0].split(" ")[0] in shown
        assert all(cells)
    assert "more films" not in shown


def test_of_three_the_one_is_named_that_is_ahead_of_each() -> None:
    asked = 'compare "Tideline Wash", "Shallows Wash" and "Fog Bank Wash" for silicones'
    said = told(asked).claim
    assert said == "For silicones, Tideline Wash is the best bet of these three."
    assert "more film" not in " ".join(texts(card(demo(asked), asked, "9:16")))
    even = 'compare "Shallows Wash" and "Dune Grass Wash" for silicones'
    assert "bet" not in told(even).claim


def test_what_rests_on_several_claims_stands_as_the_weakest() -> None:
    (row,) = demo('does "Lamp Room Clarifying Wash" clear "Amodimethicone"').rows
    assert isinstance(row, Verdict)
    (limit,) = [each for each in reasons_of(row) if "a mild cleanser" in each.text]
    assert "not a lab test" in limit.standing


def test_a_claim_names_what_shows_it_and_is_not_said_twice() -> None:
    true = 'is it true that "Cocamidopropyl Betaine" is an amphoteric surfactant'
    assert told(true).word == "True"
    assert told(true).claim not in told(true).reasons
    assert all("amphoteric" not in each for each in told(true).reasons)
    assert told(CLAIM).reasons[0].startswith("Sodium Benzoate is a preservative")
    assert "has no" in told(ONLY).reasons[0]


def test_of_many_ways_to_stand_the_weakest_is_told() -> None:
    said = told("which products leave silicones").sure
    assert said == "Partly our own reasoning, not a lab test."


def test_many_washes_on_films_of_one_kind_are_told_by_most_and_none_is_left_out() -> (
    None
):
    """What lays such a film down itself stands apart, what goes otherwise is told."""
    said = told(EVERY)
    assert sum(group.many for group in said.groups) == 12
    assert said.groups[0].word == "Well"
    (apart,) = (g for g in said.groups if g.word == "Takes off and puts on")
    assert "on hair itself" in apart.why
    assert any("less well than the rest" in each for each in said.reasons)
    assert "No wash is needed for" in said.reasons[-1]


def test_each_of_what_a_product_leaves_is_told_by_the_hardest() -> None:
    said = told('which washes clear everything from "Tarred Rope Pomade"')
    assert "Well" not in [group.word for group in said.groups]
    assert any(each.startswith("Hardest to take off:") for each in said.reasons)


def test_a_question_about_washes_is_answered_in_words() -> None:
    two = 'which washes clear "Dimethicone" or "Amodimethicone"'
    assert told(two).claim == (
        "Tideline Wash and Breakwater Wash take off Dimethicone or Amodimethicone, "
        "but only in part."
    )
    none = "None is known to take all of it off in one wash."
    assert told(two).reasons[0] == none
    assert none not in told(WHICH).reasons
    best = "Tideline Wash and Breakwater Wash take Dimethicone off well."
    assert told(WHICH).claim == best
    for question in (two, WHICH, EVERY):
        assert not told(question).claim.endswith("?"), question


def test_what_is_not_so_is_quoted_and_calls_for_no_care() -> None:
    false = told('is it true that "Tideline Wash" clears "Petrolatum"')
    assert false.claim == "“Tideline Wash clears Petrolatum”"
    assert false.reasons[0] == "It takes it off in part."
    assert false.caution == ""


def test_names_in_lines_are_whole_and_no_last_line_is_a_lone_short_word() -> None:
    parts = ["Harbour Cream,", "Mooring Mask,", "Glass Float Serum"]
    for room in range(360, 900, 20):
        for line in _packed(parts, room, 40):
            assert any(line.endswith(part) for part in parts), line
    lines = even_lines("It takes off some of the film, maybe none.", 480, 40)
    assert len(lines) == 2
    assert lines[-1] != "none."


def test_a_pattern_within_a_quoted_claim_has_quotes_of_its_own() -> None:
    claim = told(
        'is it true that every silicone that is named "PEG-*" is water-soluble'
    )
    assert "beginning with \u2018PEG-\u2019 is" in claim.claim
    assert claim.claim[0] + claim.claim[-1] == "“”"


def test_a_wash_made_up_for_a_claim_has_no_label() -> None:
    said = told('is it true that every sulfate clears "Amodimethicone"')
    assert "label" not in " ".join(said.reasons)
    assert "Sodium Laureth Sulfate takes some of it off." in said.reasons


def test_what_is_left_stands_by_family() -> None:
    said = told(LEAVES)
    assert said.claim == (
        "Kelp Line Curl Cream leaves three oils and butters and four other films on "
        "hair; what we cannot read may add more."
    )
    assert sum(len(group.names) for group in said.groups) == 11
    assert "Fatty alcohols" in {group.word for group in said.groups}


def test_a_caution_that_belongs_to_the_claim_is_there_and_no_other() -> None:
    assert told(ONE).caution.startswith("A strong wash can leave hair rough")
    assert told(LEAVES).caution == ""
    assert told(ITSELF).caution == ""
    assert told(CLAIM).caution == ""
    assert told(OPEN).caution == ""
    quat = told('does "Tideline Wash" clear "Behentrimonium Chloride"').caution
    assert quat.startswith("A strong wash")


@pytest.mark.parametrize("language", sorted(NAMES))
def test_a_foreign_name_changes_no_word_beside_it(language: str) -> None:
    question = f'does "{NAMES[language]}" clear "Dimethicone"'
    root = ET.fromstring(card(foreign().ask(question), question, "1:1").bare())
    other = [each for each in root.iter(f"{SVG}text") if "font-family" in each.attrib]
    plain = [each for each in root.iter(f"{SVG}text") if each not in other]
    assert any("takes off" in (each.text or "") for each in plain)
    for each in other:
        assert not re.search("[A-Za-z]", each.text or ""), each.text
    for each in plain:
        found = runs(each.text or "")
        assert [run.script for run in found] == [None] * len(found), each.text


def test_what_flows_left_has_a_line_of_its_own() -> None:
    lines = lines_of(f"The {NAMES['hebrew']} takes some.", 1e9, 40)
    assert lines == ["The", NAMES["hebrew"], "takes some."]
    assert flows_left(NAMES["arabic"])
    assert not flows_left(NAMES["japanese"])


def test_a_long_name_is_short_in_the_claim_and_whole_once() -> None:
    question = f'does "{LONG}" clear Dimethicone'
    said = told_of(answered(question), question)
    assert LONG in said.claim
    assert LONG not in said.short().claim
    assert "…" in said.short().claim
    shown = "".join(texts(card(answered(question), question, "9:16")))
    assert shown.replace(" ", "").count(LONG.replace(" ", "")) == 1


def test_names_are_shortened_in_the_middle_and_stay_apart() -> None:
    assert shortened("Harbour Cream") == "Harbour Cream"
    one, other = "Wash " + "a" * 60 + " One", "Wash " + "a" * 70 + " One"
    assert len(shortened(one)) <= MOST
    assert shortened(one).startswith("Wash a")
    assert shortened(one).endswith(" One")
    assert len(set(long_ones([one, other]).values())) == 2


@pytest.mark.parametrize("night", [False, True])
def test_all_text_is_far_from_its_paper(night: bool) -> None:
    sheet = (
        card(demo(ONE), ONE, "9:16", NIGHT) if night else card(demo(ONE), ONE, "9:16")
    )
    paper = NIGHT.paper if night else "#fbfaf6"
    inks = {
        each.attrib["fill"] for each in ET.fromstring(sheet.bare()).iter(f"{SVG}text")
    }
    assert inks
    assert all(contrast(ink, paper) >= 4.5 for ink in inks)


def test_every_verdict_has_a_claim_and_water_too() -> None:
    """All but `clears`, of which the demo shelf has none."""
    met = set()
    for question in (
        *(MANY, OPEN, 'does water clear "Polyquaternium-10"'),
        'does "Shallows Wash" clear "Dimethicone"',
        'does "Shallows Wash" clear "Cyclopentasiloxane"',
    ):
        for row in (*demo(question).rows, *demo(question).others):
            met.add(row.role)  # type: ignore[union-attr]
            assert claim_of(row)[0].isupper()  # type: ignore[arg-type]
    assert met == set(VERDICTS) - {Role.CLEARED}
    assert set(SHAPES) == {"16:9", "9:16", "1:1", "A4"}


def test_what_cleans_is_said_with_what_it_does_to_the_film() -> None:
    """A place on a label and a charge are no reasons; what it takes is one."""
    assert "takes some of it off." in told(ONE).reasons[0]
    for question in ASKED:
        for reason in told(question).reasons:
            assert not re.search(r"works with|negative charge\.$", reason), reason


def test_a_table_of_one_row_is_a_list() -> None:
    said = told('compare "Breakwater Wash" and "Dune Grass Wash" for waxes')
    assert said.table is None
    assert [g.names for g in said.groups] == [
        ("Breakwater Wash",),
        ("Dune Grass Wash",),
    ]


def test_no_reason_speaks_of_another_wash() -> None:
    """That no anionic cleanser is at work is said only of a wash in which none is."""
    base = session().world.base
    anionic = base.find_class("anionic surfactants")
    question = 'which washes clear "Amodimethicone"'
    told_of_none = 0
    for row in verdicts_among(demo(question).others):
        if any("no anionic" in each.text for each in reasons_of(row)):
            _, at_work = acting(row)
            kinds = [base.classes_of(each.symbol) for each in at_work]
            assert all(anionic not in each for each in kinds), row.wash
            told_of_none += 1
    assert told_of_none


def test_a_group_of_a_list_has_its_reason() -> None:
    groups = told('which washes clear "Dimethicone"').groups
    assert [group.word for group in groups if not group.why] == ["Well", "Hardly"]
    for group in groups:
        assert group.why or all(" (" in name for name in group.names), group
    whys = [group.why for group in groups if group.why]
    assert len({*whys}) == len(whys) == 2


def test_that_a_label_lists_none_of_it_is_told() -> None:
    said = told('does "Tideline Wash" rightly say "sulfate-free"')
    assert said.word == "Yes"
    assert said.claim == "Tideline Wash may rightly say “sulfate-free”."
    assert said.reasons[-1] == (
        "We know all 25 names on the label, and none is a sulfate cleanser."
    )


def test_a_common_name_stands_beside_that_of_the_label() -> None:
    assert (
        "petroleum jelly (Petrolatum)"
        in told('does "Tideline Wash" clear "Petrolatum"').claim
    )
    assert common_name(session().world.base, "cera-alba") == "beeswax"
    assert common_name(session().world.base, "dimethicone") == ""


def test_what_is_hidden_is_told_by_reason() -> None:
    said = told('what does "Gullwing Silk Wash" hide')
    assert said.groups[0].word == "Listed, and stays after the rinse"
    assert "Dimethicone" in said.groups[0].names
    assert all(group.why for group in said.groups)


def test_what_to_do_is_told() -> None:
    assert told(ITSELF).advice.startswith("Of your washes, ")
    assert told('what is "Cera Alba"').advice.startswith("Look for ")


def test_a_long_name_of_a_wash_is_no_sentence() -> None:
    question = "which washes clear Dimethicone"
    said = told_of(answered(question), question)
    assert LONG in [name for group in said.groups for name in group.names]
    assert not said.claim.endswith("?")


def test_each_wash_stands_once_with_what_it_leaves() -> None:
    said = told("what do washes leave")
    world = demo_session().world
    washes = [name for name in world.products if is_wash(world, name)]
    shown = [n for g in said.groups for n in (g.word, *g.names) if n in washes]
    assert sorted(shown) == sorted(washes)


def test_what_only_is_said_to_do_it_and_takes_a_part_is_not_as_said() -> None:
    """That a part goes without is shown; that all does is not, so it is not false."""
    question = "is it true that only sulfate surfactants clear silicones"
    said = told(question)
    assert said.word == "No, not only"
    assert demo(question).sentence.startswith("Not so as said: ")
    assert "has no sulfate cleanser and yet takes off" in said.reasons[0]
    assert not any("nobody has shown" in said.reasons[n] for n in said.chosen)


def test_which_washes_list_a_thing_is_answered_by_name() -> None:
    said = told("which washes contain sulfate surfactants")
    assert said.claim == (
        "3 of 12 washes contain a sulfate cleanser: Breakwater Wash, Gullwing Silk "
        "Wash and Ferryman Dandruff Wash."
    )
    assert any("is no sulfate cleanser: it is a" in each for each in said.reasons)
    assert said.sure == "Read off the labels, all names known."
    assert said.advice


def test_the_mildest_stand_first_and_numbered() -> None:
    said = told('which washes clear everything from "Tarred Rope Pomade" mildest first')
    assert said.claim == (
        "Lamp Room Clarifying Wash, then Plover Mild Wash: the mildest that take off "
        "part of everything that Tarred Rope Pomade leaves."
    )
    assert said.groups[0].names[0].startswith("1. ")
    assert "kind of cleanser" in said.note


def test_one_film_is_compared_by_what_helps_against_it() -> None:
    sides = 'compare "Tideline Wash" and "Shallows Wash" for "Hard-Water Minerals"'
    said = told(sides)
    assert len(set(said.reasons)) == len(said.reasons) > 1
    assert "if any" not in said.claim


def test_what_water_takes_is_said_to_rinse_out_and_no_other() -> None:
    """As the base has it: of a protein not all goes, of a silicone nobody knows."""
    stays, soluble, rinses = told('what does "Foreshore Leave-in" leave').groups
    assert soluble.names == ("PEG-12 Dimethicone",)
    assert soluble.word.startswith("Dissolves in water")
    assert "Hydrolyzed Rice Protein" in stays.names
    assert "Inulin" in rinses.names


def test_what_is_rinsed_off_can_leave_a_film() -> None:
    """How much stays after rinsing no label tells; what is left in leaves it."""
    leaves = told('what does "Gullwing Silk Wash" leave in hard water').claim
    assert leaves.startswith("In hard water Gullwing Silk Wash can leave ")
    assert told('what does "Foreshore Leave-in" leave').claim.startswith(
        "Foreshore Leave-in leaves "
    )
    claim = told("what do washes leave").claim
    assert claim == "6 of 12 washes can leave something on hair themselves."


def test_a_list_of_washes_speaks_of_no_other_product() -> None:
    assert told("which washes leave silicones").beneath == ()
    assert "Kelp Line Curl Cream" in told("which products leave silicones").beneath[0]


def test_the_level_that_a_label_proves_is_that_of_its_law() -> None:
    said = told('does "Tideline Wash" contain "Cocamidopropyl Betaine" at 1 %')
    assert said.reasons[0].endswith("on the list, which prints no amounts.")
    assert (
        "Potassium Sorbate (14th) down is it sure that each is 1 %" in (said.reasons[1])
    )
    assert said.reasons[1].endswith("as the law caps it there.")


def test_water_is_a_name_only_at_the_head() -> None:
    assert (
        "whether water takes off"
        in told('does water at least partly clear "PEG-12 Dimethicone"').claim
    )


@pytest.mark.parametrize(
    ("claim", "word", "shows"),
    [
        (
            "no wash clears waxes",
            "Not so as said",
            "Tideline Wash takes off beeswax (Cera Alba) in part.",
        ),
        (
            "sulfates clear silicones",
            "False as said",
            "Sodium Laureth Sulfate alone takes off Amodimethicone in part.",
        ),
        (
            'nothing without sulfates clears "Dimethicone"',
            "Not so as said",
            "Tideline Wash takes off Dimethicone well.",
        ),
    ],
)
def test_a_claim_that_a_part_bears_out_or_belies_says_so(
    claim: str, word: str, shows: str
) -> None:
    """It is quoted, lest it be read as what the picture says."""
    question = f"is it true that {claim}"
    said = told(question)
    quoted = claim.replace('"', "")
    assert (said.word, said.claim) == (word, f"“{quoted[0].upper()}{quoted[1:]}”")
    assert said.reasons[0] == shows
    first = shows.partition(" takes")[0]
    assert demo(question).sentence.startswith(f"{word}: {first}")


def test_two_washes_in_all_are_told_by_what_each_leaves() -> None:
    said = told('compare "Tideline Wash" and "Gullwing Silk Wash"')
    assert said.claim.startswith("Gullwing Silk Wash leaves films on hair; Tideline")
    assert [g.word for g in said.groups] == ["Tideline Wash", "Gullwing Silk Wash"]
    assert all("cleans first of all with" in g.names[0] for g in said.groups)


def test_of_products_that_leave_a_thing_the_others_are_named_too() -> None:
    said = told("which washes leave silicones")
    *_, rest = said.groups
    assert rest.word == "No silicones known"
    assert sum(group.many for group in said.groups) == 12


def test_why_all_is_so_is_told_once() -> None:
    said = told('which washes clear "Cera Alba"')
    whys = [group.why for group in said.groups if group.why]
    wax = "Wax is still solid in a warm wash: one wash works on its surface only."
    assert (*whys, *said.reasons).count(wax) == 1


def test_what_a_thing_is_not_is_said_in_everyday_words() -> None:
    said = told('is "Behentrimonium Methosulfate" a sulfate surfactant')
    assert said.word == "No"
    assert said.claim.endswith("with a positive charge, not a sulfate cleanser.")
    assert "“methosulfate” in its name" in said.reasons[0]


def test_a_list_of_some_washes_says_of_which() -> None:
    said = told("which washes without sulfate surfactants at least partly clear waxes")
    assert said.claim == (
        "Of washes without sulfate surfactants: Tideline Wash, Lamp Room Clarifying "
        "Wash and Plover Mild Wash take off waxes, but only in part."
    )


def test_washes_over_everything_are_a_grid_of_kinds() -> None:
    said = told("what do washes clear")
    assert said.table is not None
    assert said.bare
    assert "silicones" in said.table.columns
    assert not said.claim.endswith("?")


def test_each_part_of_a_claim_is_judged_by_itself() -> None:
    cream = '"Harbour Cream"'
    said = told(
        f"is it true that {cream} contains silicones, "
        f"and also that {cream} contains no silicones"
    )
    assert said.word == "Half true"
    assert [group.word for group in said.groups] == ["True", "False"]


def test_how_much_of_everything_is_what_the_order_tells() -> None:
    said = told('how much of everything does "Harbour Cream" contain')
    assert said.claim == "Harbour Cream is listed by amount down to about 1 %."
    assert said.groups[0].names[0].startswith("1 ")
    assert said.groups[-1].word == "Each 1 % or less, in any order"
