"""Judging a whole catalogue, from its labels to the tables.

    sweep(world, labels, place)

reads every label, judges every wash against every product, and writes the tables. What
was read is kept as it is read: whoever stops a sweep and begins it again goes on from
there. A sweep whose outcome is already there, of the same labels, rules and base, is
not done again.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from abluent.engine.base import files
from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.world import World
from abluent.engine.relational.duck import Duck
from abluent.engine.relational.portions import Watch
from abluent.engine.relational.spark import Spark
from abluent.engine.sights.reader import Reader
from abluent.engine.sights.sight import Seen
from abluent.engine.sweep.judging import Catalogue, Entry
from abluent.engine.sweep.tables import Tables
from abluent.engine.sweep.written import form_of, read_about, write

DIGEST = "digest"


class Options(NamedTuple):
    """How a sweep is done.

    Args:
        form: how its tables are written; by the name of the place if empty.
        whole: whether every verdict is written, and not once for all that is alike.
        processes: how many read labels; as many as there are processors if nought.
        memory: how much memory the database may use, such as `2GB`, if not empty.
        layers: the user's own files that the base was made with.
        again: whether to do again what is there already.
        engine: where it is judged: `duckdb`, or `spark`.
    """

    form: str = ""
    whole: bool = False
    processes: int = 0
    memory: str = ""
    layers: Sequence[Path] = ()
    again: bool = False
    engine: str = "duckdb"


class Watched(NamedTuple):
    """What is told how far a sweep got.

    Args:
        read: called for each label that was read.
        judged: called with how many different washes were judged, and of how many.
    """

    read: Callable[[], object] | None = None
    judged: Watch | None = None


class Swept(NamedTuple):
    """What came of a sweep.

    Args:
        labels: how many labels there are.
        washes: how many of them were judged as washes.
        verdicts: how many verdicts there are on a wash, a product and a film of it.
        judged: how many of them were worked out, the others being alike.
        unread: how many different names were not understood.
        done: whether anything had to be done.
    """

    labels: int
    washes: int
    verdicts: int
    judged: int
    unread: int
    done: bool


def sweep(
    world: World,
    labels: Iterable[Product],
    place: Path,
    options: Options | None = None,
    watch: Watched | None = None,
) -> Swept:
    """Judge a catalogue and write its tables.

    Args:
        world: the base, its rules, and how hair is washed.
        labels: the labels; each product has a name of its own.
        place: the file or folder to write.
        options: how it is done.
        watch: what is told how far it got.

    Raises:
        ModuleNotFoundError: a library is not installed that this needs.
        Untranslatable: a rule cannot be evaluated in bulk.
        EngineError: the database refused.
        OSError: the place cannot be written.
    """
    options = options or Options()
    labels = list(labels)
    form = options.form or form_of(place)
    about = {
        DIGEST: digest_of(world, labels, options),
        "labels": str(len(labels)),
        "day": date.today().isoformat(),
        "washing": ", ".join(world.stated),
    }
    there = {} if options.again else read_about(place, form)
    if there.get(DIGEST) == about[DIGEST]:
        return Swept._make([*(int(there.get(n, 0)) for n in COUNTED), False])
    database = Duck(memory=options.memory)
    try:
        found = _judged(world, labels, database, options, watch or Watched(), about)
        write(database, place, form, whole=options.whole)
    finally:
        database.close()
    return found


COUNTED = ("labels", "washes", "verdicts", "judged", "unread")


def _judged(  # noqa: PLR0913, PLR0917 - one step of `sweep`
    world: World,
    labels: Sequence[Product],
    database: Duck,
    options: Options,
    watch: Watched,
    about: dict[str, str],
) -> Swept:
    engine = Spark() if options.engine == "spark" else database
    catalogue = Catalogue(world, engine)
    washes = _washes(world, {each.kind for each in labels})
    seen = (Seen(each.kind, each.market, each.text) for each in labels)
    with Reader(
        world.base,
        options.layers,
        processes=options.processes,
        practice=world.amounts.practice,
    ) as reader:
        sights = reader.sights(seen, lambda label: washes[label.kind])
        for each, sight in zip(labels, sights, strict=True):
            entry = Entry(each.name, each.kind, each.market, washes[each.kind])
            catalogue.add(entry, sight)
            if watch.read is not None:
                watch.read()
    reckoning = catalogue.judge(watch.judged)
    if engine is not database:
        reckoning.bring(database)
        engine.close()
    tables = Tables(reckoning, catalogue.told, world, catalogue.sorts)
    counts = (
        len(labels),
        sum(washes[each.kind] for each in labels),
        tables.count("verdicts"),
        tables.count("judged"),
        tables.count("unread"),
    )
    told = dict(zip(COUNTED, map(str, counts), strict=True))
    tables.add_about({**about, **told})
    return Swept._make([*counts, True])


def _washes(world: World, kinds: Iterable[str]) -> Mapping[str, bool]:
    """Of every kind that a label names, whether it is sold to clean."""
    cleaning = cleaning_kinds(world.base)
    return {kind: product_kind(kind, world.base) in cleaning for kind in kinds}


def digest_of(world: World, labels: Sequence[Product], options: Options) -> str:
    """What changes with all that the outcome depends on."""
    found = hashlib.sha256()

    def take(*parts: Any) -> None:
        found.update(repr(parts).encode("utf-8", "surrogatepass"))

    take(options.whole, world.amounts.practice, tuple(world.stated))
    take(date.today().isoformat())
    with files.shipped_folder() as folder:
        for path in sorted(Path(folder).rglob("*")):
            if path.suffix in {".ttl", ".rules", ".toml"}:
                take(path.relative_to(folder).as_posix(), path.read_bytes())
    for layer in options.layers:
        for path in sorted(layer.rglob("*")) if layer.is_dir() else [layer]:
            with suppress(OSError):
                take(path.name, path.read_bytes())
    for each in labels:
        take(*each)
    return found.hexdigest()
