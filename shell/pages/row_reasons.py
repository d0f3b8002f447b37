"""What a reader needs to trust one row of an answer, or to doubt it."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import ISA, LEVEL, MILDER, STRONGER_ON
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import (
    Step,
    account,
    number_of,
    numbered_sources,
)
from abluent.engine.questions.answers.advised import loosening, not_on_labels
from abluent.engine.questions.answers.answer import NotMember, Row
from abluent.engine.questions.answers.degrees import steps_of_degree
from abluent.engine.questions.answers.rows import named, standing, step_words
from abluent.engine.questions.answers.turns import Turning, turning_of
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import kinds_of_grades
from abluent.shell.pages.screen import Page

OF_DEGREE = frozenset({MILDER, STRONGER_ON})
"""What sets one wash above another."""


def explained(page: Page, row: Row, whole: bool) -> None:
    """Print what a reader needs to trust a row, or to doubt it.

    A verdict is told in the order of thought; the whole chain is told on asking why.
    """
    if isinstance(row, Verdict) and not (whole and page.whole):
        _accounted(page, row, whole)
        return
    if row.goal[0] in OF_DEGREE and not (whole and page.whole):
        page.numbered(steps_of_degree(row))
        page.text(f"How sure: {standing(row)}.")
        return
    if not _grade_is_open(row) and not isinstance(row, NotMember):
        # What a thing is not, or one level alone, the first line has said.
        page.numbered([] if _is_level(row) and len(row.reasons) == 1 else row.reasons)
    if row.goal[0] == ISA and (meaning := _meaning(row)):
        page.text(meaning)
    _disputed(page, row)
    page.bullets("Caveat", row.caveats)
    conventions = row.case.world.known.conventions
    works = [name for name in row.sources if name not in conventions]
    page.bullets("Source", [named(row, name) for name in works])
    if standing(row):
        page.text(f"How sure: {standing(row)}.{_weakest(row)}")


def _is_level(row: Row) -> bool:
    return row.goal[0] == LEVEL


def _grade_is_open(row: Row) -> bool:
    """Whether a thing may be of several kinds, of which its reasons tell one."""
    base = row.case.world.base
    return row.goal[0] == ISA and bool(kinds_of_grades(base, str(row.goal[1][0])))


def _weakest(row: Row) -> str:
    """The weakest of several reasons, as a sentence after how sure a row is."""
    if not row.weakest or len(row.reasons) < 2 or _grade_is_open(row):
        return ""
    step = row.weakest[0]
    if step in row.reasons:
        return f" Step {row.reasons.index(step) + 1} is the weakest."
    return f" The weakest step: {step}"


def _meaning(row: Row) -> str:
    """What the class means that a thing is said to be."""
    base, kind = row.case.world.base, str(row.goal[1][-1])
    said = base.record(kind).text("comment") if kind in base else ""
    label = base.label(kind)
    return f"{label[:1].upper()}{label[1:]}: {said}" if said else ""


def _disputed(page: Page, row: Row) -> None:
    if isinstance(row, Verdict) and row.disputed:
        from abluent.engine.questions.about.dispute import parted

        page.text("Disputed, as sources of equal rank disagree:")
        shown: set[str] = set()
        for each in parted(row):
            if not each.items or not shown.issuperset(each.items):
                page.finding(each, "  ")
            shown.update(each.items)


def _accounted(page: Page, row: Verdict, whole: bool) -> None:
    base = row.case.world.base
    turn = turning_of(row)
    steps = account(row, whole=whole, turn=turn.words)
    numbers = numbered_sources(steps)
    own = row.standing
    page.numbered([step_words(base, step, numbers, own) for step in steps])
    if row.disputed and whole:
        _disputed(page, row)
    elif row.disputed:
        from abluent.engine.questions.about.dispute import parted

        for each in parted(row):
            if each.kind == "crux":
                page.finding(each, "  ")
    if not whole and (loosens := loosening(row)):
        page.text(loosens)
    turns = _turns_on(turn, steps, whole=whole)
    if whole and standing(row) and row.role is not Role.OPEN:
        page.text(f"How sure: {standing(row)}.{turns}")
    elif told := " ".join(filter(None, [turns.strip(), not_on_labels([row])])):
        page.text(told)  # How sure it is, the first line has said.
    page.sources(base, numbers)


def _turns_on(turn: Turning, steps: Sequence[Step], *, whole: bool) -> str:
    """On which step a verdict turns, as a sentence after how sure it is.

    That others show the same as the weakest is told on asking why alone.
    """
    number = number_of(turn.words, steps)
    if not whole and not (number and turn.alone):
        return ""
    if not turn.words or not (number or turn.claim):
        return ""
    if turn.alone and not turn.bounds:
        return ""  # That a blend is counted so, or the like, tells nobody what to test.
    which = f"step {number}" if number else f"“{turn.words.rstrip('.')}”"
    if not turn.alone:
        return f" {_first(which)} is the weakest; without it others show the same."
    return f" It turns on {which}: better evidence against it would change this."


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]
