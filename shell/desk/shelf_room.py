"""The shelf: its products, what each leaves and clears, what is left out and why."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base.contract import LEAVING_UNKNOWN
from abluent.engine.base.kinds import cleaning_kinds, product_kind, telling
from abluent.engine.base.roles import Role
from abluent.engine.faults import CommandError, DataError, Problem, ShellError
from abluent.engine.questions.answers.folded_words import foldings, said_films
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.shell.desk.page import desk, filled, marked
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, strand_svg
from abluent.shell.shelf.by_name import DEMO, find_shelf
from abluent.shell.shelf.presets import summary_of
from abluent.shell.shelf.save import printed
from abluent.shell.shelf.words import shelf_words
from abluent.shell.told.plain import caption_in_a_word
from flask import Blueprint, Response, redirect, request, send_file, url_for
from markupsafe import Markup

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from abluent.shell.session.session import Session
    from abluent.shell.shelf.shelf import Shelf, ShelfLabel
    from werkzeug.wrappers import Response as AnyResponse

ROOM = Blueprint("shelf", __name__)
_SMALL = 40.0
_TYPES = {"csv": "text/csv", "jsonl": "application/jsonl"}


class Said(NamedTuple):
    """A line with its mark."""

    mark: Markup
    text: str


class LeftOut(NamedTuple):
    """A product that some questions pass by, and why."""

    product: str
    why: str


@ROOM.get("/shelf")
def shelf() -> str:
    """Show the shelf."""
    return _page()


@ROOM.get("/shelf/product/<name>")
def product(name: str) -> str:
    """Show what one product leaves, and what it clears if it is a wash."""
    session = desk().fresh()
    label = session.on_shelf(name)
    return filled(
        "product.html",
        here="shelf",
        label=label,
        summary=summary_of(session.read_product(label.product)[1]),
        left=_left(label),
        clears=_clears(session, label),
        new=request.args.get("new") == "1",
        changeable=session.changeable,
        kinds=[*shelf_words().kinds, shelf_words().other],
    )


@ROOM.post("/shelf/use")
def use() -> AnyResponse:
    """Go to another shelf."""
    desk().fresh().use(request.form.get("shelf", "").strip())
    return _back()


@ROOM.post("/shelf/condition")
def condition() -> AnyResponse:
    """Say how hair is washed."""
    session = desk().fresh()
    for aspect in shelf_words().aspects:
        word = request.form.get(aspect, "")
        if word and word != session.shelf.conditions.get(aspect):
            session.set_condition(aspect, word)
    return _back()


@ROOM.post("/shelf/drop")
def drop() -> AnyResponse:
    """Take a product off."""
    name = request.form.get("product", "")
    desk().fresh().drop(name)
    return redirect(url_for("shelf.shelf", told=f"“{name}” is off the shelf."))


@ROOM.post("/shelf/edit")
def edit() -> AnyResponse:
    """Change the kind or market of a product."""
    form, session = request.form, desk().fresh()
    name = form.get("product", "")
    session.edit(name, kind=form.get("kind", ""), market=form.get("market"))
    return redirect(url_for("shelf.product", name=name))


@ROOM.post("/shelf/undo")
def undo() -> AnyResponse:
    """Take back the last change, and say what it was."""
    told, _ = desk().fresh().undo()
    text = f"Taken back: {'; '.join(told) or 'the file is as it was'}."
    return redirect(url_for("shelf.shelf", told=text))


@ROOM.post("/shelf/import")
def bring() -> str | AnyResponse:
    """Put every product of a file on the user's own shelf."""
    found = request.files.get("file")
    if found is None or not found.filename:
        raise CommandError(Problem("no file was chosen", hint="a .jsonl, .csv or .txt"))
    brought = _parsed(found.filename, found.read())
    session, put, faults = desk().fresh(), 0, [str(p) for p in brought.problems]
    for label in brought.labels:
        try:
            session.add_label(label.product, label.kind, label.text, label.market)
            put += 1
        except (CommandError, DataError) as error:
            faults.append(str(error))
    return _page(told=f"{put} of {len(brought.labels)} products put on.", faults=faults)


@ROOM.get("/shelf/export")
def export() -> AnyResponse:
    """Hand the shelf out as JSON Lines or CSV."""
    form = "csv" if request.args.get("form") == "csv" else "jsonl"
    text = printed(desk().fresh().shelf, f".{form}") or ""
    return _file(text, f"shelf.{form}", _TYPES[form])


def _file(text: str, name: str, kind: str) -> Response:
    data = io.BytesIO(text.encode("utf-8", "backslashreplace"))
    return send_file(data, mimetype=kind, as_attachment=True, download_name=name)


def _parsed(name: str, data: bytes) -> Shelf:
    """Read a file that was handed in, by its ending, as one from disk is read."""
    from pathlib import Path, PurePath
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        path = Path(folder) / (PurePath(name.replace("\\", "/")).name or "shelf")
        path.write_bytes(data)
        return find_shelf(str(path))[0]


def _back() -> AnyResponse:
    return redirect(url_for("shelf.shelf"))


def _page(told: str = "", faults: Sequence[str] = ()) -> str:
    session = desk().fresh()
    shelf = session.shelf
    return filled(
        "shelf.html",
        here="shelf",
        shelf=shelf,
        told=told or request.args.get("told", ""),
        faults=[*faults, *map(str, shelf.problems)],
        left_out=list(_left_out(session)),
        changeable=session.changeable,
        others=_others(shelf.name),
        aspects=shelf_words().aspects,
    )


def _others(now: str) -> list[str]:
    """The shelves there are to go to."""
    from abluent.engine.disk import data_folder

    names = sorted(p.stem for p in (data_folder() / "shelves").glob("*.jsonl"))
    return [name for name in [*names, DEMO] if name != now]


def _left_out(session: Session) -> Iterator[LeftOut]:
    for label in session.shelf.labels:
        if label.kind == shelf_words().other:
            why = "its kind is not known, so no question about washes or kinds has it"
            yield LeftOut(label.product, why)
        elif not label.market:
            why = "no market is named, so no law bounds its levels"
            yield LeftOut(label.product, why)


def _left(label: ShelfLabel) -> list[Said]:
    """What a product leaves, by family."""
    answer = desk().answer(f'what does "{label.product}" leave')
    rows = [row for row in all_rows(answer) if isinstance(row, Left)]
    if not rows:
        return [Said(Markup(""), answer.sentence)]
    told: list[Said] = []
    for sure, strand, word in (
        (True, LEFT, "leaves"),
        (False, MAY_BE_LEFT, "may leave"),
    ):
        mark = Markup(strand_svg(strand, _SMALL))
        found = _by_family([row for row in rows if row.sure is sure])
        told += [Said(mark, f"{word} {family}: {films}") for family, films in found]
    others = [row for row in answer.others if isinstance(row, Left)]
    unknown = [row for row in others if row.how == LEAVING_UNKNOWN]
    mark = Markup(strand_svg(MAY_BE_LEFT, _SMALL))
    for family, films in _by_family(unknown):
        told.append(Said(mark, f"not known whether it leaves {family}: {films}"))
    return told


def _by_family(rows: Sequence[Left]) -> Iterator[tuple[str, str]]:
    """Films by the class that says most of each, in the order of the label."""
    families: dict[str, list[str]] = {}
    for row in rows:
        base = row.case.world.base
        kinds = telling(base.classes_of(row.film), base)
        known = [kind for kind in kinds if kind != base.term(Role.FILM)]
        family = base.plural(known[0]) if known else "films of no known family"
        families.setdefault(family, []).append(base.label(row.film))
    yield from ((family, ", ".join(films)) for family, films in families.items())


def _clears(session: Session, label: ShelfLabel) -> list[Said]:
    """What a wash clears of what the shelf leaves, by family."""
    base = session.world.base
    if product_kind(label.kind, base) not in cleaning_kinds(base):
        return []
    try:
        found = _verdicts(desk().answer(f'does "{label.product}" clear everything'))
    except ShellError as error:
        return [Said(Markup(""), str(error))]
    return [
        Said(
            marked(fold.first.role, _SMALL),
            f"{caption_in_a_word(fold.first)}: {said_films(base, fold)}",
        )
        for fold in foldings(found)
    ]


def _verdicts(answer: Answer) -> list[Verdict]:
    return [row for row in all_rows(answer) if isinstance(row, Verdict)]
