"""Why something is so of one thing and not of another: `why does A … unlike B`.

The others are other washes on the same films, or other films under the same wash. What
is so of the one is told with what in it does so, then what the other has instead; where
it is the evidence that parts them and no chemistry, the answer says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.verdicts import ENDS, TAKES, Verdict, films_left
from abluent.engine.questions.answers.wording import without_head
from abluent.engine.questions.forms.notes import turning
from abluent.engine.questions.forms.whether import place_of
from abluent.engine.questions.sides.better import Better, By, better
from abluent.engine.questions.sides.contrasted import (
    contrasted,
    films_apart,
    on_wash_day,
    opening,
    sure_of,
)
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.alone import agent_of
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.common.record import replace
from abluent.grammar.common.text import in_a_row
from abluent.grammar.query import tree as q

_PAIRS = 2
"""So many groups of films are told apart; of more, that they differ too."""
_FILMS = 4
"""So many groups of films are named that the other wash does take."""
_OTHER_WAY = "It is the other way about"
_NOT_SO = "It is not shown to be so"


def unlike(judge: Judge, query: q.Unlike, text: str) -> Answer:
    """Why something is so of one thing and not of others.

    Raises:
        Unanswerable: nothing of what is asked can be set side by side.
    """
    said = query.matter.statement
    act = said.predicate.part if isinstance(said.predicate, q.Not) else said.predicate
    items = judge.terms.items(said.subject, place_of(said.predicate))
    others = judge.terms.items(query.others, PRODUCT)
    if not isinstance(act, q.Clears):
        return _plainly(judge, said, query.others, text)
    films = [each for each in others if _is_film(judge, each, items)]
    if films and len(films) == len(others):
        return _films(judge, items, act, query.others, text)
    return _washes(judge, items, others, act, text)


def _is_film(judge: Judge, item: Item, beside: Sequence[Item]) -> bool:
    """Whether a thing is meant as a film, and not as a wash by itself."""
    cleansers = all(each in judge.nouns.cleansers for each in beside)
    film = item.kind == INGREDIENT and judge.removal.is_film(item)
    return film and not (cleansers and item in judge.nouns.cleansers)


def _plainly(judge: Judge, said: q.Statement, others: q.Term, text: str) -> Answer:
    """What is so of the one and of the others, where no verdict on a film tells it."""
    from abluent.engine.questions.forms.whether import whether  # noqa: PLC0415

    parts = [
        whether(judge, q.Statement(who, said.predicate), text)
        for who in (said.subject, others)
    ]
    told = " ".join(without_head(part.sentence) for part in parts)
    rows = tuple(row for part in parts for row in part.rows)
    members = [item for part in parts for item in part.members]
    notes = dict.fromkeys(note for part in parts for note in part.notes)
    return Answer(text, told, rows, members=members, notes=[*notes], why=True)


# --- washes ---------------------------------------------------------------------------


def _washes(
    judge: Judge,
    items: Sequence[Item],
    others: Sequence[Item],
    act: q.Clears,
    text: str,
) -> Answer:
    """Why one wash takes what another does not."""
    names = {item: judge.removal.as_wash(item) for item in (*items, *others)}
    found = judge.removal.verdicts(list(dict.fromkeys(names.values())), act)
    pairs = [
        (better(row, beside), row)
        for item in items
        for other in others
        if other != item
        for row in found[names[item]]
        for beside in found[names[other]]
        if beside.film == row.film and beside.source == row.source
    ]
    if not pairs:
        raise Unanswerable("there is no film to set these side by side by", None)
    groups = _alike(pairs)
    (first, *alike), asked = groups[0][0], groups[0][1]
    told = [_opening(first, asked, _films_of(groups[0][0], pairs))]
    told += _rest(groups[1:], pairs)
    rows = [row for each in (first, *alike) for row in (each.more, each.less)]
    findings = [*contrasted(first, alike), *_leaves_itself(judge, first.less)]
    if len({row.film for _, row in pairs}) == 1:
        findings += _takes(judge, first.less)
    findings += [*sure_of(rows), *on_wash_day([first.more, first.less])]
    return Answer(
        text,
        " ".join(told),
        rows,
        members=[*items, *others],
        notes=[*turning(rows)],
        findings=findings,
    )


_Pairs: TypeAlias = Sequence[tuple[Better, Verdict]]
_Alike: TypeAlias = tuple[list[Better], Verdict]
_ORDER = (By.SHOWN, By.LEAST, By.MOST, By.ORDER, By.PLACE, By.NOTHING)


def _alike(pairs: _Pairs) -> list[_Alike]:
    """The films on which two washes differ alike, what tells most first.

    A group of which the label lists one higher comes before, and so within a group.
    """
    found: dict[tuple[object, ...], _Alike] = {}
    for each, asked in sorted(pairs, key=lambda pair: (_weight(*pair), _place(pair))):
        low = ENDS[each.more.role][0] if each.by is By.LEAST else each.more.role
        turn = each.by, each.more.wash, each.less.wash, low, each.less.role
        found.setdefault(turn, ([], asked))[0].append(each)
    return [*found.values()]


def _place(pair: tuple[Better, Verdict]) -> int:
    """Where the label that leaves a film lists it; 0 where none is asked about."""
    row = pair[0].more
    if not row.source:
        return 0
    read = row.case.world.read(row.source).readings
    return next((n for n, each in enumerate(read, 1) if each.symbol == row.film), 0)


def _weight(found: Better, asked: Verdict) -> tuple[bool, int]:
    """What shows best why it is as the question says comes first."""
    other_way = found.more is not asked and found.by is not By.NOTHING
    return other_way, _ORDER.index(found.by)


def _films_of(alike: Sequence[Better], pairs: _Pairs) -> str:
    """Several films in words; empty for one."""
    films = [each.more.film for each in alike]
    if len(films) == 1:
        return ""
    among = [row.film for _, row in pairs]
    return in_brief(alike[0].more.case.world.base, films, among, _FILMS)


def _opening(found: Better, asked: Verdict, films: str = "") -> str:
    """Which does more, and whether that is as the question says."""
    told = opening(found, films)
    if found.by is By.NOTHING:
        return f"{_NOT_SO}: {told[:1].lower()}{told[1:]}"
    return told if found.more is asked else f"{_OTHER_WAY}: {told}"


def _rest(groups: Sequence[_Alike], pairs: _Pairs) -> Iterator[str]:
    """In a few words how the same stands on other films and washes."""
    same = [group for group in groups if group[0][0].by is By.NOTHING]
    differ = [group for group in groups if group not in same]
    for alike, asked in differ[: _PAIRS - 1]:
        yield _opening(alike[0], asked, _films_of(alike, pairs))
    more = len(differ) - _PAIRS + 1
    if more > 0:
        films = [each.more.film for alike, _ in differ[_PAIRS - 1 :] for each in alike]
        base = pairs[0][1].case.world.base
        among = [row.film for _, row in pairs]
        yield f"They differ too on {in_brief(base, films, among, _FILMS)}."


def _leaves_itself(judge: Judge, less: Verdict) -> Iterator[Finding]:
    """What a wash puts on hair itself that does less, where it puts on anything."""
    if agent_of(less.case.world, less.wash):
        return
    films = [left.film for left in films_left(less.case, less.wash)]
    if films:
        every = [item.key for item in judge.nouns.all_ingredients]
        some = in_brief(judge.world.base, films, every, _FILMS)
        told = f"{less.wash} can leave films of its own on hair: {some}"
        yield Finding("leaves", told)


def _takes(judge: Judge, less: Verdict) -> Iterator[Finding]:
    """What else on the shelf the wash does take that takes less of this film."""
    found = judge.removal.verdicts([less.wash], q.Clears(q.Thing()))[less.wash]
    taken = [
        row.film
        for row in found
        if ENDS[row.role][0] is not Role.NONE_OF_IT and row.film != less.film
    ]
    if taken:
        every = [row.film for row in found]
        some = in_brief(judge.world.base, taken, every, _FILMS)
        yield Finding("takes", f"{less.wash} does take, in part or whole: {some}")


# --- films ----------------------------------------------------------------------------


def _films(
    judge: Judge, items: Sequence[Item], act: q.Clears, others: q.Term, text: str
) -> Answer:
    """Why one wash takes one film and not another."""
    rows = [
        row
        for item in items[:1]
        for term in (act.object, others)
        for row in judge.judge([item], replace(act, object=term))[item].rows[:1]
        if isinstance(row, Verdict)
    ]
    if len(rows) < 2:
        raise Unanswerable("there is no wash to set these films side by side by", None)
    one, other = rows
    label = judge.world.base.label
    parts = [f"{TAKES[row.role]} of {label(row.film)}" for row in rows]
    told = f"{one.wash} takes {in_a_row(parts)}."
    if one.role is other.role:
        told = f"{_NOT_SO}: {told}"
    findings = [*films_apart(one, other), *sure_of(rows), *on_wash_day(rows)]
    return Answer(
        text, told, rows, members=items, notes=[*turning(rows)], findings=findings
    )
