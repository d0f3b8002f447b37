"""Pictures of one label or of many: what is left on hair, hidden, listed how high."""

from __future__ import annotations

from abluent.shell.told.asking import is_wash
from abluent.shell.told.group import Zone
from hard_pictures import (
    LEAVES,
    told,
)
from shown import demo_session


def test_names_that_were_not_understood_are_told() -> None:
    """A list of what a product leaves is no longer than what was read of its label."""
    assert (
        told(LEAVES).beneath[0].startswith("We do not know what Merrowex Tidal Complex")
    )
    assert "on its label" in told(LEAVES).beneath[0]
    assert told('what does "Tarred Rope Pomade" leave').beneath == ()


def test_of_many_ways_to_stand_the_weakest_is_told() -> None:
    said = told("which products leave silicones").sure
    assert said == "Partly our own reasoning, not a lab test."


def test_what_is_left_stands_by_family() -> None:
    said = told(LEAVES)
    assert said.claim == (
        "Kelp Line Curl Cream leaves three oils and butters and four other films on "
        "hair; what we cannot read may add more."
    )
    assert sum(len(group.names) for group in said.groups) == 11
    assert "Fatty alcohols" in {group.word for group in said.groups}


def test_what_is_hidden_is_told_by_reason() -> None:
    said = told('what does "Gullwing Silk Wash" hide')
    assert said.groups[0].word == "Listed, and stays after the rinse"
    assert "Dimethicone" in said.groups[0].names
    assert all(group.why for group in said.groups)
    idle = told('what does "Sandpiper Wash" hide')
    names = ("Sodium Lauroyl Sarcosinate", "Sodium Cocoyl Glutamate")
    assert idle.claim == (
        "Easy to miss on the label of Sandpiper Wash: Sodium Lauroyl Sarcosinate and "
        "Sodium Cocoyl Glutamate."
    )
    (group,) = idle.groups
    assert (group.word, group.names) == ("Listed, but may do no work", names)


def test_each_wash_stands_once_with_what_it_leaves() -> None:
    said = told("what do washes leave")
    world = demo_session().world
    washes = [name for name in world.products if is_wash(world, name)]
    shown = [n for g in said.groups for n in (g.word, *g.names) if n in washes]
    assert sorted(shown) == sorted(washes)


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


def test_of_products_that_leave_a_thing_the_others_are_named_too() -> None:
    said = told("which washes leave silicones")
    *_, rest = said.groups
    assert rest.word == "No silicones known"
    assert sum(group.many for group in said.groups) == 12


def test_how_much_of_everything_is_what_the_order_tells() -> None:
    said = told('how much of everything does "Harbour Cream" contain')
    assert said.claim.startswith("On Harbour Cream the order tells which is more")
    (ladder,) = said.ladders
    zones = [rung.zone for rung in ladder.rungs]
    assert zones == sorted(zones, key=list(Zone).index)
    assert {zones[0], zones[-1]} == {Zone.BY_AMOUNT, Zone.ANY_ORDER}
    assert "Dimethicone" in {rung.name for rung in ladder.rungs if rung.asked}
    assert not [reason for reason in said.reasons if "%" in reason]
