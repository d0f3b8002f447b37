"""What a question about kinds of product passes by, as its kind is not known."""

from __future__ import annotations

import re
from collections.abc import Iterator

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.world.world import World
from abluent.shell.shelf.shelf import Shelf
from abluent.shell.shelf.words import shelf_words

_QUOTED = re.compile(r'"[^"]*"')
_MOST = 3


def left_out(query: str, world: World, shelf: Shelf) -> Iterator[str]:
    """Say which products a question left out for want of a kind.

    Args:
        query: the question in the wording of the language.
        world: the base.
        shelf: the products.
    """
    other = shelf_words().other
    names = [label.product for label in shelf.labels if label.kind == other]
    if not names or not _speaks_of_kinds(query, world):
        return
    first = names[0]
    kinds = "kind" if len(names) == 1 else "kinds"
    yield (
        f"Left out: {listed(names, _MOST)}, {kinds} not known; "
        f'`edit "{first}"` in the shell says it.'
    )


def _speaks_of_kinds(query: str, world: World) -> bool:
    said = _QUOTED.sub("", query).casefold()
    kinds = world.base.instances(world.base.term(Role.PRODUCT_KIND))
    words = {world.base.plural(kind).casefold() for kind in kinds}
    return any(re.search(rf"(?<!\w){re.escape(word)}(?!\w)", said) for word in words)
