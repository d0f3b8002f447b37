"""An account or a plan for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from abluent.engine.base.conditions import in_line, is_note
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import united
from abluent.engine.questions.world.world import World
from abluent.engine.routines.outcome import Accounted, conditions_of, done
from abluent.engine.routines.overview import TROUBLE, Family, Told, unknown
from abluent.engine.routines.plan_outcome import PlannedWithReasons
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Plans
from abluent.engine.routines.plan_why import chosen_schedule
from abluent.engine.routines.routine import Schedule, turn_of
from abluent.engine.routines.wishes import Kept
from abluent.grammar.common.text import wrapped
from abluent.grammar.routine import tree as ast
from abluent.shell.routine import (
    account_words,
    advice_care,
    advice_left,
    advice_words,
    plan_opening,
    plan_words,
)
from abluent.shell.routine.beforehand import noted
from abluent.shell.routine.side_by_side import side_by_side
from abluent.shell.routine.words import by_family, name_of, uses

CAUTIONS = 3  # on a terminal; the machine-readable face has them all
PARTS = (
    "A wash that surely takes a part of a film is counted as clearing it, as few are "
    "known to take the whole."
)
DAYS_LISTED = 28  # a longer plan is shown by how often each wash is used


def account_page(  # noqa: PLR0913 - what is shown, and how much of it
    found: Accounted,
    world: World,
    width: int,
    *,
    steps: bool = False,
    why: bool = False,
    rows: bool = False,
) -> str:
    """Return an account as lines of text.

    Args:
        found: the account.
        world: what it was made with.
        width: the columns to wrap to.
        steps: whether to show every step of every film.
        why: whether to show the reasons.
        rows: whether to list every film, not the families alone.
    """
    page = _Page(world, width)
    built, overview = found.built, found.overview
    page.named(found.routine)
    for line in advice_words.advice(found, world):
        page.text(line, "")
    page.head(found.routine, built.schedule, "As it is now, counted over")
    page.text(account_words.opening(found, world), "")
    page.wishes(found.kept, parts=found.parts)
    for state in account_words.HEADS:
        known = [e for e in overview.of(state) if not unknown(overview, e)]
        heading = account_words.heading_of(found, state)
        page.state(found, known, heading, rows=rows or steps, steps=steps)
    dark = [each for each in overview.families if unknown(overview, each)]
    page.state(found, dark, account_words.UNKNOWN, rows=rows or steps, steps=steps)
    if built.gone:
        page.text(f"Needs no wash: {by_family(built.gone, world)}.", "")
    for line in advice_left.not_counted(found, world):
        page.text(line, "")
    for line in account_words.measured(overview, world):
        page.text(f"Measured: {line}", "")
    if (rows or steps) and (line := account_words.unmeasured(overview)):
        page.text(line, "")
    page.cautions(found.strong)
    page.text(how_long(found.routine, built.schedule, rows=rows or steps), "")
    if why:
        page.reasons(found.answer().rows)
    return "\n".join(page.lines)


def plan_page(
    found: PlannedWithReasons, world: World, width: int, *, why: bool = False
) -> str:
    """Return a plan as lines of text; see `account_page`."""
    page = _Page(world, width)
    planned = found.planned
    page.named(planned.routine)
    for line in plan_opening.opening(found, world):
        page.text(line, "")
    for line in plan_opening.besides(found, world) if not found.settled else ():
        page.text(line, "")
    if found.care is not None and not found.settled:
        then = found.beside[0].overview.built.schedule
        for line in advice_care.conditioned(found.care, then, world):
            page.text(line, "")
    if found.settled and found.account is not None and found.account.care is not None:
        then = found.account.after.built.schedule
        for line in advice_care.conditioned(found.account.care, then, world):
            page.text(line, "")
    page.head(planned.routine, planned.schedule, "Counted over")
    if planned.shown.plans and not found.settled:
        page.plans(found, planned.shown)
    page.no_plan(found)
    if planned.routine.counting.partly == ast.CLEARING:
        page.text(PARTS, "")
    page.cautions([row for row in found.rows if row.goal[0] == "leftUnconditioned"])
    if why:
        page.reasons(found.rows)
    return "\n".join(page.lines)


class _Page:
    """Lines wrapped to one width."""

    def __init__(self, world: World, width: int) -> None:
        self.world = world
        self.width = width
        self.lines: list[str] = []

    def text(self, text: str, margin: str = "  ") -> None:
        self.lines.append(wrapped(text, self.width, margin))

    def named(self, routine: ast.Routine) -> None:
        if routine.name:
            self.text(f"{routine.name}:", "")
        for line in noted(routine, self.world.base, after=False):
            self.text(line, "")

    def head(self, routine: ast.Routine, days: Schedule, lead: str) -> None:
        """What is told after the advice, and how long and how it was counted."""
        for line in noted(routine, self.world.base, after=True):
            self.text(line, "")
        under = [self.world.base.label(e) for e in conditions_of(routine, self.world)]
        told = f"{span_of(days)}{''.join(f', {each}' for each in under)}."
        self.text(f"{lead} {told}", "")
        base = self.world.base
        for said in routine.washing:
            if is_note(base, said.aspect):
                read = in_line(base, said.aspect, said.words)
                taken = "; ".join(map(base.label, read)) or "a note"
                self.text(f"{said.aspect.capitalize()}: {said.words} ({taken}).")

    # -- accounts

    def state(
        self,
        found: Accounted,
        chosen: Sequence[Family],
        heading: str,
        *,
        rows: bool,
        steps: bool,
    ) -> None:
        """Some families under a heading, and of each what is asked for."""
        if not chosen:
            return
        self.text(heading, "")
        days = found.built.schedule
        for family in chosen:
            much = rows or steps
            told = account_words.row(family, days, self.world, much=much)
            self.lines.append(wrapped(told, self.width, "  ", "    "))
            if family.state in TROUBLE:
                for reason in account_words.reasons(found, family, self.world):
                    self.lines.append(wrapped(reason, self.width, "    ", "      "))
            several = len(family.told) > 1
            for each in family.told if rows and (several or steps) else ():
                self._film(each, family, days, steps)

    def _film(self, told: Told, family: Family, days: Schedule, steps: bool) -> None:
        one = replace(family, told=(told,))
        text = f"{name_of(told.film, self.world)}: {account_words.amount(one, days)}"
        self.lines.append(wrapped(text, self.width, "    - ", "      "))
        for line in _steps(told, days, self.world) if steps else ():
            self.lines.append(wrapped(line, self.width, "        ", "          "))

    def wishes(self, kept: Sequence[Kept], *, parts: bool = False) -> None:
        """Whether each wish is kept, in washes and in days."""
        for each in kept:
            self.text(plan_words.kept(each, self.world), "")
        if parts:
            self.text(PARTS, "")

    # -- plans

    def plans(self, found: PlannedWithReasons, plans: Plans) -> None:
        """The plan to follow, wish by wish, and others beside it."""
        planned, first = found.planned, plans.plans[0]
        days = chosen_schedule(planned, first)
        if len(first.chosen) > plan_opening.SAID and days.days <= DAYS_LISTED:
            for use in slots_of(days):
                self.text(f"{days.use_name(use)}: {use.product}")
        self.text(plan_words.by_the_wishes(planned, first), "")
        self.text(plan_words.by_mildness(planned), "")
        self.wishes(found.kept)
        self._alike(plans)
        for line in side_by_side(found, self.world, self.width):
            self.lines.append(line)

    def _alike(self, plans: Plans) -> None:
        for wash in plans.plans[0].counts:
            if plans.alike.get(wash):
                others = ", ".join(plans.alike[wash])
                self.text(f"In the place of {wash} would do as well: {others}.", "")

    def no_plan(self, found: PlannedWithReasons) -> None:
        """What is missing, and what to buy."""
        planned = found.planned
        for need in {n.film: n for n in planned.late}.values():
            on = planned.schedule.use_name(need.use)
            name = name_of(need.film, self.world)
            self.text(f"No wash day comes in time for {name} of {on}.", "")
        films, wants = planned.clash
        if films or wants:
            parts = [*(f"“{each}”" for each in wants)]
            if films:
                parts.append(f"clearing {by_family(films, self.world)}")
            self.text(f"These cannot be kept together: {'; '.join(parts)}.", "")
        for line in plan_words.to_buy(found, self.world):
            self.text(line, "  - " if line.startswith("a wash") else "")

    # -- both

    def cautions(self, strong: Sequence[Row]) -> None:
        told = cautions(strong)
        for each in told[:CAUTIONS]:
            self.text(f"Caution: {each}", "")

    def reasons(self, rows: Iterable[Row]) -> None:
        self.text("Why:", "")
        told = united(row.reasons for row in rows)
        for number, reason in enumerate(told, 1):
            self.lines.append(wrapped(reason, self.width, f"  {number:>3}. "))


def span_of(days: Schedule) -> str:
    """How long a routine runs, and which day it starts."""
    count = "1 day" if days.days == 1 else f"{days.days} days"
    if days.turns:
        return f"{count}, over and over; day 1 is {_first(days)}"
    return f"{count}; day 1 is {_first(days)}"


def _first(days: Schedule) -> str:
    return str(days.start) if days.start else "a Monday"


def how_long(routine: ast.Routine, days: Schedule, *, rows: bool = False) -> str:
    """What other line on its length a routine may have, and what shows more."""
    more = "" if rows else "`--rows` tells how high each film gets"
    if days.turns:
        first = "This is what becomes of it for ever."
        other = "the line `for 4 weeks` counts so many days and no more"
    else:
        first = "This counts so many days and no more."
        turn = turn_of(routine, {use.product for use in days.washes})
        other = f"the line `cycle of {turn} days` in the place of the one on its length"
        other = f"{other} says what becomes of it for ever" if turn else ""
    told = "; ".join(filter(None, (other, more)))
    return f"{first} (At the keyboard: {told}.)" if told else first


def _steps(told: Told, days: Schedule, world: World) -> Iterator[str]:
    after = dict(zip(days.uses, told.amounts.after, strict=True))
    for step in told.account.steps:
        name, product = days.use_name(step.use), step.use.product
        does = done(step, world) if step.does else "leaves it"
        does += ", disputed" if step.disputed else ""
        counts = (
            f"{step.best}"
            if step.best == step.worst
            else f"{step.best} to {step.worst}"
        )
        since = "use" if counts == "1" else "uses"
        there = uses(*after[step.use])
        yield f"{name}: {product} {does} ({counts} {since} since cleared; {there})"
