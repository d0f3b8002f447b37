"""Damaged inputs of every kind: each is read, or refused with a sentence."""

from __future__ import annotations

import json
import random
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from abluent.engine.checking import checker
from abluent.engine.errors import EngineError
from abluent.engine.faults import ShellError
from abluent.engine.trace.answer import traces
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.common.text import visible
from abluent.grammar.routine.parse import parse_routines
from abluent.shell.ground.reports import said
from abluent.shell.pages.answer import answer_page
from abluent.shell.pages.label import label_page
from abluent.shell.session.session import Session
from abluent.shell.session.unexact import Unexact
from abluent.shell.shelf.as_csv import parse_csv
from abluent.shell.shelf.as_jsonl import parse_jsonl
from abluent.shell.shelf.shelf import Shelf, ShelfLabel

KEPT = Path(__file__).parents[1] / "cases" / "damaged.jsonl"
REFUSALS = (ShellError, GrammarError, EngineError, Unexact)
ODD = "\x00\x07\x1b[2J\x7f\x9b\u202e\u200b\ufeff\ud800🧴ß½«“\"';,()%\n\t\r\\"
QUESTIONS = (
    'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
    'what does "Harbour Cream" leave in hard water',
    "which washes without sulfates clear silicones mildest first",
    'is it true that every ingredient named "*ate" is an anionic surfactant',
    'suppose "Harbour Cream" had no "Dimethicone": what does "Harbour Cream" leave',
)
LABEL = (
    "Ingredients: Aqua, Sodium Laureth Sulfate (and) Cocamidopropyl Betaine, "
    "Dimethicone 1.5 %, 1,2-Hexanediol, Parfum. May contain: CI 77891"
)
ROUTINE = (
    'routine "week"\nwater is hard\nwash with "Tideline Wash" on Sunday\n'
    'use "Harbour Cream" after every wash\nclear silicones every wash\n'
)


class Damage(NamedTuple):
    """One damaged input: what it is, how it was made, and the text."""

    kind: str
    seed: int
    text: str


class Tools(NamedTuple):
    """What reads them."""

    session: Session
    trace: str


def tools() -> Tools:
    """A session on the demo shelf, and the trace of a short answer."""
    session = Session.open()
    question = 'does "Harbour Cream" contain anything named "*cone"'
    (trace,) = traces(session.ask(question), question)
    return Tools(session, json.dumps(trace))


def _ask(tools: Tools, text: str) -> str:
    return answer_page(tools.session.ask(text), 80, styled=False)


def _read(tools: Tools, text: str) -> str:
    label = ShelfLabel(text[:20].strip() or "Label", "wash", "EU", text)
    session = Session(Shelf("one", (label,)))
    found, read = session.read_product(label.product)
    levels = session.levels(read, on="", practice=False)
    return label_page(found, read, levels, session.world.base, 80)


def _shelf(tools: Tools, text: str) -> str:
    found = [parse_jsonl(text, "one", "one.jsonl"), parse_csv(text, "one", "one.csv")]
    return "\n".join(str(each) for shelf in found for each in shelf.problems)


def _check(tools: Tools, text: str) -> str:
    try:
        trace = checker.read(text)
    except (ValueError, RecursionError):
        return ""
    return str(checker.check(trace))


def _routine(tools: Tools, text: str) -> str:
    return "".join(str(each.uses)[:0] for each in parse_routines(text, "week.txt"))


ROW = {"product": "A", "kind": "wash", "market": "EU", "ingredients": "Aqua, Parfum"}
KINDS: dict[
    str, tuple[Callable[[Tools], tuple[str, ...]], Callable[[Tools, str], str]]
] = {
    "question": (lambda tools: QUESTIONS, _ask),
    "label": (lambda tools: (LABEL,), _read),
    "shelf": (lambda tools: (json.dumps(ROW) + "\n" + json.dumps(ROW),), _shelf),
    "trace": (lambda tools: (tools.trace,), _check),
    "routine": (lambda tools: (ROUTINE,), _routine),
}


def damages(tools: Tools, seed: int) -> Iterator[Damage]:
    """Damaged inputs without end, of each kind in turn."""
    while True:
        for kind, (texts, _) in KINDS.items():
            dice = random.Random(f"{kind} {seed}")
            yield Damage(kind, seed, damaged(dice, dice.choice(texts(tools))))
        seed += 1


def damaged(dice: random.Random, text: str) -> str:
    """A text with a few things left out, put in, doubled or moved."""
    for _ in range(dice.randint(1, 6)):
        at, width = dice.randrange(len(text) + 1), dice.choice((1, 1, 3, 20))
        part, rest = text[at : at + width], text[at + width :]
        new = dice.choice(
            ["", part * 2, dice.choice(ODD), dice.choice(ODD) * 9, part[::-1], " "]
        )
        text = text[:at] + new + rest
    return text


def problem(tools: Tools, damage: Damage) -> str:
    """What went wrong with an input; nothing if it was read or refused."""
    try:
        shown = KINDS[damage.kind][1](tools, damage.text)
    except REFUSALS as error:
        shown = visible(said(error), keep="\n\t")  # as `complain` does
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    raw = {c for c in shown if unicodedata.category(c) == "Cc" and c not in "\n\t"}
    return f"raw control characters: {raw!r}" if raw else ""
