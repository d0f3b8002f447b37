"""Parse tables of a grammar: made by Lark once, then kept in the user's cache.

A kept file counts only for exactly the grammar it was made from, and only while
this module makes tables as it did then.
"""

from __future__ import annotations

from abluent.grammar.common import cache
from abluent.grammar.common.lalr import Rule, Tables

_FORM = 1  # Another number for tables of another form.


def tables(grammar: str, start: str, folder: str | None = None) -> Tables:
    """The tables of a grammar.

    Args:
        grammar: its text, in Lark's notation.
        start: the rule that a whole text must fit.
        folder: where tables are kept; None is the user's cache.
    """
    place = cache.kept_place(f"tables-{start}", folder)
    found = _recall(place, grammar)
    if found is None:
        found = compile_tables(grammar, start)
        _remember(place, grammar, found)
    return found


def compile_tables(grammar: str, start: str) -> Tables:
    """Have Lark make the tables of a grammar."""
    from lark import Lark  # noqa: PLC0415 - slow to import, and seldom needed
    from lark.parsers.lalr_analysis import Shift  # noqa: PLC0415

    made = Lark(
        grammar,
        parser="lalr",
        lexer="basic",
        start=start,
        keep_all_tokens=True,
        maybe_placeholders=False,
    )
    table = made.parser.parser._parse_table
    numbers = {rule: number for number, rule in enumerate(made.rules)}
    steps = {
        state: {
            str(kind): (step is Shift, target if step is Shift else numbers[target])
            for kind, (step, target) in sorted(row.items())
        }
        for state, row in table.states.items()
    }
    places = _order(steps, table.start_states[start])
    states = [
        {kind: places[to] if on else -1 - to for kind, (on, to) in steps[state].items()}
        for state in places
    ]
    rules = [
        Rule(
            str(rule.origin.name),
            len(rule.expansion),
            _call(str(rule.origin.name), rule.alias),
            bool(rule.options.expand1) and not rule.alias,
        )
        for rule in made.rules
    ]
    return Tables(rules, states, 0, places[table.end_states[start]])


def _order(steps: dict[int, dict[str, tuple[bool, int]]], start: int) -> dict[int, int]:
    """New numbers for the states, so that one grammar always gives one table."""
    places = {start: 0}
    pending = [start]
    for state in pending:
        for moves_on, target in steps[state].values():
            if moves_on and target not in places:
                places[target] = len(places)
                pending.append(target)
    return places


def _call(origin: str, alias: str | None) -> str:
    """The method for a rule; a rule whose name begins with `_` has none."""
    if alias:
        return str(alias)
    return "" if origin.startswith("_") else origin


def _recall(place: str, grammar: str) -> Tables | None:
    found = cache.recall(place)
    if found is None or found[0] != [_FORM, grammar]:
        return None
    _, rules, *rest = found
    return Tables([Rule(*rule) for rule in rules], *rest)


def _remember(place: str, grammar: str, made: Tables) -> None:
    rules = [(rule.origin, rule.size, rule.call, rule.single) for rule in made.rules]
    content = ([_FORM, grammar], rules, made.states, made.start, made.end)
    cache.remember(place, content)
