"""Names and labels for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from abluent.engine.amounts.levels import Level, Levels
from abluent.engine.base.kinds import telling
from abluent.engine.base.matters import told_of
from abluent.engine.base.store import Base
from abluent.engine.logic.facts import Basis
from abluent.engine.reading.names import in_inventory
from abluent.engine.reading.readings import Reading, ReadLabel
from abluent.grammar.common.text import in_words, wrapped
from abluent.shell.shelf.shelf import ShelfLabel

_HOW = {
    "listed": "listed in the base",
    "synonym": "another name for it",
    "repaired": "its spelling repaired",
    "read": "read from the parts of its name",
    "unknown": "not known to this base",
}


def reading_page(reading: Reading, base: Base, width: int) -> str:
    """Return what a name stands for, as lines of text."""
    lines = [wrapped(f"{_meant(reading, base)}, {_how(reading)}.", width)]
    if reading.classes:
        kinds = ", ".join(base.label(kind) for kind in telling(reading.classes, base))
        lines.append(wrapped(f"Kinds: {kinds}", width, "  "))
    if reading.how != "unknown":
        charge = f"Charge: {_charge(reading, base)}; in water: {reading.water}"
        lines.append(wrapped(charge, width, "  "))
        stands = in_words(reading.standing)
        lines.append(wrapped(f"Stands as: {stands}", width, "  "))
        lines += [wrapped(line, width, "  ") for line in _rests_on(reading, base)]
    lines += [wrapped(f"{p.part}: {p.says}", width, "  - ") for p in reading.parts]
    lines += [wrapped(line, width, "  ") for line in _inventory(reading, base)]
    if reading.candidates:
        near = " or ".join(f'"{base.label(each)}"' for each in reading.candidates)
        lines.append(wrapped(f"Did you mean {near}?", width, "  "))
    if reading.note:
        lines.append(wrapped(f"Note: {reading.note}", width, "  "))
    return "\n".join(lines)


def _charge(reading: Reading, base: Base) -> str:
    """The charge, with the pH at which half of a weak acid or base has it."""
    known = base.record(reading.ingredient) if reading.ingredient else None
    half = known.number("pKa") if known else None
    word = base.label(reading.charge) if reading.charge in base else reading.charge
    return word if half is None else f"{word} (pKa {float(half):g})"


def _rests_on(reading: Reading, base: Base) -> Iterator[str]:
    """What each matter rests on, and what of it was recalled."""
    told = told_of(base.record(reading.ingredient), base) if reading.ingredient else []
    if not told:
        recalled = "from memory: " if reading.how == "read" else ""
        yield f"Source: {recalled}{_cited(reading.sources, base)}."
    for matter, bases in groupby(told, key=lambda each: each.matter):
        rows = dict.fromkeys(_works(each.basis, matter, base) for each in bases)
        yield f"{base.label(matter).capitalize()}: {'; '.join(rows)}"


def _works(basis: Basis, matter: str, base: Base) -> str:
    """The works of a basis; what stands for recollection is no work."""
    recollection = base.record(matter).links("otherwise")
    works = [work for work in basis.sources if work not in recollection]
    if not basis.from_memory:
        return _cited(basis.sources, base)
    return f"from memory: {_cited(works, base)}" if works else "from memory"


def _cited(sources: Iterable[str], base: Base) -> str:
    return "; ".join(base.label(source).removesuffix(".") for source in sources)


NO_CUSTOM = "Custom of the trade: nothing is known here of such a label."


def label_page(
    label: ShelfLabel, read: ReadLabel, levels: Levels, base: Base, width: int
) -> str:
    """Return a label, line by line, as it was understood, with what it can hold."""
    market = f", {label.market}" if label.market else ""
    lines = [wrapped(f"{label.product} ({label.kind}{market})", width)]
    gap = len(str(len(read.label.items)))
    triples = zip(read.label.items, read.readings, levels, strict=True)
    for item, reading, level in triples:
        text = _meant(reading, base)
        if reading.how != "listed":
            text += f" ({_how(reading)})"
        if reading.classes:
            text += f": {base.label(telling(reading.classes, base)[0])}"
        text += f"; {level_words(level)}"
        lines.append(wrapped(text, width, f"  {item.place:>{gap}}. "))
    if read.label.unordered:
        why = f"Its order proves nothing: {read.label.unordered}"
        lines.append(wrapped(why, width, "  "))
    lines += [wrapped(f"Note: {r.message}", width, "  ") for r in read.label.remarks]
    return "\n".join(lines)


def level_words(level: Level) -> str:
    """Return a level in words, in per cent by weight, to three figures."""
    low, high = (f"{float(each):.3g}" for each in (level.low, level.high))
    if level.low == level.high:
        return f"{low} %"
    most = "below" if level.high_open else "at most"
    if not level.low:
        return f"{most} {high} %"
    if not level.low_open and not level.high_open:
        return f"{low} to {high} %"
    return f"{'above' if level.low_open else 'at least'} {low} and {most} {high} %"


def _how(reading: Reading) -> str:
    """Return how a name is known, in words."""
    if reading.official and reading.how == "unknown":
        return "listed in the inventory"
    return _HOW[reading.how]


def _inventory(reading: Reading, base: Base) -> Iterator[str]:
    """Return what the official inventory says of a name, and of it alone."""
    entry = in_inventory(reading, base)
    if entry is None:
        return
    unknown = "; class not known" if reading.how == "unknown" else ""
    yield f"Official function: {', '.join(entry.functions)}{unknown}"
    numbers = (("CAS", entry.cas), ("EC", entry.ec))
    told = [f"{register} {number}" for register, number in numbers if number]
    yield f"Inventory: {'; '.join([entry.name, *told])}"


def _meant(reading: Reading, base: Base) -> str:
    """Return the printed name, and what it stands for where that reads otherwise."""
    if reading.ingredient is None:
        return reading.printed
    named = base.label(reading.ingredient)
    alike = named.casefold() == reading.printed.casefold()
    return named if alike else f"{reading.printed} = {named}"
