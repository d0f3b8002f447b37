"""Which of some washes is the better for a film, or for what a product leaves.

The one that does more comes first, with what it does more by; then what in each label
makes the difference, and where they are alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.degrees import lead_does, led_by
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.group import parted
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    TAKES,
    Verdict,
    takes,
    worst,
)
from abluent.engine.questions.sides.better import By, better
from abluent.engine.questions.sides.contrasted import (
    contrasted,
    on_wash_day,
    opening,
    sure_of,
)
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import Item
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.grammar.query import tree as q

_PAIR = 2
_FILMS = 3
"""So many groups of films are named of which one wash takes more."""
_NAMED = 6
"""So many washes are named of which the same is so."""
Rows = Mapping[str, Mapping[str, Verdict]]
"""The verdicts by wash and film."""


def compare_for(
    judge: Judge, washes: Sequence[Item], film: q.Term, text: str
) -> Answer | None:
    """Which of some washes does more to some films; nothing if there are none.

    Args:
        judge: names the things.
        washes: the washes, two or more.
        film: the films, or the product that leaves them.
        text: the question in the language's own wording.
    """
    names = {item: judge.removal.as_wash(item) for item in washes}
    found = judge.removal.verdicts([*names.values()], _asked(judge, film))
    rows = {name: {row.film: row for row in found[name]} for name in names.values()}
    every = rows.values()
    films = [f for f in next(iter(every), {}) if all(f in each for each in every)]
    if not films:
        return None
    flat = [rows[name][each] for each in films for name in rows]
    if len(films) > 1:
        told, findings = _several(judge, rows, films)
    elif len(rows) == _PAIR:
        first = better(*flat)
        told, findings = opening(first), [*contrasted(first)]
    else:
        told, findings = _many(flat), [*_reasons(flat)]
    findings += [*sure_of(flat), *on_wash_day(flat)]
    return Answer(text, told, flat, members=[*washes], findings=findings)


def _asked(judge: Judge, film: q.Term) -> q.Clears:
    """What it is to clear some films: those of a product are all that it leaves."""
    if isinstance(film, q.Name) and judge.nouns.is_product(film.text):
        return q.Clears(q.Quantified(q.Quantity.EVERY, q.Thing()), film)
    return q.Clears(film)


def _many(rows: Sequence[Verdict]) -> str:
    """Of several washes and one film: the best of them first, then the others."""
    film = rows[0].case.world.base.label(rows[0].film)
    beaten = {
        id(found.less)
        for number, one in enumerate(rows)
        for other in rows[number + 1 :]
        if (found := better(one, other)).by is not By.NOTHING
    }
    best = [row for row in rows if id(row) not in beaten]
    if len(best) == len(rows):
        (role, *others) = dict.fromkeys(row.role for row in rows)
        amount = TAKES[role] if not others else "what differs in what is known only"
        return f"Nothing here sets them apart on {film}: each takes {amount}."
    names = listed([row.wash for row in best], _NAMED)
    role = min((row.role for row in best), key=VERDICTS.index)
    told, does = takes(role, "it", "it"), "does"
    if len(best) > 1:
        told, does = f"they take {TAKES[role]} of it", "do"
    rest = _others([row for row in rows if row not in best])
    return f"{names} {does} most for {film}: {told}. {rest}"


def _others(rows: Sequence[Verdict]) -> str:
    groups: dict[Role, list[str]] = {}
    for row in sorted(rows, key=lambda each: -VERDICTS.index(each.role)):
        groups.setdefault(row.role, []).append(row.wash)
    told = [
        f"{listed(who, _NAMED)} take{'s' * (len(who) == 1)} {TAKES[role]}"
        for role, who in groups.items()
    ]
    return as_sentence("; ".join(told)) if told else ""


def _reasons(rows: Sequence[Verdict]) -> Iterator[Finding]:
    """Why each group of washes takes what it takes."""
    told = [
        f"{listed([row.wash for row in group.rows], _NAMED)}: {group.words}"
        for group in parted(rows)
        if group.words
    ]
    if told:
        yield Finding("why", "Why", tuple(told))


def _several(
    judge: Judge, rows: Rows, films: Sequence[str]
) -> tuple[str, list[Finding]]:
    """Of several films: of which each wash does more, and why of the first of them."""
    base = judge.world.base
    wins: dict[tuple[str, By], list[str]] = {}
    alike: list[str] = []
    for film in films:
        each = [rows[name][film] for name in rows]
        foremost = _foremost(each)
        if foremost is None:
            alike.append(film)
            continue
        wins.setdefault((foremost[0].wash, foremost[1]), []).append(film)
    count = dict.fromkeys(rows, 0)
    for (name, _), mine in wins.items():
        count[name] += len(mine)
    order = sorted(wins, key=lambda key: (-count[key[0]], _BY.index(key[1])))
    brief = {key: in_brief(base, mine, films, _FILMS) for key, mine in wins.items()}
    told = _choices(rows, order, brief, little=2 * sum(count.values()) < len(films))
    if not wins:
        told = " ".join([_alike(rows, films), *_lead(rows)])
    if alike and wins:
        what = "the rest" if len(alike) > 1 else base.label(*alike)
        told += f" Of {what} they take as much, as far as is known."
    least = len(rows) == _PAIR and any(by is By.LEAST for _, by in order)
    left = [] if least else [_left_whole(name, rows[name]) for name in rows]
    findings: list[Finding] = []
    if order and len(rows) == _PAIR:
        film = wins[order[0]][0]
        one, other = (rows[name][film] for name in rows)
        findings = [*contrasted(better(one, other))]
    return " ".join([told, *filter(None, left)]), findings


def _lead(rows: Rows) -> Iterator[str]:
    """What leads each of some washes, and what that does."""
    first = [next(iter(mine.values())) for mine in rows.values()]
    leads = [(row, led_by(row.case, str(row.goal[1][0]))) for row in first]
    told = [f"{row.wash} is built on {lead}" for row, lead in leads if lead]
    if told:
        yield as_sentence("; ".join(told))
    does = [lead_does(row.case, str(row.goal[1][0])) for row in first]
    if len(set(does)) == 1:
        yield from filter(None, does[:1])


def _alike(rows: Rows, films: Sequence[str]) -> str:
    """That nothing sets some washes apart, and what each of them takes."""
    base, names = next(iter(rows[next(iter(rows))].values())).case.world.base, [*rows]
    groups: dict[Role, list[str]] = {}
    for film in films:
        role = min((rows[n][film].role for n in names), key=VERDICTS.index)
        groups.setdefault(role, []).append(film)
    each = "both" if len(names) == _PAIR else "each"
    told = [
        f"{TAKES[role]} of {in_brief(base, mine, films, _FILMS)}"
        for role, mine in groups.items()
        if role in TAKES and role is not Role.NO_WASH_NEEDED
    ]
    take = "take" if len(names) == _PAIR else "takes"
    what = f": {each} {take} {'; '.join(told)}" if told else ""
    if len(told) == 1 and len(groups) == 1 and len(films) > 1:
        (role,) = groups
        what = f": {each} {take} {TAKES[role]} of all {len(films)} films that need one"
    return f"Nothing here sets {in_a_row(names)} apart{what}."


def _choices(
    rows: Rows,
    order: Sequence[tuple[str, By]],
    films: Mapping[tuple[str, By], str],
    *,
    little: bool,
) -> str:
    """What each wash does more, the one that does more of it first.

    Where that is of a few films only, and not shown of them, there is little between;
    where it rests on what may go at the most alone, it may be so.
    """
    others = len(rows) > _PAIR
    told: dict[str, list[str]] = {}
    for wash, by in order:
        other = "the others" if others else next(n for n in rows if n != wash)
        told.setdefault(wash, []).append(_more(by, films[wash, by], other))
    if len(told) == 1:
        (wash,) = told
        if little and all(by is not By.SHOWN for _, by in order):
            return f"There is little between them: {wash} {'; it '.join(told[wash])}."
        is_it = "may be" if all(by is By.MOST for _, by in order) else "is"
        return f"{wash} {is_it} the better choice: it {'; it '.join(told[wash])}."
    parts = [f"{wash} {'; it '.join(each)}." for wash, each in told.items()]
    return " ".join(parts)


_BY = (By.SHOWN, By.LEAST, By.MOST, By.ORDER, By.PLACE)


def _foremost(rows: Sequence[Verdict]) -> tuple[Verdict, By] | None:
    """The verdict that tells of more than every other, and the weakest ground of it."""
    for row in rows:
        found = [better(row, other) for other in rows if other is not row]
        if all(f.more is row and f.by is not By.NOTHING for f in found):
            return row, max((f.by for f in found), key=_BY.index)
    return None


def _more(by: By, films: str, other: str) -> str:
    """In what one wash does more than another, after its name."""
    match by:
        case By.SHOWN:
            return f"takes more of {films} than {other}"
        case By.LEAST:
            return f"is known to take part of {films}, of which {other} may take none"
        case By.MOST:
            return f"may take more of {films} than {other}"
        case By.ORDER:
            return f"is the stronger on {films} by the order of the trade"
    return f"has the better chance at {films}, by what stands high on its label"


def _left_whole(wash: str, rows: Mapping[str, Verdict]) -> str:
    """Of how much one wash is not shown to take any."""
    none = [row for row in rows.values() if ENDS[row.role][0] is Role.NONE_OF_IT]
    if not none or worst([*rows.values()]) is None:
        return ""
    base = none[0].case.world.base
    some = in_brief(base, [row.film for row in none], [*rows], _FILMS)
    return f"{wash} may leave {some} whole."
