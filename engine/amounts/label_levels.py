"""The levels of a label that was read, and what they tell the reasoner."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from abluent.engine.amounts._law import legal_caps, line_rule, usual_levels
from abluent.engine.amounts._rows import Item
from abluent.engine.amounts.levels import Levels, levels
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Quantity, interval
from abluent.engine.proof.origins import LabelOrigin
from abluent.engine.reading.labels import ReadLabel
from abluent.engine.reading.names import Reading
from abluent.grammar import label_tree

_AS_PRINTED = ("label-as-printed",)


def label_levels(
    read: ReadLabel, base: Base, *, on: str = "", practice: bool = False
) -> Levels:
    """How much of each ingredient a label can mean.

    Args:
        read: the label, with the facts that say what kind of product it is of and
            where it is sold; without a market only what all markets share is used.
        base: the base.
        on: the day on which the product was on sale, as `2026-01-31`; today if empty.
        practice: whether to narrow the levels by what the trade usually puts in.
    """
    items = label_items(read, base)
    known = [item.symbol for item in items if item.symbol is not None]
    kind, market = _said(read, "kind") or "other", _said(read, "soldIn")
    caps = legal_caps(base, known, market, kind, on or date.today().isoformat())
    usual = usual_levels(base, known, market, kind) if practice else []
    return levels(items, line_rule(base, market), caps, usual)


def level_facts(read: ReadLabel, found: Levels) -> list[Fact]:
    """`level(product, place, per cent by weight)` for every item that was understood.

    The basis names the label rule and the limits that are on the label; which of them
    a bound needs is for its certificate to say.
    """
    product = _said(read, "product", 0)
    if product is None:
        return []
    limits = [
        row.basis for row in found.rows if row.name.startswith(("cap ", "least "))
    ]
    sources = _sources([found.rule.basis, *limits])
    spans = {item.place: item.span for item in read.label.items}
    return [
        Fact(
            "level",
            (product, level.place, level.quantity),
            Basis(
                level.standing,
                (*_AS_PRINTED, *sources),
                origin=str(LabelOrigin(product, *spans[level.place])),
            ),
        )
        for level in found
        if level.symbol is not None
    ]


def _sources(bases: Iterable[Basis]) -> Sequence[str]:
    return list(dict.fromkeys(source for each in bases for source in each.sources))


def _said(read: ReadLabel, predicate: str, place: int = 1) -> str | None:
    """What the facts of a label say of its product."""
    for fact in read.facts:
        if fact.predicate == predicate:
            return str(fact.args[place])
    return None


def label_items(read: ReadLabel, base: Base) -> list[Item]:
    """The items of a label as levels need them.

    A blend stands where its total belongs, so its members prove no order. An item in
    the parentheses of another, and a name that is printed again, may be part of what
    was counted before; so may an allergen of the perfume. Colorants that end a list
    may stand there in any order, whatever their level.
    """
    product = _said(read, "product", 0) or ""
    last = _before_colorants(read.readings)
    seen: set[str] = set()
    items = []
    pairs = zip(read.label.items, read.readings, strict=True)
    for number, (printed, reading) in enumerate(pairs):
        again = reading.symbol in seen
        ordered = number < last and not again and not read.label.unordered
        item = Item(
            printed.place,
            reading.symbol,
            stated=_stated(printed),
            ordered=ordered and _in_list(printed),
            certain=not printed.may_contain,
            counted=not (again or _may_be_inside(printed, reading)),
            basis=_basis(product, printed),
        )
        seen.update([reading.symbol] if reading.symbol else [])
        items.append(item)
    return items


def _stated(printed: label_tree.Item) -> Quantity | None:
    """The figure beside an item, or no more than what the label says at most."""
    if printed.stated is None and printed.at_most is not None:
        return interval(None, printed.at_most)
    return printed.stated


def _basis(product: str, printed: label_tree.Item) -> Basis:
    origin = LabelOrigin(product, *printed.span)
    return Basis("lawOrStandard", _AS_PRINTED, origin=str(origin))


def _in_list(printed: label_tree.Item) -> bool:
    """Whether it stands in the running order of the list for itself."""
    listed = printed.section in {"list", "inactive"}
    return listed and printed.blend is None and printed.within is None


def _may_be_inside(printed: label_tree.Item, reading: Reading) -> bool:
    """Whether its level may be part of that of another item."""
    nested = printed.within is not None or printed.section == "allergens"
    return nested or "FragranceAllergen" in reading.classes


def _before_colorants(readings: Sequence[Reading]) -> int:
    """How many items stand before the colorants that end a list, if any do."""
    count = len(readings)
    while count:
        classes = readings[count - 1].classes
        if "Colorant" not in classes or "HairDye" in classes:
            break
        count -= 1
    return count
