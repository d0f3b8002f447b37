"""The words by which the parts of a label are told apart, ready for matching.

The words themselves are data, handed in as nested tables; see
`label_words.toml` of the ontology for their meaning.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

Table: TypeAlias = Mapping[str, Any]

_FEWEST_IN_ORDER = 6
"""How many names in the order of the alphabet are no chance."""

# Signs, or the white space between two columns with what is said of the first.
_BETWEEN = (
    r"(?:[\s/|,·•(\[)\]-]{0,5}"
    r"|(?:\s?\([^()\n]{0,40}\))?(?:[ \t.…]{2,80}|\s{0,5}[/|]\s{0,5}))"
)


@dataclass(frozen=True, slots=True, eq=False)
class LabelWords:
    """Words and patterns, all of them for text brought to its `shadow`.

    Args:
        heading: finds a phrase that may open a part of a label.
        kinds: which part each of those phrases opens.
        joint: what may stand between two phrases of one heading.
        connectors: words that join the members of a blend.
        bracketed: one of them in parentheses, as an expression.
        bilingual: finds a last word said again in other languages; its first group
            is what may be left out.
        footnote: what a footnote starts with after its mark.
        prose: words of running text.
        abbreviations: words whose dot ends no sentence.
        aside: a whole place that is no ingredient.
        code: a whole place or parenthesis that is a batch or formula code.
        minor: says how much there is at most of each name after it.
        unordered: says that the order of the names means nothing.
        qualifier: words before a name that make it no other thing, with what follows.
        trailing: asides and codes at the end of a place, after its name.
    """

    heading: re.Pattern[str]
    kinds: Mapping[str, str]
    joint: re.Pattern[str]
    connectors: frozenset[str]
    bracketed: str
    bilingual: re.Pattern[str]
    footnote: re.Pattern[str]
    prose: frozenset[str]
    abbreviations: frozenset[str]
    aside: re.Pattern[str]
    code: re.Pattern[str]
    minor: re.Pattern[str]
    unordered: re.Pattern[str]
    qualifier: re.Pattern[str]
    trailing: re.Pattern[str]

    @classmethod
    def compile(cls, table: Table) -> LabelWords:
        """Make words and patterns of the tables.

        Raises:
            KeyError: a table is missing.
            re.error: an expression under `asides`, `codes` or `minor` is none.
        """
        kinds: dict[str, str] = {}
        for kind, by_language in table["headings"].items():
            for phrase in _phrases(by_language):
                kinds.setdefault(phrase, kind)
        connectors = frozenset(_phrases(table["connectors"]))
        either = "|".join(map(re.escape, sorted(connectors)))
        return cls(
            heading=re.compile(_bounded(kinds)),
            kinds=kinds,
            joint=re.compile(
                rf"{_BETWEEN}(?:(?:{_bounded(_phrases(table['links']))})\s+)?"
            ),
            connectors=connectors,
            bracketed=rf"[(\[]\s*(?:{either})\s*[)\]]",
            bilingual=re.compile(_said_again(table["bilingual"])),
            footnote=re.compile(_bounded(_phrases(table["footnotes"]))),
            prose=frozenset(_phrases(table["prose"])),
            abbreviations=frozenset(_phrases(table["abbreviations"])),
            aside=re.compile(_either(table["asides"])),
            code=re.compile(_either(table["codes"])),
            minor=re.compile(rf"(?<!\w)(?:{_either(table['minor'])})"),
            unordered=re.compile(_bounded(_phrases(table["unordered"]))),
            qualifier=re.compile(
                rf"(?:(?:{_bounded(_phrases(table['qualifiers']))})[\s-]+){{1,3}}(?=\w)"
            ),
            trailing=re.compile(
                rf"(?:[\s,;.:]{{1,9}}(?:{_either(table['asides'])}"
                rf"|{_either(table['codes'])})){{1,4}}"
            ),
        )

    def kind(self, heading: str) -> str:
        """The part of a label that a phrase found by `heading` opens."""
        return self.kinds[" ".join(heading.split())]


def shadow(text: str) -> str:
    """`text` in lower case without accents, character for character as long."""
    lowered = text.lower()
    if text.isascii():
        return lowered
    if len(lowered) != len(text):
        lowered = "".join(char.lower()[0] for char in text)
    return "".join(char if char.isascii() else _bare(char) for char in lowered)


def _bare(char: str) -> str:
    return (
        "i"
        if char == "\N{LATIN SMALL LETTER DOTLESS I}"
        else unicodedata.normalize("NFD", char)[0]
    )


def _phrases(by_language: Mapping[str, Iterable[str]]) -> list[str]:
    return [
        shadow(unicodedata.normalize("NFC", phrase))
        for phrases in by_language.values()
        for phrase in phrases
    ]


def _bounded(phrases: Iterable[str]) -> str:
    """Any of the phrases, the longest first; those of letters as whole words."""
    signs: list[str] = []
    words: list[str] = []
    for phrase in sorted(set(phrases), key=lambda each: (-len(each), each)):
        spaced = r"\s+".join(map(re.escape, phrase.split()))
        (words if phrase[0].isalnum() else signs).append(spaced)
    either = [rf"(?<!\w)(?:{'|'.join(words)})(?!\w)"] if words else []
    return "|".join(either + signs)


def in_alphabetical_order(names: Sequence[str]) -> bool:
    """Whether shadowed names stand in an order that hides their amounts."""
    return len(names) >= _FEWEST_IN_ORDER and list(names) == sorted(names)


def _said_again(groups: Mapping[str, Iterable[str]]) -> str:
    """The last word of a text with others of its group after slashes."""
    alike = (f"(?:{'|'.join(_phrases({'': group}))})" for group in groups.values())
    again = (rf"{word}((?:\s*/\s*{word}){{1,4}})" for word in alike)
    return rf"(?<!\w)(?:{'|'.join(again)})\s*$"


def _either(patterns: Mapping[str, Iterable[str]]) -> str:
    return "|".join(f"(?:{each})" for group in patterns.values() for each in group)
