"""A trace that was read, with what is told in it and what follows."""

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from .following import Condition, Known, Rule, agreeing, agrees, anything_in, variables
from .values import Atom, Value, read_atom, want

Trace = dict[str, Any]


class Entry(NamedTuple):
    """A fact that is told."""

    atom: Atom
    standing: str
    memory: bool
    sources: frozenset[str]
    origin: str


class World(NamedTuple):
    """What a trace is checked by."""

    trace: Trace
    rules: dict[str, Rule]
    told: dict[str, list[Entry]]
    known: Known
    added: frozenset[Atom]
    removed: frozenset[Atom]


def read_entry(data: Any, place: str) -> Entry:
    """An entry of facts, its atom plain."""
    atom = read_atom(data["atom"], place)
    want(not anything_in(atom), place, "tells anything")
    want(not variables(atom), place, "tells a variable")
    sources = frozenset(data["sources"])
    return Entry(atom, data["standing"], data["memory"], sources, data["origin"])


def by_predicate(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    """Entries under their predicates."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        found.setdefault(entry.atom[0], []).append(entry)
    return found


def atoms_of(body: Iterable[Condition]) -> Iterator[Atom]:
    """The atoms and patterns of a body, those of collections too."""
    for each in body:
        if each[0] in ("is", "not"):
            yield each[1]
        if each[0] == "collect":
            yield from atoms_of(each[4])


def one_length(rules: Iterable[Rule], atoms: Iterable[Atom]) -> None:
    """Refuse a predicate with another number of values elsewhere."""
    lengths: dict[str, int] = {}
    for rule in rules:
        for atom in (rule.head, *atoms_of(rule.body)):
            same_length(atom, lengths)
    for atom in atoms:
        same_length(atom, lengths)


def same_length(atom: Atom, lengths: dict[str, int]) -> None:
    """Refuse an atom of another length than the others of its predicate."""
    sure = lengths.setdefault(atom[0], len(atom)) == len(atom)
    want(sure, atom[0], "has not always the same number of values")


def follow(world: World, *pattern: Value) -> list[Atom]:
    """What follows that agrees with a pattern."""
    return list(agreeing(world.known, pattern))


def told(world: World, *pattern: Value) -> list[Entry]:
    """What is told that agrees with the start of a pattern."""
    entries = world.told.get(pattern[0], ())
    size = len(pattern)
    return [entry for entry in entries if agrees(entry.atom[:size], pattern)]


def is_a(world: World, thing: Value, kind: Value) -> bool:
    """Whether a thing is a kind, or by what follows."""
    return bool(thing == kind or follow(world, "isa", thing, kind))


def rank(world: World, standing: str, memory: bool) -> int | None:
    """The rank of a standing, none of an empty one."""
    scale = world.trace["program"]["standings"]
    if not standing:
        return None
    return 2 * (scale.index(standing) if standing in scale else len(scale)) + memory
