"""Pictures of hard cases: long and foreign names, many rows, doubt on every side."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from abluent.engine.questions.answers.answer import Answer
from abluent.shell.pictures.card import Wish, answer_card
from abluent.shell.pictures.levels import level_list
from abluent.shell.pictures.sheet import Look, Sheet
from abluent.shell.pictures.short_proof import short_proof
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from shown import LONG, answered, demo, session

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


@cache
def foreign() -> Session:
    """A shelf of washes with such names."""
    labels = [ShelfLabel(name, "wash", "EU", SOAP) for name in NAMES.values()]
    return Session(Shelf("foreign", tuple(labels)))


def card(answer: Answer, question: str, shape: str, look: Look = LOOK) -> Sheet:
    """A card of an answer."""
    return answer_card(answer, question, Wish(shape, DAY, look))


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
HARD: Mapping[str, Callable[[], Sheet]] = {
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
"""The pictures, by the names of their files."""
