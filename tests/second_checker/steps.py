"""The steps of a trace: each follows from those it rests on."""

from collections.abc import Iterable, Iterator
from typing import Any

from .following import (
    Condition,
    agreeing,
    agrees,
    anything_in,
    collected,
    filled,
    function_of,
    given_by,
    read_condition,
    variables,
)
from .values import (
    Atom,
    Bind,
    canonical,
    comes_to,
    digest,
    holds,
    read_atom,
    read_expression,
    read_value,
    want,
)
from .world import World

Node = dict[str, Any]


def check_steps(world: World) -> None:
    """Every step is so, is named rightly and is reached from a goal."""
    nodes = world.trace["nodes"]
    entries = {canonical(entry) for entry in world.trace["facts"]}
    read = {name: read_node(node, f"nodes/{name}") for name, node in nodes.items()}
    for name, node in nodes.items():
        place = f"nodes/{name}"
        want(digest(node)[:16] == name, place, "is named otherwise than its digest")
        for premise in premises_of(node):
            want(premise in nodes, place, f"rests on no step {premise}")
        if node["kind"] == "fact":
            entry = {key: node[key] for key in node if key != "kind"}
            want(canonical(entry) in entries, place, "is not among the facts")
    for name, node in read.items():
        place = f"nodes/{name}"
        try:
            check_step(world, node, read, place)
        except ArithmeticError as error:
            want(False, place, str(error))
    roots = [goal["root"] for goal in world.trace["goals"]]
    want(all(root in nodes for root in roots), "goals", "a root is no step")
    want(len(reached(nodes, roots)) == len(nodes), "nodes", "nothing rests on a step")
    want(not circular(nodes), "nodes", "a step rests on itself")


def premises_of(node: Node) -> Iterator[str]:
    """The steps that a step rests on."""
    yield from node.get("premises", ())
    for member in node.get("members", ()):
        yield from member["premises"]


def reached(nodes: dict[str, Node], roots: Iterable[str]) -> set[str]:
    """The steps under some roots, these too."""
    found, rest = set(roots), list(roots)
    while rest:
        for premise in premises_of(nodes[rest.pop()]):
            if premise not in found:
                found.add(premise)
                rest.append(premise)
    return found


def circular(nodes: dict[str, Node]) -> bool:
    """Whether some step rests on itself."""
    above = dict.fromkeys(nodes, 0)
    for node in nodes.values():
        for premise in set(premises_of(node)):
            above[premise] += 1
    free = [name for name, count in above.items() if not count]
    done = 0
    while free:
        done += 1
        for premise in set(premises_of(nodes[free.pop()])):
            above[premise] -= 1
            if not above[premise]:
                free.append(premise)
    return done < len(nodes)


def read_bind(data: Any, place: str) -> Bind:
    """Variables with words, numbers and intervals."""
    bind = {name: read_value(value, place) for name, value in data.items()}
    for value in bind.values():
        want(value is not None and not variables(value), place, "binds no value")
    return bind


def read_node(node: Node, place: str) -> Node:
    """A step with its values read."""
    found = dict(node)
    if "atom" in node:
        found["atom"] = read_atom(node["atom"], place)
        want(not variables(found["atom"]), place, "has a variable")
    for key in {"left", "right", "result"} & set(node):
        found[key] = read_value(node[key], place)
        want(is_plain(found[key]), place, "has no value")
    if "expr" in node:
        found["expr"] = read_expression(node["expr"], place)
    if "bind" in node:
        found["bind"] = read_bind(node["bind"], place)
    if node["kind"] == "collect":
        read_collection(found, place)
    return found


def is_plain(value: Any) -> bool:
    """Whether a value is a word, number or interval."""
    return value is not None and not variables(value)


def read_collection(node: Node, place: str) -> None:
    """Read the parts of a collection."""
    node["terms"] = tuple(read_value(each, place) for each in node["terms"])
    node["body"] = tuple(read_condition(each, place) for each in node["body"])
    node["groups"] = tuple(read_value(each, place) for each in node["groups"])
    node["members"] = [
        {**each, "bind": read_bind(each["bind"], place)} for each in node["members"]
    ]


def check_step(world: World, node: Node, nodes: dict[str, Node], place: str) -> None:
    """One step is so, a fact being seen to already."""
    kind = node["kind"]
    if kind == "rule":
        check_rule(world, node, nodes, place)
    elif kind == "absent":
        found = next(iter(agreeing(world.known, node["atom"])), None)
        want(found is None, place, f"but this follows: {found}")
    elif kind == "compare":
        sure = holds(node["op"], node["left"], node["right"], node["perhaps"])
        want(sure, place, "the comparison does not hold")
    elif kind == "compute":
        sure = comes_to(node["expr"]) == node["result"]
        want(sure and is_plain(node["expr"]), place, "comes to another value")
    elif kind == "collect":
        check_collection(world, node, nodes, place)


def check_rule(world: World, node: Node, nodes: dict[str, Node], place: str) -> None:
    """A rule concludes what is said from what the step rests on."""
    want(node["rule"] in world.rules, place, "is by no rule of the trace")
    rule, bind = world.rules[node["rule"]], node["bind"]
    want(set(bind) == given_by(rule.body), place, "binds other variables")
    want(filled(rule.head, bind) == node["atom"], place, "concludes another atom")
    check_answers(rule.body, bind, node["premises"], nodes, place)


def check_answers(
    body: tuple[Condition, ...],
    bind: Bind,
    premises: list[str],
    nodes: dict[str, Node],
    place: str,
) -> None:
    """The premises answer the conditions, each at its place."""
    want(len(body) == len(premises), place, "rests on more or fewer steps")
    for condition, premise in zip(body, premises, strict=True):
        wanted, node = filled(condition, bind), nodes[premise]
        want(answers(wanted, node), place, f"{premise} does not answer {wanted}")


def answers(condition: Condition, node: Node) -> bool:
    """Whether a step answers a condition with values in it."""
    kind = condition[0]
    if kind == "is":
        fits = node["kind"] in ("fact", "rule")
        return fits and not variables(condition) and agrees(node["atom"], condition[1])
    if kind == "not":
        wanted: tuple[Any, ...] = ("absent", *condition[1:])
        return wanted == (node["kind"], node.get("atom"), node.get("form"))
    if kind == "compare":
        ends = tuple(comes_to(end) for end in condition[2:4])
        wanted = ("compare", condition[1], *ends, condition[4])
        return wanted == parts_of(node, "op", "left", "right", "perhaps")
    if kind == "let":
        wanted = ("compute", condition[2], condition[1])
        return wanted == parts_of(node, "expr", "result")
    wanted = ("collect", *condition[2:], condition[1])
    return wanted == parts_of(node, "function", "terms", "body", "groups", "result")


def parts_of(node: Node, *keys: str) -> tuple[Any, ...]:
    """The kind of a step and some of its parts."""
    return (node["kind"], *(node.get(key) for key in keys))


def check_collection(
    world: World, node: Node, nodes: dict[str, Node], place: str
) -> None:
    """A collection is over exactly what follows, and comes to its result."""
    want(not variables(node["groups"]), place, "has a group without value")
    tuples: list[Atom] = []
    for index, member in enumerate(node["members"]):
        bind, at = member["bind"], f"{place}/members/{index}"
        want(set(bind) == given_by(node["body"]), at, "binds other variables")
        check_answers(node["body"], bind, member["premises"], nodes, at)
        tuples.append(filled(node["terms"], bind))
    want(len(set(tuples)) == len(tuples), place, "has a member twice")
    want(not variables(tuple(tuples)), place, "has a term without value")
    want(not anything_in(tuple(tuples)), place, "has anything as a term")
    found = collected(world.known, node["terms"], node["body"])
    want(found == set(tuples), place, "is over other members than follow")
    result = function_of(node["function"], set(tuples))
    want(result == node["result"], place, "comes to another value")
