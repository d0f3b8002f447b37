"""Which typeface draws which letters of a line: each script has one of its own.

Pictures carry one typeface. A run of letters that it lacks is set by itself, in a
typeface of its script, so that no foreign name changes the look of the words beside
it. Scripts that flow to the left stand on lines of their own, where nothing beside
them has to know how wide they are.
"""

from __future__ import annotations

import tomllib
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache
from importlib.resources import files
from typing import NamedTuple

_NEUTRAL = " .,;:!?()[]“”'\"-0123456789%&/"
"""What belongs to the run before it."""


class Script(NamedTuple):
    """How the letters of one script are drawn.

    Args:
        names: how the Unicode names of its letters begin.
        families: the typefaces, the first that there is being taken.
        wide: how wide a letter is on average, in sizes of the font, at the most.
        flows_left: whether it is written from right to left.
    """

    names: tuple[str, ...]
    families: tuple[str, ...]
    wide: float
    flows_left: bool = False


class Run(NamedTuple):
    """Letters that one typeface draws; `script` is None for that of the pictures."""

    text: str
    script: Script | None


@cache
def scripts() -> tuple[Script, ...]:
    """The scripts that are known; the last stands for all others, such as symbols."""
    text = files(__package__).joinpath("faces.toml").read_text("utf-8")
    return tuple(
        Script(
            tuple(each["names"]),
            tuple(each["families"]),
            float(each["wide"]),
            bool(each.get("flows_left", False)),
        )
        for each in tomllib.loads(text)["script"]
    )


@cache
def script_of(letter: str) -> Script:
    """The script of a letter that the typeface of the pictures lacks."""
    name = unicodedata.name(letter, "")
    for each in scripts():
        if each.names and name.startswith(each.names):
            return each
    return scripts()[-1]


def flows_left(word: str) -> bool:
    """Whether a word has letters that are written from right to left."""
    return any(unicodedata.bidirectional(each) in {"R", "AL"} for each in word)


def joins(letter: str) -> bool:
    """Whether a letter takes no room of its own, as an accent or a joiner."""
    return unicodedata.category(letter) in {"Mn", "Me", "Cf"}


def runs_of(text: str, carried: Sequence[bool]) -> Iterator[Run]:
    """Cut a line where its typeface changes.

    Args:
        text: the line.
        carried: of each letter, whether the typeface of the pictures has it.
    """
    start = 0
    while start < len(text):
        end = start + 1
        mine = carried[start]
        while end < len(text) and _goes_on(text, carried, end, mine):
            end += 1
        if not mine:
            # Spaces after a run are as wide as those of the words beside it.
            while end > start + 1 and text[end - 1] == " ":
                end -= 1
        run = text[start:end]
        yield Run(run, None if mine else _script(run, carried[start:end]))
        start = end


def _goes_on(text: str, carried: Sequence[bool], at: int, mine: bool) -> bool:
    if mine or not flows_left(text):
        return carried[at] is mine or (not mine and text[at] in _NEUTRAL[0])
    return not carried[at] or text[at] in _NEUTRAL


def _script(run: str, carried: Sequence[bool]) -> Script:
    found = [script_of(c) for c, mine in zip(run, carried, strict=True) if not mine]
    return min(found, key=scripts().index)
