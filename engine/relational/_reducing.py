"""The statements by which one thing stands for all of which the same is so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.relational import plan as p
from abluent.engine.relational._roles import Leaf, Role

Tables = Mapping[str, p.Table]


def map_name(role: Role) -> str:
    """The table that says which thing of a role stands for which."""
    return f"alike_{role.number}"


def whole_name(role: Role) -> str:
    """The table that says it of every thing, where stand-ins were put together."""
    return f"alike_{role.number}_whole"


def composed_text(role: Role, before: Role | None) -> str:
    """Select, for a role of stand-ins, every thing, perhaps its partner, and theirs."""
    columns = ", ".join(("partner",) * role.paired)
    if before is None:
        return (
            f"SELECT thing, {columns + ', ' * role.paired}stands FROM {map_name(role)}"
        )
    partner = "a.partner, " if before.paired else "b.partner, " if role.paired else ""
    both = " AND b.partner = a.partner" if before.paired and role.paired else ""
    return (
        f"SELECT a.thing, {partner}b.stands FROM {map_name(before)} AS a "
        f"JOIN {map_name(role)} AS b ON b.thing = a.stands{both}"
    )


def alike_text(role: Role, tables: Tables) -> str:
    """Select, for a role, every thing, perhaps its partner, and its stand-in."""
    if not role.paired:
        facts = _facts(role.leaves, tables, paired=False)
        return (
            "SELECT thing, MIN(thing) OVER (PARTITION BY facts) AS stands "
            f"FROM ({facts}) AS each_"
        )
    beside = [leaf for leaf in role.leaves if leaf.partner is not None]
    alone = [leaf for leaf in role.leaves if leaf.partner is None]
    pairs = _facts(beside, tables, paired=True)
    text = f"SELECT a.thing, a.partner, a.facts, NULL AS more FROM ({pairs}) AS a"
    if alone:
        text = (
            f"SELECT a.thing, a.partner, a.facts, b.facts AS more FROM ({pairs}) AS a "
            f"LEFT JOIN ({_facts(alone, tables, paired=False)}) AS b "
            "ON a.thing = b.thing"
        )
    return (
        "SELECT thing, partner, "
        "MIN(thing) OVER (PARTITION BY partner, facts, more) AS stands "
        f"FROM ({text}) AS each_"
    )


def _facts(leaves: Sequence[Leaf], tables: Tables, *, paired: bool) -> str:
    """For every thing, or pair, the ordered list of the facts about it."""
    keys = "thing, partner" if paired else "thing"
    each = "\nUNION ALL\n".join(_fact(leaves, tables, paired))
    return (
        f"SELECT {keys}, list_sort(list(DISTINCT fact)) AS facts "
        f"FROM ({each}) AS each_ GROUP BY {keys}"
    )


def _fact(leaves: Sequence[Leaf], tables: Tables, paired: bool) -> Iterator[str]:
    for number, leaf in enumerate(leaves):
        table = tables[leaf.predicate]
        own = {f"c{leaf.place}"} | ({f"c{leaf.partner}"} if paired else set())
        rest = [name for name in table.columns if name not in own]
        partner = f"c{leaf.partner} AS partner, " if paired else ""
        values = ", ".join([f"CAST({number} AS BIGINT)", *rest])
        yield (
            f"SELECT c{leaf.place} AS thing, {partner}[{values}] AS fact "
            f"FROM {table.name}"
        )


def kept_text(role: Role, leaf: Leaf, tables: Tables) -> str:
    """Select what is kept of a predicate for a role."""
    columns = ", ".join(tables[leaf.predicate].columns)
    text = f"SELECT DISTINCT {columns} FROM {tables[leaf.predicate].name}"
    if not role.places:
        return text
    if leaf.partner is None:
        stands = f"SELECT stands FROM {map_name(role)}"
        return f"{text} WHERE c{leaf.place} IN ({stands})"
    return (
        f"{text} SEMI JOIN {map_name(role)} AS m "
        f"ON c{leaf.place} = m.stands AND c{leaf.partner} = m.partner"
    )


def expanded_text(goal: str, roles: Mapping[Role, str], tables: Tables) -> str:
    """Select the facts of a goal of every thing.

    Args:
        goal: the goal.
        roles: the roles in which things stand for others, each with its table.
        tables: the tables of all predicates.
    """
    table = tables[goal]
    at = {
        place: (role, partner)
        for role in roles
        for name, place, partner in role.places
        if name == goal
    }
    stands = {f"c{place}": f"m{place}.thing" for place in at}
    columns = ", ".join(f"{stands.get(c, f't.{c}')} AS {c}" for c in table.columns)
    text = f"SELECT {columns} FROM {table.name} AS t"
    for place, (role, partner) in at.items():
        text += f" JOIN {roles[role]} AS m{place} ON m{place}.stands = t.c{place}"
        if partner is not None:
            text += f" AND m{place}.partner = t.c{partner}"
    return text
