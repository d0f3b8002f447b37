"""What may not lawfully stand on a label, for the terminal and as plain data."""

from __future__ import annotations

from typing import Any

from abluent.engine.amounts.lawful import LOCAL, WRONG, Lawful, Unlawful
from abluent.engine.base.store import Base
from abluent.grammar.common.text import wrapped


def law_page(law: Lawful, base: Base, width: int) -> str:
    """Return what law says against the lines of a label; empty if nothing."""
    told = [_breach(each, law, base) for each in law.found]
    if law.elsewhere:
        names = ", ".join(base.label(each) for each in law.elsewhere)
        told = [f"{names}: forbidden in some markets; the label names none."]
    if law.market is not None and not law.known:
        told = [f"no law of {base.label(str(law.market))} is known here."]
    lines = [wrapped(f"Law: {each}", width, "  ") for each in told]
    return "\n".join([*lines, wrapped(LOCAL, width, "  ")] if lines else [])


def law_json(law: Lawful, base: Base) -> dict[str, Any]:
    """Return the same as plain data."""
    return {
        "on": law.on,
        "market": law.market and base.label(law.market),
        "law_known": law.known,
        "unlawful": [_plain(each, base) for each in law.found],
        "forbidden_elsewhere": [base.label(each) for each in law.elsewhere],
    }


def _breach(told: Unlawful, law: Lawful, base: Base) -> str:
    """Return what law says against one line, with its own words and its source."""
    rule = base.record(told.rule)
    part = " in some of such products" if told.in_part else ""
    until = f"; older stock may be sold before {told.sold_until}"
    name = f"{base.label(told.ingredient)} (place {told.place})"
    head = f"{name} {WRONG[told.breach]}{part} on {law.on}"
    sources = "; ".join(base.label(each) for each in rule.basis.sources)
    recalled = " From memory." if rule.basis.from_memory else ""
    stock = until if told.sold_until else ""
    return f"{head}{stock}. {rule.text('statement')} [{sources}]{recalled}"


def _plain(told: Unlawful, base: Base) -> dict[str, Any]:
    rule = base.record(told.rule)
    return {
        "position": told.place,
        "ingredient": base.label(told.ingredient),
        "breach": told.breach,
        "in_part": told.in_part,
        "sold_until": told.sold_until or None,
        "statement": rule.text("statement"),
        "provision": rule.text("provision"),
        "sources": [base.label(each) for each in rule.basis.sources],
        "from_memory": rule.basis.from_memory,
    }
