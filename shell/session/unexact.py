"""A line that is no question of the language, with what it can be read as.

Which of several questions a wording meant is remembered, in the session and on disk,
so that the same words are answered at once the next time.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.text import not_used, one_line

if TYPE_CHECKING:
    from pathlib import Path

    from abluent.grammar.common.errors import Span
    from abluent.grammar.phrase.reading import Heard, Reading
    from abluent.shell.routine.heard import HeardWeek

WIDEST = 160
"""The longest line that is shown again with its marks."""
LITTLE = 0.8
"""Below which share of a line read, its nearest question is offered first."""
KEPT = 500
"""How many choices are remembered; the oldest are forgotten."""


class Unexact(CommandError):
    """A line that can be read as one of some exact questions.

    Attributes:
        heard: the readings, best first.
        text: the line.
        week: the week that it tells, if it tells one.
    """

    def __init__(self, text: str, heard: Heard, week: HeardWeek | None = None) -> None:
        self.text, self.heard, self.week = text, heard, week
        super().__init__(Problem(offer(text, heard, week)))

    @property
    def options(self) -> Sequence[Reading | HeardWeek]:
        """What a number takes, in order."""
        week = [] if self.week is None else [self.week]
        if self.week is not None and self.week.leads:
            return [*week, *self.heard.readings]
        return [*self.heard.readings, *week]

    @property
    def together(self) -> Sequence[Reading]:
        """The questions that the line asks, where it is nothing but these."""
        parts = self.heard.readings[: self.heard.parts]
        whole = all(
            each.sure and not (each.unread or each.mended or each.taken)
            for each in parts
        )
        return parts if whole and not self.heard.unsettled else ()


def keeps_error(text: str, error: Exception) -> bool:
    """Whether an error tells more of a line than what could be asked instead.

    So it is for a few words, for a line with a name in quotes that is exact up to the
    place of the error, and where the error has a question to offer.
    """
    from abluent.grammar.common.errors import GrammarError
    from abluent.grammar.query.errors import QueryError
    from abluent.grammar.speech.nearest import is_speech

    if isinstance(error, QueryError) and error.nearest:
        return True
    begun = error.span.start if isinstance(error, GrammarError) and error.span else 0
    return not is_speech(text) or '"' in text[:begun]


def offer(text: str, heard: Heard, week: HeardWeek | None = None) -> str:
    """Return the readings of a line as text: numbered, the unread words marked.

    A week that it tells stands before them if it says more than they do, else after.
    """
    first = week is not None and (week.leads or not heard.readings)
    lines = [] if first else beside(text, heard)
    if week is not None and first:
        lines += ["Is this meant?", *_week_told(week, 1)]
    if not heard.readings:
        return "\n".join(lines)
    lines.append("Or one of these questions?" if first else lead(heard))
    for number, reading in enumerate(heard.readings, 1 + first):
        if heard.parts and number == heard.parts + 1 + first:
            lines.append("Or is this meant?")
        lines.append(f"  {number}  {reading.question}")
        left = unread(text, reading)
        if left:
            lines.append(f"     left aside: {left}")
        if reading.unused:
            lines.append(f"     {not_used(reading.unused)}")
        lines += [
            f"     “{word}” is taken for what a label shows: {shown}"
            for word, shown in reading.taken
        ]
    if week is not None and not first:
        lines += ["Or is this meant?", *_week_told(week, len(heard.readings) + 1)]
    marks = [] if first else _marked(text, heard.readings[0])
    return "\n".join([*lines, *marks])


def _week_told(week: HeardWeek, number: int) -> list[str]:
    from abluent.shell.routine.heard import told

    return told(week, number)


def beside(text: str, heard: Heard) -> list[str]:
    """Return what is told of a line besides its readings, a sentence each."""
    lines = [heard.unsettled] if heard.unsettled else []
    if heard.readings and heard.said:
        lines.append(f"Only said, and not asked: {_quoted(text, heard.said)}.")
    if heard.readings and heard.aside:
        lines.append(f"Not asked in any of these: {_quoted(text, heard.aside)}.")
    return lines


_COUNTS = {2: "Two", 3: "Three"}


def lead(heard: Heard) -> str:
    """Return what stands before the readings of a line."""
    if heard.parts:
        count = _COUNTS.get(heard.parts, str(heard.parts))
        return f"{count} things are asked, each a question of its own:"
    return "What can be asked instead:" if heard.unsettled else "Is this meant?"


def _marked(text: str, reading: Reading) -> list[str]:
    """Return the line with carets under what its first reading mended or left."""
    spans = [*reading.unread, *reading.mended]
    if not spans or len(text) > WIDEST or not text.isprintable():
        return []
    carets = [" "] * len(text)
    for span in spans:
        carets[span.start : span.end] = "^" * (span.end - span.start)
    return [f"  {text}", f"  {''.join(carets)}".rstrip()]


def unread(text: str, reading: Reading) -> str:
    """Return what a reading leaves aside, each stretch in quotes."""
    return _quoted(text, reading.unread)


def _quoted(text: str, spans: Sequence[Span]) -> str:
    parts = dict.fromkeys(one_line(text[span.start : span.end]) for span in spans)
    return ", ".join(f"“{part}”" for part in parts)


def readings_json(
    text: str, heard: Heard, week: HeardWeek | None = None
) -> dict[str, Any]:
    """Return the readings of a line as plain data."""
    shown: dict[str, Any] = {
        "query": text,
        "error": offer(text, heard, week),
        "readings": [
            {
                "question": each.question,
                "unread": [[span.start, span.end] for span in each.unread],
                **({"taken": dict(each.taken)} if each.taken else {}),
                **({"unused": list(each.unused)} if each.unused else {}),
            }
            for each in heard.readings
        ],
    }
    if week is not None:
        shown["week"] = {
            "lines": [*week.lines],
            "put_in": [*week.put_in],
            "unread": [*week.unread],
            "first": week.leads,
        }
    if heard.unsettled:
        shown["unsettled"] = heard.unsettled
    if heard.parts:
        shown["parts"] = heard.parts
    return shown


def nearest_reading(question: str, error: Exception) -> Reading:
    """Return the nearest question to a line as a reading of it."""
    from abluent.grammar.common.errors import GrammarError
    from abluent.grammar.phrase.reading import Reading
    from abluent.grammar.query.parse import parse_query

    place = (error.span,) if isinstance(error, GrammarError) else ()
    return Reading(parse_query(question), question, (), place, 1.0, False)


class Choices:
    """Which question each wording was taken for."""

    def __init__(self, path: Path | None = None) -> None:
        from abluent.engine.disk import data_folder

        self._path = path or data_folder() / "taken.json"

    def of(self, text: str) -> str:
        """Return the question a wording was taken for; empty if none was."""
        return self._taken.get(_plain(text), "")

    def take(self, text: str, question: str) -> None:
        """Remember a choice; that it cannot be kept on disk loses it later only."""
        import json

        key = _plain(text)
        self._taken.pop(key, None)
        self._taken[key] = question
        for old in list(self._taken)[:-KEPT]:
            del self._taken[old]
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            text = json.dumps(self._taken, ensure_ascii=False, indent=0)
            self._path.write_text(text, "utf-8")
        except OSError:
            pass

    @cached_property
    def _taken(self) -> dict[str, str]:
        import json

        try:
            found = json.loads(self._path.read_text("utf-8"))
        except (OSError, ValueError):
            return {}
        if not isinstance(found, dict):
            return {}
        return {str(key): str(value) for key, value in found.items()}


def _plain(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip("?.! ")


def sole(readings: Sequence[Reading]) -> Reading | None:
    """Return the one reading that covers all that matters, if only one does."""
    if not readings or not readings[0].sure:
        return None
    rivals = [each for each in readings[1:] if each.share >= readings[0].share]
    return None if rivals else readings[0]
