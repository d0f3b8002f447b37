"""What followed about very many products, kept from run to run by all it rests on.

An `Outcome` is asked as a model is. Of some predicates it has every fact; whatever
else is asked is for the model itself, which is made only then.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any, TypeAlias

from abluent.engine.base import contract as c
from abluent.engine.base.cache import code_stamp, written
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.reasoner import Model
from abluent.engine.logic.term_data import from_plain, to_plain
from abluent.engine.logic.terms import Term
from abluent.engine.questions.world.world import World
from abluent.engine.sights.kept import KeptOutcomes

KEPT = (
    *(c.VERDICT, c.LOWER, c.UPPER, c.CONTESTED, c.REMARK, c.REMARK_ON_LEFT),
    *(c.SET_ASIDE, c.TRIED, c.READING, c.ISA, c.PUTS_BACK),
)
"""What a list of verdicts asks for."""
_CODE = (
    *("engine/amounts", "engine/base", "engine/logic", "engine/questions"),
    *("engine/reading", "engine/sights", "grammar/label"),
)

Row: TypeAlias = tuple[Term, ...]


class Outcome:
    """Facts of some predicates, and the model of all others.

    Args:
        rows: all facts of some predicates.
        make: makes the model.
    """

    def __init__(
        self, rows: Mapping[str, Sequence[Row]], make: Callable[[], Model]
    ) -> None:
        self._rows, self._make = rows, make
        self._model: Model | None = None
        self._found: dict[tuple[str, tuple[int, ...]], dict[Row, list[Row]]] = {}

    def __getattr__(self, name: str) -> Any:
        """Whatever else a model is asked."""
        if self._model is None:
            self._model = self._make()
        return getattr(self._model, name)

    def match(
        self, predicate: str, pattern: Sequence[Term | None] | None = None
    ) -> Iterator[Row]:
        """The facts that agree with a pattern; see `Model`."""
        if predicate not in self._rows:
            found: Iterator[Row] = self.__getattr__("match")(predicate, pattern)
            return found
        given = pattern or ()
        places = tuple(at for at, term in enumerate(given) if term is not None)
        if not places:
            return iter(self._rows[predicate])
        index = self._found.get((predicate, places))
        if index is None:
            index = self._found[predicate, places] = defaultdict(list)
            for row in self._rows[predicate]:
                index[tuple(row[at] for at in places)].append(row)
        key = tuple(term for term in given if term is not None)
        return iter(index.get(key, ()))

    def holds(self, predicate: str, args: Sequence[Term]) -> bool:
        """Whether a fact holds, asserted or inferred."""
        if predicate in self._rows:
            return next(self.match(predicate, args), None) is not None
        return bool(self.__getattr__("holds")(predicate, args))


def outcome(
    world: World, said: Iterable[Fact], names: Iterable[str], make: Callable[[], Model]
) -> Outcome | None:
    """What follows about some products, kept before or kept now.

    Args:
        world: the world it is asked in.
        said: what is asked, and under what conditions.
        names: the products.
        make: makes the model.
    """
    key = _key(world, said, names)
    if key is None:
        return None
    kept = KeptOutcomes()
    try:
        plain = kept.find(key)
        if plain is not None:
            found = {name: [*map(from_plain, rows)] for name, rows in plain.items()}
            return Outcome(found, make)
        model = make()
        there = world.program.arities
        rows = {name: list(model.match(name)) for name in KEPT if name in there}
        kept.keep(key, {name: [*map(to_plain, each)] for name, each in rows.items()})
        return Outcome(rows, lambda: model)
    finally:
        kept.close()


def _key(world: World, said: Iterable[Fact], names: Iterable[str]) -> bytes | None:
    """What changes with all that an outcome rests on; nothing if that is not known."""
    base, program = world.base.cached, world.program.stamps
    if base is None or base.stamps is None or program is None:
        return None
    digest = hashlib.blake2b(digest_size=20)
    code = [code_stamp(each) for each in _CODE]
    how = (world.weighs, world.amounts.practice, date.today().isoformat())
    digest.update(written((base.stamps, program, code, how)))
    digest.update(repr(list(said)).encode("utf-8", "surrogatepass"))
    for name in names:
        if name in world.labels.changed:
            return None
        product = world.products.get(name)
        digest.update(written(None if product is None else tuple(product)))
    return digest.digest()
