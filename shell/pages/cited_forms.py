"""Cited works as text, as CSL-JSON and as BibTeX.

Nothing is made up for a form that wants more than the base records: a field that is
not known is left out.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from abluent.grammar.common.text import one_line, unmoving
from abluent.shell.pages.cited_works import Cited

# The kinds of source of the base, as CSL 1.0.2 and BibTeX name the nearest kind.
_KINDS = {
    "paper": ("article-journal", "article"),
    "book": ("book", "book"),
    "law": ("legislation", "misc"),
    "standard": ("standard", "misc"),
    "reviewBody": ("report", "misc"),
    "tradeText": ("article-magazine", "misc"),
}
_OTHER = ("document", "misc")

_INITIALS = re.compile(r"(.+?) ((?:[A-Z]\.(?:-[A-Z]\.)?\s?)+)")
_VOLUME = re.compile(r"(\S+?)\((.+)\)")
_BRACES = str.maketrans("{}", "()")


@dataclass(frozen=True, slots=True)
class Author:
    """A person, with initials, or a body, without."""

    name: str
    initials: str = ""


def as_text(works: Sequence[Cited]) -> str:
    """Return works as a list for people, each with what it was cited for."""
    return "\n\n".join("\n".join(_lines(work)) for work in works) + "\n"


def as_csl(works: Sequence[Cited]) -> str:
    """Return works as CSL-JSON, which reference managers read."""
    items = [_csl(work) for work in works]
    return unmoving(json.dumps(items, ensure_ascii=False, indent=2)) + "\n"


def as_bibtex(works: Sequence[Cited]) -> str:
    """Return works as BibTeX."""
    from bibtexparser.entrypoint import write_string
    from bibtexparser.library import Library
    from bibtexparser.model import Block, Entry, Field

    entries: list[Block] = [
        Entry(
            _kind(work)[1],
            work.symbol,
            [Field(key, value) for key, value in _bibtex(work)],
        )
        for work in works
    ]
    return write_string(Library(entries))


def cited_for(work: Cited) -> str:
    """Return in one line how a work was read, what it was cited for, and how."""
    uses = " ".join(
        f"{use} ({stands})" if stands else use for use, stands in work.uses.items()
    )
    noted = work.record.text("note")
    return " ".join(filter(None, [f"{_seen(work)}.", noted, f"Cited for: {uses}"]))


def _lines(work: Cited) -> Iterator[str]:
    yield one_line(work.citation)
    yield f"  {_seen(work)}."
    for use, stands in work.uses.items():
        yield f"  - {one_line(use)}" + (f" ({stands})" if stands else "")


def _seen(work: Cited) -> str:
    if work.unseen:
        return "Recalled, and not opened for this base"
    if work.seen:
        return f"Read for this base: {work.seen}"
    return "What was read of it is not recorded"


def _kind(work: Cited) -> tuple[str, str]:
    if work.record.link("sourceKind") == "reviewBody" and work.record.text("volume"):
        return _KINDS["paper"]  # Such a body's reports are printed in a journal.
    return _KINDS.get(work.record.link("sourceKind") or "", _OTHER)


def authors_of(work: Cited) -> tuple[list[Author], bool]:
    """Return the authors that are recorded, and whether there are more."""
    text = (work.record.text("author") or "").strip()
    alone = text.removesuffix("et al.").strip()
    found = []
    for part in filter(None, (each.strip() for each in alone.split(";"))):
        person = _INITIALS.fullmatch(part)
        found.append(Author(person[1], person[2].strip()) if person else Author(part))
    return found, alone != text


def _csl(work: Cited) -> dict[str, Any]:
    record = work.record
    authors, more = authors_of(work)
    names: list[dict[str, str]] = [
        {"family": each.name, "given": each.initials}
        if each.initials
        else {"literal": each.name}
        for each in authors
    ]
    names += [{"literal": "et al."}] if more else []
    year = record.number("year")
    volume, issue = _volume(work)
    fields = {
        "id": work.symbol,
        "type": _kind(work)[0],
        "title": record.text("title") or work.citation,
        "author": names,
        "issued": {"date-parts": [[int(str(year))]]} if year is not None else None,
        "container-title": record.text("container"),
        "volume": volume,
        "issue": issue,
        "page": record.text("pages"),
        "DOI": record.text("doi"),
        "note": cited_for(work),
    }
    return {name: value for name, value in fields.items() if value}


def _bibtex(work: Cited) -> Iterator[tuple[str, str]]:
    record = work.record
    authors, more = authors_of(work)
    names = [
        f"{_latex(each.name)}, {_latex(each.initials)}"
        if each.initials
        else f"{{{_latex(each.name)}}}"
        for each in authors
    ]
    year = record.number("year")
    volume, issue = _volume(work)
    fields = {
        "title": record.text("title") or work.citation,
        "journal" if _kind(work)[1] == "article" else "howpublished": (
            record.text("container")
        ),
        "year": str(year) if year is not None else None,
        "volume": volume,
        "number": issue,
        "pages": (record.text("pages") or "").replace("-", "--"),
        "doi": record.text("doi"),
        "note": cited_for(work),
    }
    if names:
        yield "author", " and ".join([*names, "others"] if more else names)
    for name, value in fields.items():
        if value:
            # A title keeps its capitals, which are those of names.
            text = _latex(value)
            yield name, f"{{{text}}}" if name == "title" else text


def _volume(work: Cited) -> tuple[str, str]:
    """Return volume and issue apart, as `40(6)` holds both."""
    text = work.record.text("volume") or ""
    parts = _VOLUME.fullmatch(text)
    return (parts[1], parts[2]) if parts else (text, "")


def _latex(text: str) -> str:
    """Return text as LaTeX; braces, which would end a field, become parentheses."""
    from pylatexenc.latexencode import UnicodeToLatexEncoder

    encoder = UnicodeToLatexEncoder(
        unknown_char_policy="keep", unknown_char_warning=False
    )
    encoded: str = encoder.unicode_to_latex(one_line(text).translate(_BRACES))
    return encoded
