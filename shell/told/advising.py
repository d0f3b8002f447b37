"""What to do about it, in one line: washes at hand that do better, or what helps."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Member, NotMember, Row
from abluent.engine.questions.answers.nearest_advice import (
    LABEL_CUE,
    WASH_DAY,
    advice_on,
)
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import ENDS, GONE, Left, Verdict
from abluent.grammar.query import tree as q
from abluent.shell.told.asking import Asking, unread_names
from abluent.shell.told.spoken_names import aloud, few, spoken_alone

_WASHES = 4
_SEVERAL = 3
"""What so many films show is no reason to advise on one of them."""
_HARD = (Role.NOT_CLEARED, Role.AT_MOST_PARTLY)
_AT_HAND = "At hand against it, the mildest first: "
"""How a note begins that tells which washes do something against what is left."""
_LISTED = 24
"""Of more films than so many no one kind is advised on."""


def advice_of(answer: Answer, asking: Asking, said: str = "") -> str:
    """What to do on wash day, or to look for on a label; empty if nothing is said.

    `said` is what was said already, and takes the place of what is said of a kind.
    """
    if said:
        return f"{said} {_at_hand(answer)}".strip()
    none = isinstance(asking.query, q.Argue | q.Amount)
    return "" if none else _advice(answer, asking)


def _advice(  # noqa: PLR0911 - each kind of question has its own
    answer: Answer, asking: Asking
) -> str:
    rows = [*all_rows(answer), *answer.others]
    if answer.instead:
        one = len(rows) == 1
        names = few([each.key for each in answer.instead], _WASHES)
        s = "s" if len(answer.instead) == 1 else ""
        what = "it" if one else "all of them"
        told = f"Of your washes, {names} take{s} off {what}, or part of it."
        if one:
            return f"{told} {_wash_day(rows)}"
        stuck = [r for r in rows if isinstance(r, Verdict) and r.role in _HARD]
        return f"{told.replace('it.', 'each.')} {_of_hardest(stuck)}".strip()
    if isinstance(asking.query, q.Claim | q.Define) or answer.claim:
        films = {row.film for row in rows if isinstance(row, Verdict | Left)}
        return _cue(rows[:1]) if len(films) < _SEVERAL else ""
    if isinstance(asking.act, q.Contains | q.Says | q.Hides):
        return _on_label(asking, answer.truth)
    every = {row.film for row in rows if isinstance(row, Verdict | Left)}
    if isinstance(asking.query, q.Compare) and (
        asking.query.film is None or len(every) > 1
    ):
        return ""
    if isinstance(asking.act, q.Leaves) and isinstance(asking.query, q.Which):
        return _cue_of_class(asking)
    stays = [row for row in rows if not (isinstance(row, Verdict) and row.role in GONE)]
    worst = [row for row in stays if isinstance(row, Verdict) and _not_all(row)]
    at_hand = _at_hand(answer)
    if at_hand:
        return f"{_of_hardest(worst or stays)} {at_hand}".strip()
    return _wash_day(worst or stays, len(every))


def _of_hardest(rows: Sequence[Row]) -> str:
    """What to do about the first of some films for which something is advised."""
    return next(filter(None, (_wash_day([row]) for row in rows)), "")


def _at_hand(answer: Answer) -> str:
    """Which washes do something against what is left, as a note has it."""
    note = next((n for n in answer.notes if n.startswith(_AT_HAND)), "")
    told = note.removeprefix(_AT_HAND).split("; ")[0].rstrip(".")
    return f"{told}." if told else ""


def _on_label(asking: Asking, truth: str) -> str:
    """What to look for on a label, or to ask its maker."""
    act = asking.act
    if isinstance(act, q.Contains) and isinstance(asking.query, q.Which):
        return _cue_of_class(asking)
    if isinstance(act, q.Contains) and act.level is not None:
        if truth in {"yes", "no"}:
            return ""
        return "Ask the maker: only the formula tells the amount."
    if isinstance(act, q.Hides) and asking.world is not None:
        dark = [p for p in asking.products if unread_names(asking.world, p)]
        return "Ask the maker for the INCI names." if dark else ""
    return ""


def _not_all(row: Verdict) -> bool:
    return ENDS[row.role][1] is not Role.ALL_OF_IT


def _cue_of_class(asking: Asking) -> str:
    """How to know by its name what was asked for."""
    act, world = asking.act, asking.world
    if world is None or not isinstance(act, q.Leaves | q.Contains):
        return ""
    for name in q.members(act.object):
        kind = world.base.find_class(name.text) if isinstance(name, q.Name) else None
        found = advice_on(world.base, LABEL_CUE, kind) if kind else None
        if found is not None:
            return found.text
    return ""


def _cue(rows: Sequence[Row]) -> str:
    """How to know a thing by its name on a label."""
    for row in rows:
        if isinstance(row, Member | NotMember):
            found = advice_on(row.case.world.base, LABEL_CUE, row.item.key)
            if found is not None:
                return found.text
        if isinstance(row, Verdict | Left):
            return _wash_day([row])
    return ""


def _wash_day(rows: Iterable[Row], every: int = 0) -> str:
    """What to do about the films of some rows: what is said of most of them.

    `every` is how many films were asked about; 0 if these are all.
    """
    films = {
        row.film: row.case.world.base for row in rows if isinstance(row, Verdict | Left)
    }
    if not 0 < len(films) <= _LISTED:
        return ""
    told: dict[str, list[str]] = {}
    for film, base in films.items():
        found = advice_on(base, WASH_DAY, film, side=Role.FILM)
        if found is not None:
            told.setdefault(found.text, []).append(spoken_alone(aloud(base, film)))
    if not told:
        return ""
    text, names = max(told.items(), key=lambda each: len(each[1]))
    if len(names) * 2 >= max(len(films), every):
        return text
    # Of many films it is told which of them the advice is on.
    return f"For {few(names, 2)}: {text[:1].lower()}{text[1:]}"
