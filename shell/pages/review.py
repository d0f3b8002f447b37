"""A reviewer's remarks on the steps of a trace, and what falls if they are right.

Remarks are a TOML or JSON file beside the trace:

    [[remark]]
    step = "71f3e87c8d9e"     # the hash of a step, or at least its first eight digits
    judgement = "wrong"       # agree, doubt or wrong
    text = "Measured on a coated fibre, not on hair."
    by = "M. Vane"

A step is named by the hash of what it says and rests on, so a remark stays with the
step in any later trace that reasons the same way.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from abluent.engine.checking.reword import sentences
from abluent.engine.disk import read_text
from abluent.engine.faults import DataError, Problem
from abluent.engine.trace.steps import premises_of
from abluent.grammar.common.text import as_sentence, one_line, visible

AGREE, DOUBT, WRONG = "agree", "doubt", "wrong"
_JUDGEMENTS = (AGREE, DOUBT, WRONG)
SHORTEST = 8  # digits of a hash; fewer would soon name two steps


@dataclass(frozen=True, slots=True)
class Remark:
    """What a reviewer says of one step."""

    step: str
    judgement: str
    text: str = ""
    by: str = ""


@dataclass(frozen=True)
class Review:
    """What comes of the remarks on one trace.

    Args:
        remarks: those on steps of this trace, with the whole hash of each step.
        elsewhere: those on steps that this trace does not have.
        fallen: the steps that rest on one marked wrong, nearest first.
        conclusions: for each goal of the trace, its root and whether it falls.
    """

    remarks: Sequence[Remark]
    elsewhere: Sequence[Remark]
    fallen: Sequence[str]
    conclusions: Sequence[tuple[str, bool]]

    def marked(self, judgement: str) -> list[str]:
        """Return the steps that were judged so, each once."""
        return list(
            dict.fromkeys(r.step for r in self.remarks if r.judgement == judgement)
        )


def read_remarks(path: Path) -> list[Remark]:
    """Return the remarks of a file; `.toml`, or else JSON.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read, or a remark is wrong; every one is named.
    """
    text = read_text(path)
    try:
        data = tomllib.loads(text) if path.suffix == ".toml" else json.loads(text)
    except (ValueError, RecursionError) as error:
        raise DataError(Problem(f"these are no remarks: {error}", str(path))) from error
    found = data.get("remark", data.get("remarks")) if isinstance(data, dict) else data
    if not isinstance(found, list):
        hint = 'write [[remark]] with step, judgement and text, or {"remarks": [...]}'
        raise DataError(Problem("there is no list of remarks", str(path), hint))
    problems = [
        problem
        for number, each in enumerate(found, 1)
        for problem in _problems(each, f"{path}, remark {number}")
    ]
    if problems:
        raise DataError(problems)
    return [Remark(**each) for each in found]


def _problems(data: Any, place: str) -> Iterator[Problem]:
    if not isinstance(data, dict):
        yield Problem("a remark is a table of step, judgement, text and by", place)
        return
    for name, value in data.items():
        if name not in Remark.__dataclass_fields__:
            yield Problem(f'"{name}" is no part of a remark', place)
        elif not isinstance(value, str):
            yield Problem(f'"{name}" is not a text', place)
    step, judgement = data.get("step"), data.get("judgement")
    if not isinstance(step, str) or len(step) < SHORTEST:
        hint = f"give the first {SHORTEST} digits of its hash, or more"
        yield Problem("it names no step", place, hint)
    if judgement not in _JUDGEMENTS:
        yield Problem(
            f'"{judgement}" is no judgement', place, "it is agree, doubt or wrong"
        )


def review(trace: Mapping[str, Any], remarks: Iterable[Remark]) -> Review:
    """Return what comes of remarks on a trace.

    Raises:
        DataError: the beginning of a hash names several steps.
    """
    here, elsewhere = [], []
    for remark in remarks:
        keys = [key for key in trace["nodes"] if key.startswith(remark.step)]
        if len(keys) > 1:
            what = f'"{remark.step}" begins the hash of {len(keys)} steps'
            raise DataError(Problem(what, hint="give more digits"))
        if keys:
            here.append(Remark(keys[0], remark.judgement, remark.text, remark.by))
        else:
            elsewhere.append(remark)
    wrong = [remark.step for remark in here if remark.judgement == WRONG]
    fallen = _resting_on(trace["nodes"], wrong)
    gone = {*wrong, *fallen}
    conclusions = [(goal["root"], goal["root"] in gone) for goal in trace["goals"]]
    return Review(here, elsewhere, fallen, conclusions)


def _resting_on(nodes: Mapping[str, Any], wrong: Iterable[str]) -> list[str]:
    """Return the steps that rest on some steps, however far below."""
    above: dict[str, list[str]] = {}
    for key, node in nodes.items():
        for below in premises_of(node):
            above.setdefault(below, []).append(key)
    reached = dict.fromkeys(wrong)
    waiting = list(reached)
    for key in waiting:
        for each in above.get(key, ()):
            if each not in reached:
                reached[each] = None
                waiting.append(each)
    return waiting[len(set(wrong)) :]


def review_page(trace: Mapping[str, Any], found: Review, still: Sequence[str]) -> str:
    """Return a review as lines of text.

    Args:
        trace: the trace.
        found: what came of the remarks.
        still: for each conclusion, what may be said of it without the wrong steps.
    """
    said = {key: as_sentence(text) for key, text in sentences(trace).items()}
    lines: list[str] = [trace["question"]]
    headings = {WRONG: "Held to be wrong", DOUBT: "Doubted", AGREE: "Agreed to"}
    for judgement, heading in headings.items():
        chosen = [r for r in found.remarks if r.judgement == judgement]
        lines += [f"{heading}:"] if chosen else []
        for remark in chosen:
            lines.append(f"  {remark.step[:12]}  {said[remark.step]}")
            who = f"{remark.by}: " if remark.by else ""
            lines += (
                [f"      {who}{one_line(remark.text)}"] if remark.text or who else []
            )
    contested = {r.step for r in found.remarks if r.judgement == AGREE} & {
        r.step for r in found.remarks if r.judgement != AGREE
    }
    lines += [f"Reviewers part over {key[:12]}: {said[key]}" for key in contested]
    lines += ["Conclusions:"]
    for (root, falls), then in zip(found.conclusions, still, strict=True):
        fate = "falls" if falls else "stands"
        lines.append(f"  {fate}: {said[root]}")
        lines += [f"      {then}"] if then else []
    if found.fallen:
        count = len(found.fallen)
        lines.append(f"Steps that rest on what is held to be wrong: {count}")
        lines += [f"  {key[:12]}  {said[key]}" for key in found.fallen]
    if found.elsewhere:
        names = ", ".join(remark.step[:12] for remark in found.elsewhere)
        lines.append(f"Remarks on steps that this trace does not have: {names}")
    return "\n".join(map(visible, lines))
