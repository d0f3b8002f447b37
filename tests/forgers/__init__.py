"""False traces by someone who knows the format: each says what is not so.

A forger changes one statement of a true trace and then everything that hangs on it:
names of steps, goals, rows, cited works, digest. `ALONE` are kinds that contradict
themselves, and are refused by their own rules and facts; `BY_BASE` hang together, and
are refused by the base. A kind that finds nothing to forge raises `NotHere`.
"""

from __future__ import annotations

# In this order, which is that of the kinds in the table that is kept.
# isort: off
from forgers import rows_forged  # noqa: F401
from forgers import steps_forged  # noqa: F401
from forgers import labels_forged  # noqa: F401
from forgers import base_forged  # noqa: F401

# isort: on
from forgers.kinds import ALONE, BY_BASE, forged

__all__ = ["ALONE", "BY_BASE", "forged"]
