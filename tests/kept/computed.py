"""What is compared: one function for each table, from what the command prints.

The law that binds is that of the day it is asked on, but for labels, whose day is
fixed here; a law that comes into force is the reason of what it changes.
"""

from __future__ import annotations

import csv
import json
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from .tables import Key, Row, Table, cell, digest, pages
from .tool import asked, objects, printed

HERE = Path(__file__).parent
CORPORA = HERE.parent / "guards"
DAY = "2026-11-29"
BY_WATER = ("Shingle Soap Wash", "Lamp Room Clarifying Wash")
"""Washes of the demo shelf, which is of hard water, that soft water may change."""
GUARDS = ("labels_heldout_6", "labels_heldout_9", "labels_heldout_12")
"""The sets of labels that are compared; every set has its readings beside it."""
TWO_ENDS = ("at_least", "at_most")
TOLD = tuple(
    "wash film from verdict disputed conditions "
    "member kind product level open class is".split()
)
REASONS = ("standing", "from_memory", "reasons", "weakest", "caveats", "lines")
READ = ("position", "printed", "ingredient", "how", "span", "section")
NAMED = ("id", "classes", "water", "standing", "parts", "candidates", "note")
"""The keys that are compared, of rows, of their grounds, of lines and of names."""
_DIGEST = re.compile(r"\b[0-9a-f]{64}\b")

Json = Mapping[str, Any]


def verdicts(room: Path) -> Table:
    """Every wash of the demo shelf and every film, alone and from each product."""
    every = ["does every wash clear every film", "does water clear every film"]
    soft = [f'does "{wash}" clear every film in soft water' for wash in BY_WATER]
    left = [
        f'does every wash clear everything from "{product}"'
        for product in demo_products(room)
    ]
    rows = _judged(asked(room, every + left), "")
    rows |= _judged(asked(room, soft), "soft water")
    return Table("verdicts", ("wash", "film", "from", "when"), rows)


def guard_verdicts(room: Path) -> Table:
    """Washes of one agent each, and some blends, by films of every family."""
    films = ", ".join(f'"{film}"' for film in _lines("films.txt"))
    shelf = HERE / "agents.jsonl"
    rows: dict[Key, Row] = {}
    for when in ("soft water", "hard water"):
        question = f"do every wash and water clear {films} in {when}"
        rows |= _judged(asked(room, [question], "--shelf", shelf), when)
    return Table("guard_verdicts", ("wash", "film", "from", "when"), rows)


def _judged(answers: Iterable[Json], when: str) -> dict[Key, Row]:
    return {
        (_text(row["wash"]), _text(row["film"]), _text(row["from"]), when): _verdict(
            row
        )
        for answer in answers
        for row in [*answer["answers"], *answer["others"]]
    }


def _verdict(row: Json) -> Row:
    disputed = row["disputed"]
    if isinstance(disputed, bool):
        disputed = ["yes"] if disputed else []
    shown = {
        "verdict": row["verdict"],
        "disputed": ", ".join(disputed),
        "standing": _text(row["standing"]),
    }
    # What the two ends of a verdict say stands in it only once they are told.
    return shown | {end: _text(row[end]) for end in TWO_ENDS if end in row}


def leavings(room: Path) -> Table:
    """What each product of the demo shelf leaves, and what it may leave."""
    names = demo_products(room)
    answers = asked(room, [f'what does "{name}" leave' for name in names])
    rows: dict[Key, Row] = {}
    for name, answer in zip(names, answers, strict=True):
        for word, part in (("leaves", "answers"), ("perhaps", "others")):
            for row in answer[part]:
                told = {"left": word, "standing": _text(row["standing"])}
                rows[name, _text(row["film"])] = told
    return Table("leavings", ("product", "film"), rows)


def answers(room: Path) -> Table:
    """Questions of every form, asked of the demo shelf in one session."""
    rows: dict[Key, Row] = {}
    for answer in asked(room, _lines("questions.txt")):
        key = question = answer["query"]
        again = 1
        while (key,) in rows:
            again += 1
            key = f"{question} ({again})"
        rows[(key,)] = _answer(answer)
    return Table("answers", ("question",), rows)


def _answer(answer: Json) -> Row:
    if "error" in answer:
        return {"answer": cell(answer["error"])}
    parts = [answer[part] for part in ("answers", "others")]
    rows = [row for part in parts for row in part]
    return {
        "answer": cell(answer["sentence"]),
        "rows": " + ".join(str(len(part)) for part in parts),
        "told": digest([_only(row, TOLD) for row in rows]),
        "reasons": digest([_only(row, REASONS) for row in rows]),
        "sources": digest([_ids(row["sources"]) for row in rows]),
        "findings": digest([answer["findings"], answer.get("score")]),
        "notes": digest([answer["notes"], answer["cautions"]]),
    }


def labels(room: Path) -> Table:
    """Every line of the demo labels, as it was read, with its level."""
    rows: dict[Key, Row] = {}
    for label in objects("read", "--json", "--on", DAY, demo_shelf(room)):
        for at, line in enumerate(label["ingredients"], 1):
            rows[cell(label["product"]), f"{at:02}"] = {
                "printed": cell(line["printed"]),
                "read as": cell(line["ingredient"] or "?"),
                "how": line["how"],
                "level": _level(line["level"]),
            }
    return Table("labels", ("product", "line"), rows)


def guard_labels(room: Path) -> Table:
    """How each label of the guard sets is read, and what levels follow."""
    rows: dict[Key, Row] = {}
    for name in GUARDS:
        shelf = room / f"{name}.jsonl"
        corpus = tomllib.loads(_read(CORPORA / f"{name}.toml"))
        texts = [each["text"] for each in corpus["label"]]
        shelf.write_text("\n".join(_products(texts)), encoding="utf-8")
        for label in objects("read", "--json", "--on", DAY, shelf):
            rows[name, label["product"]] = _label(label)
    return Table("guard_labels", ("set", "label"), rows)


def _products(texts: Iterable[str]) -> Iterable[str]:
    for number, text in enumerate(texts, 1):
        said = {"product": f"{number:03}", "kind": "other", "market": "EU"}
        yield json.dumps(said | {"text": text})


def _label(label: Json) -> Row:
    lines = label["ingredients"]
    read = [_only(line, READ) for line in lines]
    unknown = sum(line["how"] == "unknown" for line in lines)
    order = "without order" if label["unordered"] else "in order"
    return {
        "read": f"{len(lines)} names {order}, {unknown} unknown",
        "readings": digest([read, label["notes"], label["unordered"]]),
        "levels": digest([_level(line["level"]) for line in lines]),
    }


def names(_: Path) -> Table:
    """What the names of the guard sets stand for."""
    printed_names = {
        row[0]: None
        for corpus in sorted(CORPORA.glob("names*.tsv"))
        for row in csv.reader(_read(corpus).splitlines(), delimiter="\t")
        if not row[0].startswith("#")
    }
    found = objects("name", "--json", *printed_names)
    rows: dict[Key, Row] = {(cell(name["printed"]),): _name(name) for name in found}
    return Table("names", ("name",), rows)


def _name(name: Json) -> Row:
    found = _text(name["ingredient"])
    return {
        "ingredient": "=" if found == name["printed"] else cell(found),
        "kind": next(iter(name["classes"]), ""),
        "charge": name["charge"],
        "how": name["how"],
        "rest": digest([_only(name, NAMED), _ids(name["sources"])]),
    }


def page_texts(room: Path) -> Table:
    """Pages as people read them: answers, an account, a plan and traces."""
    part = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
    open_ = 'does "Shallows Wash" clear "Dimethicone"'
    disputed = 'does "Breakwater Wash" clear "Dimethicone"'
    week = HERE / "week.txt"
    runs: dict[str, tuple[str | Path, ...]] = {
        "ask.txt": ("ask", part),
        "ask-disputed.txt": ("ask", disputed),
        "ask-which.txt": ("ask", 'which washes clear "Dimethicone"'),
        "ask-why-not.txt": ("ask", f"why not {open_}"),
        "demo.txt": ("demo",),
        "name.txt": ("name", "Dimethicone", "Sodium Laureth Sulfate", "Cocamide MEA"),
        "plan.txt": ("plan", week),
        "read.txt": ("read", "--on", DAY, HERE / "drug_facts.jsonl"),
        "routine.txt": ("routine", "--steps", week),
        "routine-why.txt": ("routine", "--why", week),
        "trace.md": ("trace", part),
        "trace-disputed.md": ("trace", disputed),
    }
    # A digest holds every rule of the base, and so changes with each of them.
    texts = {name: printed(*words) for name, words in runs.items()}
    return pages({name: _DIGEST.sub("…", text) for name, text in texts.items()})


TABLES: dict[str, Callable[[Path], Table]] = {
    "verdicts": verdicts,
    "guard_verdicts": guard_verdicts,
    "leavings": leavings,
    "answers": answers,
    "labels": labels,
    "guard_labels": guard_labels,
    "names": names,
    "pages": page_texts,
}


def demo_shelf(room: Path) -> Path:
    """The built-in shelf, saved where it can be read."""
    saved = room / "demo.jsonl"
    if not saved.exists():
        printed("shelf", "--to", saved)
    return saved


def demo_products(room: Path) -> list[str]:
    """The names of the products of the built-in shelf."""
    lines = map(json.loads, _read(demo_shelf(room)).splitlines())
    return [line["product"] for line in lines if "product" in line]


def _level(level: Json | None) -> str:
    if level is None:
        return "?"
    above, below = "above " * level["low_open"], "below " * level["high_open"]
    ends = f"{above}{level['low']:.5g} to {below}{level['high']:.5g} %"
    return f"{ends}, {level['standing']}"


def _only(row: Json, keys: Iterable[str]) -> Json:
    """What a row says under these keys; what else it says later changes no cell."""
    return {key: row.get(key) for key in keys}


def _ids(sources: Iterable[Json]) -> list[str]:
    return [source["id"] for source in sources]


def _text(value: str | None) -> str:
    return cell(value or "")


def _lines(name: str) -> list[str]:
    lines = _read(HERE / name).splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8")
