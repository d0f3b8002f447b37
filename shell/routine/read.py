"""Routines as they come: text lines, a CSV of lines, or a calendar.

Whatever the form, every line of it is a statement of the page `ROUTINES.md`;
a fault is shown at its line. Product names are looked up on the shelf here.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from abluent.engine.disk import STDIN, read_text
from abluent.engine.faults import DataError, Problem, as_data
from abluent.engine.routines.routine import wash_line
from abluent.grammar.common.errors import GrammarError, GrammarProblems, Span
from abluent.grammar.routine import tree as ast
from abluent.shell.shelf.label_files import standard_input
from abluent.shell.shelf.shelf import Shelf, same_name
from abluent.shell.shelf.words import shelf_words

_NEAR = 0.75
"""How alike a name is to one of the shelf of which it is taken for a slip."""

_COLUMNS = ("routine", "line", "how", "product", "when", "date")
_HOWS = {"wash": "wash with", "use": "use", "rinse": "rinse with water"}


@dataclass(frozen=True)
class Found:
    """One routine of a file, or what was wrong with it."""

    place: str
    routine: ast.Routine | None = None
    error: DataError | None = None


def routines_in(word: str, shelf: Shelf, also: Sequence[str] = ()) -> list[Found]:
    """Read the routines of a file, or of standard input for `-`.

    Args:
        word: the file; `.csv` and `.ics` are read as such, all else as lines.
        shelf: what product names are looked up on.
        also: further lines, added to every routine.

    Raises:
        CommandError: there is no such file.
        DataError: it cannot be read at all.
    """
    place = "standard input" if word == STDIN else word
    text = standard_input() if word == STDIN else read_text(Path(word))
    return routines_of(text, place, shelf, also, Path(word).suffix.casefold())


def routines_of(
    text: str,
    place: str,
    shelf: Shelf,
    also: Sequence[str] = (),
    form: str = "",
) -> list[Found]:
    """Read the routines of a text; `form` is `.csv`, `.ics`, or anything for lines.

    Raises:
        DataError: it cannot be read at all.
    """
    if form == ".ics":
        from abluent.shell.routine.calendar import calendar_routine

        read = [Found(place, calendar_routine(text, place))]
    elif form == ".csv":
        read = _csv_routines(text, place)
    else:
        read = _lines(text, place)
    if not read:
        cleaning = shelf_words().cleaning
        first = next((x.product for x in shelf.labels if x.kind in cleaning), "")
        line = wash_line([first] if first else [])
        hint = f"write a line such as: {line}"
        raise DataError(Problem("there is no routine in it", place, hint))
    more = _more(also)
    return [_checked(found, shelf, more) for found in read]


def _lines(text: str, place: str) -> list[Found]:
    from abluent.grammar.routine.parse import parse_routines

    try:
        return [Found(place, each) for each in parse_routines(text, place)]
    except GrammarError as error:
        raise as_data(error) from None


def _more(also: Sequence[str]) -> ast.Routine:
    found = _lines("\n".join(also), "--also")
    return (found[0].routine if found else None) or ast.Routine()


def _checked(found: Found, shelf: Shelf, more: ast.Routine) -> Found:
    if found.routine is None:
        return found
    try:
        named = _named(_joined(found.routine, more), shelf)
    except GrammarError as error:
        return Found(found.place, error=as_data(error))
    return Found(found.place, named)


def _joined(routine: ast.Routine, more: ast.Routine) -> ast.Routine:
    """A routine with further lines; these win where both speak."""
    as_told = more.counting == ast.AS_TOLD
    return replace(
        routine,
        uses=(*routine.uses, *more.uses),
        wants=(*routine.wants, *more.wants),
        start=more.start or routine.start,
        days=more.days or routine.days,
        cycle=more.cycle or routine.cycle,
        washing=_washing(routine, more),
        counting=routine.counting if as_told else more.counting,
    )


def _washing(routine: ast.Routine, more: ast.Routine) -> tuple[ast.Said, ...]:
    said = {each.aspect: each for each in routine.washing}
    return tuple((said | {each.aspect: each for each in more.washing}).values())


def _named(routine: ast.Routine, shelf: Shelf) -> ast.Routine:
    """A routine with every product called as on the shelf.

    Lines of a product that came there without a list are left out, and told; what
    stands beside such a line stands where it stood. So are those of a product that is
    not there, unless its name is next to one that is.

    Raises:
        GrammarProblems: some are not there, and may be slips, or none is there at all.
    """
    uses: list[ast.UseLine] = []
    problems: list[GrammarError] = []
    bare = {same_name(each): each for each in shelf.unlisted if not shelf.find(each)}
    out: dict[str, ast.When] = {}
    absent: dict[str, GrammarError] = {}
    dark = [use for use in routine.uses if use.wash and same_name(use.product) in bare]
    alone = dark and not any(use.wash and use not in dark for use in routine.uses)
    for use in routine.uses:
        when = use.when
        if alone and isinstance(when, ast.Beside) and not when.anchor:
            when = dark[0].when  # no wash with a list is there to come after
        if isinstance(when, ast.Beside) and same_name(when.anchor) in out:
            when = out[same_name(when.anchor)]
        if same_name(use.product) in bare:
            out.setdefault(same_name(use.product), when)
            continue
        try:
            product = _on_shelf(use.product, use.span, routine, shelf)
            if isinstance(when, ast.Beside) and when.anchor:
                anchor = _on_shelf(when.anchor, use.span, routine, shelf)
                when = replace(when, anchor=anchor)
            uses.append(replace(use, product=product, when=when))
        except GrammarError as problem:
            if _is_slip(use, shelf):
                problems.append(problem)
            else:
                out.setdefault(same_name(use.product), when)
                absent[use.product] = problem
    if problems or (absent and not uses):
        raise GrammarProblems([*problems, *absent.values()])
    unlisted = tuple(bare[each] for each in out if each in bare)
    names = tuple(dict.fromkeys(bare[same_name(use.product)] for use in dark))
    return replace(
        routine,
        uses=tuple(uses),
        unlisted=unlisted,
        unlisted_washes=names,
        absent=tuple(absent),
    )


def _is_slip(use: ast.UseLine, shelf: Shelf) -> bool:
    """Whether a name that is not on the shelf is next to one that is, or an anchor."""
    names = [label.product.casefold() for label in shelf.labels]
    beside = isinstance(use.when, ast.Beside) and use.when.anchor
    near = get_close_matches(use.product.casefold(), names, 1, _NEAR)
    return bool(near or (beside and (not use.product or shelf.find(use.product))))


def _on_shelf(name: str, span: Span, routine: ast.Routine, shelf: Shelf) -> str:
    from abluent.engine.questions.world.world import WATER

    label = shelf.find(name) if name else None
    if label is not None:
        return label.product
    if not name or name.casefold() == WATER:
        return name.casefold()
    near = get_close_matches(name, [x.product for x in shelf.labels], 3, 0.5)
    meant = " or ".join(f'"{each}"' for each in near)
    at = routine.text.find(name, span.start, span.end)
    raise GrammarError(
        f'no product "{name}" is on the shelf "{shelf.name}"',
        routine.text,
        Span(at, at + len(name)) if at >= 0 else span,
        hint=f"did you mean {meant}?" if near else "`abluent shelf` lists what is",
        name=routine.place,
    )


# --- CSV --------------------------------------------------------------------------


def _csv_routines(text: str, place: str) -> list[Found]:
    """Read rows of `routine, line` or of `routine, how, product, when or date`.

    Each row becomes the statement it stands for, on a line of the row's number, so
    that a fault is shown at its row.
    """
    rows = csv.DictReader(io.StringIO(text, newline=""))
    names = {str(each).strip().casefold(): each for each in rows.fieldnames or ()}
    if not ({"line"} <= set(names) or {"product", "when"} <= set(names)):
        if not {"product", "date"} <= set(names):
            head = text.split("\n", 1)[0]
            raise DataError(
                Problem(
                    'the first row names no columns "product" and "when"',
                    f"{place}:1",
                    "let the first row read routine,how,product,when",
                    head,
                    (0, len(head)),
                )
            )
    grouped: dict[str, dict[int, str]] = {}
    for row in rows:
        cells = {c: (row.get(names.get(c, "")) or "").strip() for c in _COLUMNS}
        if any(cells.values()):
            lines = grouped.setdefault(cells["routine"], {})
            lines[rows.line_num] = _row_line(cells)
    return [_csv_routine(name, lines, place) for name, lines in grouped.items()]


def _row_line(cells: dict[str, str]) -> str:
    from abluent.grammar.routine.printer import quoted

    if cells["line"]:
        return cells["line"]
    how = cells["how"].casefold() or "use"
    verb = _HOWS.get(how, how)
    name = "" if how == "rinse" else f" {quoted(cells['product'])}"
    when = f"on {cells['date']}" if cells["date"] else cells["when"]
    return f"{verb}{name} {when}"


def _csv_routine(name: str, lines: dict[int, str], place: str) -> Found:
    text = "\n".join(lines.get(n, "") for n in range(1, max(lines) + 1))
    try:
        found = _lines(text, place)[0].routine
    except DataError as error:
        return Found(place, error=error)
    assert found is not None
    return Found(place, replace(_dated(found), name=name or found.name))


def _dated(routine: ast.Routine) -> ast.Routine:
    """A routine that runs over its dates, where it has some and no first day."""
    dates = sorted(dates_of(routine.uses))
    if not dates or routine.start:
        return routine
    days = routine.days or (dates[-1] - dates[0]).days + 1
    return replace(routine, start=dates[0], days=days)


def dates_of(uses: Sequence[ast.UseLine]) -> Iterator[date]:
    """Every date that some uses name."""
    for use in uses:
        if isinstance(use.when, ast.OnDates):
            yield from use.when.dates
