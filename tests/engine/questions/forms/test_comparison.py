"""`compare` of washes, of films and of other products, on the demo shelf."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    return World(Base.load(), load_rulebook(), products(demo_shelf()))


def answer(text: str) -> Answer:
    return ask(parse_query(text), world())


def found(told: Answer, kind: str) -> list[str]:
    return [text for f in told.findings if f.kind == kind for text in f.items]


@pytest.mark.slow
def test_the_wash_that_takes_more_comes_first() -> None:
    """Who takes more and of what, then what each is built on."""
    said = answer('compare "Tideline Wash" and "Breakwater Wash"').sentence
    assert said.startswith("Tideline Wash takes at least part of cationic surfactants")
    assert "of which Breakwater Wash may take none" in said
    assert "Tideline Wash is built on Sodium C14-16 Olefin Sulfonate" in said
    assert "Breakwater Wash is built on Sodium Laureth Sulfate" in said


def test_a_condition_holds_for_both_sides() -> None:
    """In hard water a soap leaves what it does not in soft water."""
    asked = 'compare "Shingle Soap Wash" and "Breakwater Wash"'
    hard, soft = (answer(f"{asked} in {water} water") for water in ("hard", "soft"))
    lime = "Shingle Soap Wash can leave Lime Soap"
    assert hard.sentence.startswith(lime)
    assert lime not in soft.sentence
    assert not any(each.startswith(lime) for each in found(soft, "besides"))


@pytest.mark.slow
def test_each_takes_more_of_something() -> None:
    """Where it goes both ways both are told, and what a wash leaves is the reason."""
    told = answer('compare "Plover Mild Wash" and "Sandpiper Wash"')
    first, _, second = told.sentence.partition("; ")
    assert first.startswith("Plover Mild Wash takes at least part of waxes")
    assert second.startswith("Sandpiper Wash takes at least part of hydrolysed protein")
    own = "as it can leave such a film itself"
    assert any(own in t for t in found(told, "unshown"))


def test_a_difference_has_its_reason() -> None:
    """The claim that holds the one back, or that makes sure of the other."""
    told = found(answer('compare "Tideline Wash" and "Breakwater Wash"'), "unshown")
    assert "is counted on to take at least part of most films" in told[0]


@pytest.mark.slow
def test_a_difference_is_told_only_where_it_is_shown() -> None:
    """At most part and part may be the same; none and part are not."""
    told = answer('compare "Tideline Wash" and "Breakwater Wash"')
    assert found(told, "apart") == []
    assert "Of no film is either shown to take more." in told.sentence
    water = answer('compare "Tideline Wash" and water')
    assert "shown to take more" not in water.sentence
    parted, open_ = found(water, "apart"), found(water, "unshown")
    assert all("water takes none" in each for each in parted)
    assert parted
    assert open_
    assert not any("water takes none" in each for each in open_)


def test_mildness_and_what_they_leave_stand_below() -> None:
    told = found(answer('compare "Plover Mild Wash" and "Sandpiper Wash"'), "besides")
    assert told[0] == (
        "Sandpiper Wash is milder to skin than Plover Mild Wash: the trade counts "
        "amphoterics as milder to skin than the mild anionics."
    )
    assert "Sandpiper Wash is not known to leave a film of its own." in told
    assert told[-1].startswith("How sure: ")


def test_the_same_wash_twice_takes_the_same() -> None:
    """Two surfactants of one class are judged alike of every film."""
    told = answer('compare "Sodium Laureth Sulfate" and "Ammonium Laureth Sulfate"')
    assert "take the same of all" in told.sentence
    assert found(told, "apart") == []


def test_other_products_by_what_only_one_leaves() -> None:
    """What both leave, then what only one does; how sure is told once."""
    told = answer('compare "Harbour Cream" and "Tarred Rope Pomade"')
    assert told.sentence.startswith("Both leave Cetearyl Alcohol")
    assert "Only Harbour Cream leaves" in told.sentence
    assert [f.kind for f in told.findings] == ["against", "against", "sure"]


def test_what_no_wash_puts_in_order_is_set_side_by_side() -> None:
    """An order that says nothing is not printed."""
    asked = answer('which of "Amodimethicone" and "Dimethicone" hardest first')
    assert asked.sentence.startswith("Amodimethicone is the harder to take off: ")
    assert asked.notes == ()


@pytest.mark.parametrize("order", ["{0} and {1}", "{1} and {0}"])
def test_of_two_films_the_harder_is_named(order: str) -> None:
    """Whichever is named first; each wash is told, with the verdicts as rows."""
    names = order.format('"Amodimethicone"', '"Dimethicone"')
    told = answer(f"compare {names}")
    assert told.sentence.startswith("Amodimethicone is the harder to take off: with ")
    assert found(told, "washes")
    assert all(isinstance(row, Verdict) for row in told.rows)


def test_the_better_for_a_film_comes_first_with_what_makes_it_so() -> None:
    """The one that does more, by what, and what is in each."""
    told = answer('compare "Shallows Wash" and "Tideline Wash" for "Amodimethicone"')
    assert told.sentence.startswith("Tideline Wash takes part of Amodimethicone; that")
    heads = [each.head for each in told.findings]
    assert "In Tideline Wash" in heads
    assert "In Shallows Wash" in heads
    assert any(head.startswith("On wash day: ") for head in heads)


def test_the_better_for_what_a_product_leaves() -> None:
    """Of many films those come first of which the one does more."""
    told = answer('compare "Shallows Wash" and "Tideline Wash" for "Harbour Cream"')
    assert told.sentence.startswith("Tideline Wash is the better choice: it ")
    assert len({row.film for row in told.rows if isinstance(row, Verdict)}) > 1


def test_what_may_go_at_the_most_makes_no_better_choice() -> None:
    """One is shown to take none and the other at most part: it may be the better."""
    made = [
        Product(
            "Cream", "co-wash", "EU", "Aqua, Cetearyl Alcohol, Cetrimonium Chloride"
        ),
        Product("Beta", "wash", "EU", "Aqua, Cocamidopropyl Betaine"),
        Product(
            *("Mask", "conditioner", "EU"),
            "Aqua, Behentrimonium Chloride, Cetrimonium Chloride",
        ),
    ]
    shelf = World(Base.load(), load_rulebook(), made)
    told = ask(parse_query('compare "Cream" and "Beta" for "Mask"'), shelf)
    assert told.sentence.startswith(
        "Beta may be the better choice: it may take more of"
    )


def test_of_several_washes_the_best_for_a_film_comes_first() -> None:
    three = '"Shallows Wash", "Tideline Wash" and "Breakwater Wash"'
    told = answer(f'compare {three} for "Amodimethicone"')
    assert told.sentence == (
        "Tideline Wash and Breakwater Wash do most for Amodimethicone: they take part "
        "of it. Shallows Wash takes at most part."
    )


def test_like_washes_are_not_set_apart() -> None:
    told = answer('compare "Tideline Wash" and "Tideline Wash" for "Dimethicone"')
    assert told.sentence == (
        "Tideline Wash takes most of Dimethicone off, perhaps not all in one wash, by "
        "common practice."
    )
    assert not told.findings


def test_what_is_no_wash_is_told_with_what_takes_what_it_leaves() -> None:
    """And with a line for wash day, of each another one."""
    told = answer('compare "Harbour Cream" and "Tarred Rope Pomade"')
    against = [" ".join(f.items) for f in told.findings if f.kind == "against"]
    assert len(against) == 2
    assert all("At hand against it" in each for each in against)
    assert all("On wash day (" in each for each in against)
    days = [each.partition("On wash day")[2] for each in against]
    assert days[0] != days[1]


def test_what_one_wash_lays_down_again_leads() -> None:
    """Where that is what sets two washes apart, the other one is named for it."""
    told = answer('compare "Breakwater Wash" and "Gullwing Silk Wash"').sentence
    assert told.startswith("Gullwing Silk Wash can leave ")
    assert "to take such films off, Breakwater Wash is the one to use" in told


def test_two_kinds_of_films_are_told_as_kinds() -> None:
    """Which goes less easily as a kind, or that it does not; and those at hand."""
    hard = answer("which of waxes and fixatives hardest first").sentence
    easy = answer("which of waxes and fixatives easiest first").sentence
    assert "waxes go less easily than fixative polymers" in hard
    assert "fixative polymers go more easily than waxes" in easy
    mixed = answer('which of silicones and "oils and butters" hardest first').sentence
    assert mixed.startswith("That depends on which")
    assert len(mixed) < 700
