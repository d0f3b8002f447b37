"""A plan in the words of a database.

What is printed first is what DuckDB understands, and little more than the standard;
another dialect is printed from that by sqlglot, which knows how they differ.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

from abluent.engine.relational import plan as p

NATIVE = "duckdb"


def select_text(
    select: p.Select,
    *,
    distinct: bool = True,
    common: Mapping[str, str] = MappingProxyType({}),
) -> str:
    """A selection, as one statement without its end.

    Args:
        select: the selection.
        distinct: whether every row is told once.
        common: the names of what is collected beforehand, by its text.
    """
    columns = ", ".join(f"{_expression(e)} AS {name}" for name, e in select.columns)
    word = "SELECT DISTINCT" if distinct and not select.told_once else "SELECT"
    text = f"{word} {columns}"
    if select.sources:
        text += f"\nFROM {_sources(select, common)}"
    if select.where:
        text += "\nWHERE " + "\n  AND ".join(map(_condition, select.where))
    return text


def define_text(define: p.Define) -> str:
    """What a table holds, as one statement without its end."""
    if not define.selects:
        columns = ", ".join(f"CAST(0 AS BIGINT) AS {n}" for n in define.table.columns)
        return f"SELECT {columns} WHERE 1 = 0"
    if len(define.selects) == 1:
        return select_text(define.selects[0])
    common = _common(define)
    # A union tells every row once.
    text = "\nUNION\n".join(
        select_text(each, distinct=False, common=common) for each in define.selects
    )
    named = [f"{name} AS ({collected})" for collected, name in common.items()]
    return f"WITH {', '.join(named)}\n{text}" if named else text


def _common(define: p.Define) -> Mapping[str, str]:
    """What several selections collect alike, with a name, to be collected once."""
    often = Counter(
        _collected(source)
        for select in define.selects
        for source in select.sources
        if isinstance(source, p.Collected)
    )
    found = [collected for collected, times in often.items() if times > 1]
    return {collected: f"common_{number}" for number, collected in enumerate(found)}


def in_dialect(text: str, dialect: str) -> str:
    """A statement in another dialect.

    Raises:
        ModuleNotFoundError: sqlglot is not installed.
    """
    if dialect == NATIVE:
        return text
    import sqlglot  # noqa: PLC0415 - for other dialects only

    (found,) = sqlglot.transpile(text, read=NATIVE, write=dialect)
    return str(found)


def plan_text(plan: p.Plan, dialect: str = NATIVE) -> str:
    """A whole plan, to be read; a loop is shown by its two parts."""
    return "\n\n".join(_steps(plan, dialect)) + "\n"


def _steps(plan: p.Plan, dialect: str) -> Iterator[str]:
    for name, table in plan.given.items():
        yield f"-- given: {table.name}({', '.join(table.columns)}) holds `{name}`"
    for step in plan.steps:
        if isinstance(step, p.Define):
            yield _defined(step, dialect)
            continue
        yield "-- first"
        for define in step.first:
            yield _defined(define, dialect)
        yield "-- then, until nothing is new"
        for define in step.more:
            yield _defined(define, dialect)


def _defined(define: p.Define, dialect: str) -> str:
    text = f"CREATE TABLE {define.table.name} AS\n{define_text(define)}"
    rules = ", ".join(dict.fromkeys(filter(None, define.rules)))
    return f"-- {define.predicate}: {rules or 'given'}\n{in_dialect(text, dialect)};"


# -- parts --------------------------------------------------------------------------


def _sources(select: p.Select, common: Mapping[str, str]) -> str:
    text = ""
    for source in select.sources:
        if isinstance(source, p.Source):
            joined = f"{_looked_at(source)} AS {source.alias}"
            text += f"\nCROSS JOIN {joined}" if text else joined
        else:
            collected = _collected(source)
            inner = f"{common.get(collected, f'({collected})')} AS {source.alias}"
            if source.on:
                on = " AND ".join(map(_condition, source.on))
                text += f"\nLEFT JOIN {inner} ON {on}"
            else:
                text += f"\nCROSS JOIN {inner}" if text else inner
    return text


def _looked_at(source: p.Source) -> str:
    if source.only is None:
        return source.table
    columns = ", ".join(source.only)
    if not columns:
        return f"(SELECT 1 AS c FROM {source.table} LIMIT 1)"
    return f"(SELECT DISTINCT {columns} FROM {source.table})"


def _collected(source: p.Collected) -> str:
    names = [name for name, _ in source.rows.columns]
    groups, values = names[: source.groups], names[source.groups :]
    value = {
        "count": "COUNT(*)",
        "sum": f"CAST(SUM({values[0]}) AS BIGINT)",
        "min": f"MIN({values[0]})",
        "max": f"MAX({values[0]})",
    }[source.function]
    columns = ", ".join([*groups, f"{value} AS value"])
    grouped = f" GROUP BY {', '.join(groups)}" if groups else ""
    return f"SELECT {columns} FROM ({select_text(source.rows)}) AS rows_{grouped}"


def _expression(expression: p.Expression) -> str:
    return _EXPRESSIONS[type(expression)](expression)


def _condition(condition: p.Condition) -> str:
    return _CONDITIONS[type(condition)](condition)


def _arithmetic(each: p.Arithmetic) -> str:
    parts = [_expression(operand) for operand in each.operands]
    if each.operator in {"least", "greatest"}:
        return f"{each.operator.upper()}({', '.join(parts)})"
    return f"({f' {each.operator} '.join(parts)})"


def _nothing(each: p.Nothing) -> str:
    where = " AND ".join(map(_condition, each.conditions)) or "1 = 1"
    return f"NOT EXISTS (SELECT 1 FROM {each.table} AS {each.alias} WHERE {where})"


_EXPRESSIONS: dict[type[Any], Callable[[Any], str]] = {
    p.Column: lambda each: f"{each.source}.{each.name}",
    p.Number: lambda each: f"CAST({each.value} AS BIGINT)",
    p.Arithmetic: _arithmetic,
    p.WholeOr: lambda e: (
        f"COALESCE({_expression(e.value)}, CAST({e.otherwise} AS BIGINT))"
    ),
}

_CONDITIONS: dict[type[Any], Callable[[Any], str]] = {
    p.Compared: lambda e: f"{_expression(e.left)} {e.operator} {_expression(e.right)}",
    p.Given: lambda each: f"{_expression(each.value)} IS NOT NULL",
    p.All: lambda each: f"({' AND '.join(map(_condition, each.conditions))})",
    p.Either: lambda each: f"({' OR '.join(map(_condition, each.conditions))})",
    p.Opposite: lambda each: f"NOT {_condition(each.condition)}",
    p.Nothing: _nothing,
}
