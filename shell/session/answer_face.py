"""An answer that shows itself, printed or as the result of a notebook's cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.folded_words import told
from abluent.engine.questions.answers.rows import all_rows, cited, standing, title
from abluent.grammar.common.text import escaped, one_line
from abluent.shell.pages.answer import answer_page

LISTED = 60
COLUMNS = 80


class ShownAnswer(Answer):
    """What `Session.ask` returns: an `Answer` with a face."""

    @classmethod
    def of(cls, answer: Answer) -> ShownAnswer:
        """Return an answer that shows itself."""
        return cls(**vars(answer))

    def __str__(self) -> str:
        """Return the answer as the shell prints it, 80 columns wide."""
        return answer_page(self, COLUMNS)

    def _repr_markdown_(self) -> str:
        """Return the answer as Markdown: the sentence, the rows, their reasons."""
        lines = [f"**{escaped(self.sentence)}**", ""]
        folded = told(self.rows) + told(self.others)
        lines += [f"- {escaped(each)}" for each, _ in folded]
        if not told(self.rows):
            lines += self._markdown_rows()
        lines += [f"\n{escaped(text)}" for text in self._remarks()]
        return "\n".join(lines) + "\n"

    def _markdown_rows(self) -> Iterator[str]:
        for row in self.rows[:LISTED]:
            yield f"- {escaped(_head(row))}"
            yield from (f"    {n}. {escaped(t)}" for n, t in _reasons(self, row))
        if _more(self.rows):
            yield f"- {_more(self.rows)}"

    def _repr_html_(self) -> str:
        """Return the answer as HTML without scripts, styles or links."""
        folded = told(self.rows)
        lines = [f"<li>{_safe(text)}</li>" for text, _ in folded]
        if not folded:
            lines = [_html_row(self, row) for row in self.rows[:LISTED]]
        lines += [f"<li>{_safe(text)}</li>" for text, _ in told(self.others)]
        rows = "".join(lines)
        remarks = "".join(f"<p>{_safe(text)}</p>" for text in self._remarks())
        over = "" if folded else _more(self.rows)
        more = f"<p>{over}</p>" if over else ""
        head = f"<p><strong>{_safe(self.sentence)}</strong></p>"
        return f"<div>{head}<ul>{rows}</ul>{more}{remarks}</div>"

    def _remarks(self) -> Iterator[str]:
        for part in self.compared:
            yield part.sentence
        yield from map(str, self.findings)
        for note in self.notes:
            yield f"Note: {note}"
        for caution in cautions(all_rows(self)):
            yield f"Mind: {caution}"


def _head(row: Row) -> str:
    stands = standing(row)
    return f"{title(row)} ({stands})" if stands else title(row)


def _more(rows: Sequence[Row]) -> str:
    return f"… and {len(rows) - LISTED} more" if len(rows) > LISTED else ""


def _reasons(answer: Answer, row: Row) -> list[tuple[int, str]]:
    """Return the reasons of a row, for the same answers as on a terminal."""
    wanted = len(answer.rows) == 1 or answer.why
    return list(enumerate(row.reasons, 1)) if wanted else []


def _html_row(answer: Answer, row: Row) -> str:
    steps = "".join(f"<li>{_safe(text)}</li>" for _, text in _reasons(answer, row))
    if not steps:
        return f"<li>{_safe(_head(row))}</li>"
    works = "".join(f"<li>{_safe(text)}</li>" for text in cited(row))
    sources = f"<p>Sources:</p><ul>{works}</ul>" if works else ""
    return f"<li>{_safe(_head(row))}<ol>{steps}</ol>{sources}</li>"


def _safe(text: str) -> str:
    from html import escape

    return escape(one_line(text))
