"""Bars on standard error while many labels are read or judged: for people only."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread
from typing import Any

FEWEST = 200  # labels; fewer are read before a bar could be seen
DELAY_SECONDS = 0.5
_CLEAR = "\r\x1b[K"


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


@contextmanager
def waiting(*stages: str) -> Iterator[Callable[[], None]]:
    """Say what is being done and for how long, where nothing can be counted.

    It is said from `DELAY_SECONDS` on, once a second, and only on a terminal; it is
    gone when the work is.

    Args:
        stages: what is done, one after the other; what is given back is to be called
            when the next begins.
    """
    at = [0]

    def on() -> None:
        at[0] = min(at[0] + 1, len(stages) - 1)

    if not sys.stderr.isatty():
        yield on
        return
    done, began, out = Event(), time.monotonic(), sys.stderr

    def tell() -> None:
        told, pause = False, DELAY_SECONDS
        while not done.wait(pause):
            seconds = round(time.monotonic() - began)
            out.write(f"{_CLEAR}{stages[at[0]]}, {seconds} s")
            out.flush()
            told, pause = True, 1.0
        if told:
            out.write(_CLEAR)
            out.flush()

    thread = Thread(target=tell, daemon=True)
    thread.start()
    try:
        yield on
    finally:
        done.set()
        thread.join()
