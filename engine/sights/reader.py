"""Many labels looked at, by several processes, in the order in which they came.

Labels are taken as they are needed and sights given out as they are found, so the
whole never has to be in memory. What was looked at before is taken from `kept`.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from itertools import islice
from pathlib import Path
from typing import TypeAlias

from abluent.engine.base.store import Base
from abluent.engine.sights.kept import KeptSights
from abluent.engine.sights.sight import Seen, Sight, look

_PORTION = 250

Wants: TypeAlias = Callable[[Seen], bool]
"""Whether the balance of a label is asked for."""


class Reader:
    """Looks at labels; a context that ends its processes.

    Args:
        base: the base.
        layers: the user's own files that the base was made with, for the processes.
        processes: how many to use; as many as there are processors if nought.
        practice: whether what the trade usually puts in may narrow amounts.
        keeps: whether to keep sights from run to run.
    """

    def __init__(
        self,
        base: Base,
        layers: Sequence[Path] = (),
        *,
        processes: int = 0,
        practice: bool = True,
        keeps: bool = True,
    ) -> None:
        self._base, self._layers = base, tuple(layers)
        self._count = processes or len(os.sched_getaffinity(0))
        self._kept = {
            balance: KeptSights(base, balance=balance, practice=practice)
            if keeps
            else None
            for balance in (False, True)
        }
        self._practice = practice
        self._pool: ProcessPoolExecutor | None = None
        self._warm = False
        self._others = {*multiprocessing.active_children()}

    def __enter__(self) -> Reader:
        return self

    def __exit__(self, *raised: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=raised[0] is None, cancel_futures=True)
            for child in {*multiprocessing.active_children()} - self._others:
                child.terminate()
        for kept in self._kept.values():
            if kept is not None:
                kept.close()

    def sights(
        self, labels: Iterable[Seen], wants: Wants = lambda label: False
    ) -> Iterator[Sight]:
        """The sight of every label, in order."""
        portions = self._portions(labels)
        waiting: deque[_Portion] = deque()
        for portion in portions:
            waiting.append(self._begun(portion, wants))
            if len(waiting) > 2 * self._count:
                yield from waiting.popleft().sights()
        while waiting:
            yield from waiting.popleft().sights()

    @staticmethod
    def _portions(labels: Iterable[Seen]) -> Iterator[list[Seen]]:
        stream = iter(labels)
        while portion := list(islice(stream, _PORTION)):
            yield portion

    def _begun(self, labels: Sequence[Seen], wants: Wants) -> _Portion:
        asked = [wants(label) for label in labels]
        found: list[Sight | None] = [None] * len(labels)
        keys: list[bytes] = [b""] * len(labels)
        for balance, kept in self._kept.items():
            if kept is None:
                continue
            places = [at for at, each in enumerate(asked) if each == balance]
            for at in places:
                keys[at] = kept.key(labels[at])
            known = kept.find([keys[at] for at in places])
            for at in places:
                found[at] = known.get(keys[at])
        new = [at for at, sight in enumerate(found) if sight is None]
        jobs = [(labels[at], asked[at]) for at in new]
        return _Portion(
            found, new, self._look(jobs), lambda s: self._keep(s, keys, asked)
        )

    def _look(self, jobs: list[_Job]) -> Callable[[], list[Sight]]:
        if not jobs:
            return list
        if self._count < 2:
            return lambda: _looked_at(jobs, self._base, self._practice)
        if self._pool is None:
            if not self._warm:
                # What is made of names the first time, forked processes begin with.
                self._warm = True
                done = _looked_at(jobs, self._base, self._practice)
                return lambda: done
            self._pool = self._started()
        future: Future[list[Sight]] = self._pool.submit(_work, jobs, self._practice)
        return future.result

    def _started(self) -> ProcessPoolExecutor:
        global _shared  # noqa: PLW0603 - what forked processes begin with
        _shared = self._base
        if "fork" in multiprocessing.get_all_start_methods():
            context = multiprocessing.get_context("fork")
            return ProcessPoolExecutor(
                self._count, mp_context=context, initializer=_leave_stopping
            )
        return ProcessPoolExecutor(
            self._count, initializer=_begin, initargs=(self._layers,)
        )

    def _keep(
        self,
        sights: Iterable[tuple[int, Sight]],
        keys: Sequence[bytes],
        asked: Sequence[bool],
    ) -> None:
        both = list(sights)
        for balance, kept in self._kept.items():
            if kept is not None:
                kept.keep((keys[at], s) for at, s in both if asked[at] == balance)


_Job: TypeAlias = tuple[Seen, bool]


class _Portion:
    """Some labels, of which some sights are there and others on their way."""

    def __init__(
        self,
        found: list[Sight | None],
        new: list[int],
        rest: Callable[[], list[Sight]],
        keep: Callable[[Iterable[tuple[int, Sight]]], None],
    ) -> None:
        self._found, self._new, self._rest, self._keep = found, new, rest, keep

    def sights(self) -> Iterator[Sight]:
        looked_at = list(zip(self._new, self._rest(), strict=True))
        for at, sight in looked_at:
            self._found[at] = sight
        if looked_at:
            self._keep(looked_at)
        for each in self._found:
            assert each is not None, "every label was looked at"
            yield each


# -- in another process ----------------------------------------------------------------

_shared: Base | None = None


def _leave_stopping() -> None:
    """Let the first process alone say what happens on Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _begin(layers: Sequence[Path]) -> None:
    _leave_stopping()
    global _shared  # noqa: PLW0603 - once for each process
    _shared = Base.load(list(layers))


def _work(jobs: list[_Job], practice: bool) -> list[Sight]:
    assert _shared is not None, "the process was begun with a base"
    return _looked_at(jobs, _shared, practice)


def _looked_at(jobs: Iterable[_Job], base: Base, practice: bool) -> list[Sight]:
    return [look(label, base, balance=b, practice=practice) for label, b in jobs]
