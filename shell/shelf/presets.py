"""What a label suggests of its product's kind, market and name, to be confirmed.

The words that tell stand in `presets.toml`. A suggestion is never used by itself.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from abluent.shell.ground.settings import setting
from abluent.shell.shelf.shelf import same_name
from abluent.shell.shelf.words import kind_in_name, shelf_words

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.reading.readings import ReadLabel


class Suggestion(NamedTuple):
    """A word that is offered, and why; both empty where nothing tells."""

    word: str = ""
    why: str = ""


NONE = Suggestion()
LONGEST_NAME = 60


@cache
def _presets() -> Mapping[str, Any]:
    import tomllib
    from importlib.resources import files

    text = files("abluent.shell.shelf").joinpath("presets.toml").read_text("utf-8")
    return tomllib.loads(text)


def suggested_market(text: str) -> Suggestion:
    """Return the market that a label's text suggests."""
    for each in _presets()["market"]:
        if re.search(each["pattern"], text, re.IGNORECASE):
            return Suggestion(each["is"], each["why"])
    return NONE


def usual_market(text: str) -> Suggestion:
    """Return the market that a label's text suggests, or else the settings."""
    usual = setting("market")
    found = suggested_market(text)
    if found.word or not usual:
        return found
    return Suggestion(usual, "your settings say so")


def suggested_kind(
    name: str, text: str, read: ReadLabel | None = None, base: Base | None = None
) -> Suggestion:
    """Return the kind that a product's name, its text or its contents suggest."""
    named = kind_in_name(name)
    if named:
        return Suggestion(named, "its name ends so")
    said = f"{name}\n{text}".casefold()
    for each in _presets()["kind"]:
        for word in each["words"]:
            if re.search(rf"(?<!\w){re.escape(word)}(?!\w)", said):
                return Suggestion(each["is"], f"it says “{word}”")
    return _by_contents(read, base) if read and base else NONE


def _by_contents(read: ReadLabel, base: Base) -> Suggestion:
    for each in _presets()["contents"]:
        kind, within = each["class"], each["within"]
        for place, reading in enumerate(read.readings[:within], 1):
            above = {
                up for own in reading.classes for up in (own, *base.ancestors(own))
            }
            if kind in above:
                why = f"number {place} is {base.label(kind)}"
                return Suggestion(each["is"], why)
    return NONE


def suggested_name(text: str) -> str:
    """Return the name that a label's first line gives, where the list follows it."""
    first, _, rest = text.strip().partition("\n")
    first = " ".join(first.split())
    listed = re.search(r"[,;:\u2022\u00b7]", first)
    fits = 0 < len(first) <= LONGEST_NAME and not listed
    return first if fits and re.search(r"[,;\u2022\u00b7]", rest) else ""


def default_name(kind: str, taken: Collection[str]) -> str:
    """Return a name for a product that was given none, such as `Wash 2`."""
    known = {same_name(each) for each in taken}
    word = kind.capitalize() if kind and kind != shelf_words().other else "Product"
    names = (f"{word} {number}" for number in range(1, len(known) + 2))
    return next(name for name in names if same_name(name) not in known)


class Summary(NamedTuple):
    """How much of a label was read: `15 names, 15 known`."""

    names: int
    unread: Sequence[str]
    mended: Sequence[str]

    def __str__(self) -> str:
        """Return it in words."""
        known = self.names - len(self.unread)
        told = f"{self.names} name{'' if self.names == 1 else 's'}, {known} known"
        if self.mended:
            told += f", {len(self.mended)} of them mended"
        if self.unread:
            told += f"; not known: {', '.join(self.unread)}"
        return told


def summary_of(read: ReadLabel) -> Summary:
    """Say how much of a label was read."""
    return Summary(
        len(read.readings),
        [each.printed for each in read.readings if each.symbol is None],
        [each.printed for each in read.readings if each.how == "repaired"],
    )
