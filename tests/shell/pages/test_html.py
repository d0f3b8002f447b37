"""The HTML page: whole, well formed, escaped, and asking for nothing."""

from __future__ import annotations

import re
from functools import cache
from html.parser import HTMLParser
from importlib.resources import files

import pytest
from abluent.engine.trace.answer import traces
from abluent.engine.trace.steps import Goal, Step, steps_of
from abluent.shell.ground.typeface import FALLBACK, page_font_css
from abluent.shell.pages.chain import DEEPEST, tree_of
from abluent.shell.pages.html import answer_html
from abluent.shell.pages.marks import marked_labels
from shown import CREAM, DAY, SHELF, WHICH, answered, demo, page_of

pytestmark = pytest.mark.slow

DISPUTED = 'does "Breakwater Wash" clear Dimethicone'
VOID = {"meta", "br", "hr", "img", "link", "input"}


@cache
def disputed() -> str:
    """The page of an answer that sources part over."""
    return answer_html(demo(DISPUTED), DISPUTED, DAY, by_base=False)


class Outline(HTMLParser):
    """What a page is made of; fails where an element is not closed in turn."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.tags: list[str] = []
        self.text: list[str] = []
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.append(tag)
        self.ids += [found["id"] or ""] if "id" in found else []
        self.links += [found["href"] or ""] if "href" in found else []
        assert "src" not in found
        assert not any(name.startswith("on") for name in found)
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@pytest.mark.parametrize("question", [WHICH, f'what does "{CREAM}" leave'])
def test_a_page_is_well_formed_whatever_the_names_are(question: str) -> None:
    outline = Outline(page_of(question))
    assert "script" not in outline.tags
    assert "b" not in outline.tags
    assert len(set(outline.ids)) == len(outline.ids)
    inside = {link[1:] for link in outline.links}
    assert all(link.startswith("#") for link in outline.links)
    assert inside <= set(outline.ids)
    assert outline.tags.count("h1") == 1


def test_what_cannot_be_seen_is_written_out() -> None:
    page = page_of(f'what does "{CREAM}" leave')
    assert "\u202e" not in page
    assert r"Fen\u202eCream" in page


def test_a_page_asks_for_nothing_and_forbids_it() -> None:
    page = page_of(WHICH)
    assert "default-src 'none'" in page
    carried = r"url\(data:font/woff;base64,[A-Za-z0-9+/=]+\)"
    assert len(re.findall(carried, page)) == 2
    rest = re.sub(carried, "", page)
    assert not re.search(r"(?:https?:)?//[a-z]|url\(|@import", rest)
    assert '<html lang="en">' in page


def test_a_page_tells_the_answer_in_five_depths() -> None:
    text = " ".join("".join(Outline(disputed()).text).split())
    assert "clears, disputed" in text
    assert demo(DISPUTED).sentence in text
    assert "Sodium Laureth Sulfate is number 2 on the label" in text
    assert re.search(r"By rule [a-z-]+\.", text)
    assert "It holds." in text
    assert "Its weakest step:" in text


def test_a_page_says_what_the_check_held_the_answer_against() -> None:
    """Against the base where that is wanted, and then it is told."""
    question = 'does "Harbour Cream" contain silicones'
    for by_base in (True, False):
        page = answer_html(demo(question), question, DAY, by_base=by_base)
        assert "It holds." in page
        assert ("citations against the base" in page) is by_base


def test_both_sides_of_a_dispute_stand_next_to_each_other() -> None:
    page = disputed()
    sides = page[page.index('class="sides"') : page.index("How they part")]
    assert sides.count('class="side"') == 2
    assert "takes less than all" in sides
    assert "takes at least all" in sides
    assert "A supplier states" in sides


def test_the_deciding_names_are_marked_in_the_label() -> None:
    trace = traces(demo(DISPUTED), DISPUTED)[0]
    labels = marked_labels(trace, steps_of(trace))
    texts = {label["text"] for label in trace["labels"]}
    assert {"".join(s.text for s in each.stretches) for each in labels} == texts
    wash = next(each for each in labels if each.product == "Breakwater Wash")
    marked = [s.text for s in wash.stretches if s.steps]
    assert marked == ["SODIUM LAURETH SULFATE", "SODIUM LAURYL SULFATE"]


def step(number: int, *rests_on: int) -> Step:
    return Step(
        number,
        f"Step {number}.",
        "rule",
        "",
        "",
        False,
        (),
        "",
        rests_on,
        None,
        False,
        "",
    )


def goal(number: int) -> Goal:
    return Goal("", True, "", False, number)


def test_a_shared_step_is_shown_once() -> None:
    steps = [step(1), step(2, 1), step(3, 1, 2)]
    (tree,) = tree_of(steps, [goal(3)])
    kinds = [(mark.kind, mark.step.number) for mark in tree]
    assert kinds == [
        ("open", 3),
        ("leaf", 1),
        ("open", 2),
        ("see", 1),
        ("close", 2),
        ("close", 3),
    ]


def test_a_chain_of_any_length_is_shown_whole() -> None:
    count = 5000
    steps = [step(1), *(step(n, n - 1) for n in range(2, count + 1))]
    trees = list(tree_of(steps, [goal(count)]))
    shown = [m.step.number for t in trees for m in t if m.kind in ("open", "leaf")]
    assert sorted(shown) == list(range(1, count + 1))
    for tree in trees:
        depth = deepest = 0
        for mark in tree:
            depth += {"open": 1, "close": -1}.get(mark.kind, 0)
            deepest = max(deepest, depth)
        assert deepest <= DEEPEST + 1


def test_an_answer_without_reasons_has_a_page_too() -> None:
    page = page_of("let x be washes")
    assert "Every step" not in page
    assert len(SHELF.labels) == 3


def test_cautions_follow_the_labels_and_every_verdict_has_its_mark() -> None:
    page = page_of(WHICH)
    heads = re.findall(r'<h2 id="(\w+)"', page)
    assert heads.index("labels") < heads.index("cautions") < heads.index("steps")
    assert page.count("<svg class='strand'") >= len(answered(WHICH).others)


def test_a_page_has_a_dark_side_and_prints_at_length_on_request_only() -> None:
    page = page_of(WHICH)
    assert "prefers-color-scheme: dark" in page
    assert "body:not(:has(#at-length:checked)) .at-length { display: none; }" in page
    assert "body:has(#at-length:checked) details::details-content" in page
    assert page.count('class="at-length"') == 2


def test_a_label_is_open_once_however_many_chains_read_it() -> None:
    question = 'does "Tideline Wash" clear "Harbour Cream"'
    page = answer_html(demo(question), question, DAY, by_base=False)
    found = re.findall(r'<details class="whole" id="c\d+-label-([^"]*)"( open)?', page)
    names = [name for name, is_open in found if is_open]
    assert names
    assert len(names) == len(set(names))


def test_the_typeface_of_the_pictures_is_carried_by_a_page_with_every_step() -> None:
    whole = page_of(WHICH)
    short = answer_html(answered(WHICH), WHICH, DAY, steps=False)
    assert "@font-face" in whole
    assert "@font-face" not in short
    assert page_font_css() in whole
    css = files("abluent.shell.pages").joinpath("templates/style.css").read_text()
    said = re.search(r"html \{ font:[^\"]*([^;]*);", css)
    assert said is not None
    for family in FALLBACK.replace("'", "").split(", "):
        assert family in said[1], family
