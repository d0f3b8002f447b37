"""What the rows come to, told by classes."""

from typing import Any

from .values import want
from .world import Trace, World, follow

Rows = dict[int, tuple[Any, ...]]


def verdicts(trace: Trace) -> Rows:
    """The atoms of the rows that are verdicts and hold."""
    found: Rows = {}
    for goal in trace["goals"]:
        atom = goal["atom"]
        if goal["row"] is not None and not goal["part"]:
            if atom[0] == "verdict" and goal["holds"]:
                found[goal["row"]] = tuple(atom[1:])
    return found


def contested(trace: Trace) -> dict[int, list[Any]]:
    """The last terms of the contested parts of the rows."""
    found: dict[int, list[Any]] = {}
    for goal in trace["goals"]:
        if goal["part"] and goal["holds"] and goal["atom"][0] == "contested":
            found.setdefault(goal["row"], []).append(goal["atom"][-1])
    return found


def check_foldings(world: World) -> None:
    """The foldings say of the rows what these say, and of each."""
    data, rows = world.trace["foldings"], verdicts(world.trace)
    for row in rows.values():
        words = len(row) == 4 and all(isinstance(value, str) for value in row)
        sure = words or not data["said"]
        want(sure, "foldings", "a verdict has other terms than four words")
    if not data["said"]:
        empty = not (data["held"] or data["whole"] or data["alone"])
        want(empty, "foldings", "nothing is said of something")
        return
    check_alone(world, data["alone"], rows)
    check_classes(world, data, rows)
    disputes = contested(world.trace)
    for index, folding in enumerate(data["said"]):
        check_folding(data, folding, rows, disputes, f"foldings/said/{index}")
    said = {row for folding in data["said"] for row in folding["rows"]}
    want(said == set(rows), "foldings", "a row is in no folding")


def check_alone(world: World, alone: dict[str, str], rows: Rows) -> None:
    """The washes of one thing are of that alone, and one thing more at most."""
    place, more = "foldings/alone", set[Any]()
    washes = {row[0] for row in rows.values()}
    want(len(set(alone.values())) == len(alone), place, "a wash is of two things")
    for thing, wash in alone.items():
        want(wash in washes, place, f"{wash} is in no row")
        listed = {atom[3] for atom in follow(world, "line", wash, None, None)}
        want(thing in listed, place, f"{wash} does not list {thing}")
        want(not follow(world, "unreadLine", wash, None), place, f"{wash} is not read")
        more |= listed - {thing}
    want(len(more) < 2, place, "more than one thing is in the washes besides")


def things_of(alone: dict[str, str], rows: Rows) -> set[Any]:
    """The things that the rows are about."""
    own = {wash: thing for thing, wash in alone.items()}
    washes = {own.get(row[0], row[0]) for row in rows.values()}
    return washes | {row[1] for row in rows.values()}


def check_classes(world: World, data: Any, rows: Rows) -> None:
    """Each class holds exactly the things that are in it."""
    things = things_of(data["alone"], rows)
    for name, held in data["held"].items():
        place = f"foldings/held/{name}"
        want(len(set(held)) == len(held), place, "holds a thing twice")
        members = {atom[1] for atom in follow(world, "isa", None, name)}
        want(set(held) == members & things, place, "holds other things")
        if name in data["whole"]:
            want(members <= {*held, name}, place, "is not the whole")
    whole = set(data["whole"])
    want(whole <= set(data["held"]), "foldings/whole", "a class is not held")
    want(len(whole) == len(data["whole"]), "foldings/whole", "names a class twice")
    used = set[str]()
    for folding in data["said"]:
        for term in (*folding["washes"], *folding["films"]):
            used |= classes_of(term)
    want(used == set(data["held"]), "foldings/held", "has other classes than are used")


def classes_of(term: Any) -> set[str]:
    """The classes that a term uses."""
    if "thing" in term:
        return set()
    return {term["class"]}.union(*map(classes_of, term["but"]))


def meant(
    data: Any, terms: Any, things: dict[tuple[Any, ...], Any]
) -> set[tuple[Any, ...]]:
    """What a list of terms means; things are those in the rows, each with its own."""
    found: set[tuple[Any, ...]] = set()
    for term in terms:
        if "thing" in term:
            found.add(tuple(term["thing"]))
            continue
        held = data["held"].get(term["class"], ())
        every = {each for each, thing in things.items() if thing in held}
        found |= every - meant(data, term["but"], things)
    return found


def pairs_of(data: Any, folding: Any, rows: Rows) -> set[Any]:
    """The pairs of a wash and a film that a folding means."""
    own = {wash: thing for thing, wash in data["alone"].items()}
    washes: dict[tuple[Any, ...], Any]
    films: dict[tuple[Any, ...], Any]
    washes = {(row[0],): own.get(row[0], row[0]) for row in rows.values()}
    films = {(row[1], row[2]): row[1] for row in rows.values()}
    return {
        (wash, film)
        for wash in meant(data, folding["washes"], washes)
        for film in meant(data, folding["films"], films)
    }


def check_folding(
    data: Any, folding: Any, rows: Rows, disputes: dict[int, list[Any]], place: str
) -> None:
    """One folding means exactly its rows, and says what they say."""
    named = folding["rows"]
    once = len(set(named)) == len(named)
    want(bool(named) and once, place, "names a row twice, or none")
    want(set(named) <= set(rows), place, "names no row")
    said = {((rows[at][0],), (rows[at][1], rows[at][2])) for at in named}
    want(
        pairs_of(data, folding, rows) == said, place, "means other pairs than its rows"
    )
    for at in named:
        want(rows[at][3] == folding["verdict"], place, f"row {at} says otherwise")
        sure = sorted(folding["contested"]) == sorted(disputes.get(at, []))
        want(sure, place, f"row {at} is contested otherwise")
