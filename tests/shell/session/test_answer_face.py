"""Answers as the result of a notebook's cell."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest
from abluent.engine.questions.answers.answer import Answer
from abluent.shell.session.session import Session

ASKED = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'


@pytest.fixture(scope="module")
def session() -> Session:
    """A session on the demo shelf."""
    return Session.open()


class Tags(HTMLParser):
    """The tags of a page, and those left open."""

    def __init__(self) -> None:
        super().__init__()
        self.met: set[str] = set()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.met.add(tag)
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_an_answer_shows_its_sentence_reasons_and_sources(session: Session) -> None:
    answer = session.ask(ASKED)
    assert isinstance(answer, Answer)
    markdown = getattr(answer, "_repr_markdown_")()  # noqa: B009 - as a notebook does
    html = getattr(answer, "_repr_html_")()  # noqa: B009
    said = "Tideline Wash takes most of Dimethicone from Harbour Cream off"
    how = "perhaps not all in one wash, by common practice."
    assert f"**Yes, likely: {said}, {how}**" in markdown
    assert "1. Dimethicone is number 3 on the label of Harbour Cream" in markdown
    tags = Tags()
    tags.feed(html)
    assert tags.open == []
    assert tags.met <= {"div", "p", "strong", "ul", "ol", "li"}
    assert "Sources:" in html
    assert str(answer).startswith("Yes, likely: Tideline Wash takes")


def test_what_a_label_says_is_never_run(session: Session) -> None:
    odd = Session.open()
    odd.add_label("<b onclick=x>Odd</b>", "wash", "Aqua, Sodium Laureth Sulfate")
    html = getattr(odd.ask("which washes"), "_repr_html_")()  # noqa: B009
    assert "&lt;b onclick=x&gt;" in html
    assert "<b " not in html
