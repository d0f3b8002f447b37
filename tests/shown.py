"""A small shelf whose names and labels try to break out of what shows them."""

from __future__ import annotations

from functools import cache

from abluent.engine.questions.answers.answer import Answer
from abluent.shell.pages.html import answer_html
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel

WASH = '=Cove <script>alert("1")</script> & Wash'
CREAM = "Fen\u202eCream"  # a mark that turns the letters after it around
LONG = "Estuary " + "Extraordinarily" * 12 + " Wash"
SOAP = "Aqua, Sodium Laureth Sulfate, <b>Parfum</b>, Cocamidopropyl Betaine"
SHELF = Shelf(
    "odd",
    (
        ShelfLabel(WASH, "wash", "EU", SOAP),
        ShelfLabel(LONG, "wash", "EU", "Aqua, Decyl Glucoside, Coco-Glucoside"),
        ShelfLabel(CREAM, "conditioner", "EU", "Aqua, Cetearyl Alcohol, Dimethicone"),
    ),
)
WHICH = "which washes clear Dimethicone"
DAY = "2026-01-31"
GONE = "which washes clear Cyclopentasiloxane"  # each, as none is needed


@cache
def session() -> Session:
    """The session on that shelf, loaded once."""
    return Session(SHELF)


@cache
def answered(question: str) -> Answer:
    """The answer of that session to a question."""
    return session().ask(question)


@cache
def page_of(question: str) -> str:
    """The HTML page of that answer; it is not held against the base, which is slow."""
    return answer_html(answered(question), question, DAY, by_base=False)


@cache
def demo(question: str) -> Answer:
    """The answer of the demo shelf to a question."""
    return demo_session().ask(question)


@cache
def demo_session() -> Session:
    """A session on the demo shelf."""
    return Session.open()
