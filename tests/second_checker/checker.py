"""Whether a trace holds, by itself or against a base."""

from collections.abc import Iterable, Iterator
from typing import Any

from .against import against
from .foldings import check_foldings
from .following import (
    Condition,
    Known,
    anything_in,
    read_condition,
    read_rule,
    variables,
)
from .goals import check_goals, check_rows
from .labels import check_labels
from .proofs import check_bounds
from .shape import TRACE
from .steps import check_steps
from .strata import follows
from .values import Atom, digest, read_atom, want
from .words import check_names
from .world import World, atoms_of, by_predicate, one_length, read_entry

BY_LEVELS = """isa kind line mayContain unreadLine unordered outOfOrder withinAnother
stated statedAtMost soldIn""".split()
MALFORMED = (ArithmeticError, LookupError, TypeError, RecursionError, AssertionError)


def verdict(trace: Any, base: Any = None) -> tuple[str, str]:
    """Whether a trace holds or is refused, and by what or where and why."""
    try:
        check(trace, base)
    except ValueError as error:
        return "refused", str(error)
    except MALFORMED as error:
        return "refused", f"the trace: is not provided for ({error!r})"
    return "holds", "by its own rules and facts" if base is None else "by the base"


def check(trace: Any, base: Any) -> None:
    """Refuse a trace at the first thing that is not as the format wants it."""
    TRACE(trace, "trace")
    unsigned = {key: trace[key] for key in trace if key != "digest"}
    want(digest(unsigned) == trace["digest"], "digest", "is not that of the trace")
    world = read_world(trace)
    wanted = {*BY_LEVELS, *denied(trace)}
    check_told(world)
    check_sources(trace)
    check_rows(trace)
    check_names(trace)
    check_labels(world)
    check_following(world._replace(known=own(world, wanted)))
    if base is not None:
        check_following(world._replace(known=against(world, base, wanted)))


def check_following(world: World) -> None:
    """Check all that is looked up in what follows."""
    check_steps(world)
    check_goals(world)
    check_bounds(world)
    check_foldings(world)


def read_world(trace: Any) -> World:
    """A trace with its facts and rules read."""
    told = by_predicate(
        read_entry(entry, f"facts/{index}")
        for index, entry in enumerate(trace["facts"])
    )
    rules = {
        name: read_rule(name, data) for name, data in trace["program"]["rules"].items()
    }
    added, removed = (
        frozenset(read_atom(atom, f"supposed/{key}") for atom in trace["supposed"][key])
        for key in ("added", "removed")
    )
    return World(trace, rules, told, Known({}, {}), added, removed)


def own(world: World, wanted: set[str]) -> Known:
    """What follows by the trace alone."""
    facts = [entry.atom for entries in world.told.values() for entry in entries]
    one_length(world.rules.values(), [*facts, *atoms_in(world)])
    return follows(list(world.rules.values()), facts, wanted)


def atoms_in(world: World) -> Iterator[Atom]:
    """The atoms of goals, steps and what is supposed."""
    trace = world.trace
    yield from world.added | world.removed
    for part in (*trace["goals"], *trace["nodes"].values(), *trace["bounds"]):
        if "atom" in part:
            yield read_atom(part["atom"], "atom")
        if part.get("kind") == "collect":
            yield from atoms_of(bodies([part]))


def bodies(nodes: Iterable[Any]) -> list[Condition]:
    """The conditions of the collections among some steps."""
    return [
        read_condition(each, "nodes")
        for node in nodes
        if node["kind"] == "collect"
        for each in node["body"]
    ]


def denied(trace: Any) -> set[str]:
    """The predicates that steps deny or collect."""
    nodes = trace["nodes"].values()
    found = {node["atom"][0] for node in nodes if node["kind"] == "absent"}
    return found | {atom[0] for atom in atoms_of(bodies(nodes))}


def check_told(world: World) -> None:
    """Facts and rules stand in the scale; what is supposed is told, or is not."""
    scale = world.trace["program"]["standings"]
    want(len(set(scale)) == len(scale), "program/standings", "has a word twice")
    want("" not in scale, "program/standings", "has an empty word")
    for entries in world.told.values():
        for entry in entries:
            sure = entry.standing in ("", *scale)
            want(sure, f"facts/{entry.atom}", "stands nowhere in the scale")
    atoms = {entry.atom for entries in world.told.values() for entry in entries}
    for atom in world.added | world.removed:
        plain = not variables(atom) and not anything_in(atom)
        want(plain, "supposed", f"{atom} is no plain atom")
    want(world.added <= atoms, "supposed/added", "is not told")
    want(not world.removed & atoms, "supposed/removed", "is told")


def check_sources(trace: Any) -> None:
    """Each source is cited, each cited one is here, and none is blank."""
    cited = {name for entry in trace["facts"] for name in entry["sources"]}
    for rule in trace["program"]["rules"].values():
        cited |= set(rule["sources"])
    want(cited == set(trace["sources"]), "sources", "are not just those cited")
    for name, text in trace["sources"].items():
        want(bool(text.strip()), f"sources/{name}", "is blank")
