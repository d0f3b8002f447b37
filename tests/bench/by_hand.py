"""Judging by hand-written SQL, to hold a sweep against.

    python tests/bench/by_hand.py 1000 3000 10000

What a data engineer would write who was given a table of what each cleanser takes of
each film, at least and at most, and one of which product leaves which film: the
greatest of what a wash holds, for every film of every product. It knows no excess of
charge, nothing that is tied up or put back, no grade, no line that was not read, no
place on the list and no dispute, so its answers are weaker; how many differ is told.
Reading is left out of both. CPU seconds count all threads.
"""

from __future__ import annotations

import argparse
import os
import resource
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from abluent.engine.base.roles import EFFECTS, Role
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck, quoted
from abluent.engine.sweep.judging import Catalogue
from abluent.engine.sweep.sweep import Options, sweep
from catalogue import catalogue

BY_HAND = """
CREATE TABLE by_hand AS
WITH takes AS (
    SELECT l.product AS wash, r.film, MAX(r.low) AS low, MAX(r.high) AS high
    FROM there.lines AS l JOIN there.labels AS w USING (product)
    JOIN removes AS r ON r.agent = l.symbol WHERE w.is_wash GROUP BY ALL
)
SELECT t.wash, f.product, f.symbol AS film, t.low, t.high
FROM there.films AS f JOIN takes AS t ON t.film = f.symbol
"""
DIFFERENT = """
SELECT COUNT(*) FROM there.verdicts AS v JOIN by_hand AS b USING (wash, product, film)
JOIN ranks AS l ON l.word = v.at_least JOIN ranks AS h ON h.word = v.at_most
WHERE (l.rank, h.rank) <> (b.low, b.high)
"""


def cpu() -> float:
    """The CPU seconds of this process."""
    spent = resource.getrusage(resource.RUSAGE_SELF)
    return spent.ru_utime + spent.ru_stime


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """The wall and CPU seconds of some work."""
    wall, spent = time.perf_counter(), cpu()
    work()
    return time.perf_counter() - wall, cpu() - spent


def singles(base: Base) -> list[Product]:
    """A wash of each cleanser in water, and a leave-in of each film."""
    water = base.label(base.term(Role.WATER))
    washes = [
        Product(each, "wash", "EU", f"{water}, {base.label(each)}")
        for each in base.instances(base.term(Role.CLEANSER))
    ]
    films = [
        Product(f"film {each}", "leave-in", "EU", f"{water}, {base.label(each)}")
        for each in base.instances(base.term(Role.FILM))
    ]
    return washes + films


def by_hand(place: Path, removal: Path, base: Base) -> Duck:
    """A database with the tables that were handed over."""
    database = Duck()
    run = database.execute
    run(f"ATTACH {quoted(str(place))} AS there (READ_ONLY)")
    run(f"ATTACH {quoted(str(removal))} AS alone (READ_ONLY)")
    words = [base.label(base.term(role)) for role in EFFECTS]
    database.columns("ranks", {"word": words, "rank": [*range(len(words))]})
    run(
        "CREATE TABLE removes AS SELECT v.wash AS agent, v.film, "
        "MAX(l.rank) AS low, MAX(h.rank) AS high FROM alone.verdicts AS v "
        "JOIN ranks AS l ON l.word = v.at_least JOIN ranks AS h ON h.word = v.at_most "
        "GROUP BY ALL"
    )
    return database


def main() -> None:
    """Measure every size that is named."""
    parser = argparse.ArgumentParser()
    parser.add_argument("sizes", nargs="+", type=int)
    args = parser.parse_args()
    base = Base.load()
    judging: list[tuple[float, float]] = []
    judge = Catalogue.judge

    def watched(self: Catalogue, watch: object = None) -> object:
        found: list[object] = []
        judging.append(timed(lambda: found.append(judge(self))))
        return found[0]

    Catalogue.judge = watched  # type: ignore[method-assign, assignment]
    with tempfile.TemporaryDirectory() as room:
        os.environ["XDG_CACHE_HOME"] = room
        world = World(base, load_rulebook(), [])
        removal, place = Path(room, "removal.duckdb"), Path(room, "out.duckdb")
        sweep(world, singles(base), removal)
        for size in args.sizes:
            swept = sweep(
                world, list(catalogue(base, size)), place, Options(again=True)
            )
            database = by_hand(place, removal, base)
            wall, spent = timed(lambda: database.execute(BY_HAND))  # noqa: B023
            rows = database.size("by_hand")
            ((other,),) = database.connection.execute(DIFFERENT).fetchall()
            database.close()
            print(f"{size:,} labels, {swept.verdicts:,} verdicts")
            print(f"  by hand, stored one by one {wall:>9.2f} s{spent:>9.2f} s CPU")
            print(f"  {rows:,} rows, of which {other:,} differ")
            print("  by the rules, stored by what is alike", end=" ")
            print(f"{judging[-1][0]:.2f} s{judging[-1][1]:>9.2f} s CPU")
            ratio = judging[-1][1] / spent
            print(f"  ratio by CPU {ratio:.1f}", flush=True)


if __name__ == "__main__":
    main()
