"""Pictures of hard cases: long and foreign names, many rows, doubt on every side."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable, Mapping
from functools import cache

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import account_of
from abluent.shell.pictures.card import Wish, answer_card
from abluent.shell.pictures.levels import level_list
from abluent.shell.pictures.sheet import Look, Sheet
from abluent.shell.pictures.short_proof import short_proof
from abluent.shell.routine.picture import films_over_days
from abluent.shell.routine.read import routines_of
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from abluent.shell.told.telling import told_of
from abluent.shell.told.told import Told
from shown import LONG, answered, demo, demo_session, session

DAY = "2026-01-31"
LOOK = Look(handle="@quay.class")
SOAP = "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Parfum"
NAMES = {
    "japanese": "潮線シャンプー",
    "arabic": "غسول المد والجزر",
    "hebrew": "שמפו הגאות",
    "emoji": "Wave 🌊 Wash",
}
"""Names of washes in letters that the typeface of the pictures lacks."""
ONE = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
EVERY = "which washes clear silicones"
LEAVES = 'what does "Kelp Line Curl Cream" leave'
SIDES = 'compare "Tideline Wash" and "Shallows Wash" for silicones'


@cache
def foreign() -> Session:
    """A shelf of washes with such names."""
    labels = [ShelfLabel(name, "wash", "EU", SOAP) for name in NAMES.values()]
    return Session(Shelf("foreign", tuple(labels)))


def card(
    answer: Answer,
    question: str,
    shape: str,
    look: Look = LOOK,
    world: World | None = None,
) -> Sheet:
    """A card of an answer."""
    return answer_card(answer, question, Wish(shape, DAY, look, world=world))


def told(question: str) -> Told:
    """What a picture of an answer of the demo shelf says."""
    return told_of(demo(question), question, demo_session().world)


def texts(sheet: Sheet) -> list[str]:
    """The lines of a picture."""
    found = ET.fromstring(sheet.bare()).iter("{http://www.w3.org/2000/svg}text")
    return [each.text or "" for each in found]


def _of_demo(question: str, shape: str, look: Look = LOOK) -> Callable[[], Sheet]:
    return lambda: card(demo(question), question, shape, look)


def _of_odd(question: str, shape: str) -> Callable[[], Sheet]:
    return lambda: card(answered(question), question, shape)


def _of_foreign(name: str, shape: str) -> Callable[[], Sheet]:
    question = f'does "{NAMES[name]}" clear "Dimethicone"'
    return lambda: card(foreign().ask(question), question, shape)


def _levels() -> Sheet:
    label, read = session().read_product(LONG)
    return level_list(label.product, read, session().levels(read), DAY, LOOK)


CLAIM = 'is it true that every ingredient named "*ate" is an anionic surfactant'
ONLY = "is it true that only sulfates clear water-insoluble silicones"
MANY = 'does "Tideline Wash" clear everything'
WHICH = 'which washes at least partly clear "Dimethicone"'
NIGHT = Look("#f1ece0", "#12263a", "#e8b65a", "@quay.class")
OLD: Mapping[str, Callable[[], Sheet]] = {
    "01-long-name-tall": _of_odd(f'does "{LONG}" clear Dimethicone', "9:16"),
    "02-markup-in-names-square": _of_odd("which washes clear Dimethicone", "1:1"),
    "03-japanese-tall": _of_foreign("japanese", "9:16"),
    "04-arabic-square": _of_foreign("arabic", "1:1"),
    "05-hebrew-tall": _of_foreign("hebrew", "9:16"),
    "06-emoji-wide": _of_foreign("emoji", "16:9"),
    "07-false-claim-square": _of_demo(CLAIM, "1:1"),
    "08-unsupported-claim-tall": _of_demo(ONLY, "9:16"),
    "09-twelve-washes-wide": _of_demo(WHICH, "16:9"),
    "10-everything-folded-tall": _of_demo(
        'does "Tideline Wash" clear everything', "9:16"
    ),
    "11-no-wash-needed-square": _of_odd("which washes clear Cyclopentasiloxane", "1:1"),
    "12-many-films-square": _of_demo('what does "Kelp Line Curl Cream" leave', "1:1"),
    "13-compared-tall": _of_demo(
        'compare "Tideline Wash" and "Shallows Wash" for silicones', "9:16"
    ),
    "14-night-colours-tall": _of_demo(ONE, "9:16", NIGHT),
    "15-open-wide": _of_demo('does "Fog Bank Wash" clear "Polyquaternium-7"', "16:9"),
    "16-grid-tall": _of_demo(WHICH, "9:16"),
    "17-levels-tall": _levels,
    "18-short-proof": lambda: short_proof(demo(ONE), ONE, DAY, LOOK),
    "19-sheet-to-print": _of_demo(ONE, "A4"),
}
MILK = (
    "Aqua, Cetearyl Alcohol, Behentrimonium Chloride, Dimethicone, "
    "Butyrospermum Parkii Butter, Polyquaternium-10, Parfum"
)
MILD = "Aqua, Decyl Glucoside, Coco-Glucoside, Glycerin"
CREAM, KELP, STAR, KOREAN = "晨雾护发素", "Kelp 🌿 Cleanser", "Wave ★ Wash", "바다 샴푸"
WEEK = """\
routine "Quay week"
water is soft
wash with "Gullwing Silk Wash" on Wednesday
wash with "Tideline Wash" on Sunday
use "Harbour Cream" after every wash
count partly clears as clearing
clear silicones every wash
"""


@cache
def scripts() -> Session:
    """A shelf on which every product is written otherwise."""
    names = (NAMES["arabic"], NAMES["hebrew"], KOREAN, STAR)
    labels = [ShelfLabel(name, "wash", "EU", SOAP) for name in names]
    labels.append(ShelfLabel(KELP, "wash", "EU", MILD))
    labels.append(ShelfLabel(CREAM, "conditioner", "EU", MILK))
    return Session(Shelf("scripts", tuple(labels)))


def _of_scripts(question: str, shape: str) -> Callable[[], Sheet]:
    return lambda: card(scripts().ask(question), question, shape)


def _hebrew_proof() -> Sheet:
    question = f'does "{NAMES["hebrew"]}" clear Dimethicone from "{CREAM}"'
    return short_proof(scripts().ask(question), question, DAY, LOOK)


def _demo_levels() -> Sheet:
    whole = Session.open()
    label, read = whole.read_product("Harbour Cream")
    levels = whole.levels(read)
    return level_list(label.product, read, levels, DAY, LOOK, market=label.market)


def week(text: str, asked_of: Session) -> Sheet:
    """The picture of a routine."""
    world = asked_of.world
    (found,) = routines_of(text, "", asked_of.shelf)
    assert found.routine is not None
    overview = account_of(found.routine, world).overview
    return films_over_days(found.routine.name, overview, world, LOOK, day=DAY)


NEW: Mapping[str, Callable[[], Sheet]] = {
    "21-long-inci-square": _of_demo(
        'does "Tideline Wash" clear "Hydroxypropyltrimonium Hydrolyzed Wheat Protein"',
        "1:1",
    ),
    "22-chinese-leaves-square": _of_scripts(f'what does "{CREAM}" leave', "1:1"),
    "23-scripts-listed-tall": _of_scripts("which washes clear Dimethicone", "9:16"),
    "24-hebrew-short-proof": _hebrew_proof,
    "25-emoji-tall": _of_scripts(
        f'does "{KELP}" clear "Polyquaternium-10" from "{CREAM}"', "9:16"
    ),
    "26-disputed-square": _of_demo('does "Breakwater Wash" clear "Dimethicone"', "1:1"),
    "27-cannot-tell-tall": _of_demo(
        'does "Shallows Wash" clear "PEG-10 Dimethicone"', "9:16"
    ),
    "28-three-compared-tall": _of_demo(
        'compare "Tideline Wash", "Shallows Wash" and "Fog Bank Wash" for silicones',
        "9:16",
    ),
    "29-two-films-tall": _of_demo(
        'which washes clear "Dimethicone" or "Amodimethicone"', "9:16"
    ),
    "30-levels-tall": _demo_levels,
    "31-true-claim-wide": _of_demo(
        'is it true that "Cocamidopropyl Betaine" is an amphoteric surfactant', "16:9"
    ),
    "32-false-claim-tall": _of_demo(
        'is it true that water clears "Dimethicone"', "9:16"
    ),
    "33-products-wide": _of_demo("which products leave silicones", "16:9"),
    "34-week-tall": lambda: week(WEEK, Session.open()),
    "35-night-false-square": _of_demo(
        'is it true that "Tideline Wash" clears "Petrolatum"', "1:1", NIGHT
    ),
}
HARD = {**OLD, **NEW}
"""The pictures, by the names of their files."""
