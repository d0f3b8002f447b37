"""Two verdicts side by side, and what makes the one differ from the other.

Told are which wash does more to a film and by what, then what in each label does so,
what the one lacks that the other has, and what is a gap in the evidence only.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.engine.base.contract import ISA, LISTED, UNREAD_LINE
from abluent.engine.base.roles import EFFECTS, Role
from abluent.engine.questions.answers.account import (
    IN_TRACES,
    acting,
    film_step,
    helpers,
    remark_on,
)
from abluent.engine.questions.answers.account_parts import Parts
from abluent.engine.questions.answers.advised import HEADS, leading
from abluent.engine.questions.answers.answer import Finding, Row
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.group import deciding_claim, parted
from abluent.engine.questions.answers.nearest_advice import WASH_DAY, advice_on
from abluent.engine.questions.answers.rows import how_sure, mostly_sure
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    TAKES,
    Verdict,
)
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.sides.better import Better, By, reach
from abluent.engine.questions.world.alone import agent_of
from abluent.grammar.common.text import as_sentence, in_a_row

_FEW = 3
"""Of so few verdicts it is told how each stands."""
_GROUPS = 4
"""So many groups of films are named of which one reason is told."""
_NAMED = 3
"""So many cleansers of a wash are named."""


def opening(found: Better, films: str = "") -> str:
    """Which of two washes does more to a film, and by what, in a sentence or two.

    Args:
        found: how the two stand to each other.
        films: several films of which the same is so, in words; empty for the one.
    """
    more, less = found.more, found.less
    film = films or more.case.world.base.label(more.film)
    it = "them" if films else "it"
    one, other = more.wash, less.wash
    amount, against = TAKES[more.role], TAKES[less.role]
    match found.by:
        case By.SHOWN:
            return f"{one} takes {amount} of {film}, {other} {against}."
        case By.LEAST:
            some = "all" if ENDS[less.role][0] is Role.PART_OF_IT else "any"
            return (
                f"{one} takes {amount} of {film}; that {other} takes {some} of {it} is "
                "not shown."
            )
        case By.MOST:
            return (
                f"{one} may take more of {film} than {other}: {amount}, "
                f"against {against}."
            )
        case By.ORDER:
            return (
                f"{one} is the stronger of the two on {film} by the order of the "
                f"trade, at the same strength; both take {amount} of {it}."
            )
        case By.PLACE:
            return (
                f"{one} has the better chance at {film}: {_by_place(more, less)}. "
                f"By what is shown both take {amount} of {it}."
            )
    return f"Nothing here sets {one} and {other} apart on {film}: both take {amount}."


def _by_place(more: Verdict, less: Verdict) -> str:
    """Where on each label stands what helps where there is enough of it."""
    found = [each for each in helpers(more) if not each.late] or helpers(more)
    label = more.case.world.base.label
    told = [f"{label(each.symbol)} (number {each.place})" for each in found]
    mine = f"it lists {in_a_row(told)}"
    others = helpers(less)
    if not others:
        return f"{mine}, and {less.wash} nothing of the kind"
    late = [f"{label(e.symbol)} (number {e.place}{IN_TRACES})" for e in others]
    return f"{mine}, {less.wash} only {in_a_row(late)}"


def contrasted(found: Better, alike: Sequence[Better] = ()) -> Iterator[Finding]:
    """What in each of two washes makes them do what they do to one film.

    Args:
        found: how the two stand to each other on it.
        alike: how they stand on other films of which the same is told.
    """
    every = (found, *alike)
    if not alike and (told := film_step(found.more).text):
        yield Finding("film", told.rstrip("."))
    said: set[str] = set()
    for row, other in ((found.more, found.less), (found.less, found.more)):
        upper = row is found.less and found.by is not By.NOTHING
        rows = [each.less if row is found.less else each.more for each in every]
        items = [_cleans_with(row), *_lacks(row, other)]
        if helpers(row) and (helps := remark_on([row])):
            items.insert(0, helps.text)
        whys = [why for why in _whys(rows, upper=upper or None) if why not in said]
        items += whys
        said.update(whys)
        yield Finding("side", f"In {row.wash}", tuple(filter(None, items)))
    if gap := _gap(every):
        yield Finding("gap", gap)


def _whys(rows: Sequence[Verdict], *, upper: bool | None) -> Iterator[str]:
    """The claims that bound what a wash takes of some films, each with its films."""
    if len(rows) == 1:
        yield _why(rows[0], upper=upper)
        return
    base = rows[0].case.world.base
    every = [row.film for row in rows]
    groups = parted(rows, upper=upper)
    order = {row: place for place, row in enumerate(rows)}
    for group in sorted(groups, key=lambda each: min(order[r] for r in each.rows)):
        why = group.words or (deciding_claim(group.rows) if upper else "")
        films = [row.film for row in group.rows]
        names = in_brief(base, films, every, _GROUPS)
        if why and len(groups) > 1:
            yield f"{names[:1].upper()}{names[1:]}: {why}"
        elif why:
            yield why


def _why(row: Verdict, *, upper: bool | None) -> str:
    """The claim that bounds what a wash takes, from the end that tells."""
    told = deciding_claim([row], upper=upper)
    return told or (deciding_claim([row]) if upper else "")


def _gap(every: Sequence[Better]) -> str:
    """What of a difference is only that something was not shown."""
    found = every[0]
    if found.by is not By.LEAST or any(puts_back(each.less) for each in every):
        return ""
    (low, _), (_, high) = (reach(each) for each in (found.more, found.less))
    if high < low:
        return ""
    amount = "all" if low == len(EFFECTS) - 1 else "some"
    it = "them" if len(every) > 1 else "it"
    who = f"{found.less.wash} may take {amount} of {it} too"
    return f"Where the evidence stops: {who}, which nothing here shows"


def deciding_agents(row: Verdict) -> list[str]:
    """What in a wash a verdict rests on: what takes the film, or what cleans at all."""
    low, every = acting(row)
    if low and ENDS[row.role][0] is not Role.NONE_OF_IT:
        return [each.symbol for each in low[:1]]
    return Parts(row).cleansers([each.symbol for each in every])[:_NAMED]


def _cleans_with(row: Verdict) -> str:
    """What in a wash a verdict rests on, with its places and classes, in a sentence."""
    if agent_of(row.case.world, row.wash):
        return ""
    parts = Parts(row)
    places = parts.places()
    base = row.case.world.base
    count = len(row.case.world.read(row.wash).readings)
    told = [
        f"{base.label(agent)} (number {parts.as_printed(agent, places[agent])} of "
        f"{count}), {parts.told_plainly(agent)}"
        for agent in deciding_agents(row)
        if agent in places
    ]
    return as_sentence("; ".join(told)) if told else ""


def _lacks(row: Verdict, other: Verdict) -> Iterator[str]:
    """That a label lists nothing of the widest class of what does it in the other."""
    base, match = row.case.world.base, row.case.model.match
    wash = row.goal[1][0]
    alone = agent_of(row.case.world, row.wash)
    if alone or puts_back(row) or _low(row) >= _low(other):
        return
    top = base.term(Role.CLEANSER)
    listed_here = {str(agent) for _, agent in match(LISTED, (wash, None))}
    here = {str(kind) for each in listed_here for _, kind in match(ISA, (each, None))}
    for agent in deciding_agents(other)[:1]:
        kinds = [str(kind) for _, kind in match(ISA, (agent, None))]
        mine = [k for k in kinds if top in base.ancestors(k) and k not in here]
        for kind in sorted(mine, key=lambda k: (len(base.ancestors(k)), k))[:1]:
            count = len(row.case.world.read(row.wash).readings)
            unread = len([*match(UNREAD_LINE, (wash, None))])
            more = f", {unread} more not understood" if unread else ""
            read = f"{count - unread} names read{more}"
            yield f"It lists no {base.label(kind)} ({read})."


def _low(row: Verdict) -> int:
    return reach(row)[0]


def films_apart(one: Verdict, other: Verdict) -> Iterator[Finding]:
    """What makes one film go otherwise than another under one wash."""
    said: set[str] = set()
    for row in (one, other):
        base = row.case.world.base
        upper = ENDS[row.role][0] is Role.NONE_OF_IT
        why = _why(row, upper=upper or None)
        items = [film_step(row).text, *([why] if why and why not in said else [])]
        said.add(why)
        yield Finding("side", base.label(row.film), tuple(filter(None, items)))
    if cleans := _cleans_with(one):
        yield Finding("wash", f"In {one.wash}", (cleans,))


def on_wash_day(rows: Iterable[Verdict]) -> Iterator[Finding]:
    """The line of advice on the film of some verdicts of which least goes."""
    staying = [row for row in rows if not row.gone]
    for row in sorted(leading(staying), key=reach)[:1]:
        base = row.case.world.base
        kinds = row.case.world.labels.kinds_of(row.film)
        told = advice_on(base, WASH_DAY, row.film, side=Role.FILM, kinds=kinds)
        if told is not None:
            text = told.text.rstrip(".")
            yield Finding("advice", f"{HEADS[WASH_DAY]}: {text}")


def sure_of(rows: Sequence[Verdict]) -> Iterator[Finding]:
    """How some verdicts stand, as a line of its own; of many, how most of them do."""
    told = mostly_sure(rows) if len(rows) > _FEW else how_sure(rows)
    if told:
        yield Finding("sure", told.rstrip("."))


def sure_of_cleansing(rows: Sequence[Row]) -> Iterator[str]:
    """How most of that stands by which washes part, and what no label tells of it."""
    if told := mostly_sure(rows).rstrip("."):
        yield f"{told}; how much of a cleanser is in it no label tells."
