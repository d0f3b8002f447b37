"""Names as a list in words."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.text import in_a_row

_SHOWN = 12


def listed(names: Sequence[str], limit: int = _SHOWN) -> str:
    """Names as a list in words; past the limit, how many more there are."""
    names = list(dict.fromkeys(names))
    if len(names) > limit:
        return f"{', '.join(names[:limit])} and {len(names) - limit} more"
    return in_a_row(names or [""])
