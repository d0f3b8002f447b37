"""Where a fact comes from, when it comes from a line of a label.

The origin of a fact is text. That of a fact read off a label names the product and
the characters it was read from, so that a proof can point at them and a checker can
look there.
"""

from __future__ import annotations

import re
from typing import NamedTuple

QUESTION = "the question"
"""The origin of a fact that only says what was asked."""

SHELF = "the shelf"
"""The origin of a fact that a shelf says of its products or of how hair is washed."""

SUPPOSITION = "the supposition"
"""The origin of a fact that a question supposes."""

LEVELS = "the account of levels"
"""The origin of a fact that gives a quantity of a label; a trace proves its ends."""

_LABEL = re.compile(r"label (.+) (\d+)-(\d+)", re.DOTALL)


class LabelOrigin(NamedTuple):
    """Characters `start` to `end` of the label of a product, the end left out."""

    product: str
    start: int
    end: int

    def __str__(self) -> str:
        return f"label {self.product} {self.start}-{self.end}"


def label_origin(origin: str) -> LabelOrigin | None:
    """The label and the place on it that an origin names, if it names one."""
    found = _LABEL.fullmatch(origin)
    if found is None:
        return None
    return LabelOrigin(found[1], int(found[2]), int(found[3]))
