"""A name in a question that stands for nothing: pointed at, with what is near."""

from __future__ import annotations

from difflib import get_close_matches

from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.world.nouns import UnknownName
from abluent.grammar.common.errors import Span
from abluent.shell.shelf.shelf import Shelf, same_name

_QUOTES = ('"', "'", "\u201c", "\u201e", "\u2018", "\xab")
_FEW = 2


def unknown_name(error: UnknownName, query: str, shelf: Shelf) -> CommandError:
    """Return the error to report: the name, its place, and what to try.

    If the name is that of a product whose label was refused, that is said.
    """
    fault = _fault_with(error.name, shelf)
    if fault is not None:
        what = f'"{error.name}" is not on the shelf, as its label was refused'
        return CommandError([Problem(what, "", "", query, _caret(error)), fault])
    what = str(error).replace("`", '"')
    if _is_word(error, query):
        what = f'"{error.name}" is no word of the language, and nothing is called so'
    return CommandError(
        Problem(what, hint=_hint(error), excerpt=query, caret=_caret(error))
    )


def is_loose(error: UnknownName, query: str) -> bool:
    """Return whether an unknown name may be no name at all, but free speech.

    A name in quotes is one, and so is a short one that looks like one that is known.
    """
    start, end = _caret(error)
    quoted = query[start:end][:1] in _QUOTES
    many = len(error.name.split()) > _FEW
    return bool(error.name) and not quoted and (many or not error.near)


def place_of(error: UnknownName) -> tuple[int, int]:
    """Return where an unknown name stands in its question."""
    return _caret(error)


def unknown_product(product: str, shelf: Shelf) -> CommandError:
    """Return the error to report for a product that is not on a shelf."""
    fault = _fault_with(product, shelf)
    if fault is not None:
        what = f'"{product}" is not on the shelf, as its label was refused'
        return CommandError([Problem(what), fault])
    near = get_close_matches(product, [x.product for x in shelf.labels], 3, 0.5)
    meant = " or ".join(f'"{name}"' for name in near)
    hint = f"did you mean {meant}?" if near else "`shelf` lists what is on it"
    return CommandError(
        Problem(f'no product "{product}" is on the shelf "{shelf.name}"', hint=hint)
    )


def _hint(error: UnknownName) -> str:
    if error.near:
        return "did you mean " + " or ".join(f'"{name}"' for name in error.near) + "?"
    if not error.name:
        return ""
    if error.wanted == "product":
        return "`abluent shelf` lists the products; a label can be added to the shelf"
    return (
        "`abluent name` reads a name as a label prints it; a new ingredient can be "
        "taught with `teach`"
    )


def _is_word(error: UnknownName, query: str) -> bool:
    """Return whether it is typed as a word and not as a name: small, no quotes."""
    start, end = _caret(error)
    typed = query[start:end]
    return bool(error.name) and typed.isalpha() and typed.islower()


def _caret(error: UnknownName) -> tuple[int, int]:
    span = error.span
    return (span.start, span.end) if isinstance(span, Span) else (0, 0)


def _fault_with(name: str, shelf: Shelf) -> Problem | None:
    if not name:
        return None
    quoted = f'"{same_name(name)}"'
    return next((p for p in shelf.problems if quoted in same_name(p.what)), None)
