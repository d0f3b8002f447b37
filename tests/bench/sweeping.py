"""How long a sweep takes, of what size, and how that grows.

    python tests/bench/sweeping.py 1000 3000 10000          # and 100000 with patience
    python tests/bench/sweeping.py --reasoner 300 1000

For each size, of an invented catalogue (see `catalogue.py`): labels read a second,
names only and with balances, from nothing and kept; the seconds of judging all washes
against all products, of writing the tables, and of doing nothing as nothing has
changed; the most memory used. CPU seconds count all processes and threads, and are what
to compare on a busy machine. At the end: the exponent by which each grows.
With `--reasoner` the same verdicts are also found by the reasoner in one case.
"""

from __future__ import annotations

import argparse
import math
import os
import resource
import tempfile
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

from abluent.engine.base import contract as c
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.engine.sights.reader import Reader
from abluent.engine.sights.sight import Seen
from abluent.engine.sweep.sweep import Options, Swept, sweep
from catalogue import catalogue

Times = dict[str, tuple[float, float]]


def cpu() -> float:
    """The CPU seconds of this process and of those that it waited for."""
    of = [
        resource.getrusage(w) for w in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    ]
    return sum(each.ru_utime + each.ru_stime for each in of)


def timed(times: Times, name: str, work: Callable[[], object]) -> object:
    """Do some work and keep its wall and CPU seconds."""
    wall, spent = time.perf_counter(), cpu()
    found = work()
    times[name] = time.perf_counter() - wall, cpu() - spent
    return found


def measured(base: Base, labels: list[Product], reasoner: bool) -> Times:
    """The seconds of every step for one catalogue."""
    times: Times = {}
    cleaning = cleaning_kinds(base)
    washes = {p.kind: product_kind(p.kind, base) in cleaning for p in labels}
    seen = [Seen(each.kind, each.market, each.text) for each in labels]
    with tempfile.TemporaryDirectory() as room:
        os.environ["XDG_CACHE_HOME"] = room

        def read(keeps: bool, balances: bool) -> int:
            with Reader(base, keeps=keeps) as reader:
                wants = (lambda s: washes[s.kind]) if balances else (lambda s: False)
                return sum(1 for _ in reader.sights(seen, wants))

        timed(times, "read, names only", lambda: read(False, False))
        timed(times, "read, balances of washes too", lambda: read(True, True))
        timed(times, "read again, kept", lambda: read(True, True))
        world = World(base, load_rulebook(), labels)
        place = Path(room, "out.duckdb")
        swept = timed(times, "sweep, labels kept", lambda: sweep(world, labels, place))
        assert isinstance(swept, Swept)
        timed(times, "sweep, nothing changed", lambda: sweep(world, labels, place))
        again = Options(again=True)
        timed(
            times,
            "sweep again in one process",
            lambda: sweep(world, labels, place, again),
        )
        megabytes = place.stat().st_size / 1e6
        print(f"  {swept.washes:,} washes, {swept.verdicts:,} verdicts,", end=" ")
        print(f"{swept.judged:,} worked out, a file of {megabytes:,.1f} MB")
        if reasoner:
            timed(times, "the reasoner, in one case", lambda: reasoned(world, washes))
    return times


def reasoned(world: World, washes: dict[str, bool]) -> int:
    """Find the same by the reasoner."""
    names = [each.name for each in world.products.values() if washes[each.kind]]
    model = Case.of(world, names, [], world.products).model
    return sum(model.count(goal) for goal in (c.VERDICT, c.LOWER, c.UPPER, c.CONTESTED))


def main() -> None:
    """Measure every size that is named and print what came of it."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--reasoner", action="store_true")
    parser.add_argument("sizes", nargs="+", type=int)
    args = parser.parse_args()
    base = Base.load()
    found: list[tuple[int, Times]] = []
    for size in args.sizes:
        print(f"{size:,} labels")
        labels = list(catalogue(base, size))
        times = measured(base, labels, args.reasoner)
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        for name, (wall, spent) in times.items():
            pace = f"{size / wall:,.0f} a second" if name.startswith("read") else ""
            print(f"  {name:<32}{wall:>9.2f} s{spent:>9.2f} s CPU  {pace}")
        print(f"  most memory so far{most:>10,} MiB", flush=True)
        found.append((size, times))
    for (small, before), (large, after) in pairwise(found):
        print(f"growth from {small:,} to {large:,} labels, by CPU")
        for name in before:
            ratio = after[name][1] / max(before[name][1], 1e-3)
            print(
                f"  {name:<32}exponent {math.log(ratio) / math.log(large / small):.2f}"
            )


if __name__ == "__main__":
    main()
