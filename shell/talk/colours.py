"""Colouring of a question as it is typed, for prompt_toolkit.

Words of the language are bold and quoted names underlined; no colour means
anything, so that nothing is lost without colours.
"""

from __future__ import annotations

from collections.abc import Callable

from abluent.grammar.query.lex import lex
from abluent.shell.talk.orders import ORDERS
from prompt_toolkit.document import Document
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.lexers import Lexer
from prompt_toolkit.styles import Style

STYLE = Style.from_dict(
    {
        "word": "bold",
        "name": "underline",
        "number": "italic",
        "stray": "reverse",
        "prompt": "bold",
    }
)
_CLASSES = {
    "WORD": "",
    "QUOTED": "class:name",
    "NUMBER": "class:number",
    "STRAY": "class:stray",
}


class QuestionLexer(Lexer):
    """Styles a question by the words of the query language; a label stays plain."""

    def lex_document(self, document: Document) -> Callable[[int], StyleAndTextTuples]:
        """Return a function from line number to the styled pieces of that line."""
        lines = document.lines

        def styled_line(number: int) -> StyleAndTextTuples:
            return styled(lines[number]) if len(lines) == 1 else [("", lines[number])]

        return styled_line


def styled(line: str) -> StyleAndTextTuples:
    """Return one line as pieces of (style, text) that join to the line."""
    first = line.split(maxsplit=1)[:1]
    if first and first[0].casefold() in ORDERS:
        head = line.index(first[0]) + len(first[0])
        return [("class:word", line[:head]), ("", line[head:])]
    pieces: StyleAndTextTuples = []
    at = 0
    for lexeme in lex(line):
        pieces.append(("", line[at : lexeme.start]))
        style = _CLASSES.get(lexeme.kind, "class:word")
        pieces.append((style, line[lexeme.start : lexeme.end]))
        at = lexeme.end
    pieces.append(("", line[at:]))
    return [piece for piece in pieces if piece[1]]
