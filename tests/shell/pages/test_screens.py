"""Answers to questions of every form fit a screen of 80 columns.

The questions are made from the names on two shelves. A sample is asked here, all of
them in the long run.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from statistics import median

import pytest
from abluent.engine.questions.world.nouns import UnknownName
from abluent.shell.pages.answer import answer_page
from abluent.shell.session.session import Session

SECOND = Path(__file__).with_name("second_shelf.jsonl")
WIDE, MEDIAN, LONGEST = 80, 22, 40
_WASH, _PRODUCT, _FILM, _KIND = range(4)
SHELVES = ("demo", str(SECOND))
FILMS = (
    *("Dimethicone", "Amodimethicone", "beeswax", "mineral oil", "PEG-12 Dimethicone"),
    *("Polyquaternium-10", "Cetrimonium Chloride", "Cocos Nucifera Oil"),
)
CLASSES = ("silicones", "waxes", "gums", "oils")
OF_WASH_AND_FILM = (
    'does "{wash}" clear "{film}"',
    'why does "{wash}" clear "{film}"',
    'how sure is it that "{wash}" clears "{film}"',
    'what must be so that "{wash}" clears "{film}"',
    'who says that "{wash}" clears "{film}"',
    'where do sources part over whether "{wash}" clears "{film}"',
)
OF_WASHES = (
    'what does "{wash}" clear',
    'how mild is "{wash}"',
    'how strong is "{wash}"',
    'is "{wash}" milder than "{other}"',
    'is "{wash}" stronger than "{other}"',
    'compare "{wash}" and "{other}"',
    'does "{wash}" contain sulfates',
)
OF_PRODUCTS = (
    'what does "{product}" leave',
    'what does "{product}" hide',
    'what is in "{product}"',
    'which washes clear everything from "{product}"',
    'does "{wash}" clear everything from "{product}"',
    'suppose "{product}" was a rinse: what does "{product}" leave',
)
OF_FILMS = (
    'which washes clear "{film}"',
    'which washes at least partly clear "{film}" mildest first',
    'what is the mildest wash that clears "{film}"',
    'which products leave "{film}"',
    'is it true that "{film}" needs a sulfate',
    'is it true that only sulfates clear "{film}"',
    'is "{film}" a silicone',
)
OF_CLASSES = (
    "which surfactants remove {kind}",
    "which {kind} do not build up",
    "is it true that every wash clears {kind}",
    "what are {kind}",
    "which products contain {kind}",
)
ALONE = (
    *("what do sulfates remove", "rank washes on my shelf", "which films need no wash"),
    *("rank washes on my shelf for oils", 'which ingredients named "*cone"'),
    'is it true that every ingredient named "*ate" is an anionic surfactant',
)


def questions(session: Session) -> list[str]:
    """Questions of every form about what is on a shelf, in turn."""
    nouns = session.world.products
    washes = [p for p in nouns if nouns[p].kind in {"wash", "co-wash"}]
    others = [p for p in nouns if p not in washes]
    things = {
        _WASH: [
            {"wash": w, "other": washes[n - 1], "film": FILMS[n % len(FILMS)]}
            for n, w in enumerate(washes)
        ],
        _PRODUCT: [
            {"product": p, "wash": washes[n % len(washes)]}
            for n, p in enumerate(others)
        ],
        _FILM: [{"film": film} for film in FILMS],
        _KIND: [{"kind": kind} for kind in CLASSES],
    }
    forms = [
        *((form, _WASH) for form in (*OF_WASH_AND_FILM, *OF_WASHES)),
        *((form, _PRODUCT) for form in OF_PRODUCTS),
        *((form, _FILM) for form in OF_FILMS),
        *((form, _KIND) for form in OF_CLASSES),
    ]
    made = [form.format(**names) for form, of in forms for names in things[of][:6]]
    return list(dict.fromkeys([*ALONE, *made]))


@cache
def session(shelf: str) -> Session:
    return Session.open([shelf])


def lines(shelf: str, question: str) -> int:
    """How many lines an answer takes, or why there is none."""
    try:
        page = answer_page(session(shelf).ask(question), WIDE)
    except UnknownName as error:
        page = str(error)
    assert all(len(line) <= WIDE for line in page.splitlines())
    return len(page.splitlines())


def fit(asked: Sequence[tuple[str, str]]) -> None:
    taken = {(shelf, text): lines(shelf, text) for shelf, text in asked}
    longest = {each: n for each, n in taken.items() if n > LONGEST}
    assert not longest
    assert median(taken.values()) <= MEDIAN


@pytest.mark.slow
def test_a_sample_of_answers_fits_a_screen() -> None:
    """Ten questions of each shelf."""
    asked = []
    for shelf in SHELVES:
        every = questions(session(shelf))
        asked += [(shelf, text) for text in every[3 :: len(every) // 10]]
    assert len(asked) >= 20
    fit(asked)


@pytest.mark.long
def test_every_answer_fits_a_screen() -> None:
    """Over 300 questions."""
    asked = [(shelf, q) for shelf in SHELVES for q in questions(session(shelf))]
    assert len(asked) > 300
    fit(asked)
