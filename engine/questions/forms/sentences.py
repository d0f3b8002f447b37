"""What an answer comes to, in one sentence that names its members."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    PROVEN,
    REFUTED,
    UNSUPPORTED,
    Row,
)
from abluent.engine.questions.answers.folded_words import MANY, by_class, in_brief
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, TAKES, Verdict
from abluent.engine.questions.answers.wording import row_phrase, unsure
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.common.text import as_sentence


def claim_sentence(  # noqa: PLR0913 - how it was judged, by what, how that stands
    nouns: Nouns,
    claim: str,
    members: Sequence[Item],
    rows: Sequence[Row],
    how: str = "",
    *,
    needed: bool = False,
    every: bool = False,
) -> str:
    """How a claim was judged, and by what.

    One thing that is so proves that some are; of all it is one of those looked at.

    Args:
        nouns: names the things.
        claim: how it was judged.
        members: what decides, the witness first.
        rows: the rows of the witness first.
        how: how the witness stands to the claim, where that is not plain.
        needed: whether the claim is of what is needed.
        every: whether the claim is of all of several things, or of none.
    """
    if not members:
        return f"{claim.capitalize()}."
    title = nouns.title(members[0])
    # What is needed is said of a film; how the wash stands to that is not.
    who = f"{title}, {how}" if how and not needed else title
    phrase = row_phrase(nouns.world, rows[0]) if rows else ""
    number = len(members) - 1
    if claim == UNSUPPORTED and rows and isinstance(rows[0], Verdict):
        return _unsettled(nouns, rows[0], how, number, needed)
    if claim in {UNSUPPORTED, DISPUTED}:
        why = (
            "sources of equal rank disagree"
            if claim == DISPUTED
            else "nothing settles it"
        )
        shown = f" ({phrase})" if phrase else ""
        besides = f", nor for {number} more" if number and claim != DISPUTED else ""
        besides = f", and on {number} more" if number and not besides else besides
        over = "on" if claim == DISPUTED else "for"
        return f"{claim.capitalize()}: {why} {over} {who}{shown}{besides}."
    if claim == PROVEN and every and not number and phrase and not how:
        return f"Yes: {phrase}."
    more = f" And {number} more." if number else ""
    if phrase.startswith(f"{title} "):
        phrase = f"it {phrase.removeprefix(title).lstrip()}"
    if claim == PROVEN and every and number:
        shown = f": {phrase}" if phrase else ""
        return f"Yes, of all {len(members)} looked at, such as {who}{shown}."
    told = f"{_YES_NO[claim]}, {claim} by {who}"
    return f"{told}: {phrase}.{more}" if phrase else f"{told}.{more}"


_YES_NO = {PROVEN: "Yes", REFUTED: "No"}


def _unsettled(nouns: Nouns, row: Verdict, how: str, number: int, needed: bool) -> str:
    """What is known for a claim or against it, and what nobody here knows."""
    known = unsure(nouns.world, row)
    besides = f" It is as open for {number} more." if number else ""
    if how and ENDS[row.role][0] is Role.PART_OF_IT:
        surely, _, _ = known.partition("; ")
        surely = surely.replace(row.wash, f"{row.wash}, {how},", 1)
        verdict = "others take part too"
        if needed:
            verdict = "for taking part, none is needed"
        return (
            f"Not shown; {verdict}: {surely}. Whether anything takes all of "
            "it, with one or without, is not known here."
        )
    if how and needed:
        surely = known.replace(row.wash, f"{row.wash}, {how},", 1)
        return f"Not shown: of what does without, the most is this: {surely}."
    if how:
        known = known.replace(row.wash, f"{row.wash}, {how},", 1)
    return f"Unsupported: {known}.{besides}"


def not_whole_sentence(nouns: Nouns, kinds: str, count: int, first: Verdict) -> str:
    """That too few of some things are known to take all of a film, and what one takes.

    Args:
        nouns: names the things.
        kinds: the things that it is said of.
        count: how many of them would be enough.
        first: what the first of them takes.
    """
    few = "none" if count == 1 else f"fewer than {count}"
    known = unsure(nouns.world, first)
    return f"No: {few} of the {kinds} are known to take all of it: {known}."


def neither_sentence(
    nouns: Nouns, kinds: str, own: Verdict, other: Verdict | None, how: str
) -> str:
    """That what is said of some things alone is so of none, and who does as much.

    Args:
        nouns: names the things.
        kinds: the things that it is said of.
        own: what the first of them takes.
        other: what something takes that is none of them, if anything takes part.
        how: how that is none of them.
    """
    known = unsure(nouns.world, own)
    told = f"No: nothing is known to take all, {kinds} included: {known}."
    if other is None:
        return told
    said = unsure(nouns.world, other).partition("; ")[0]
    said = said.replace(other.wash, f"{other.wash}, {how},", 1)
    too = " too" if ENDS[own.role][0] is Role.PART_OF_IT else ""
    return f"{told} Others take part{too}: {said}."


def which_sentence(  # noqa: PLR0913 - what was found, and what was asked for
    nouns: Nouns,
    kept: Sequence[Item],
    undecided: Sequence[Item],
    looked: Sequence[Item],
    judged: Mapping[Item, Judged],
    *,
    whole: bool = True,
    best: Sequence[Item] = (),
    how: str = "",
) -> str:
    """The members of an answer, and what is known of those that are none.

    Many are told by what they have in common; none, by how many were looked at. Open
    is said only of what nothing bounds; of the others it is told how much they take.

    Args:
        nouns: names the things.
        kept: the members.
        undecided: those for which it is open.
        looked: all that were looked at.
        judged: what came of each, if it was asked how much of a film they take.
        whole: whether it was asked what takes all of it.
        best: where there are no members, those that surely take part, in an order
            that was asked for.
        how: that order, in words.
    """
    asked = undecided if kept else [i for i in judged if i in looked]
    summed = taken(nouns, asked, judged, looked) if judged else ""
    if kept:
        told = as_sentence(in_common(nouns, kept, looked))
        told += f" Besides, {summed}." if summed else ""
    elif summed and whole:
        film = _only_film(nouns, judged.values())
        if best:
            names = listed([nouns.title(item) for item in best])
            rest = [item for item in asked if item not in best]
            beside = taken(nouns, rest, judged, looked, of_it=False)
            summed = f"taking at least part, {how}: {names}"
            summed += f"; {beside}" if beside else ""
        else:
            summed = taken(nouns, asked, judged, looked, of_it=False)
        summed = summed[:1].upper() + summed[1:]
        return f"{_no_one(looked)} is known to take all{film}. {summed}."
    else:
        sure = " for certain" if undecided else ""
        told = f"None{sure} of the {len(looked)} looked at"
        told += f": {summed}." if summed else "."
    if undecided and not summed:
        told += f" Open: {in_common(nouns, undecided, looked)}."
    return told


def _no_one(looked: Sequence[Item]) -> str:
    """Nothing of what was looked at, as the subject of a sentence."""
    products = any(item.kind != INGREDIENT for item in looked)
    return "No product here" if products else "None"


def _only_film(nouns: Nouns, judged: Iterable[Judged]) -> str:
    """Of which film some judgements are, if it is one."""
    rows = (row for each in judged for row in each.rows)
    films = {row.film for row in rows if isinstance(row, Verdict)}
    return f" of {nouns.world.base.label(*films)}" if len(films) == 1 else " of it"


def taken(
    nouns: Nouns,
    items: Sequence[Item],
    judged: Mapping[Item, Judged],
    looked: Sequence[Item],
    *,
    of_it: bool = True,
) -> str:
    """How much some washes take of what was asked, those that take most first.

    Of several films it is told how much goes of the worst. Empty where the judgements
    are not about what is taken.
    """
    groups: dict[Role, list[Item]] = {}
    films: set[str] = set()
    for item in items:
        rows = [row for row in judged[item].rows if isinstance(row, Verdict)]
        if not rows:
            return ""
        worst = worst_of(rows)
        groups.setdefault(_AS.get(worst, worst), []).append(item)
        films.update(row.film for row in rows)
    if not groups:
        return ""
    if len(films) > 1:
        return _of_several(nouns, groups, judged)
    best = sorted(groups, key=VERDICTS.index, reverse=True)
    label = nouns.world.base.label
    what = f" of {label(*films)}" if len(films) == 1 and of_it else ""
    parts: list[str] = []
    left = max(groups, key=lambda role: len(groups[role]))
    for role in sorted(best, key=lambda role: role is left and role is not best[0]):
        sure = ENDS[role][0] is not Role.NONE_OF_IT
        who = _some(nouns, groups[role], looked, _SURELY if sure else _NAMED)
        if parts and role is left and who in {_SEVERAL, _MOST}:
            who = "the others"
        many = len(groups[role]) > 1
        takes = ("take" if many else "takes") + f" {_spoken_amount(role, what)}"
        if role is Role.NO_WASH_NEEDED:
            takes = f"{'need' if many else 'needs'} no wash"
        parts.append(f"{who} {takes}")
        what = ""
    return "; ".join(parts)


_AS = {Role.PARTLY_CLEARED: Role.AT_LEAST_PARTLY}
"""What is told aloud as another is: below it stands which of them goes no further."""


def _spoken_amount(role: Role, what: str) -> str:
    """How much is taken, as it is said aloud, and of what if that is told."""
    if role is Role.OPEN:
        return f"an unknown amount{what}"
    perhaps_none = ", if any" if role is Role.AT_MOST_PARTLY else ""
    return f"{TAKES[role]}{perhaps_none}{',' if perhaps_none and what else ''}{what}"


def _of_several(
    nouns: Nouns, groups: Mapping[Role, Sequence[Item]], judged: Mapping[Item, Judged]
) -> str:
    """Which washes surely take something of every film, and which perhaps do not."""
    surely: list[Item] = []
    not_surely: list[Item] = []
    for role in sorted(groups, key=VERDICTS.index, reverse=True):
        into = not_surely if ENDS[role][0] is Role.NONE_OF_IT else surely
        into += groups[role]
    parts = []
    if surely:
        who = listed([nouns.title(item) for item in surely], _SURELY)
        take = "take" if len(surely) > 1 else "takes"
        parts.append(f"{who} {take} at least part of every one of them")
    if not_surely:
        who = listed([nouns.title(item) for item in not_surely], _NAMED)
        if surely:
            who = "the other one" if len(not_surely) == 1 else "each of the others"
        films = _may_stay(nouns, not_surely, judged)
        parts.append(f"{who} may leave some whole: {films}")
    return "; ".join(parts)


def _may_stay(
    nouns: Nouns, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """The films that some washes perhaps take nothing of, the most often so first."""
    times: dict[str, int] = {}
    for item in items:
        for row in judged[item].rows:
            if isinstance(row, Verdict) and ENDS[row.role][0] is Role.NONE_OF_IT:
                times[row.film] = times.get(row.film, 0) + 1
    ordered = sorted(times, key=lambda film: -times[film])
    label = nouns.world.base.label
    shown = [label(film) for film in ordered[:_NAMED]]
    more = len(ordered) - len(shown)
    return f"{'mostly ' if more else ''}{listed(shown)}"


def worst_of(rows: Sequence[Verdict]) -> Role:
    """How much goes of that of which least goes."""
    return min((row.role for row in rows), key=VERDICTS.index)


_NAMED, _SURELY = 3, 6
"""So many are named; more of those that surely take something."""
_SEVERAL, _MOST = "several", "most"


def _some(
    nouns: Nouns, items: Sequence[Item], looked: Sequence[Item], most: int
) -> str:
    """Some things by name where they are few, else by their classes or their number."""
    if len(items) <= most:
        return listed([nouns.title(item) for item in items])
    if all(item.kind == INGREDIENT for item in looked) and len(items) < len(looked):
        keys, among = [item.key for item in items], [item.key for item in looked]
        return in_brief(nouns.world.base, keys, among, _NAMED)
    if len(items) == len(looked) > 1:
        return "all that were looked at"
    return _MOST if 2 * len(items) > len(looked) else _SEVERAL


def in_common(nouns: Nouns, items: Sequence[Item], looked: Sequence[Item]) -> str:
    """Some things by name, or where they are many by the classes they make up."""
    if len(items) > MANY and all(item.kind == INGREDIENT for item in looked):
        keys = [item.key for item in items]
        told = by_class(nouns.world.base, keys, [item.key for item in looked])
        return f"{told} ({len(items)} of {len(looked)})"
    return listed([nouns.title(item) for item in items])


def nearest_sentence(
    nouns: Nouns, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """Which washes came nearest to clearing all of several films, and what is left."""
    left = {
        item: [r for r in rows if not r.gone]
        for item in items
        if (rows := [r for r in judged[item].rows if isinstance(r, Verdict)])
        and any(r.role is Role.CLEARED for r in rows)
    }
    if not left:
        return ""
    fewest = min(map(len, left.values()))
    best = [item for item in items if item in left and len(left[item]) == fewest]
    films = listed([nouns.world.base.label(row.film) for row in left[best[0]]])
    names = listed([nouns.title(item) for item in best])
    return f" Nearest: {names}; {nouns.title(best[0])} leaves {films} uncleared."
