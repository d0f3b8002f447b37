"""Bounds over the shipped base: no order is violated, and ignorance gains nothing."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from abluent.engine.base.roles import EFFECTS
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.verdicts import ENDS, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World

AGENTS = (
    "Sodium Laureth Sulfate",
    "Sodium Lauryl Sulfate",
    "Sodium C14-16 Olefin Sulfonate",
    "Disodium Laureth Sulfosuccinate",
    "Sodium Cocoyl Isethionate",
    "Sodium Lauroyl Sarcosinate",
    "Disodium Cocoyl Glutamate",
    "Sodium Lauroyl Lactylate",
    "Cocamidopropyl Betaine",
    "Decyl Glucoside",
    "Sodium Deceth Sulfate",
    "Potassium Cocoate",
)
FILMS = (
    "Dimethiconol",
    "Amodimethicone",
    "Cocos Nucifera Oil",
    "Isopropyl Myristate",
    "Paraffinum Liquidum",
    "Petrolatum",
    "Beeswax",
    "Polyquaternium-10",
    "Behentrimonium Chloride",
    "PVP",
    "Hydrolyzed Keratin",
    "lime soap",
    "hard-water minerals",
)
UNREAD = "Zqxv Wrtk"


@cache
def empty() -> World:
    return World(Base.load(), load_rulebook())


def ends(label: str, film: str, *stated: str) -> tuple[int, int]:
    """What a wash of one label takes at least and at most, as places in the scale."""
    symbol = empty().base.lookup(film)
    assert symbol, film
    world = empty().with_products([Product("it", "wash", "EU", label)])
    (row,) = verdicts(Case.of(world, ["it"], [symbol], stated=stated))
    least, most = ENDS[row.role]
    return EFFECTS.index(least), EFFECTS.index(most)


def test_the_order_is_violated_nowhere() -> None:
    """In both directions, over all classes of agents and films, in every setting."""
    model = Case.of(empty()).model
    yes = set(model.match("yesInferred", (None,) * 4))
    no = set(model.match("noInferred", (None,) * 4))
    refuted = set(model.match("refutedInferred", (None,) * 5))
    settings = [row[0] for row in model.match("setting", (None,))]
    questions = [row[0] for row in model.match("effect", (None,))]
    order = list(model.match("orderInferred", (None,) * 4))
    assert len(order) > 1000
    wrong = [
        (less, film, more, easier, setting, asked)
        for less, film, more, easier in order
        for setting in settings
        for asked in questions
        if (less, film, more, easier, setting) not in refuted
        and (
            (less, film, setting, asked) in yes
            and (more, easier, setting, asked) not in yes
        )
        | (
            (more, easier, setting, asked) in no
            and (less, film, setting, asked) not in no
        )
    ]
    assert wrong == []


def test_nothing_is_both_shown_and_excluded() -> None:
    model = Case.of(empty()).model
    rows = {
        name: set(model.match(name, (None,) * 4))
        for name in ("yesInferred", "noInferred", "disputeInferred")
    }
    assert not rows["yesInferred"] & rows["noInferred"]
    assert not rows["disputeInferred"] & (rows["yesInferred"] | rows["noInferred"])


@pytest.mark.parametrize("seed", range(20))
def test_one_more_agent_lowers_neither_end(seed: int) -> None:
    """A wash takes at least what it took without the agent that is added."""
    random = Random(seed)
    one, other = random.sample(AGENTS, 2)
    film, water = random.choice(FILMS), random.choice(["soft", "hard"])
    alone = ends(f"Aqua, {one}", film, f"in {water} water")
    both = ends(f"Aqua, {other}, {one}", film, f"in {water} water")
    assert both[0] >= alone[0]
    assert both[1] >= alone[1]


@pytest.mark.parametrize("seed", range(20))
def test_an_unread_name_in_place_of_the_cleanser_narrows_nothing(seed: int) -> None:
    """It never raises the lower end, nor lowers the upper one."""
    random = Random(100 + seed)
    one, other = random.sample(AGENTS, 2)
    film = random.choice(FILMS)
    read = ends(f"Aqua, {one}, {other}", film, "in soft water")
    unread = ends(f"Aqua, {UNREAD}, {other}", film, "in soft water")
    assert unread[0] <= read[0]
    assert unread[1] >= read[1]


def test_a_wash_whose_only_cleanser_was_not_read_may_do_anything() -> None:
    """Ignorance is no evidence: neither "clears" nor "does not clear"."""
    for film in ("Dimethiconol", "Cocos Nucifera Oil", "PVP"):
        assert ends(f"Aqua, {UNREAD}, Glycerin", film, "in soft water")[1] == 2


def test_a_mild_anionic_takes_no_more_than_the_measured_strong_one() -> None:
    """What an ether sulfate was seen to leave, an isethionate leaves at least."""
    strong = ends("Aqua, Sodium Laureth Sulfate", "Dimethiconol", "in soft water")
    mild = ends("Aqua, Sodium Cocoyl Isethionate", "Dimethiconol", "in soft water")
    assert mild[1] <= strong[1] == 1
