"""Check the foldings of a trace: what its rows come to, told by classes.

Needs the standard library only. The part `foldings` of a trace holds

held    what each class held on that day, as far as the rows speak of it
whole   those classes of which no other member is known
alone   the wash that stands for an ingredient, by that ingredient
said    the foldings: `verdict` and `contested` of every row in it, its `washes` and
        `films`, and the numbers of its `rows`

A side is a list of terms: `{"thing": [...]}` is one wash, or a film and where it is
from; `{"class": name, "but": [terms]}` is what the class held, without what the terms
mean. A folding is so if each pair of its sides is a row that says just that, no other
row is claimed, and every row is in some folding. What a class held is found anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

KEYS = {"held", "whole", "alone", "said"}
SAID = {"verdict", "contested", "washes", "films", "rows"}
ROW, CONTESTED, ISA, LINE, UNREAD = "verdict", "contested", "isa", "line", "unreadLine"


class _Row(NamedTuple):
    """What a row is about, and what it says."""

    wash: str
    film: tuple[str, str]
    says: tuple[str, frozenset[str]]


def tests(trace: Any, model: Any) -> Iterator[tuple[object, str, str]]:
    """Whether something holds, what it is about, and what is wrong if it does not.

    Args:
        trace: the trace.
        model: what follows in it, a `follows.Follows`.
    """
    part, rows = trace["foldings"], _rows(trace["goals"])
    yield set(part) == KEYS, "foldings", f"has not the keys {sorted(KEYS)}"
    if not part["said"]:
        empty = not (part["held"] or part["whole"] or part["alone"])
        yield empty, "foldings", "tells of classes and folds nothing"
        return
    yield from _alone(part["alone"], model)
    looked = _looked_at(rows, part["alone"])
    yield from _held(part, looked, model)
    told: set[int] = set()
    for number, each in enumerate(part["said"], 1):
        yield set(each) == SAID, f"folding {number}", f"has not the keys {sorted(SAID)}"
        yield from _folding(f"folding {number}", each, part, rows)
        told.update(each["rows"])
    left = min(rows.keys() - told, default=None)
    yield left is None, "foldings", f"row {left} is in none of them"


def _rows(goals: Any) -> dict[int, _Row]:
    """The rows that give a verdict, by number."""
    parted: dict[int, set[str]] = {}
    for goal in goals:
        if goal["part"] and goal["holds"] and goal["atom"][0] == CONTESTED:
            parted.setdefault(goal["row"], set()).add(goal["atom"][4])
    found = {}
    for goal in goals:
        number, (name, *terms) = goal["row"], goal["atom"]
        if number is not None and not goal["part"] and goal["holds"] and name == ROW:
            wash, film, source, value = terms
            says = (value, frozenset(parted.get(number, ())))
            found[number] = _Row(wash, (film, source), says)
    return found


def _alone(alone: Any, model: Any) -> Iterator[tuple[object, str, str]]:
    """That each such wash is of its ingredient, and of one that all of them have."""
    more: set[str] = set()
    for agent, wash in alone.items():
        there = {line[3] for line in model.ask((LINE, wash, None, None))}
        yield agent in there, wash, f"does not list {agent}"
        yield not model.ask((UNREAD, wash, None)), wash, "lists what was not read"
        more |= there - {agent}
    yield len(more - alone.keys()) < 2, "foldings", "a wash is of more than one alone"


def _looked_at(rows: dict[int, _Row], alone: Any) -> set[str]:
    """The ingredients and films that the rows are about, by which classes mean them."""
    of = {wash: agent for agent, wash in alone.items()}
    washes = {of.get(row.wash, row.wash) for row in rows.values()}
    return washes | {row.film[0] for row in rows.values()}


def _held(part: Any, looked: set[str], model: Any) -> Iterator[tuple[object, str, str]]:
    """That each class held what is said of it, and those said to be whole no more."""
    used = {name for each in part["said"] for name in _classes(each)}
    yield used == part["held"].keys(), "foldings", "tells of other classes than it uses"
    yield set(part["whole"]) <= used, "foldings", "calls a class whole that it has not"
    for name, members in part["held"].items():
        said = set(members)
        found = {each for each in looked if model.ask((ISA, each, name))}
        off = min(said ^ found, default="")
        yield not off, name, f"did {'not ' if off in said else ''}hold {off}"
        if name in part["whole"]:
            every = {row[1] for row in model.ask((ISA, None, name))}
            off = min(every - looked - {name}, default="")
            yield not off, name, f"held {off} too, which is in no row"


def _classes(said: Any) -> Iterator[str]:
    waiting = [*said["washes"], *said["films"]]
    while waiting:
        term = waiting.pop()
        if "class" in term:
            yield term["class"]
            waiting += term["but"]


def _folding(
    place: str, said: Any, part: Any, rows: dict[int, _Row]
) -> Iterator[tuple[object, str, str]]:
    """That a folding means the rows it names, and that they say what it says."""
    of = {wash: agent for agent, wash in part["alone"].items()}
    called = {(row.wash,): of.get(row.wash, row.wash) for row in rows.values()}
    films = {row.film: row.film[0] for row in rows.values()}
    meant = {
        (wash, film)
        for wash in _meant(said["washes"], called, part["held"])
        for film in _meant(said["films"], films, part["held"])
    }
    named = {((rows[n].wash,), rows[n].film): n for n in said["rows"] if n in rows}
    yield meant, place, "means nothing"
    yield len(said["rows"]) == len(named), place, "names a row twice, or none of these"
    lacking = min(meant - named.keys(), default=None)
    yield lacking is None, place, f"claims {lacking}, which is not among its rows"
    beyond = min(named.keys() - meant, default=None)
    yield beyond is None, place, f"has {beyond} among its rows, and does not claim it"
    says = (said["verdict"], frozenset(said["contested"]))
    for number in said["rows"]:
        yield rows[number].says == says, place, f"row {number} says something else"


def _meant(terms: Any, things: Any, held: Any) -> set[Any]:
    """What a side means of all that was looked at.

    Args:
        terms: the terms.
        things: by what each thing that was looked at is called.
        held: what each class held.
    """
    found: set[Any] = set()
    for term in terms:
        if "class" in term:
            own = {t for t, called in things.items() if called in held[term["class"]]}
            found |= own - _meant(term["but"], things, held)
        else:
            found.add(tuple(term["thing"]))
    return found
