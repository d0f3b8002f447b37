"""Asking whether a text is the name of an ingredient, in the forms labels print.

A reader of labels needs somebody to ask where a text may be cut in two ways. That
is a `Namer`; `Nobody` knows no name, and then texts are cut by their signs alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Protocol

_BRACKETED = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_CONTENT = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_COMMON = re.compile(r"[\w-]+(?:\s[\w-]+)?\s?\(([^()\d]+)\)([^()]+)")
_COLOUR_INDEX = re.compile(r"[(\[]\s*(C\.?\s?I\.?\s*\d{5})\s*[)\]]\s*$", re.IGNORECASE)
_GLUED = re.compile(r"(?<=[A-Za-z]{2})(?=\d)")
_NUMBER_SIGN = re.compile(r"#\s*(?=\d)")
# Letters of alphabets other than the Latin one, and what stands between them.
_OTHER_SCRIPT = re.compile(r"[^\x00-\u024f\u1e00-\u1eff]+")
_LATIN = re.compile(r"[A-Za-z]{2}")
_TALK = re.compile(r"[:\n]")
_SLASH = re.compile(r"\s*/\s*")


_MOST_KEPT = 200_000


class Memory:
    """What was found out about stretches of labels, as most names stand on many.

    It says nothing that asking again would not, and forgets all when it grows large.

    Attributes:
        identified: what a printed name stands for.
        named: by the words of labels, whether a stretch is a name or a run of names.
    """

    __slots__ = ("identified", "named")

    def __init__(self) -> None:
        self.identified: dict[str, str | None] = {}
        self.named: dict[object, dict[str, bool]] = {}

    def named_by(self, words: object) -> dict[str, bool]:
        """What is known of stretches that are judged by some words of labels."""
        found = self.named.setdefault(words, {})
        if len(found) > _MOST_KEPT:
            found.clear()
        return found


class Namer(Protocol):
    """Who tells a reader of labels what is a name.

    All are called often, with any text, and must not raise. What they say of a text
    must stay the same, as it is kept in their `memory`.
    """

    @property
    def memory(self) -> Memory:
        """What was found out with their help."""

    def known(self, name: str) -> str | None:
        """What goes by exactly this name, or nothing."""

    def readable(self, name: str) -> bool:
        """Whether a text, listed nowhere, is all the same built like one name."""

    def told(self, name: str) -> bool:
        """Whether a text is a name, though its spelling may have to be mended."""


class Nobody:
    """Knows no name."""

    def __init__(self) -> None:
        self.memory = Memory()

    def known(self, name: str) -> str | None:
        """Nothing."""
        del name
        return None

    def readable(self, name: str) -> bool:
        """Never."""
        return not name

    def told(self, name: str) -> bool:
        """Never."""
        return not name


def identify(name: str, namer: Namer) -> str | None:
    """What a printed name stands for, taking glosses and languages into account.

    `Water (Aqua)`, `Butyrospermum Parkii (Shea) Butter` and `Aqua/Water/Eau` are
    one name each, and `PEG40` is `PEG-40`. A name between slashes counts where every
    part of it, or two parts at least, stand for one thing and no part for another; a
    part with letters that English does not have need not be known beside one that is
    known in Latin letters.
    """
    kept = namer.memory.identified
    if name not in kept:
        if len(kept) > _MOST_KEPT:
            kept.clear()
        kept[name] = _identified(name, namer)
    return kept[name]


def _identified(name: str, namer: Namer) -> str | None:
    for form in forms(name):
        found = namer.known(form)
        if found is not None:
            return found
    return _agreed(name, namer)


def forms(name: str) -> Iterator[str]:
    """The texts that may be looked up for a printed name, the likeliest first."""
    yield name
    apart = _GLUED.sub(" ", name)
    if apart != name:
        yield apart
    if number := _COLOUR_INDEX.search(name):
        # `Iron Oxides (CI 77492)`: the number says which of them.
        yield number.group(1)
    if "#" in name:
        yield _NUMBER_SIGN.sub("No. ", name)
    if not name.isascii() and ":" not in name and "\n" not in name:
        latin = _OTHER_SCRIPT.sub(" ", name).strip(" /-")
        if latin != name and _LATIN.search(latin):
            yield latin
    if "(" in name or "[" in name:
        bare = " ".join(_BRACKETED.sub(" ", name).split())
        if bare:
            yield bare
        yield from (content.strip() for content in _CONTENT.findall(name))
        # `Kelp (Laminaria Digitata) Extract`
        if common := _COMMON.fullmatch(name):
            yield f"{common[1].strip()} {common[2].strip()}"


def _agreed(name: str, namer: Namer) -> str | None:
    if "/" not in name:
        return None
    bare = _BRACKETED.sub(" ", name)
    parts = [part for part in _SLASH.split(bare.strip()) if part]
    found = [namer.known(part) for part in parts]
    told = [each for each in found if each is not None]
    known_in_latin = any(
        known is not None and not _OTHER_SCRIPT.search(part)
        for part, known in zip(parts, found, strict=True)
    )
    foreign = known_in_latin and all(
        known is not None or not (part.isascii() or _TALK.search(part))
        for part, known in zip(parts, found, strict=True)
    )
    if len(set(told)) != 1 or not (foreign or len(told) >= min(2, len(parts))):
        return None
    return told[0]
