"""Names in another alphabet, read by their sound.

A label may spell a name of the nomenclature in the letters of its own country. Such a
name and all names of the base are brought to one sound; it stands for the only
ingredient that sounds the same, or for none. Letters and words are data; see
`other_scripts.toml` of the ontology.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from abluent.engine.base import files
from abluent.engine.base.fold import fold

_SCRIPTS = "names/other_scripts.toml"
_TWICE = re.compile(r"(\D)\1+")

Sound = tuple[tuple[str, ...], str]
"""The words that are set apart, in order, and the sound of the rest."""


@dataclass(frozen=True)
class Script:
    """An alphabet: its letters, how they sound, and words that are translated."""

    letters: re.Pattern[str]
    sounds: Mapping[str, str]
    words: Mapping[str, str]

    @cached_property
    def parts(self) -> re.Pattern[str]:
        """Finds what sounds otherwise than it is written, the longest first."""
        return _either(self.sounds)


@dataclass(frozen=True)
class Sounds:
    """How names sound: the alphabets, and what Latin letters stand for."""

    shortest: int
    apart: frozenset[str]
    latin: Script
    scripts: tuple[Script, ...]

    def script(self, name: str) -> Script | None:
        """The alphabet in which a name is written, if it is not the Latin one."""
        if name.isascii():
            return None
        return next((s for s in self.scripts if s.letters.search(name)), None)

    def sound(self, name: str, script: Script) -> Sound | None:
        """How a name sounds; nothing if it is too short to prove anything.

        A letter by itself is called by its own name in every language.
        """
        apart, rest = [], []
        words = fold(name).split()
        if any(len(word) == 1 and word.isalpha() for word in words):
            return None
        for word in words:
            said = script.words.get(word, word)
            if said in self.apart:
                apart.append(said)
                continue
            heard = _heard(_heard(word, script) if said == word else said, self.latin)
            rest.append(heard)
        whole = _TWICE.sub(r"\1", "".join(rest))
        long = sum(map(str.isalpha, whole)) >= self.shortest
        return (tuple(sorted(apart)), whole) if long else None


class Heard:
    """The names of a base by their sound.

    Args:
        names: each with what it stands for.
    """

    def __init__(self, names: Iterable[tuple[str, str]]) -> None:
        self._sounds = sounds()
        self._by_sound: dict[Sound, set[str]] = {}
        for name, symbol in names:
            if not name.isascii():
                continue
            sound = self._sounds.sound(name, self._sounds.latin)
            if sound is not None:
                self._by_sound.setdefault(sound, set()).add(symbol)

    def find(self, name: str) -> str | None:
        """The only thing that sounds as a name in another alphabet does."""
        script = self._sounds.script(name)
        sound = None if script is None else self._sounds.sound(name, script)
        found = self._by_sound.get(sound, set()) if sound is not None else set()
        return next(iter(found)) if len(found) == 1 else None


def in_another_alphabet(name: str) -> bool:
    """Whether a name has letters of an alphabet that can be read by its sound."""
    return not name.isascii() and sounds().script(name) is not None


@cache
def sounds() -> Sounds:
    """How names sound, read once."""
    table = files.shipped_table(_SCRIPTS)
    return Sounds(
        table["shortest"],
        frozenset(map(fold, table["apart"])),
        Script(re.compile("[A-Za-z]"), table["latin"], {}),
        tuple(map(_script, table["scripts"])),
    )


def _script(table: Mapping[str, Any]) -> Script:
    words = {fold(word): said for said, all_ in table["words"].items() for word in all_}
    # Names are compared folded, and so are the letters that sound.
    heard = {_folded(part): sound for part, sound in table["sounds"].items()}
    return Script(re.compile(f"[{table['letters']}]"), heard, words)


def _folded(part: str) -> str:
    return fold(part) + ("$" if part.endswith("$") else "")


def _heard(word: str, script: Script) -> str:
    marked = f"{word}$"
    return script.parts.sub(lambda m: script.sounds[m.group()], marked).rstrip("$")


def _either(parts: Iterable[str]) -> re.Pattern[str]:
    longest_first = sorted(parts, key=lambda part: (-len(part), part))
    return re.compile("|".join(map(re.escape, longest_first)))
