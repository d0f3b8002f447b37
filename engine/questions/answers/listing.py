"""Names as a list in words."""

from __future__ import annotations

from collections.abc import Sequence

_SHOWN = 12


def listed(names: Sequence[str], limit: int = _SHOWN) -> str:
    """Names as a list in words; past the limit, how many more there are."""
    names = list(dict.fromkeys(names))
    if len(names) > limit:
        return f"{', '.join(names[:limit])} and {len(names) - limit} more"
    *first, last = names or [""]
    return f"{', '.join(first)} and {last}" if first else last
