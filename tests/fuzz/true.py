"""True traces of all forms of question on several shelves: none may be refused."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from abluent.engine.checking import checker
from abluent.engine.errors import EngineError
from abluent.engine.faults import ShellError
from abluent.engine.trace.answer import traces
from abluent.grammar.common.errors import GrammarError
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel

from fuzz.answers import as_read

TESTS = Path(__file__).parents[1]
KEPT = TESTS / "kept" / "questions.txt"
GUARDS = ("labels_heldout_3", "labels_heldout_5", "labels_heldout_9")
REFUSALS = (ShellError, GrammarError, EngineError)
WASH_SIGNS = ("sulfate", "glucoside", "betaine", "sulfonate", "isethionate")
FORMS = (
    'does "{wash}" clear "{film}"',
    'does "{wash}" clear "{film}" from "{product}"',
    'does "{wash}" at least partly clear {films} in {water} water',
    'does "{wash}" clear everything from "{product}"',
    'what does "{product}" leave',
    'what does "{product}" leave on {hair} hair',
    'what does "{product}" hide',
    'what does "{product}" contain',
    'what does "{product}" contain above 1 %',
    'does "{product}" contain anything named "*{end}"',
    'does "{product}" contain {films}',
    "which products contain no {films}",
    'which products contain "{film}"',
    'is "{wash}" milder than "{other}"',
    'what is "{film}"',
    'suppose "{product}" had no "{film}": what does "{product}" leave',
    'suppose "{product}" had "{film}": does "{wash}" clear "{film}" from "{product}"',
    'why not does "{wash}" clear "{film}"',
    'does water clear {films} from "{product}"',
    'is it true that some washes without sulfates clear "{film}"',
)
FILLED: dict[str, tuple[str, ...]] = {
    "film": ("Dimethicone", "Amodimethicone", "Petrolatum", "Polyquaternium-10",
             "Olea Europaea Fruit Oil", "Dimethiconol", "Cetrimonium Chloride"),
    "films": ("silicones", "gums", "oils", "waxes", "minerals"),
    "water": ("soft", "hard"),
    "hair": ("damaged", "bleached"),
    "end": ("cone", "ate", "ol", "quaternium"),
}  # fmt: skip


class Checked(NamedTuple):
    """What came of one trace, or of a question that none was made of."""

    shelf: str
    question: str
    problem: str
    trace: Any = None


def shelves() -> dict[str, Session]:
    """The demo shelf, labels of the guards, and a shelf with names of the demo."""
    demo, guards = Session.open(), list(_guards())
    names = [label.product for label in demo.shelf.labels]
    own = [
        ShelfLabel(name, each.kind, each.market, each.text)
        for name, each in zip(names, reversed(guards), strict=False)
    ]
    return {
        "demo": demo,
        "guards": Session(Shelf("guards", tuple(guards))),
        "own": Session(Shelf("own", tuple(own))),
    }


def _guards() -> Iterator[ShelfLabel]:
    number = 0
    for name in GUARDS:
        text = (TESTS / "guards" / f"{name}.toml").read_text("utf-8")
        for label in tomllib.loads(text)["label"]:
            number += 1
            signs = any(sign in label["text"].lower() for sign in WASH_SIGNS)
            kind = "wash" if signs else "conditioner"
            market = "EU" if number % 2 else "US"
            yield ShelfLabel(f"Guard {number}", kind, market, label["text"])


def questions(session: Session, seed: int) -> Iterator[str]:
    """Questions without end, of every form, about what is on a shelf."""
    dice = random.Random(seed)
    labels = session.shelf.labels
    washes = [label.product for label in labels if label.kind == "wash"]
    while True:
        said = {key: dice.choice(words) for key, words in FILLED.items()}
        said |= {"product": dice.choice(labels).product}
        said |= {"wash": dice.choice(washes), "other": dice.choice(washes)}
        yield dice.choice(FORMS).format(**said)


def checked(session: Session, shelf: str, question: str) -> Iterator[Checked]:
    """Every trace of the answer; a refusal of the question is no problem."""
    try:
        made = traces(session.ask(question), question)
    except REFUSALS:
        return
    for trace in made:
        result = checker.check(as_read(trace))
        problem = "" if result.ok else ": ".join(result.problems[0])
        yield Checked(shelf, question, problem, trace)


def checks(sessions: dict[str, Session], seed: int) -> Iterator[Checked]:
    """Checks without end: the kept questions of the demo shelf, then of all forms."""
    kept = KEPT.read_text("utf-8").splitlines()
    for question in kept:
        if question.strip() and not question.startswith("#"):
            yield from checked(sessions["demo"], "demo", question)
    made = {name: questions(each, seed) for name, each in sessions.items()}
    while True:
        for name, each in sessions.items():
            yield from checked(each, name, next(made[name]))
