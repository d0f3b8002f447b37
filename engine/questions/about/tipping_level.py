"""At which level of an ingredient a verdict tips, where it rests on levels."""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.engine.base.contract import CIRCUMSTANCE, STATED
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import number
from abluent.engine.proof.origins import SUPPOSITION
from abluent.engine.questions.answers.answer import Finding
from abluent.engine.questions.answers.verdicts import Verdict, verdicts
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, World

if TYPE_CHECKING:
    from abluent.engine.amounts.break_points import BreakPoint

_SUPPOSED = Basis(origin=SUPPOSITION)


def tipping_levels(row: Verdict) -> Finding | None:
    """From which levels on the charges of a wash are settled, and the verdict then.

    By label and law alone, whatever the levels of all else. The verdict is that on the
    wash with such a level printed beside the ingredient. None if both charges do not
    stand on the label, or no level settles anything.
    """
    world = row.case.world
    if row.wash == WATER or not world.amounts.balance(row.wash):
        return None
    from abluent.engine.amounts.break_points import break_points  # noqa: PLC0415

    told = [
        _told(world, row, each) for each in break_points(world.amounts.stated(row.wash))
    ]
    head = "Levels that would settle which charge is in excess, by label and law alone"
    return Finding("levels", head, tuple(told)) if told else None


def _told(world: World, row: Verdict, point: BreakPoint) -> str:
    side = "above" if point.above else "below"
    if point.at_level:
        side = "at or above" if point.above else "at or below"
    excess = "is in excess" if point.excess else "is not in excess"
    name = world.base.label(point.symbol)
    then = _verdict_at(world, row, point)
    stays = then is None or then.value == row.value
    verdict = "as it is now" if then is None or stays else row_phrase(world, then)
    return (
        f"{side.capitalize()} {float(point.level):.4g} % of {name} anionic surfactant "
        f"{excess} of cationic; then: {verdict}."
    )


def _verdict_at(world: World, row: Verdict, point: BreakPoint) -> Verdict | None:
    """The verdict where the label states a level on that side of the point."""
    printed = world.read(row.wash).facts
    product = world.symbol(row.wash)
    kept = [
        f for f in printed if not (f.predicate == STATED and f.args[1] == point.place)
    ]
    stated = Fact(STATED, (product, point.place, number(point.beyond)), _SUPPOSED)
    films, sources = ([], [row.source]) if row.source else ([row.film], [])
    conditions = [
        world.base.label(str(condition))
        for (condition,) in row.case.model.match(CIRCUMSTANCE)
    ]
    tried = world.with_facts(row.wash, [*kept, stated])
    case = Case.of(tried, [row.wash], films, sources, stated=conditions)
    found = (each for each in verdicts(case, row.wash) if each.film == row.film)
    return next(found, None)
