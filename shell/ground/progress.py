"""A bar on standard error while many labels are read: for people, not for pipes."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

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
