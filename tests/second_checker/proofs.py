"""The account of levels: proofs that a level or charge is in an interval."""

from fractions import Fraction
from typing import Any

from .charges import excess
from .levels import (
    Form,
    Place,
    Row,
    Threshold,
    chain_of,
    less,
    places_of,
    rows_of,
    threshold_of,
)
from .limits import Limit, check_limit, counted_shares, read_limit, records_of
from .values import NUM, Atom, fraction, read_atom, span, want
from .world import Entry, World, rank, told

ACCOUNT = "the account of levels"
BOUNDED = {"level": 4, "ionicExcess": 3}


def check_bounds(world: World) -> None:
    """Each fact of the account has exactly one proof, and it shows it."""
    entries = [entry for each in world.told.values() for entry in each]
    ours = [entry for entry in entries if entry.origin == ACCOUNT]
    for name in BOUNDED:
        for entry in world.told.get(name, ()):
            want(entry.origin == ACCOUNT, "facts", f"{name} is of another origin")
    atoms = [read_atom(bound["atom"], "bounds") for bound in world.trace["bounds"]]
    want(len(set(atoms)) == len(atoms), "bounds", "a fact has two proofs")
    want(set(atoms) == {entry.atom for entry in ours}, "bounds", "not just the facts")
    for index, bound in enumerate(world.trace["bounds"]):
        facts = [entry for entry in ours if entry.atom == atoms[index]]
        check_bound(world, bound, atoms[index], facts, f"bounds/{index}")


def check_bound(
    world: World, bound: Any, atom: Atom, facts: list[Entry], where: str
) -> None:
    """One entry: its limits, its two proofs, and the standing of its fact."""
    want(BOUNDED.get(atom[0]) == len(atom), where, "bounds nothing of this kind")
    product, without = atom[1], bound["without"]
    want(len(set(without)) == len(without), where, "sets something aside twice")
    limits = {name: read_limit(data) for name, data in bound["limits"].items()}
    want(set(limits) == limited(bound), where, "has other limits than are used")
    for name, limit in limits.items():
        check_limit(world, product, name, limit, f"{where}/limits/{name}")
    places = places_of(world, product, without, where)
    threshold = threshold_of(world, product, where)
    rows = rows_of(places, limits, threshold, without)
    used = rested_on(world, bound, limits, threshold)
    for key, sign in (("low", -1), ("high", 1)):
        at = f"{where}/{key}"
        form, rests = form_of(world, places, atom, sign, at)
        used += rests
        check_end(bound[key], (form, sign, *end_of(atom, sign)), rows, places, at)
    for fact in facts:
        check_fact(world, fact, used, where)


def end_of(atom: Atom, sign: int) -> tuple[Any, bool]:
    """The end of a fact that is to be shown, and whether it is only approached."""
    ends = span(atom[-1])
    return (ends.high, ends.high_open) if sign > 0 else (ends.low, ends.low_open)


def form_of(
    world: World, places: list[Place], atom: Atom, sign: int, at: str
) -> tuple[Form | None, list[Entry]]:
    """What a fact is about, and the facts that this rests on; none if unknown."""
    if atom[0] == "level":
        return level_form(places, atom, at), []
    return excess(world, places, sign, at)


def limited(bound: Any) -> set[str]:
    """The limits of which a row has a weight."""
    names = (name.split(" ") for name in weighed(bound))
    return {parts[1] for parts in names if parts[0] in ("cap", "least") and parts[1:]}


def weighed(bound: Any) -> set[str]:
    """The rows that have a weight."""
    proofs = [bound[key] for key in ("low", "high") if bound[key] is not None]
    cases = [case for proof in proofs for case in proof["cases"]]
    return {row for case in cases for row in case["weights"]}


def level_form(places: list[Place], atom: Atom, at: str) -> Form:
    """The level of one place that is surely there."""
    mine = [place for place in places if (NUM, place.name) == atom[2]]
    sure = bool(mine) and mine[0].certain and mine[0].ingredient is not None
    want(sure, at, "is of no certain place")
    return {mine[0].name: Fraction(1)}


Goal = tuple[Form | None, int, Any, bool]


def check_end(
    proof: Any, goal: Goal, rows: dict[str, Row], places: list[Place], at: str
) -> None:
    """There is a proof of an end if there is an end, and it shows it."""
    limitless = not isinstance(goal[2], Fraction)
    want((proof is None) == limitless, at, "is there without an end, or not")
    if proof is None:
        return
    want(goal[0] is not None, at, "what a gram brings is unknown")
    length = len(chain_of(places))
    check_cases(proof, goal, rows, length, at)
    check_reached(proof, goal, rows, length, at)


def check_cases(
    proof: Any, goal: Goal, rows: dict[str, Row], length: int, at: str
) -> None:
    """In each case the rows say so, and the cases take in the whole line."""
    taken: set[int] = set()
    for index, case in enumerate(proof["cases"]):
        place = f"{at}/cases/{index}"
        first, last = case["first"], case["last"]
        want(first <= last <= length, place, "is of no place of the line")
        taken |= set(range(first, last + 1))
        total = weighted(case, rows, place)
        want(shows(total, goal), place, "the rows do not say so")
    want(taken == set(range(length + 1)), at, "a place of the line is in no case")


def check_reached(
    proof: Any, goal: Goal, rows: dict[str, Row], length: int, at: str
) -> None:
    """Some parts keep the rows, and reach or approach the end."""
    form, _, end, is_open = goal
    line = proof["line"]
    want(line <= length, at, "the line is at no place")
    force = {name: row for name, row in rows.items() if row.first <= line <= row.last}
    inside = read_parts(proof["inside"], force, f"{at}/inside")
    check_parts(inside, force, True, f"{at}/inside")
    if not is_open:
        want(not proof["border"], at, "has a border without need")
        want(value_of(form or {}, inside) == end, at, "does not reach the end")
        return
    border = read_parts(proof["border"], force, f"{at}/border")
    check_parts(border, force, False, f"{at}/border")
    want(value_of(form or {}, border) == end, at, "does not approach the end")


def weighted(case: Any, rows: dict[str, Row], at: str) -> Row:
    """The weighted sum of the rows of a case."""
    form: Form = {}
    bound, strict = Fraction(0), False
    for name, text in case["weights"].items():
        want(name in rows, at, f"there is no row {name}")
        row, weight = rows[name], fraction(text)
        want(weight > 0, at, f"{name} has no positive weight")
        sure = row.first <= case["first"] and case["last"] <= row.last
        want(sure, at, f"{name} is not in force")
        for place, share in row.form.items():
            form[place] = form.get(place, Fraction(0)) + weight * share
        bound, strict = bound + weight * row.bound, strict or row.strict
    return Row(without_zeros(form), bound, strict, case["first"], case["last"])


def without_zeros(form: Form) -> Form:
    """A form without the terms that count for nothing."""
    return {place: share for place, share in form.items() if share}


def shows(total: Row, goal: Goal) -> bool:
    """Whether a sum of rows says something impossible, or what is to be shown."""
    form, sign, end, is_open = goal
    impossible = total.bound < 0 or (total.bound == 0 and total.strict)
    if not total.form and impossible:
        return True
    wanted = without_zeros(turned(form or {}, sign))
    if total.form != wanted:
        return False
    if total.bound == sign * end:
        return total.strict or not is_open
    return bool(total.bound < sign * end)


def turned(form: Form, sign: int) -> Form:
    """A form turned by a sign."""
    return form if sign > 0 else less(form)


def read_parts(data: Any, rows: dict[str, Row], at: str) -> Form:
    """The part of every place that a row has."""
    wanted = {place for row in rows.values() for place in row.form}
    want(set(data) == wanted, at, "has other places than the rows in force")
    return {place: fraction(text) for place, text in data.items()}


def value_of(form: Form, parts: Form) -> Fraction:
    """What a form comes to."""
    zero = Fraction(0)
    return sum((share * parts.get(p, zero) for p, share in form.items()), zero)


def check_parts(parts: Form, rows: dict[str, Row], strictly: bool, at: str) -> None:
    """Parts keep every row in force."""
    for name, row in rows.items():
        value = value_of(row.form, parts)
        at_most = value == row.bound and not (row.strict and strictly)
        kept = value < row.bound or at_most
        want(kept, at, f"does not keep {name}")


def rested_on(
    world: World, bound: Any, limits: dict[str, Limit], threshold: Threshold
) -> list[Entry]:
    """The told facts of limits, shares and thresholds that a proof rests on."""
    found: list[Entry] = []
    for name, limit in limits.items():
        for record in records_of(name):
            found += [*told(world, "low", record), *told(world, "high", record)]
            found += told(world, "type", record, "UseLevel")
        for ingredient, share in limit.shares.items():
            if share != 1:
                shares = counted_shares(world, ingredient)
                found += [e for e in shares if e.atom[2] == (NUM, str(share))]
    kinds = {name.split(" ", 1)[0] for name in weighed(bound)}
    if kinds & {"above", "below", "order"}:
        found += threshold.entries
    return found


def check_fact(world: World, fact: Entry, used: list[Entry], where: str) -> None:
    """A fact ranks no better than what it rests on, and cites its sources."""
    own = rank(world, fact.standing, fact.memory)
    for entry in used:
        standing, memory = entry.standing, entry.memory
        if entry.atom[0] == "type":
            standing, memory = "commonPractice", False
        elif entry.atom[0] == "hydrophobicModel":
            standing, memory = "inferred", False
        else:
            want(entry.sources <= fact.sources, where, f"does not cite {entry.atom}")
        other = rank(world, standing, memory)
        low = other is None or (own is not None and own >= other)
        want(low, where, f"ranks better than {entry.atom}")
