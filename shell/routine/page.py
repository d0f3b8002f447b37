"""An account or a plan for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.engine.base.conditions import in_line, is_note
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import united
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Account, Film
from abluent.engine.routines.outcome import (
    Accounted,
    PlannedWithReasons,
    conditions_of,
    done,
)
from abluent.engine.routines.plan_problem import slots_of
from abluent.engine.routines.plan_solver import Plans
from abluent.engine.routines.plan_why import chosen_schedule
from abluent.engine.routines.routine import Schedule
from abluent.grammar.common.text import wrapped
from abluent.grammar.routine import tree as ast
from abluent.shell.routine.plan_words import by_mildness, by_the_wishes

CAUTIONS = 3  # on a terminal; the machine-readable face has them all
DAYS_LISTED = 28  # a longer plan is shown by how often each wash is used


def account_page(
    found: Accounted, world: World, width: int, *, steps: bool, why: bool
) -> str:
    """Return an account as lines of text.

    Args:
        found: the account.
        world: what it was made with.
        width: the columns to wrap to.
        steps: whether to show every step of every film.
        why: whether to show the reasons.
    """
    page = _Page(world, width)
    built = found.built
    page.head(found.routine, built.schedule)
    grows = [a for a in built.accounts if a.grows]
    may = [a for a in built.accounts if a.worst.most is None and not a.grows]
    kept = [a for a in built.accounts if a.worst.most is not None]
    page.films("Grows without end:", grows, built.schedule, steps)
    page.films("May grow without end:", may, built.schedule, steps)
    turns = built.schedule.turns
    page.films("Comes off again:" if turns else "Films:", kept, built.schedule, steps)
    if built.gone:
        page.text(f"Needs no wash: {page.names(built.gone)}.", "")
    if turns and kept:
        page.text(_steady(built.turns_before, built.schedule.days), "")
    page.cautions(found.strong)
    if why:
        page.reasons(found.answer().rows)
    return "\n".join(page.lines)


def _steady(turns: int, days: int) -> str:
    if not turns:
        return f"Every turn of {days} days is like the first."
    return (
        f"From the second turn of {days} days on every turn is alike: each film that "
        "comes off is cleared within a turn, whatever it was before."
    )


def plan_page(found: PlannedWithReasons, world: World, width: int, *, why: bool) -> str:
    """Return a plan as lines of text; see `account_page`."""
    page = _Page(world, width)
    planned = found.planned
    page.head(planned.routine, planned.schedule)
    if planned.routine.counting.partly == ast.CLEARING:
        page.text(
            "A wash that surely takes a part of a film is counted as clearing it."
        )
    if planned.nothing_to_clear:
        page.text("Nothing that this routine leaves has to be cleared.", "")
    if planned.plans.plans:
        page.plans(found, planned.plans)
    else:
        page.no_plan(found)
        if planned.rest is not None and planned.rest.plans:
            page.text("With these left alone:", "")
            page.plans(found, planned.rest)
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

    def name(self, film: Film) -> str:
        return f"{self.world.base.label(film.former)} from {film.source}"

    def names(self, films: Iterable[Film]) -> str:
        return ", ".join(map(self.name, films))

    def head(self, routine: ast.Routine, days: Schedule) -> None:
        under = conditions_of(routine, self.world)
        told = f"{days.days} days{', over and over' if days.turns else ''}"
        told += "".join(f", {self.world.base.label(each)}" for each in under)
        self.text(f"{routine.name}: {told}" if routine.name else told.capitalize(), "")
        base = self.world.base
        for said in routine.washing:
            if is_note(base, said.aspect):
                read = in_line(base, said.aspect, said.words)
                taken = "; ".join(map(base.label, read)) or "a note"
                self.text(f"{said.aspect.capitalize()}: {said.words} ({taken}).")

    # -- accounts

    def films(
        self, heading: str, found: Sequence[Account], days: Schedule, steps: bool
    ) -> None:
        if not found:
            return
        self.text(heading, "")
        for account in found:
            told = f"{self.name(account.film)}: {_amount(account, days.turns)}"
            self.lines.append(wrapped(told, self.width, "  ", "    "))
            if steps:
                for line in _steps(account, days, self.world):
                    self.lines.append(wrapped(line, self.width, "    ", "      "))

    # -- plans

    def plans(self, found: PlannedWithReasons, plans: Plans) -> None:
        planned = found.planned
        for number, plan in enumerate(plans.plans, 1):
            head = f"Plan {number}: " if len(plans.plans) > 1 else "Plan: "
            used = (f"{wash} {_times(n)}" for wash, n in plan.counts.most_common())
            self.text(f"{head}{', '.join(used)}.", "")
            days = chosen_schedule(planned, plan)
            if days.days <= DAYS_LISTED:
                for use in slots_of(days):
                    self.text(f"{days.use_name(use)}: {use.product}")
            if number == 1:
                self.text(by_the_wishes(planned, plan))
        self._alike(plans)
        self.text(by_mildness(plans), "")

    def _alike(self, plans: Plans) -> None:
        used = dict.fromkeys(w for plan in plans.plans for w in plan.chosen)
        for wash in used:
            if plans.alike.get(wash):
                others = ", ".join(plans.alike[wash])
                self.text(f"In the place of {wash} would do as well: {others}.", "")

    def no_plan(self, found: PlannedWithReasons) -> None:
        planned = found.planned
        self.text("There is no plan that keeps to everything.", "")
        if planned.stuck:
            self.text(f"No wash at hand surely clears {self.names(planned.stuck)}.")
        for need in {n.film: n for n in planned.late}.values():
            on = planned.schedule.use_name(need.use)
            self.text(f"No wash day comes in time for {self.name(need.film)} of {on}.")
        films, wants = planned.clash
        if films or wants:
            parts = [*(f"“{each}”" for each in wants)]
            parts += [f"clearing {self.name(film)}" for film in films]
            self.text(f"These cannot be kept together: {'; '.join(parts)}.")
        self._buy(found)

    def _buy(self, found: PlannedWithReasons) -> None:
        if found.buy is None:
            return
        label = self.world.base.label
        if found.buy.found:
            self.text("The least to buy that would do, any one of these:")
            for buy in found.buy.found:
                kinds = zip(buy.agents, buy.kinds, strict=True)
                each = [f"a wash with {label(a)} ({label(k)})" for a, k in kinds]
                self.text(f"{' and '.join(each)}", "    - ")
        if found.buy.never:
            never = self.names(found.buy.never)
            self.text(f"No surfactant that was tried surely clears {never}.")

    # -- both

    def cautions(self, strong: Sequence[Row]) -> None:
        for row in strong:
            self.text(f"{row.reasons[-1]} (Common practice, no source.)", "")
        told = cautions(strong)
        for each in told[:CAUTIONS]:
            self.text(f"Caution: {each}", "")

    def reasons(self, rows: Iterable[Row]) -> None:
        self.text("Why:", "")
        told = united(row.reasons for row in rows)
        for number, reason in enumerate(told, 1):
            self.lines.append(wrapped(reason, self.width, f"  {number:>3}. "))


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def _amount(account: Account, turns: bool) -> str:
    best, worst = account.best, account.worst
    if not turns:
        low, high = account.peak
        return (
            f"{_range(low, high)} at most, {_range(best.adds, worst.adds)} at the end"
        )
    if worst.most is None and best.most is None:
        return f"{_uses(worst.adds)} more every turn"
    if worst.most is None:
        return (
            f"at worst {_uses(worst.adds)} more every turn, at best {_uses(best.most)}"
        )
    return f"{_range(best.most or 0, worst.most)} between clearings, {_days(account)}"


def _range(low: int, high: int) -> str:
    return _uses(high) if low == high else f"{low} to {_uses(high)}"


def _uses(number: int | None) -> str:
    return "1 use" if number == 1 else f"{number} uses"


def _days(account: Account) -> str:
    days = account.days
    return "cleared within 1 day" if days == 1 else f"cleared within {days} days"


def _steps(account: Account, days: Schedule, world: World) -> Iterator[str]:
    for step in account.steps:
        name, product = days.use_name(step.use), step.use.product
        does = done(step, world) if step.does else "leaves it"
        does += ", disputed" if step.disputed else ""
        yield f"{name}: {product} {does} ({_range(step.best, step.worst)})"
