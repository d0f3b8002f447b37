"""What a question asks, read off its tree; and what of a label nobody understood."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from typing import NamedTuple

from abluent.engine.base.conditions import speaking
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.world.world import WATER, World
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in
from abluent.shell.told.spoken_names import few, nth

_NAMED = 4


class Asking(NamedTuple):
    """A question as a picture looks at it.

    Args:
        query: its tree; None where it is none of the language.
        statement: what it states of something, if it is asked whether that is so.
        act: what is asked about: the predicate without its denial.
        products: the products of the shelf that it names, in its order.
        world: the base and the shelf; None where nothing says which.
    """

    query: q.Query | None
    statement: q.Statement | None
    act: q.Predicate | None
    products: tuple[str, ...]
    world: World | None

    @property
    def names(self) -> tuple[str, ...]:
        """Every name in the question, in its order."""
        return tuple(_names(self.query))


def asking_of(answer: Answer, world: World | None = None) -> Asking:
    """What the question of an answer asks; its rows know the world, if it has any."""
    rows = [*all_rows(answer), *answer.others]
    world = rows[0].case.world if rows else world
    with speaking(world.base) if world is not None else nullcontext():
        query = query_in(answer.query)
    inner: object = query
    if isinstance(inner, q.Suppose):
        inner = inner.question
    if isinstance(inner, q.About):
        inner = inner.matter
    statement = inner.statement if isinstance(inner, q.Whether | q.Claim) else None
    said = getattr(inner, "predicate", None) if statement is None else None
    said = statement.predicate if statement is not None else said
    while isinstance(said, q.Not):
        said = said.part
    named: dict[str, None] = {}
    if world is not None and query is not None:
        for text in _names(query):
            found = world.labels.find(text)
            named |= {found: None} if found else {}
    return Asking(query, statement, said, tuple(named), world)


def _names(node: object) -> Iterator[str]:
    """The names in a tree, in its order."""
    if isinstance(node, q.Name):
        yield node.text
    elif isinstance(node, q.Node):
        for value in node._values():
            yield from _names(value)
    elif isinstance(node, tuple):
        for each in node:
            yield from _names(each)


def is_wash(world: World, product: str) -> bool:
    """Whether a product of the shelf is one that cleans."""
    kind = product_kind(world.products[product].kind, world.base)
    return kind in cleaning_kinds(world.base)


def cleans(world: World, wash: str) -> bool:
    """Whether a wash is none of water, and no product of a kind that does not clean."""
    return wash != WATER and (wash not in world.products or is_wash(world, wash))


def looked_at(asking: Asking, world: World) -> tuple[list[str], str]:
    """The products of the shelf that a question looks at, and what they are called."""
    subject = getattr(asking.query, "subject", None) or getattr(
        asking.query, "things", None
    )
    about_washes = any(
        product_kind(text, world.base) in cleaning_kinds(world.base)
        for text in _names(subject)
    )
    washes = [name for name in world.products if is_wash(world, name)]
    if about_washes and washes:
        return washes, "washes"
    return list(world.products), "products"


def unread_names(world: World, product: str) -> list[tuple[str, int]]:
    """The names of a label that were not understood, each with its place."""
    if product not in world.products:
        return []
    readings = world.read(product).readings
    return [(r.printed, n) for n, r in enumerate(readings, 1) if r.symbol is None]


def unread_line(world: World, product: str, *, alone: bool = False) -> str:
    """What of a label was not understood, in a sentence; empty if all was.

    `alone` if the claim is about this product and no other.
    """
    names = unread_names(world, product)
    label = "its label" if alone else f"the label of {product}"
    if len(names) == 1:
        ((name, place),) = names
        return f"We do not know what {name} is ({nth(place)} on {label})."
    if not names:
        return ""
    told = few([name for name, _ in names], _NAMED)
    return f"We do not know {len(names)} names on {label}: {told}."


def unread_in_brief(world: World, product: str) -> str:
    """A product and what of its label was not understood, after other words."""
    names = unread_names(world, product)
    if not names:
        return product
    what = names[0][0] if len(names) == 1 else f"{len(names)} names"
    return f"{product} ({what} not known)"
