"""What is read place by place is what the reader of labels reads, or is left to it."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest
from abluent.engine.base.store import Base
from abluent.engine.logic.terms import Term
from abluent.engine.reading.labels import label_facts
from abluent.engine.reading.plain import PlainReader

# Places that bear on others, or that look as if they did.
ODD = (
    *("1,2-Hexanediol", "2-Hexanediol", "1", "1,2", "1. Aqua", "(1) Glycerin", "and"),
    *("Aqua/Water/Eau", "Parfum (Linalool, Limonene)", "Titanium Dioxide [Nano]"),
    *("Dimethicone 1 %", "Glycerin 2.5%", "less than 1,5 %", "1 % or less of"),
    *("May Contain", "contains", "see below", "50 ml", "a-z", "Alcohol Denat.", "A."),
    *("(Titanium Dioxide", "Dioxide)", "Sodium Chloride (and) Aqua", "Glycerin - Aqua"),
    *("Glycerin and Panthenol", "Extractum Ignotum", "made from plants you know", "&"),
    *(" Aqua", "Aqua,Glycerin", "Dimethicon", "HC Yellow No. 2", "Hair. Dimethicone"),
    *("Sodium Laureth Sulfate Cocamidopropyl Betaine", "CI 77491 (Iron Oxides)", ""),
)
HEADS = ("", "Ingredients: ", "INGREDIENTS:", "Shampoo: ", "May contain: ")


def texts(base: Base, count: int) -> Sequence[str]:
    """Labels of listed names with some odd places among them."""
    dice = random.Random(4)
    names = [*base.names]
    found = []
    for _ in range(count):
        odd = [dice.choice(ODD) for _ in range(dice.randint(0, 2))]
        parts = [dice.choice(names) for _ in range(dice.randint(1, 9))] + odd
        dice.shuffle(parts)
        if dice.random() < 0.1:
            parts.sort()
        whole = ["Aqua", *parts, "Glycerin"] if dice.random() < 0.8 else parts
        text = dice.choice(HEADS) + ", ".join(whole)
        found.append(text + dice.choice(("", ".")))
    return found


@pytest.mark.slow
def test_it_reads_as_the_reader_of_labels() -> None:
    """Facts and their order, what names tell, and what was not understood."""
    base = Base.load()
    reader = PlainReader.of(base)
    plain = 0
    for text in texts(base, 480):
        found = reader.read("wash", "EU", text)
        if found is None:
            continue
        plain += 1
        read = label_facts("it", "wash", "EU", text, base)
        of_it = [(f.predicate, f.args[1:]) for f in read.facts if f.args[0] == "it"]
        told = [(f.predicate, f.args) for f in read.facts if f.args[0] != "it"]
        assert [*found.facts] == of_it, text
        assert [(f.predicate, f.args) for f in found.told] == told, text
        items = {item.place: item.printed for item in read.label.items}
        unread = [n for name, (n, *_) in _placed(of_it) if name == "unreadLine"]
        assert found.unread == tuple((n, items[n]) for n in unread), text
    assert plain > 100


def _placed(
    facts: Sequence[tuple[str, tuple[Term, ...]]],
) -> list[tuple[str, tuple[int, ...]]]:
    """The facts that have a place, with it first."""
    return [
        (name, (args[0],)) for name, args in facts if args and isinstance(args[0], int)
    ]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Aqua",
        "Aqua, ",
        "Ingredients: Aqua, May contain: Mica",
        "Aqua, 1. Glycerin, 2. Panthenol, 3. Mica, Glycerin",
        "Aqua, Extractum Ignotum",
        "Aqua, Extractum Ignotum, Extractum Obscurum, Glycerin",
        "Aqua, Glycerin\nPanthenol, Mica",
        "Aqua, Glycérine, Mica",
        "Aqua, Parfum (Linalool, Limonene), Mica",
    ],
)
def test_what_is_not_plain_is_left_to_the_reader_of_labels(text: str) -> None:
    """Whatever bears on more than its own place."""
    assert PlainReader.of(Base.load()).read("wash", "EU", text) is None
