"""What packs say of products, and what their labels must show for it to be so."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from abluent.engine.base import files
from abluent.engine.base.fold import fold
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in

_PAGE = "names/pack_claims.toml"
_FREE = re.compile(
    r"(?:(?:100 ?%|completely|totally) )?(?:free (?:of|from) |no |without |0 ?% )(.+)"
    r"|(.+?)[- ]free",
    re.IGNORECASE,
)


@cache
def _rows() -> Mapping[str, dict[str, Any]]:
    return files.shipped_table(_PAGE)


def meant(text: str) -> q.Predicate | None:
    """What is said of a product whose pack says this; nothing if it is not known."""
    said = " ".join(text.split()).rstrip(".!")
    known = {fold(each): row for each, row in _rows()["claims"].items()}.get(fold(said))
    if known is not None:
        query = query_in(f"which products {known}")
        return query.predicate if isinstance(query, q.Which) else None
    found = _FREE.fullmatch(said)
    lacking = next(filter(None, found.groups()), "") if found else ""
    return q.Not(q.Contains(q.Name(lacking))) if lacking else None


def lacked(said: q.Predicate) -> list[q.Name]:
    """The names that a list must not hold for a pack to be right."""
    match said:
        case q.Both(parts=parts):
            return [name for part in parts for name in lacked(part)]
        case q.Not(part=q.Contains(object=q.Name() as name)):
            return [name]
        case q.Contains(object=q.Quantified(quantity=q.Quantity.NO, term=term)):
            return [each for each in q.members(term) if isinstance(each, q.Name)]
        case _:
            return []


def near(name: str) -> str:
    """How names look that are taken for what a list must not hold; empty if none."""
    rows = {_one(each): pattern for each, pattern in _rows()["near"].items()}
    return str(rows.get(_one(name), ""))


def _one(name: str) -> str:
    """A name whether of one or of several."""
    return fold(name).removesuffix("s")


def rule_of(market: str) -> str:
    """The rule that a market has for such claims; empty if none is known."""
    row = _rows()["markets"].get(market)
    if row is None:
        return ""
    return f"{row['rule']}{' From memory.' * bool(row['from_memory'])}"
