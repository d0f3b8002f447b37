"""Bars on standard error while many labels are read or judged: for people only."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

FEWEST = 200  # labels; fewer are read before a bar could be seen
DELAY_SECONDS = 0.5


@contextmanager
def reading_bar(labels: int) -> Iterator[Callable[[], None] | None]:
    """Give what is to be called for each label read, to show how far it got.

    It is nothing, and nothing is imported, for few labels or where standard error
    is no terminal.
    """
    if labels < FEWEST or not sys.stderr.isatty():
        yield None
        return
    from tqdm import tqdm

    with tqdm(
        total=labels,
        desc="labels read",
        unit="",
        delay=DELAY_SECONDS,
        leave=False,
        file=sys.stderr,
        dynamic_ncols=True,
    ) as bar:

        def tick() -> None:
            bar.update()

        yield tick


@contextmanager
def judging_bar(labels: int) -> Iterator[Callable[[int, int], None] | None]:
    """Give what is to be called with how many washes were judged, and of how many.

    It is nothing for few labels or where standard error is no terminal. The bar is
    made when it is first called, and tells the time that is left.
    """
    if labels < FEWEST or not sys.stderr.isatty():
        yield None
        return
    from tqdm import tqdm

    bars: list[tqdm[Any]] = []

    def show(done: int, total: int) -> None:
        if not bars:
            bars.append(
                tqdm(
                    total=total,
                    desc="washes judged",
                    mininterval=0,
                    unit="",
                    leave=False,
                    file=sys.stderr,
                    dynamic_ncols=True,
                )
            )
        bars[0].update(done - bars[0].n)

    try:
        yield show
    finally:
        for bar in bars:
            bar.close()
