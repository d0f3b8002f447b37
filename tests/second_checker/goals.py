"""The goals of a trace, how well they stand, and the rows that they make."""

from typing import Any

from .following import variables
from .steps import reached
from .values import canonical, read_atom, want
from .words import name_of
from .world import Trace, World, rank

Said = dict[str, Any]
KINDS = ("fact", "rule", "absent")


def check_goals(world: World) -> None:
    """Every goal is of its root, and stands as the weakest step under it."""
    for index, goal in enumerate(world.trace["goals"]):
        place = f"goals/{index}"
        root = world.trace["nodes"].get(goal["root"])
        want(root is not None and root["kind"] in KINDS, place, "has no such root")
        atoms = canonical(root["atom"]) == canonical(goal["atom"])
        want(atoms, place, "is not of its root")
        want(goal["holds"] == (root["kind"] != "absent"), place, "holds otherwise")
        want(not variables(read_atom(goal["atom"], place)), place, "has a variable")
        check_standing(world, goal, place)


def standing_of(world: World, name: str) -> tuple[str, bool]:
    """The standing of a step, and whether it is from memory."""
    node = world.trace["nodes"][name]
    if node["kind"] == "rule":
        node = world.trace["program"]["rules"][node["rule"]]
    elif node["kind"] != "fact":
        return "", False
    return node["standing"], node["memory"]


def check_standing(world: World, goal: Said, place: str) -> None:
    """The weakest steps of a goal, and its standing by them."""
    names = sorted(reached(world.trace["nodes"], [goal["root"]]))
    ranks = {name: rank(world, *standing_of(world, name)) for name in names}
    worst = max((each for each in ranks.values() if each is not None), default=None)
    weakest = [name for name in names if worst is not None and ranks[name] == worst]
    want(goal["weakest"] == weakest, place, "has other weakest steps")
    wanted = standing_of(world, weakest[0]) if weakest else ("", False)
    want((goal["standing"], goal["memory"]) == wanted, place, "stands otherwise")


def terms_of(trace: Trace, predicate: str, size: int, place: str) -> list[str]:
    """What the terms of a predicate are called."""
    if predicate not in trace["terms"]:
        return [f"term {index + 1}" for index in range(size)]
    terms: list[str] = trace["terms"][predicate]
    want(len(terms) == size, place, "has another number of terms than are called")
    return terms


def says(trace: Trace, goal: Said, place: str) -> tuple[Said, Said]:
    """The terms that a goal says, and what else."""
    atom = goal["atom"]
    terms = terms_of(trace, atom[0], len(atom) - 1, place)
    shown = {
        term: name_of(trace, value, "", place)
        for term, value in zip(terms, atom[1:], strict=True)
        if value is not None
    }
    rest = {key: goal[key] for key in ("holds", "standing", "memory")}
    want(not set(shown) & {*rest, "proof"}, place, "calls a term as another key")
    return shown, {**rest, "proof": goal["root"]}


def add_part(
    trace: Trace,
    rows: tuple[Said, Said],
    goal: Said,
    said: tuple[Said, Said],
    place: str,
) -> None:
    """Add what a part says to its row."""
    (row, has), (shown, rest) = rows, said
    called = goal["atom"][0] in trace["terms"]
    common = set(shown) & set(has)
    want(called and bool(common), place, "has no term of its row")
    for term in sorted(common):
        want(shown[term] == has[term], place, f"has another {term} than its row")
    predicate = goal["atom"][0]
    want(predicate not in {*has, *rest}, place, "is called as a term of its row")
    own = {term: text for term, text in shown.items() if term not in common}
    row.setdefault(predicate, []).append({**own, **rest})


def made_rows(trace: Trace) -> list[Said]:
    """The rows that the goals make."""
    rows: list[Said] = []
    has: Said = {}
    for index, goal in enumerate(trace["goals"]):
        place, part = f"goals/{index}", goal["part"]
        said = says(trace, goal, place)
        if goal["row"] is None:
            want(not part, place, "is a part of no row")
            continue
        want(goal["row"] == len(rows) - part, place, "is of another row")
        want(goal["row"] >= 0, place, "is of no row")
        if part:
            add_part(trace, (rows[-1], has), goal, said, place)
        else:
            has = said[0]
            rows.append({**said[0], **said[1]})
    return rows


def check_rows(trace: Trace) -> None:
    """The verdict is exactly the rows."""
    for name, terms in trace["terms"].items():
        want(len(set(terms)) == len(terms), f"terms/{name}", "calls two terms alike")
    answers, rows = trace["verdict"]["answers"], made_rows(trace)
    for index, (answer, row) in enumerate(zip(answers, rows, strict=False)):
        sure = canonical(answer) == canonical(row)
        want(sure, f"verdict/answers/{index}", "is not so")
    want(len(answers) == len(rows), "verdict", "has more or fewer rows than the goals")
