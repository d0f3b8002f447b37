"""What a question is about: a product of the shelf, or an ingredient of the base."""

from typing import NamedTuple


class Item(NamedTuple):
    """A product of the shelf or an ingredient of the base.

    `key` is the name of a product, or the symbol of an ingredient.
    """

    kind: str
    key: str


PRODUCT, INGREDIENT, CLASS, SAYING = "product", "ingredient", "class", "saying"
