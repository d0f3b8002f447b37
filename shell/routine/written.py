"""Files that an account or a plan is written to: a calendar, or a picture.

Each form is one row of `FORMS`; tables of many routines are written by the command.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from abluent.engine.disk import write_bytes, write_file
from abluent.engine.faults import CommandError, Problem
from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import Accounted
from abluent.engine.routines.overview import Overview
from abluent.engine.routines.plan_outcome import PlannedWithReasons
from abluent.engine.routines.routine import Schedule
from abluent.shell.ground.extras import needing
from abluent.shell.ground.settings import settings
from abluent.shell.pictures.sheet import Look, Sheet, look_of
from abluent.shell.routine import plan_opening
from abluent.shell.routine.as_calendar import calendar_text
from abluent.shell.routine.picture import films_over_days

Part = tuple[str, Schedule, Overview, str]
"""A routine's name, its uses, what becomes of its films, and its first sentence."""

_SHARPER = 2
"""How many pixels of a PNG stand for one of the drawing."""


def write_account(
    path: Path, found: Sequence[Accounted], world: World, **how: Any
) -> None:
    """Write accounts in the form that a path ends in.

    Raises:
        CommandError: it ends in none, or the form holds one routine and these are more.
    """
    _write(path, [_account(each, world) for each in found], world, how)


def write_plan(
    path: Path, found: Sequence[PlannedWithReasons], world: World, **how: Any
) -> None:
    """Write plans in the form that a path ends in; raises as `write_account` does."""
    _write(path, [_plan(each, world) for each in found], world, how)


def picture_of(found: Accounted | PlannedWithReasons, world: World) -> Sheet:
    """Draw an account or a plan, in the colours that the settings keep.

    Raises:
        CommandError: there is no plan to draw.
    """
    part = (
        _account(found, world) if isinstance(found, Accounted) else _plan(found, world)
    )
    name, _, overview, told = part
    return films_over_days(
        name, overview, world, _look(), claim=told, day=_today().isoformat()
    )


def _account(found: Accounted, world: World) -> Part:
    return found.routine.name, found.built.schedule, found.overview, ""


def _plan(found: PlannedWithReasons, world: World) -> Part:
    if not found.beside:
        what = "there is no plan to write"
        raise CommandError(Problem(what, hint="ask for less, or add a wash"))
    overview = found.beside[0].overview
    told = next(plan_opening.opening(found, world), "")
    # What it is for is told film by film below.
    told = told.partition(": ")[0]
    return found.planned.routine.name, overview.built.schedule, overview, told


def _write(
    path: Path, parts: Sequence[Part], world: World, how: dict[str, Any]
) -> None:
    write = FORMS.get(path.suffix.casefold())
    if write is None:
        what = f'"{path}" does not end like a table, a calendar or a picture'
        hint = f"end it in {', '.join(FORMS)}; the command writes .csv and .jsonl too"
        raise CommandError(Problem(what, hint=hint))
    write(path, parts, world, how)


def _calendar(
    path: Path, parts: Sequence[Part], world: World, how: dict[str, Any]
) -> None:
    named = [(name, days) for name, days, _, _ in parts]
    write_file(path, calendar_text(named, _today()), **how)


def _svg(path: Path, parts: Sequence[Part], world: World, how: dict[str, Any]) -> None:
    with needing("a picture"):
        name, overview, told = _only(path, parts)
        sheet = films_over_days(
            name, overview, world, _look(), claim=told, day=_today().isoformat()
        )
        write_file(path, sheet.svg(), **how)


def _png(path: Path, parts: Sequence[Part], world: World, how: dict[str, Any]) -> None:
    with needing("a picture"):
        name, overview, told = _only(path, parts)
        sheet = films_over_days(
            name, overview, world, _look(), claim=told, day=_today().isoformat()
        )
        write_bytes(path, sheet.png(round(sheet.wide * _SHARPER)), **how)


def _today() -> date:
    return datetime.now(UTC).astimezone().date()


def _look() -> Look:
    """The colours and the handle that the settings keep."""
    kept = settings()
    return look_of(*(kept.get(each, "") for each in ("ink", "paper", "handle")))


def _only(path: Path, parts: Sequence[Part]) -> tuple[str, Overview, str]:
    if len(parts) != 1:
        what = f'"{path}" can show one routine, and these are {len(parts)}'
        raise CommandError(Problem(what, hint="name a file with one routine in it"))
    name, _, overview, told = parts[0]
    return name, overview, told


FORMS: Mapping[str, Callable[[Path, Sequence[Part], World, dict[str, Any]], None]] = {
    ".ics": _calendar,
    ".svg": _svg,
    ".png": _png,
}
"""How each form is written, by the ending of its file."""
