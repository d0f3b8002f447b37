"""A trace against a base: what it takes from the base is as it is there."""

from collections.abc import Iterable, Iterator
from typing import Any

from .following import Known, Rule, read_rule
from .strata import follows
from .values import Atom, canonical, want
from .world import World, one_length, read_entry

ALIKE = ("canonical", "verdict", "supposed", "cautions")


def again(trace: Any, base: Any) -> Any:
    """What the question of a trace came to when it was asked again, if it was."""
    asked = base["asked"] or []
    wanted = alike(trace)
    return next((each for each in asked if alike(each) == wanted), (asked or [None])[0])


def alike(data: Any) -> list[str]:
    """The parts in which an answer is the same, as text."""
    return [canonical(data[key]) for key in ALIKE]


def base_rules(base: Any) -> dict[str, Rule]:
    """The rules of a base."""
    rules = base["program"]["rules"]
    return {name: read_rule(name, data) for name, data in rules.items()}


def check_program(trace: Any, base: Any) -> None:
    """Scale, rules, sentences, sources, names and terms are those of the base."""
    scale = trace["program"]["standings"] == base["program"]["standings"]
    want(scale, "program/standings", "the base has another scale")
    pairs = [
        ("rules", trace["program"]["rules"], base["program"]["rules"]),
        ("predicates", trace["program"]["predicates"], base["program"]["predicates"]),
        *((part, trace[part], base[part]) for part in ("sources", "names", "terms")),
    ]
    for part, own, theirs in pairs:
        for name, data in own.items():
            sure = name in theirs and canonical(theirs[name]) == canonical(data)
            want(sure, f"{part}/{name}", "is not that of the base")


def check_question(trace: Any, asked: Any) -> None:
    """The answer is that of the question, asked again."""
    if asked is None:
        return
    for key in ALIKE:
        sure = canonical(asked[key]) == canonical(trace[key])
        want(sure, key, "is another when the question is asked again")


def entries_of(base: Any, asked: Any) -> Iterator[Any]:
    """The facts of a base and of the question asked again."""
    for entries in base["facts"].values():
        yield from entries
    yield from asked["facts"] if asked else ()


def looked_at(body: Iterable[Any]) -> Iterator[str]:
    """The predicates that the conditions of a rule look at."""
    for each in body:
        if each[0] in ("is", "not"):
            yield each[1][0]
        if each[0] == "collect":
            yield from looked_at(each[4])


def check_facts(trace: Any, base: Any, asked: Any) -> None:
    """Every fact is the base's, the question's, or is supposed."""
    theirs = {canonical(entry) for entry in entries_of(base, asked)}
    added = {canonical(atom) for atom in trace["supposed"]["added"]}
    rules = base["program"]["rules"].values()
    looked = {name for rule in rules for name in looked_at(rule["body"])}
    asks = looked - {rule["head"][0] for rule in rules}
    for entry in trace["facts"]:
        if canonical(entry) in theirs or canonical(entry["atom"]) in added:
            continue
        name = entry["atom"][0]
        free = not (base["asked"] or entry["sources"] or entry["standing"])
        free = free and name in asks and not base["facts"].get(name)
        want(free, f"facts/{canonical(entry['atom'])}", "is no fact of the base")


def check_labels(trace: Any, base: Any) -> None:
    """Every label is that of the base, and all that was read off it is told."""
    told = {canonical(entry["atom"]) for entry in trace["facts"]}
    told |= {canonical(atom) for atom in trace["supposed"]["removed"]}
    for label in trace["labels"]:
        place = f"labels/{label['product']}"
        theirs = base["labels"].get(label["product"])
        want(theirs is not None, place, "is of no product of the base")
        for key in label:
            sure = canonical(theirs[key]) == canonical(label[key])
            want(sure, f"{place}/{key}", "is not that of the base")
        for atom in theirs["facts"]:
            want(canonical(atom) in told, place, f"{canonical(atom)} is not told")


def against(world: World, base: Any, wanted: set[str]) -> Known:
    """Check a trace against a base; what follows by both."""
    trace = world.trace
    asked = again(trace, base)
    check_program(trace, base)
    check_question(trace, asked)
    check_facts(trace, base, asked)
    check_labels(trace, base)
    rules = list(base_rules(base).values())
    facts = all_facts(world, base, asked)
    one_length(rules, facts)
    return follows(rules, facts, wanted)


def all_facts(world: World, base: Any, asked: Any) -> set[Atom]:
    """The facts of trace, question and base, without what is supposed away."""
    facts = {read_entry(entry, "base").atom for entry in entries_of(base, asked)}
    facts |= {entry.atom for entries in world.told.values() for entry in entries}
    return facts - world.removed


def joined(common: Any, own: Any) -> Any:
    """A base that is written as far as it differs from a common one."""
    base = {**common, **{key: own[key] for key in own if key != "without"}}
    without = set(own.get("without", ()))
    facts = {**common["facts"], **own["facts"]}
    base["facts"] = {name: facts[name] for name in facts if name not in without}
    return base
