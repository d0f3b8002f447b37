"""The labels of a trace, cut where a step was read from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from abluent.engine.base.phrases import product_name
from abluent.engine.trace.steps import Step


@dataclass(frozen=True, slots=True)
class Stretch:
    """Characters of a label, and the numbers of the steps that were read there."""

    text: str
    steps: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class MarkedLabel:
    """A label word for word, in stretches that together are its whole text."""

    product: str
    stretches: tuple[Stretch, ...]

    @property
    def decides(self) -> bool:
        """Whether any step was read from it."""
        return any(each.steps for each in self.stretches)


def marked_labels(trace: Mapping[str, Any], steps: Sequence[Step]) -> list[MarkedLabel]:
    """Return the labels of a trace with the places that steps were read from."""
    found = []
    for label in trace["labels"]:
        name = product_name(label["product"])
        spans = [
            (step.place.start, step.place.end, step.number)
            for step in steps
            if step.place is not None and step.place.product == name
        ]
        found.append(MarkedLabel(name, tuple(_stretches(label["text"], spans))))
    return found


def _stretches(text: str, spans: Sequence[tuple[int, int, int]]) -> Iterator[Stretch]:
    """Cut a text at every edge of a span, as spans may lie within each other."""
    edges = sorted({0, len(text), *(edge for span in spans for edge in span[:2])})
    for start, end in pairwise(edges):
        over = [n for first, last, n in spans if first <= start and end <= last]
        yield Stretch(text[start:end], tuple(sorted(over)))
