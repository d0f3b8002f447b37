"""The label: its text beside its reading, each name linked to its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base.kinds import telling
from abluent.engine.faults import CommandError, DataError, ShellError
from abluent.shell.desk.page import desk, filled
from abluent.shell.pages.label import level_words
from abluent.shell.shelf.presets import (
    NONE,
    Suggestion,
    default_name,
    suggested_kind,
    suggested_name,
    summary_of,
    usual_market,
)
from abluent.shell.shelf.shelf import same_name
from abluent.shell.shelf.words import shelf_words
from flask import Blueprint, redirect, request, url_for

if TYPE_CHECKING:
    from abluent.engine.reading.readings import ReadLabel
    from abluent.shell.session.session import Session
    from abluent.shell.shelf.drafts import Draft
    from abluent.shell.shelf.presets import Summary
    from werkzeug.wrappers import Response as AnyResponse

ROOM = Blueprint("label", __name__)
MARKETS = ("EU", "US", "United Kingdom", "Canada", "Japan", "Australia")
NOT_SAID = "none"
_FIELDS = ("text", "name", "kind", "market")
_NEAR = 3


class Line(NamedTuple):
    """One name of a label, as it was understood."""

    place: int
    printed: str
    span: tuple[int, int]
    means: str
    kind: str
    how: str
    level: str
    near: tuple[str, ...]
    known: bool


class Stretch(NamedTuple):
    """Characters of the text; `place` is that of the name they print, or zero."""

    text: str
    place: int
    known: bool = True


class LabelRead(NamedTuple):
    """All that is shown of a text."""

    lines: tuple[Line, ...]
    stretches: tuple[Stretch, ...]
    summary: Summary | None
    unordered: str
    remarks: tuple[str, ...]
    kind: str
    market: str
    kind_preset: Suggestion
    market_preset: Suggestion


@ROOM.get("/label")
def last() -> AnyResponse:
    """Go on with the text that was begun last."""
    return redirect(url_for("label.text", key=desk().drafts.last().key))


@ROOM.post("/label/new")
def new() -> AnyResponse:
    """Begin another text."""
    return redirect(url_for("label.text", key=desk().drafts.new().key))


@ROOM.get("/label/<key>")
def text(key: str) -> str | AnyResponse:
    """Show a text and its reading."""
    draft = desk().drafts.get(key)
    if draft.key != key:
        return redirect(url_for("label.text", key=draft.key))
    return _page(draft)


@ROOM.post("/label/<key>/read")
def read(key: str) -> str | AnyResponse:
    """Keep a text as it is now, and read it or put it on the shelf."""
    draft = _kept(key)
    return _added(draft) if request.form.get("do") == "add" else _page(draft)


def _added(draft: Draft) -> str | AnyResponse:
    """Put a product on the shelf; its text stays if the shelf will not take it."""
    session = desk().fresh()
    try:
        found = _read(session, draft)
        market = "" if found.market == NOT_SAID else found.market
        taken = [each.product for each in session.shelf.labels]
        offered = suggested_name(draft.fields["text"])
        free = "" if any(same_name(offered) == same_name(x) for x in taken) else offered
        name = draft.fields["name"].strip() or free or default_name(found.kind, taken)
        session.add_label(name, found.kind, draft.fields["text"], market)
    except (CommandError, DataError) as error:
        return _page(draft, fault=str(error))
    desk().drafts.drop(draft.key)
    return redirect(url_for("shelf.product", name=name, new="1"))


@ROOM.post("/label/<key>/same")
def same(key: str) -> str:
    """Teach that a name of the text means the same as a known one."""
    from abluent.engine.teach.worded import synonym_of

    draft, session = desk().drafts.get(key), desk().session
    name, known = request.form.get("unread", ""), request.form.get("known", "")
    try:
        part = synonym_of(name, known.strip(), session.world.base)
        session.teach(session.weigh([part]))
    except ShellError as error:
        return _page(draft, fault=str(error))
    told = f"“{name}” means {known} from now on; `untaught` in the shell takes it back."
    return _page(draft, told=told)


def _kept(key: str) -> Draft:
    """Keep what the form holds; a field that only shows a preset is left empty."""
    form = request.form
    fields = {each: form.get(each, "").replace("\r\n", "\n") for each in _FIELDS}
    for each in ("kind", "market"):
        if fields[each] == form.get(f"{each}_preset"):
            fields[each] = ""
    number = form.get("number", "0")
    return desk().drafts.save(key, int(number) if number.isdecimal() else 0, fields)


def _page(draft: Draft, fault: str = "", told: str = "") -> str:
    session = desk().fresh()
    fields: Mapping[str, str] = {**dict.fromkeys(_FIELDS, ""), **draft.fields}
    return filled(
        "label.html",
        here="label",
        draft=draft,
        fields=fields,
        found=_read(session, draft),
        offered=suggested_name(fields["text"]),
        kinds=[*shelf_words().kinds, shelf_words().other],
        markets=MARKETS,
        not_said=NOT_SAID,
        fault=fault,
        told=told,
        shelf=session.shelf,
        names=_names(session),
    )


def _names(session: Session) -> list[str]:
    base = session.world.base
    symbols = {symbol for symbol, _ in base.names.values()}
    return sorted(map(base.label, symbols), key=str.casefold)


def _read(session: Session, draft: Draft) -> LabelRead:
    """Read a draft as what it is said to be, or what it is likely to be."""
    typed = draft.fields.get("text", "")
    if not typed.strip():
        was, where = draft.fields.get("kind", ""), draft.fields.get("market", "")
        return LabelRead((), (), None, "", (), was, where, NONE, NONE)
    base = session.world.base
    name, said = draft.fields.get("name", ""), draft.fields.get("kind", "")
    first = session.read(typed, said or shelf_words().other)
    kind = NONE if said else suggested_kind(name, typed, first, base)
    market = NONE if draft.fields.get("market") else usual_market(typed)
    used = said or kind.word or shelf_words().other
    place = draft.fields.get("market") or market.word or NOT_SAID
    whole = session.read(typed, used, "" if place == NOT_SAID else place)
    return LabelRead(
        tuple(_lines(session, whole)),
        tuple(_stretches(whole)),
        summary_of(whole),
        whole.label.unordered,
        tuple(each.message for each in whole.label.remarks),
        used,
        place,
        kind,
        market,
    )


def _lines(session: Session, found: ReadLabel) -> Iterator[Line]:
    base = session.world.base
    levels = session.levels(found)
    for item, each, level in zip(
        found.label.items, found.readings, levels, strict=True
    ):
        named = base.label(each.ingredient) if each.ingredient else each.printed
        alike = named.casefold() == each.printed.casefold()
        kinds = telling(each.classes, base)
        yield Line(
            item.place,
            item.printed,
            item.span,
            "" if alike else named,
            base.label(kinds[0]) if kinds else "",
            each.how,
            level_words(level),
            tuple(base.label(c) for c in each.candidates[:_NEAR]),
            each.symbol is not None,
        )


def _stretches(found: ReadLabel) -> Iterator[Stretch]:
    """Cut the text at every name, so that each can be marked where it stands."""
    typed, at = found.label.text, 0
    pairs = zip(found.label.items, found.readings, strict=True)
    for item, each in sorted(pairs, key=lambda pair: pair[0].span):
        start, end = item.span
        if start < at:
            continue
        if start > at:
            yield Stretch(typed[at:start], 0)
        yield Stretch(typed[start:end], item.place, each.symbol is not None)
        at = end
    if at < len(typed):
        yield Stretch(typed[at:], 0)
