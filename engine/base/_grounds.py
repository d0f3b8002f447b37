"""On what each fact about a thing rests, where a file names works for all of it.

A file names the works of a thing once. Which of them carries which fact is a matter
of what kind of work it is, and stands in the base as a table of matters:

    abl:Matter     what some properties tell of, which kinds of source can carry it,
                   and what a fact rests on for which none of them is named
    abl:carries    on a source: the only matters it carries, though its kind may more

A file whose header says `abl:workedOut true` holds what follows from a structure, a
name, a register or a kind. What it says alike is not said twice: what was recalled
takes the works of what was worked out, for that agrees with it and came another way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple, TypeAlias

from abluent.engine.base._parse import Part

Key: TypeAlias = tuple[str, str]
"""A property, and for a link its value."""
Parts: TypeAlias = Mapping[str, list[Part]]

WORKED_OUT = "workedOut"
# Recalled without a work, nothing stands higher than a handbook would.
_HIGH = {"lawOrStandard", "measured"}
_HANDBOOK = "handbook"


class Ground(NamedTuple):
    """The file that says something, and its standing, works and memory."""

    file: str
    standing: str
    sources: tuple[str, ...]
    from_memory: bool


class Matters:
    """Which sources can carry which facts."""

    def __init__(self, parts: Parts) -> None:
        self._carriers: dict[str, set[str]] = {}
        self._matter: dict[str, str] = {}
        self._otherwise: dict[str, str] = {}
        self._kinds: dict[str, set[str]] = {}
        self._narrowed: dict[str, set[str]] = {}
        for symbol, each in parts.items():
            self._take(symbol, each)

    def _take(self, symbol: str, parts: Iterable[Part]) -> None:
        for part in parts:
            if part.space == "src":
                self._kinds.setdefault(symbol, set()).update(part.linked("sourceKind"))
                if only := part.linked("carries"):
                    self._narrowed.setdefault(symbol, set()).update(only)
            if told := [text for key, text in part.texts if key == "toldBy"]:
                self._matter |= dict.fromkeys(told, symbol)
                carriers = self._carriers.setdefault(symbol, set())
                carriers.update(part.linked("carriedBy"))
                for work in part.linked("otherwise"):
                    self._otherwise[symbol] = work

    def matter(self, key: Key) -> str | None:
        """What a fact tells of; the value may decide it, as may the property alone."""
        return self._matter.get(" ".join(key)) or self._matter.get(key[0])

    def carries(self, source: str, matter: str) -> bool:
        """Whether a source can carry a matter."""
        if source in self._narrowed:
            return matter in self._narrowed[source]
        return not self._carriers[matter].isdisjoint(self._kinds.get(source, ()))

    def ground(self, key: Key, whole: Ground) -> Ground:
        """What one fact of a record rests on.

        Args:
            key: the fact.
            whole: what the record says it rests on as a whole.
        """
        matter = self.matter(key)
        if matter is None:
            return whole
        sources = tuple(s for s in whole.sources if self.carries(s, matter))
        if sources or matter not in self._otherwise:
            return whole._replace(sources=sources)
        standing = _HANDBOOK if whole.standing in _HIGH else whole.standing
        otherwise = (self._otherwise[matter],)
        return Ground(whole.file, standing, otherwise, from_memory=True)


def grounded(
    parts: list[Part], wholes: list[Ground], worked_out: list[bool], matters: Matters
) -> list[tuple[Part, dict[Key, Ground]]]:
    """The parts of one thing with what each of their facts rests on.

    Args:
        parts: what each file says of it.
        wholes: what each part says it rests on as a whole.
        worked_out: of each part, whether it was worked out.
        matters: which sources can carry which facts.

    Returns:
        The parts that still say something of their own; of each the facts that
        rest on something else than the part as a whole.
    """
    found: list[tuple[Part, dict[Key, Ground]]] = []
    known: dict[Key, dict[Key, Ground]] = {}
    for part, whole, worked in zip(parts, wholes, worked_out, strict=True):
        own = {} if worked else _shared_out(part, whole, matters)
        if worked:
            for key in [key for key in _keys(part) if key in known]:
                known[key][key] = _agreed(known[key].get(key), whole)
                _forget(part, key)
        kept = [key for key in _keys(part) if key not in known]
        known |= dict.fromkeys(kept, own)
        own.update((key, whole) for key in kept if key not in own)
        if not worked or kept or part.texts:
            found.append((part, own))
    return found


def _shared_out(part: Part, whole: Ground, matters: Matters) -> dict[Key, Ground]:
    if part.space != "ing":
        return {}
    return {key: matters.ground(key, whole) for key in _keys(part)}


def _agreed(first: Ground | None, second: Ground) -> Ground:
    """What rests on two ways that came to the same."""
    if first is None:
        return second
    if not first.from_memory:
        # The first way is borne out by one other; more would tell no more.
        more = second.sources if len(first.sources) == 1 else ()
        sources = tuple(dict.fromkeys([*first.sources, *more]))
        return first if second.from_memory else first._replace(sources=sources)
    standing = first.standing or second.standing
    return second._replace(standing=standing)


_ABOUT_ITSELF = {"source", "standing", "fromMemory"}


def _keys(part: Part) -> Iterator[Key]:
    yield from (link for link in part.links if link[0] not in _ABOUT_ITSELF)
    yield from ((name, "") for name, _ in part.numbers)
    yield from ((name, "") for name in part.truths if name not in _ABOUT_ITSELF)


def _forget(part: Part, key: Key) -> None:
    part.links[:] = [link for link in part.links if link != key]
    part.numbers[:] = [row for row in part.numbers if (row[0], "") != key]
    part.truths[:] = [name for name in part.truths if (name, "") != key]
