"""The one product of its sort on a shelf: `the mask`, `the soap`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.fold import fold, singulars
from abluent.engine.base.roles import Role
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import Nouns

_MOST = 60
"""On how large a shelf somebody can mean one product by its sort."""


def the_only(name: str, nouns: Nouns) -> str:
    """The product that a sort of product means on a shelf; empty if it is not one.

    It is the only one that the shelf calls so or that is of that kind, or the only wash
    that is made of that class of cleansers. A word that is no name of a kind and only
    counts as one, such as `mask`, is the only product of no known kind where there is
    one.

    Args:
        name: the sort, in lower case.
        nouns: the nouns of the world.
    """
    if len(nouns.world.products) > _MOST:
        return ""
    for found in (_said(name, nouns), _of_kind(name, nouns), _made_of(name, nouns)):
        items = [*found]
        if items:
            return items[0].key if len(items) == 1 else ""
    return ""


def _said(name: str, nouns: Nouns) -> list[Item]:
    """The products that the shelf calls so: a `mask` among conditioners."""
    products, wanted = nouns.world.products, {*singulars(name)}
    found = [each for each in nouns.all_products if each.key in products]
    said = {each: products[each.key] for each in found}
    return [
        e for e in found if said[e].kind not in wanted and fold(said[e].said) in wanted
    ]


def _of_kind(name: str, nouns: Nouns) -> list[Item]:
    """The products of the kind that is called so, or that counts as such."""
    base = nouns.world.base
    found = (base.find_value(e, base.term(Role.PRODUCT_KIND)) for e in singulars(name))
    kind = next(filter(None, found), None)
    if kind is None:
        return []
    own, labels = (
        _all_of(kind, nouns),
        {fold(base.label(kind)), fold(base.plural(kind))},
    )
    if kind in nouns.cleaning or not labels.isdisjoint(singulars(name)):
        # `the conditioner` is none that the shelf calls a mask.
        said = {each: fold(nouns.world.products[each.key].said) for each in own}
        plain = [each for each in own if not said[each] or said[each] in labels]
        return plain if len(plain) == 1 else own
    if " " in name:
        return []
    strange = _all_of(base.term(Role.OTHER_KIND), nouns)
    rinsed = base.record(kind).truth("rinsedOff")
    return strange if len(strange) == 1 and (rinsed or not own) else own


def _all_of(kind: str, nouns: Nouns) -> list[Item]:
    """The products of a kind."""
    products = nouns.world.products
    return [
        e for e in nouns.all_products if e.key in products and nouns.kind_of(e) == kind
    ]


def _made_of(name: str, nouns: Nouns) -> Iterator[Item]:
    """The washes that have a cleanser of that class on their label."""
    base, kind = nouns.world.base, nouns.class_or_value(name)
    if len({*singulars(name)}) > 1:
        return  # `the cationics` are several.
    cleansers = base.term(Role.CLEANSER)
    if kind is None or not base.is_class(kind) or cleansers not in base.ancestors(kind):
        return
    for item in nouns.washes:
        classes = (base.classes_of(each) for each in nouns.on_label(item))
        if item.key in nouns.world.products and any(kind in each for each in classes):
            yield item
