"""The plain words of the interactive shell, and telling labels from questions."""

from __future__ import annotations

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.talk.orders import ORDERS, Order, looks_like_label, order_in

OPENING = ("which", "what", "does", "suppose", "compare")


@pytest.mark.parametrize(
    ("line", "order"),
    [
        ("help", Order("help")),
        ("  Leave ", Order("leave")),
        ('drop "Harbour Cream"', Order("drop", ("Harbour Cream",))),
        ("drop Harbour Cream", Order("drop", ("Harbour", "Cream"))),
        ("trace last to why not.md", Order("trace", ("last", "to", "why", "not.md"))),
        ("drop Merrow's Wash", Order("drop", ("Merrow's", "Wash"))),
        ("shelf C:\\labels # 2", Order("shelf", ("C:\\labels", "#", "2"))),
        ("which washes clear Dimethicone", None),
        ("leaves", None),
        ("", None),
        ('"help"', None),
    ],
)
def test_an_order_is_known_by_its_first_word(line: str, order: Order | None) -> None:
    assert order_in(line) == order


def test_what_follows_is_one_text() -> None:
    order = order_in("drop Harbour Cream")
    assert order is not None
    assert order.rest == "Harbour Cream"


def test_an_open_quotation_mark_is_pointed_at() -> None:
    with pytest.raises(CommandError) as caught:
        order_in('drop "Harbour Cream')
    assert str(caught.value).split("\n")[1:3] == [
        '    drop "Harbour Cream',
        "         ^",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Ingredients: Aqua, Glycerin, Dimethicone, Panthenol, Parfum, Limonene",
        "Aqua\nGlycerin\nDimethicone",
        "Aqua · Glycerin · Parfum · Linalool · Citral · Limonene",
        "Water (Aqua), Sodium Laureth Sulfate,\nParfum",
        "Ingredients: Aqua",
        "Aqua, Sodium Laureth Sulfate,",
    ],
)
def test_a_list_is_taken_for_a_label(text: str) -> None:
    assert looks_like_label(text, OPENING)


@pytest.mark.parametrize(
    "text",
    [
        "which washes clear Dimethicone",
        'compare "A", "B", "C", "D", "E", "F" and "G"',
        'suppose "A" had no "B": what does "A" leave',
        "Which washes clear\nA, B, C,\nD and E",
        "help",
        "Aqua, Parfum",
        "",
    ],
)
def test_a_question_is_never_taken_for_a_label(text: str) -> None:
    assert not looks_like_label(text, OPENING)


def test_no_order_begins_as_a_question_does() -> None:
    assert not set(ORDERS) & set(OPENING)
