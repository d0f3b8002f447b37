"""The week: products on days, films growing and shrinking, the mildest plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.faults import CommandError, Problem, ShellError
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.routine.printer import DAYS
from abluent.shell.desk.growth import Point, growth_svg, points_of
from abluent.shell.desk.page import desk, filled
from abluent.shell.shelf.words import shelf_words
from flask import Blueprint, Response, request, send_file
from markupsafe import Markup

if TYPE_CHECKING:
    from abluent.engine.routines.outcome import Accounted
    from abluent.engine.routines.overview import Told
    from abluent.engine.routines.plan_outcome import PlannedWithReasons
    from abluent.grammar.routine.tree import Routine
    from abluent.shell.session.session import Session

ROOM = Blueprint("week", __name__)
SPANS = {"": "over and over", "for 4 weeks": "4 weeks", "for 12 weeks": "12 weeks"}
AIMS = {
    "": "nothing in particular",
    "clear everything every 3 washes": "clear everything every 3 washes",
    "clear everything every wash": "clear everything every wash",
    "clear silicones every wash": "clear silicones every wash",
    "clear silicones every 3 washes": "clear silicones every 3 washes",
}
CHOSEN = "a wash that the plan chooses"
USES = 3
_MOST_USES = 20
_COLUMNS = 72
_KEY = "0week00000"
"""Under what the week is kept among the drafts."""


class Use(NamedTuple):
    """A product and the days it is used on; `after` every wash instead."""

    product: str
    days: Sequence[str]
    after: bool = False


class FilmShown(NamedTuple):
    """What becomes of one film, or of several alike: those are `more`."""

    name: str
    more: str
    told: str
    picture: Markup


@ROOM.get("/week")
def week() -> str:
    """Show the week as it was left."""
    kept = dict(desk().drafts.get(_KEY).fields)
    return _page(kept, do="") if kept else _page(_example(), do="")


@ROOM.post("/week")
def worked_out() -> str:
    """Keep the week, and account for it or plan it."""
    fields = {
        key: " ".join(request.form.getlist(key)) for key in request.form if key != "do"
    }
    drafts = desk().drafts
    drafts.save(_KEY, drafts.get(_KEY).number, fields)
    return _page(fields, request.form.get("do", "account"))


def _example() -> dict[str, str]:
    """A first week: the first wash of the shelf twice, and something after it."""
    labels = desk().fresh().shelf.labels
    cleaning = shelf_words().cleaning
    wash = next((x.product for x in labels if x.kind in cleaning), "")
    other = next((x.product for x in labels if x.kind not in cleaning), "")
    return {
        "product-0": wash,
        "days-0": "Wednesday Sunday",
        "product-1": other,
        "after-1": "1",
    }


def _uses(fields: Mapping[str, str]) -> list[Use]:
    count = sum(key.startswith("product-") for key in fields)
    return [
        Use(
            fields.get(f"product-{n}", ""),
            fields.get(f"days-{n}", "").split(),
            bool(fields.get(f"after-{n}")),
        )
        for n in range(min(count, _MOST_USES))
    ]


def routine_text(
    uses: Sequence[Use], kinds: Mapping[str, str], fields: Mapping[str, str]
) -> str:
    """Return a week as lines of the language of routines.

    Args:
        uses: the products and their days.
        kinds: the kind of each product.
        fields: what else the form says: how long, what to clear, how parts count.
    """
    lines = [fields.get("span", "")]
    for product, days, after in uses:
        when = f"on {' and '.join(days)}"
        if product == CHOSEN:
            lines.append(f"wash {when}" if days else "")
        elif product and kinds.get(product) in shelf_words().cleaning:
            lines.append(f'wash with "{product}" {when}' if days else "")
        elif product and after:
            lines.append(f'use "{product}" after every wash')
        elif product and days:
            lines.append(f'use "{product}" {when}')
    if fields.get("partly"):
        lines.append("count partly clears as clearing")
    lines.append(fields.get("aim", ""))
    return "\n".join(line for line in lines if line)


def _page(fields: Mapping[str, str], do: str) -> str:
    session = desk().fresh()
    kinds = {x.product: x.kind for x in session.shelf.labels}
    uses = _uses(fields)
    text = routine_text(uses, kinds, fields)
    told: dict[str, object] = {
        "films": [],
        "plans": None,
        "fault": "",
        "head": "",
        "opening": "",
        "advice": "",
    }
    try:
        if do == "plan":
            told |= _planned(session, text)
        elif text:
            told |= _accounted(session, text)
    except (ShellError, GrammarError) as error:
        from abluent.shell.ground.reports import said

        told["fault"] = said(error)
    empty = [Use("", ())] * max(1, USES - len([u for u in uses if u.product]))
    return filled(
        "week.html",
        here="week",
        uses=[*(use for use in uses if use.product), *empty][:_MOST_USES],
        days=DAYS,
        fields=fields,
        products=list(kinds),
        kinds=kinds,
        chosen=CHOSEN,
        spans=SPANS,
        aims=AIMS,
        text=text,
        do=do,
        **told,
    )


def _routine(session: Session, text: str) -> Routine:
    from abluent.shell.routine.read import routines_of

    found = routines_of(text, "the week", session.shelf)[0]
    if found.error is not None:
        raise found.error
    assert found.routine is not None
    return found.routine


def _accounted(session: Session, text: str) -> dict[str, object]:
    from abluent.engine.routines.outcome import account_of
    from abluent.shell.routine.account_words import opening
    from abluent.shell.routine.advice_words import advice

    if not any(line.startswith(("wash", "use")) for line in text.splitlines()):
        what = "nothing is used in this week yet"
        raise CommandError(Problem(what, hint="choose a product and its days"))
    found = account_of(_routine(session, text), session.world)
    world = session.world
    return {
        "opening": opening(found, world),
        "advice": " ".join(advice(found, world)),
        "films": list(_films(session, found)),
        "head": " ".join(row.reasons[-1] for row in found.strong),
    }


@ROOM.get("/week/picture.png")
def picture() -> Response:
    """Return the week as it was left, or its plan, as a picture to post."""
    from io import BytesIO

    from abluent.engine.routines.outcome import account_of
    from abluent.engine.routines.plan_outcome import plan_of
    from abluent.shell.ground.extras import needing
    from abluent.shell.routine.written import picture_of

    session = desk().fresh()
    fields = dict(desk().drafts.get(_KEY).fields) or _example()
    kinds = {x.product: x.kind for x in session.shelf.labels}
    routine = _routine(session, routine_text(_uses(fields), kinds, fields))
    world = session.world
    with needing("a picture"):
        if request.args.get("do") == "plan":
            sheet = picture_of(plan_of(routine, world), world)
        else:
            sheet = picture_of(account_of(routine, world), world)
        data = BytesIO(sheet.png())
    return send_file(data, "image/png", as_attachment=True, download_name="week.png")


def _films(session: Session, found: Accounted) -> Iterator[FilmShown]:
    from abluent.engine.routines.overview import called
    from abluent.shell.routine.account_words import amount
    from abluent.shell.told.spoken_names import aloud, spoken_alone

    built, world = found.built, session.world
    alike: dict[tuple[str, str, str, tuple[Point, ...]], list[Told]] = {}
    for family in found.overview.families:
        for each in family.told:
            told = amount(replace(family, told=(each,)), built.schedule)
            points = tuple(points_of(each.amounts, built.schedule))
            key = (family.kind, each.film.source, told, points)
            alike.setdefault(key, []).append(each)
    for (kind, source, told, _), films in alike.items():
        names = [aloud(world.base, each.film.former) for each in films]
        name = f"{names[0]} from {source}"
        if len(films) > 1:
            plural = called(world.base, kind)
            name = f"{plural[:1].upper()}{plural[1:]} from {source}"
        drawn = growth_svg(films[0].amounts, built.schedule, f"{name}: {told}")
        more = ", ".join(names) if len(films) > 1 else ""
        yield FilmShown(name, more, told, Markup(drawn))
    for film in built.gone:
        name = f"{spoken_alone(aloud(world.base, film.former))} from {film.source}"
        yield FilmShown(name, "", "needs no wash", Markup(""))


def _planned(session: Session, text: str) -> dict[str, object]:
    from abluent.engine.routines.plan_outcome import plan_of
    from abluent.shell.routine import plan_opening
    from abluent.shell.routine.page import plan_page

    found = plan_of(_routine(session, text), session.world)
    return {
        "plans": list(plan_opening.opening(found, session.world)),
        "whole": plan_page(found, session.world, _COLUMNS),
        "reasons": list(_why(found)),
    }


def _why(found: PlannedWithReasons) -> Iterator[str]:
    from abluent.engine.questions.answers.explained import united

    yield from united(row.reasons for row in found.rows)
