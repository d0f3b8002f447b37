"""Things set side by side: `compare A and B`.

Washes are compared by what they take of the films of the shelf, by what leads them,
by how mild they are and by what they leave; films by how far washes take them; other
products by what they leave.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from typing import TypeAlias

from abluent.engine.base.contract import AMOUNT_BEARS_ON, LEAVES, MAY_LEAVE, MILDER
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import VERDICTS
from abluent.engine.questions.answers.account import helpers
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.best_known import best_known
from abluent.engine.questions.answers.degrees import (
    alike,
    kind_of,
    led_by,
    shared_rung,
    why_milder,
)
from abluent.engine.questions.answers.folded_words import by_class, in_brief
from abluent.engine.questions.answers.group import deciding_claim
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    TAKES,
    Left,
    Verdict,
)
from abluent.engine.questions.answers.wording import every_film, puts_back, without_head
from abluent.engine.questions.forms.what import leaves_sentence
from abluent.engine.questions.forms.whether import truth_sentence
from abluent.engine.questions.sides.better import By, better
from abluent.engine.questions.sides.contrasted import opening, sure_of_cleansing
from abluent.engine.questions.sides.for_films import compare_for
from abluent.engine.questions.sides.side_by_side import (
    compare_films,
    compare_left,
    taken,
)
from abluent.engine.questions.verbs.contrasts import ends, sign
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.grammar.query import tree as q

Phrases: TypeAlias = tuple[str, ...]
Groups: TypeAlias = dict[tuple[int, ...], list[str]]
_STAYS = frozenset({LEAVES, MAY_LEAVE})
_AHEAD = 3
"""So many kinds of films are named that one wash takes and another may not."""
_PAIR = 2
_SIDE_BY_SIDE = 4
"""So many washes are compared film by film; more are only told one by one."""
_APART = 4
"""So many ways in which they differ are told."""
_UNSHOWN = "Where it is not shown that they differ"
_REASONS = 2
"""For so many of these it is told why."""


def compare(judge: Judge, query: q.Compare, text: str) -> Answer:
    """Set some things side by side: what is known, or what each does to a film."""
    items = judge.terms.items(query.things, PRODUCT)
    when = query.circumstances
    said: q.Predicate = q.Leaves(q.Thing(), when)
    if query.film is not None:
        said = q.Clears(query.film, circumstances=when)
    washes = [item for item in items if _is_wash(judge, item)]
    if query.film is None and len(items) > 1 and not washes:
        if all(i.kind == INGREDIENT and judge.removal.is_film(i) for i in items):
            return compare_films(judge, items, text)
    if query.film is not None and 1 < len(washes) == len(items):
        if (told_for := compare_for(judge, washes, query.film, text)) is not None:
            return told_for
    parts = []
    for item in items:
        judged = judge.judge([item], said)[item]
        parts.append(
            Answer(item.key, _side(judge, item, judged), judged.rows, members=[item])
        )
    told = " ".join(part.sentence for part in parts)
    if query.film is not None:
        return Answer(text, told, members=items, compared=parts)
    if 1 < len(washes) <= _SIDE_BY_SIDE:
        told, findings = _washes(judge, washes, parts, when)
        return Answer(text, told, members=items, compared=parts, findings=findings)
    return compare_left(judge, items, parts, text)


def _is_wash(judge: Judge, item: Item) -> bool:
    nouns = judge.nouns
    return item in nouns.washes or item.key == WATER or item in nouns.cleansers


def _side(judge: Judge, item: Item, judged: Judged) -> str:
    rows = [row for row in judged.rows if isinstance(row, Verdict)]
    if rows:
        return without_head(truth_sentence(judge.world, judged.truth, rows))
    return leaves_sentence(judge.nouns, judge.nouns.title(item), judged.rows)


# --- washes ---------------------------------------------------------------------------


def _washes(
    judge: Judge, washes: Sequence[Item], parts: Sequence[Answer], when: Phrases
) -> tuple[str, list[Finding]]:
    """How some washes stand to each other, and where they part."""
    of = _verdicts(judge, washes, when)
    films = list(next(iter(of.values())))
    groups = _unlike(of, films)
    case = Case.of(judge.removal.world, list(of), stated=when)
    parted = {roles: mine for roles, mine in groups.items() if _parts(of, mine)}
    unshown = {roles: mine for roles, mine in groups.items() if roles not in parted}
    resets = _resets(of, groups, films)
    amounts = _amounts(judge, of, groups, films, shown=bool(parted) or bool(resets))
    left = [*_left(judge, washes, parts)]
    otherwise = _leave_otherwise(parts) and (when or resets)
    first = [*left, *resets] if otherwise else []
    told = [*first, amounts, _built_on(case, list(of), washes)]
    besides = [*_by_amount(judge, list(of), films), *_milder(case, list(of))]
    besides += [] if first else left
    besides += sure_of_cleansing(
        [rows[mine[0]] for mine in groups.values() for rows in of.values()]
    )
    findings = [
        *_told_of(judge, of, parted, films, ("apart", "Where they differ")),
        *_told_of(judge, of, unshown, films, ("unshown", _UNSHOWN)),
    ]
    findings += [Finding("besides", "Besides", tuple(besides))]
    return " ".join(filter(None, told)), findings


def _resets(
    of: Mapping[str, dict[str, Verdict]], groups: Groups, films: Sequence[str]
) -> list[str]:
    """Which washes take off what others of them lay down again themselves.

    Nothing where one of those others surely takes something that the rest may not.
    """
    backs = {
        name
        for name, rows in of.items()
        for mine in groups.values()
        if puts_back(rows[mine[0]])
    }
    clean = [name for name in of if name not in backs]
    for name in backs:
        others = [rows for other, rows in of.items() if other != name]
        if _more(of[name], others, films)[0]:
            return []
    if not backs or not clean:
        return []
    which = "is the one" if len(clean) == 1 else "are the ones"
    return [f"So to take such films off, {listed(clean)} {which} to use."]


def _by_amount(
    judge: Judge, names: Sequence[str], told_of: Sequence[str]
) -> Iterator[str]:
    """Which of two washes does more where what is in them bears by its amount.

    Such as a chelant, on minerals that no product of the shelf leaves.
    """
    if len(names) != _PAIR:
        return
    base = judge.world.base
    classes = judge.world.known.marked(AMOUNT_BEARS_ON)
    kinds = {
        film for each in classes for film in base.record(each).links(AMOUNT_BEARS_ON)
    }
    every = (base.instances(kind) for kind in sorted(kinds))
    films = [best_known(base, mine) for mine in every if mine]
    for film in dict.fromkeys(each for each in films if each not in told_of):
        found = judge.removal.verdicts(names, q.Clears(q.Name(base.label(film))))
        one, other = (found[name][0] for name in names)
        told = better(one, other)
        if told.by is not By.NOTHING and (helpers(one) or helpers(other)):
            yield opening(told)


def _leave_otherwise(parts: Sequence[Answer]) -> bool:
    """Whether what some washes leave on hair themselves is not the same of each."""
    films = [
        {row.film for row in part.rows if isinstance(row, Left) and row.how in _STAYS}
        for part in parts
    ]
    return any(each != films[0] for each in films)


def _verdicts(
    judge: Judge, washes: Sequence[Item], when: Phrases
) -> Mapping[str, dict[str, Verdict]]:
    """What each wash does to every film that the shelf leaves."""
    names = [judge.removal.as_wash(each) for each in washes]
    asked = q.Clears(q.Thing(), circumstances=when)
    found = judge.removal.verdicts(names, asked)
    return {name: {row.film: row for row in found[name]} for name in names}


def _unlike(of: Mapping[str, dict[str, Verdict]], films: Sequence[str]) -> Groups:
    """The films of which the washes do not take the same, by what each takes."""
    groups: Groups = {}
    for film in films:
        roles = tuple(VERDICTS.index(rows[film].role) for rows in of.values())
        if len(set(roles)) > 1:
            groups.setdefault(roles, []).append(film)
    return groups


def _amounts(
    judge: Judge,
    of: Mapping[str, dict[str, Verdict]],
    groups: Groups,
    films: Sequence[str],
    *,
    shown: bool,
) -> str:
    """Which takes more, and of what; and where none is `shown` to, that none is."""
    names, base = listed(list(of)), judge.world.base
    if not groups:
        which = every_film(len(films)) if len(films) > 1 else "the one film"
        every = f"take the same of {which} that this shelf leaves"
        return f"As far as is known {names} {every}."
    told: list[str] = []
    for name, rows in of.items():
        rest = [other for each, other in of.items() if each != name]
        none = next(o for o in of if o != name) if len(of) == 2 else "any other"
        more, perhaps = _more(rows, rest, films)
        if more:
            some = in_brief(base, more, films, _AHEAD)
            told.append(
                f"{name} takes at least part of {some}, of which {none} may take none"
            )
        elif perhaps:
            some = in_brief(base, perhaps, films, _AHEAD)
            told.append(f"{name} may take more of {some} than {none}")
    same = len(films) - sum(map(len, groups.values()))
    if shown and not told:
        count = len(films) - same
        return f"{names} differ on {count} of the {len(films)} films of this shelf."
    parts = [as_sentence("; ".join(told))] if told else []
    if not shown:
        who = "either" if len(of) == 2 else "any of them"
        parts.append(f"Of no film is {who} shown to take more.")
    if same > 1:
        rest_ = f"the other {same} films of this shelf"
        parts.append(f"As far as is known they take the same of {rest_}.")
    return " ".join(parts)


def _more(
    mine: Mapping[str, Verdict],
    rest: Sequence[Mapping[str, Verdict]],
    films: Sequence[str],
) -> tuple[list[str], list[str]]:
    """The films of which one wash surely takes part and no other does; those of which
    it perhaps takes more.
    """
    more, perhaps = [], []
    for film in films:
        low, high = ends(mine[film])
        others = [ends(rows[film]) for rows in rest]
        if low and not any(least for least, _ in others):
            more.append(film)
        elif all(low >= least and high > most for least, most in others) and low:
            perhaps.append(film)
    return more, perhaps


def _built_on(case: Case, names: Sequence[str], washes: Sequence[Item]) -> str:
    """What leads each wash; of an ingredient by itself, what it is."""
    told, base = [], case.world.base
    for name, item in zip(names, washes, strict=True):
        if item.kind == INGREDIENT:
            kind = kind_of(base, item.key)
            told += [f"{base.label(item.key)} is {with_article(kind)}"] * bool(kind)
        elif main := led_by(case, case.world.symbol(name)):
            told.append(f"{name} is built on {main}")
    return as_sentence("; ".join(told)) if told else ""


def _milder(case: Case, names: Sequence[str]) -> Iterator[str]:
    """Which is the milder to skin, and by which order; or that nothing tells."""
    for one, other in pairwise(names):
        pair = case.world.symbol(one), case.world.symbol(other)
        for first, second in (pair, pair[::-1]):
            if case.model.holds(MILDER, (first, second)):
                why = why_milder(case, first, second)
                mild, harsh = case.world.name(first), case.world.name(second)
                told = f"{mild} is milder to skin than {harsh}"
                yield f"{told}: {_lower(why[0])}" if why else f"{told}."
                break
        else:
            yield _no_milder(case, one, other)


def _no_milder(case: Case, one: str, other: str) -> str:
    """That two washes are alike in the order of the trade, or that nothing tells."""
    if why := shared_rung(case, case.world.symbol(one), case.world.symbol(other)):
        return f"{as_sentence(alike((one, other)))} {why}"
    return f"Nothing here decides which of {one} and {other} is milder to skin."


def _lower(sentence: str) -> str:
    """A sentence within another: no capital, but for a name."""
    second = sentence.split(" ", 2)[1:2]
    name = any(word[:1].isupper() for word in second)
    return sentence if name else sentence[:1].lower() + sentence[1:]


def _left(
    judge: Judge, washes: Sequence[Item], parts: Sequence[Answer]
) -> Iterator[str]:
    """What each leaves itself, those together that are known to leave nothing."""
    leaving = [
        part
        for part in parts
        if any(isinstance(row, Left) and row.how in _STAYS for row in part.rows)
    ]
    mine = {part.members[0] for part in leaving}
    none = [judge.nouns.title(item) for item in washes if item not in mine]
    yield from (part.sentence for part in leaving if part.members[0] in washes)
    if none:
        names = f"Neither {in_a_row(none)}".replace(" and ", " nor ")
        if len(none) != 2:
            names = f"None of {listed(none)}" if len(none) > 2 else none[0]
        no = "is not" if len(none) == 1 else "is"
        yield f"{names} {no} known to leave a film of its own."


def _parts(of: Mapping[str, dict[str, Verdict]], films: Sequence[str]) -> bool:
    """Whether one wash surely takes more of some films than another.

    Films of a group are alike in what each wash takes of them.
    """
    pairs = combinations([rows[films[0]] for rows in of.values()], 2)
    return any(sign(one, other) for one, other in pairs)


def _told_of(
    judge: Judge,
    of: Mapping[str, dict[str, Verdict]],
    groups: Groups,
    films: Sequence[str],
    kind: tuple[str, str],
) -> Iterator[Finding]:
    """What each takes, group by group, with the claim that decides it."""
    told: list[str] = []
    said: set[str] = set()
    for mine in sorted(groups.values(), key=len, reverse=True)[:_APART]:
        takes = [_takes(name, rows, mine[0]) for name, rows in of.items()]
        which = by_class(judge.world.base, mine, films, parts=True)
        why = _reason(of, mine) if len(said) < _REASONS else ""
        fresh = why and why not in said
        said.add(why)
        line = as_sentence(f"{which}: {'; '.join(takes)}")
        told.append(f"{line} {why}" if fresh else line)
    if told:
        rest = len(groups) - len(told)
        told += [f"… and {rest} more group{'s' * (rest > 1)} of films."] * bool(rest)
        yield Finding(*kind, tuple(told))


def _takes(name: str, rows: Mapping[str, Verdict], film: str) -> str:
    row = rows[film]
    if puts_back(row):
        return f"{name} takes {TAKES[row.role]}, as it can leave such a film itself"
    return f"{name} takes {taken(row)}"


def _reason(of: Mapping[str, dict[str, Verdict]], films: Sequence[str]) -> str:
    """The claim that makes the difference on most of some films.

    Where one wash can take more at the most, it is what holds the other back; else it
    is what makes sure of the one.
    """
    rows, first = list(of.values()), films[0]
    by_high = sorted(rows, key=lambda r: ends(r[first])[1])
    least, most = by_high[0], by_high[-1]
    held = ends(least[first])[1] < ends(most[first])[1]
    if held and puts_back(least[first]):
        return ""
    if held:
        return deciding_claim([least[film] for film in films], upper=True)
    most = max(rows, key=lambda r: ends(r[first])[0])
    return deciding_claim([most[film] for film in films], upper=False)
