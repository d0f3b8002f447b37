"""Names and labels as JSON objects: the machine-readable face, kept stable."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from abluent.engine.amounts.levels import Level, Levels
from abluent.engine.base.matters import Told, told_of
from abluent.engine.base.store import Base
from abluent.engine.reading.inventory import Entry
from abluent.engine.reading.names import in_inventory
from abluent.engine.reading.readings import Reading, ReadLabel
from abluent.grammar.common.text import in_words
from abluent.shell.shelf.shelf import ShelfLabel


def reading_json(reading: Reading, base: Base) -> dict[str, Any]:
    """Return what a name stands for as plain data."""
    symbol = reading.ingredient
    entry = in_inventory(reading, base)
    return {
        "printed": reading.printed,
        "ingredient": None if symbol is None else base.label(symbol),
        "id": symbol,
        "how": reading.how,
        "classes": list(reading.classes),
        "charge": reading.charge,
        "water": reading.water,
        "standing": in_words(reading.standing) or None,
        "sources": [
            {"id": source, "citation": base.label(source)} for source in reading.sources
        ],
        "parts": [
            {"span": list(part.span), "part": part.part, "says": part.says}
            for part in reading.parts
        ],
        "candidates": [base.label(each) for each in reading.candidates],
        "note": reading.note or None,
        "inventory": None if entry is None else _entry(entry),
        "from_memory": _recalled(reading, base),
        "pka": _half_charged(reading, base),
        "grounds": list(_grounds(reading, base)),
    }


def _told(reading: Reading, base: Base) -> list[Told]:
    """What is known of a listed ingredient, by matter."""
    if reading.ingredient is None:
        return []
    return told_of(base.record(reading.ingredient), base)


def _grounds(reading: Reading, base: Base) -> Iterator[dict[str, Any]]:
    """What each matter rests on."""
    for each in _told(reading, base):
        yield {
            "matter": base.label(each.matter),
            "properties": list(each.properties),
            "standing": in_words(each.basis.standing) or None,
            "from_memory": each.basis.from_memory,
            "sources": list(each.basis.sources),
        }


def _recalled(reading: Reading, base: Base) -> list[str]:
    """The matters of which something was recalled; what parts of names say is."""
    if reading.how == "read":
        return ["parts of the name"]
    told = _told(reading, base)
    recalled = (base.label(each.matter) for each in told if each.basis.from_memory)
    return list(dict.fromkeys(recalled))


def _half_charged(reading: Reading, base: Base) -> float | None:
    known = base.record(reading.ingredient) if reading.ingredient else None
    half = known.number("pKa") if known else None
    return None if half is None else float(half)


def _entry(entry: Entry) -> dict[str, Any]:
    return {
        "name": entry.name,
        "cas": entry.cas or None,
        "ec": entry.ec or None,
        "functions": list(entry.functions),
    }


def label_json(
    label: ShelfLabel, read: ReadLabel, levels: Levels, base: Base
) -> dict[str, Any]:
    """Return a label, read, as plain data.

    Spans count characters of the text the label came in, the end left out. Levels
    are in per cent by weight; one that is `open` is approached and never reached.
    """
    triples = zip(read.label.items, read.readings, levels, strict=True)
    return {
        "product": label.product,
        "kind": label.kind,
        "market": label.market or None,
        "ingredients": [
            {
                "position": item.place,
                "printed": item.printed,
                "ingredient": _name_of(reading, base),
                "how": reading.how,
                "official": reading.official or None,
                "span": _placed(item.span, label),
                "section": item.section,
                "level": _level(level),
            }
            for item, reading, level in triples
        ],
        "notes": [
            {"kind": kind, "text": text, "span": _placed(span, label)}
            for kind, text, span in _notes(read)
        ],
        "unordered": read.label.unordered or None,
    }


def _level(level: Level) -> dict[str, Any]:
    return {
        "low": float(level.low),
        "high": float(level.high),
        "standing": in_words(level.standing),
        "low_open": level.low_open,
        "high_open": level.high_open,
    }


def _notes(read: ReadLabel) -> Iterator[tuple[str, str, tuple[int, int]]]:
    """Return what stands on a label beside ingredients, then what was remarked."""
    yield from ((note.kind, note.text, note.span) for note in read.label.notes)
    yield from ((each.kind, each.message, each.span) for each in read.label.remarks)


def _name_of(reading: Reading, base: Base) -> str | None:
    return None if reading.ingredient is None else base.label(reading.ingredient)


def _placed(span: tuple[int, int], label: ShelfLabel) -> list[int]:
    return [span[0] + label.start, span[1] + label.start]
