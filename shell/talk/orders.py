"""The few plain words of the interactive shell that are not questions.

A line whose first word is none of these is a question, or a pasted label.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Container
from dataclasses import dataclass

from abluent.engine.faults import CommandError, Problem
from abluent.shell.shelf.words import shelf_words

ORDERS = {
    "help": "this page, or `help ORDER`",
    "shelf": "what is on it; `shelf demo`, `shelf FILE`, `shelf new NAME`",
    "add": "put a product on your shelf: `add`, or just paste a label",
    "edit": 'change a label or kind: `edit "Harbour Cream"`',
    "rename": 'give a new name: `rename "Harbour Cream" to "Quay Cream"`',
    "drop": 'take a product off: `drop "Harbour Cream"`',
    "undo": "take back the last change to your shelf",
    "read": 'show a label line by line: `read "Harbour Cream"`',
    "name": "say what an ingredient name means: `name Dimethicone`",
    "routine": "say what builds up: `routine`, or `routine week.txt to week.svg`",
    "plan": "find the washes for a routine: `plan`, or `plan week.txt to week.ics`",
    "rows": "list the last answer row by row",
    "picture": "draw the last answer to post: `picture`, `picture 1:1 to card.png`",
    "cite": "list the works of the last answer; `cite to works.bib`",
    "trace": "save the last answer with every reason: `trace last to why.md`",
    "teach": "add an ingredient, synonym, claim, source or rule: `teach claim`",
    "taught": "list what you taught; `taught to FILE` exports it",
    "untaught": "take back the last thing taught, or `untaught NAME`",
    "audit": "say what in the base no answer rests on, or rests on alone",
    "changed": "compare the last answer with an older base: `changed old/ontology`",
    "batch": "answer a file of questions: `batch questions.txt to answers`",
    "open": "show the last file that was written",
    "copy": "put the last answer on the clipboard",
    "set": "say what is set, or set it: `set market EU`, `set handle @quay.class`",
    "desk": "open the desk in the browser; Ctrl-C comes back",
    "leave": "leave the shell; so does Ctrl-D",
}

LESSER = (
    "edit",
    "rename",
    "drop",
    "undo",
    "name",
    "rows",
    "taught",
    "untaught",
    "audit",
    "changed",
    "cite",
    "batch",
    "open",
    "copy",
    "set",
)
"""Orders that the help only names, so that it fits a screen."""

TEACHABLE = ("ingredient", "synonym", "claim", "source", "rule")
"""What `teach` asks about, where it is not given a file."""

LABEL_PARTS = 6
_BETWEEN = re.compile(r"[,;\u2022\u00b7\n]+")
_GOES_ON = re.compile(r"[,;\u2022\u00b7]\s*$")
_HEADING = re.compile(r"\s*\w+\s*:")
_LONG_HEADING = re.compile(r"\s*\w+(?:[\s/()]+\w+\)?){1,3}\s*:")
_FIRST_WORD = re.compile(r"\s*([\w']+)")


@dataclass(frozen=True)
class Order:
    """One of `ORDERS` and what followed it, quotation marks taken off."""

    word: str
    words: tuple[str, ...] = ()

    @property
    def rest(self) -> str:
        """Return what followed, as one text."""
        return " ".join(self.words)


def order_in(line: str) -> Order | None:
    """Return the order a line gives, or nothing if it gives none.

    Raises:
        CommandError: a quotation mark is left open.
    """
    first = _FIRST_WORD.match(line)
    word = first[1].casefold() if first else ""
    if first is None or not (word in ORDERS or _says_how(line, word)):
        return None
    rest = line[first.end() :]
    return Order(word, _split(rest, line, first.end()))


def sayings() -> dict[str, str]:
    """Return the orders that say how things are washed: one for each aspect."""
    return {
        aspect: "say how it is washed: "
        + ", ".join(f"`{aspect} {word}`" for word in words)
        for aspect, words in shelf_words().aspects.items()
    }


def _says_how(line: str, first: str) -> bool:
    """Whether a line is an aspect and one word, or words that the aspect has.

    A question or a label may begin with such a word too, and goes on.
    """
    words = shelf_words().aspects.get(first)
    rest = " ".join(line.split()[1:]).casefold()
    return words is not None and (" " not in rest or rest in words)


def _split(rest: str, line: str, start: int) -> tuple[str, ...]:
    # Not shlex's own rules: an apostrophe or a backslash in a name is itself.
    lexer = shlex.shlex(rest, posix=True, punctuation_chars="")
    lexer.whitespace_split, lexer.commenters = True, ""
    lexer.quotes, lexer.escape = '"', ""
    try:
        return tuple(lexer)
    except ValueError:
        at = start + rest.rfind('"')
        raise CommandError(
            Problem(
                "this quotation mark is not closed",
                hint='write names of several words as "Harbour Cream"',
                excerpt=line,
                caret=(at, at + 1),
            )
        ) from None


def looks_like_label(text: str, opening_words: Container[str]) -> bool:
    """Say whether a text is a list of ingredients, or the first line of one.

    A label does not begin as any question does, and it has a heading, or several
    parts, or a mark at its end after which the list goes on.
    """
    first = _FIRST_WORD.match(text)
    word = first[1].casefold() if first else ""
    if word in opening_words:
        return False
    parts = [part for part in _BETWEEN.split(text) if part.strip()]
    wanted = LABEL_PARTS // 2 if "\n" in text.strip() else LABEL_PARTS
    goes_on = bool(parts) and bool(_GOES_ON.search(text))
    headed = bool(_HEADING.match(text))
    headed |= len(parts) > 1 and bool(_LONG_HEADING.match(text))
    return len(parts) >= wanted or goes_on or headed
