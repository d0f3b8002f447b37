"""Labels read against a base, and what they assert about a product."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from abluent.engine.base import contract as c
from abluent.engine.base.kinds import market as known_market
from abluent.engine.base.kinds import product_kind
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.proof.origins import LabelOrigin
from abluent.engine.reading._words import label_words
from abluent.engine.reading.label_order import order_facts
from abluent.engine.reading.names import Names
from abluent.engine.reading.readings import Reading, ReadLabel
from abluent.grammar.label import read
from abluent.grammar.label.tree import Item, Label, Note, Remark

__all__ = ["Item", "Label", "Note", "ReadLabel", "Remark", "label_facts", "read_label"]

_SHELF = Basis(origin="the shelf")


def read_label(text: str, base: Base | None = None) -> Label:
    """Read the text of a label.

    Args:
        text: any text.
        base: knows names, and so settles where a text may be cut in two ways.
    """
    namer = None if base is None else Names.of(base)
    return read.read_label(text, label_words(), namer)


def label_facts(
    product: str, kind: str, market: str, text: str, base: Base
) -> ReadLabel:
    """Read a label and say what it asserts about its product.

    Args:
        product: the symbol of the product.
        kind: what the product is sold as, in any of the words of the base.
        market: where it is sold, if that is known.
        text: the label.
        base: the base.
    """
    label = read_label(text, base)
    names = Names.of(base)
    readings = tuple(
        names.resolve(item.name, mended=bool(item.mended)) for item in label.items
    )
    facts = [
        Fact(c.PRODUCT, (product,), _SHELF),
        Fact(c.KIND, (product, product_kind(kind, base)), _SHELF),
        *_market(product, market, base),
        *_order(product, label),
    ]
    for item, reading in zip(label.items, readings, strict=True):
        facts += _line(product, item, reading)
    facts += order_facts(product, label, readings, base)
    for reading in {r.symbol: r for r in readings if r.how == "read"}.values():
        facts += read_name_facts(reading, base)
    facts += context(product, readings, base)
    return ReadLabel(lambda: label, readings, tuple(facts))


def context(product: str, readings: Sequence[Reading], base: Base) -> Iterator[Fact]:
    """What may form in a product from two things on its label, such as soap.

    Whether it does form is for the rules to say.
    """
    kinds = {kind for reading in readings for kind in reading.classes}
    for made, needed in forming(base):
        if needed <= kinds:
            yield Fact(
                c.COULD_FORM, (product, made), Basis(origin="the label as a whole")
            )


def read_name_facts(reading: Reading, base: Base) -> Iterator[Fact]:
    """What a name that was read from its parts says of the thing it names.

    The basis names the shape the name has and the parts it is made of.
    """
    symbol = reading.symbol
    if symbol is None or reading.how != "read":
        return
    shape = base.record(reading.shape).basis
    parts = ", ".join(part.part for part in reading.parts)
    basis = Basis(
        reading.standing,
        reading.sources,
        from_memory=True,
        origin=f"{shape.origin} of {parts}" if parts else shape.origin,
    )
    kinds = reading.classes
    narrow = [kind for kind in kinds if not _is_wider(kind, kinds, base)]
    for kind in narrow:
        yield Fact(c.TYPE, (symbol, kind), basis)
    if reading.charge != "unknown":
        yield Fact(base.term(Role.CHARGE), (symbol, reading.charge), basis)
    if reading.water != "unknown":
        trait = base.term(Role.WATER_SOLUBILITY)
        yield Fact(trait, (symbol, reading.water), basis)
    if reading.chain is not None:
        yield Fact(c.CARBON_CHAIN, (symbol, reading.chain), basis)
    if reading.ethoxylation is not None:
        yield Fact(c.ETHOXYLATION, (symbol, reading.ethoxylation), basis)


def _is_wider(kind: str, kinds: tuple[str, ...], base: Base) -> bool:
    """Whether a kind only lies above another of some kinds."""
    return any(kind in base.ancestors(each) for each in kinds if each != kind)


_Forming: TypeAlias = tuple[tuple[str, frozenset[str | None]], ...]


def forming(base: Base) -> _Forming:
    """What may form in products, each with the kinds of ingredient that it takes."""
    return base.once(_forming)


def _forming(base: Base) -> _Forming:
    made = map(base.record, base.instances("FormedInProduct"))
    return tuple(
        (r.symbol, frozenset({r.link("madeFrom"), r.link("madeWith")})) for r in made
    )


def _market(product: str, market: str, base: Base) -> Iterator[Fact]:
    found = known_market(market, base)
    if found is not None:
        yield Fact(c.SOLD_IN, (product, found), _SHELF)


def _order(product: str, label: Label) -> Iterator[Fact]:
    if label.unordered:
        whole = LabelOrigin(product, 0, len(label.text))
        yield Fact(c.UNORDERED, (product,), Basis(origin=str(whole)))


def _line(product: str, item: Item, reading: Reading) -> Iterator[Fact]:
    origin = str(LabelOrigin(product, *item.span))
    symbol = reading.symbol
    if symbol is None:
        yield Fact(c.UNREAD_LINE, (product, item.place), Basis(origin=origin))
        return
    doubtful = reading.how in {"repaired", "read"}
    basis = Basis(standing=reading.standing if doubtful else "", origin=origin)
    if item.may_contain:
        yield Fact(c.MAY_CONTAIN, (product, item.place, symbol), basis)
        return
    yield Fact(c.LINE, (product, item.place, symbol), basis)
    if item.stated is not None:
        yield Fact(c.STATED, (product, item.place, item.stated), basis)
    elif item.at_most is not None:
        yield Fact(c.STATED_AT_MOST, (product, item.place, item.at_most), basis)
    if item.blend is not None:
        yield Fact(c.IN_BLEND, (product, item.place), basis)
