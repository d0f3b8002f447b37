"""What an answer comes to, in one sentence that names its members."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    FALSE_AS_SAID,
    NOT_AS_SAID,
    PROVEN,
    REFUTED,
    TRUE_OF_ALL,
    UNSUPPORTED,
    Row,
)
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    TAKES,
    Verdict,
    takes,
)
from abluent.engine.questions.answers.wording import row_phrase, unsure
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import Nouns


def claim_sentence(  # noqa: PLR0913, PLR0911 - how it was judged, by what, and each way
    nouns: Nouns,
    claim: str,
    members: Sequence[Item],
    rows: Sequence[Row],
    how: str = "",
    *,
    needed: bool = False,
    every: bool = False,
    part: bool = False,
    denied: bool = False,
    verb: str = "does so",
    under_water: bool = False,
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
        part: whether it is claimed that something takes all of a film.
        denied: whether it is claimed that nothing does.
        verb: what a witness does, or does not, that no row tells of.
        under_water: whether all that is shown is what water by itself does.
    """
    if not members:
        return f"{_NOTHING[claim]}."
    title = nouns.title(members[0])
    # What is needed is said of a film; how the wash stands to that is not.
    who = f"{title}, {how}," if how and not needed else title
    phrase = row_phrase(nouns.world, rows[0]) if rows else ""
    others = [nouns.title(item) for item in members[1:]]
    first = rows[0] if rows else None
    if claim == UNSUPPORTED and isinstance(first, Verdict):
        return _unsettled(nouns, first, how, others, needed=needed, denied=denied)
    if claim in {UNSUPPORTED, DISPUTED}:
        why = f"of {title} nothing settles it"
        if claim == DISPUTED:
            why = f"sources of equal rank disagree on {title}"
        shown = f": {phrase}" if phrase else ""
        return f"Cannot tell, for {why}{shown}.{_more(others, 'The same holds for')}"
    if claim == PROVEN and denied and isinstance(first, Verdict):
        return _no_whole(nouns, first, others)
    if claim == REFUTED and part and isinstance(first, Verdict):
        return _only_part(nouns, first, who, others)
    if claim == PROVEN and every and not how and (others or phrase):
        shown = f"for one, {phrase}" if phrase else f"such as {title}"
        all_of = f"all {len(members)} looked at; {shown}" if others else phrase
        if under_water:
            return f"{_UNDER_WATER}{', as do ' if others else ': '}{all_of}."
        return f"Yes{', ' if others else ': '}{all_of}."
    told = phrase.replace(title, who, 1) if title in phrase else phrase
    told = told or f"{who.removesuffix(',')} {verb}"
    if told == phrase and how and not needed and title not in phrase:
        told = f"{phrase} ({title}, {how})"
    head = _UNDER_WATER if under_water and claim == PROVEN else _YES_NO[claim]
    return f"{head}: {told}.{_more(others, 'The same holds for')}"


_NOTHING = {
    PROVEN: "Yes",
    REFUTED: "No",
    DISPUTED: "Cannot tell, for sources of equal rank disagree",
    UNSUPPORTED: "Cannot tell, for nothing settles it",
}


def _more(others: Sequence[str], so: str) -> str:
    """Of what it is as much so, by name where they are few."""
    if not others:
        return ""
    few = listed(others) if len(others) <= _FEW else f"{len(others)} more"
    return f" {so} {few}."


def _no_whole(nouns: Nouns, row: Verdict, others: Sequence[str]) -> str:
    """That nothing takes all of a film, and what the one that takes most takes."""
    film = nouns.world.base.label(row.film)
    none = f"; none of the {len(others) + 1} looked at takes it all" if others else ""
    if row.role is Role.PARTLY_CLEARED:
        return f"{TRUE_OF_ALL}: {row.wash} takes part of {film}{none}."
    return f"Yes: {takes(row.role, row.wash, film)}{none}."


def as_claim(sentence: str) -> str:
    """What begins with yes or no, as true or false of a claim."""
    for plain, said in (("Yes", "True"), ("No", "False")):
        rest = sentence.removeprefix(plain)
        if rest != sentence and rest[:1] in {":", ",", ""}:
            return f"{said}{rest}"
    return sentence


def near_sentence(nouns: Nouns, near: Verdict, unknown: Sequence[str]) -> str:
    """That none of some things is shown to take all, and the one that comes nearest.

    Args:
        nouns: names the things.
        near: what that one takes.
        unknown: those of which nobody can tell.
    """
    film = nouns.world.base.label(near.film)
    told = f"Not shown of all of it: {near.wash} takes {TAKES[near.role]} of {film}"
    told += ", not all" if near.role is Role.PARTLY_CLEARED else ""
    return f"{told}. Cannot tell for {listed(unknown, _NAMED)}."


def _only_part(nouns: Nouns, row: Verdict, who: str, others: Sequence[str]) -> str:
    """That not all of a film goes, against what was said; that part of it may."""
    film = nouns.world.base.label(row.film)
    wash = who if who.startswith(row.wash) else row.wash
    few = listed(others) if len(others) <= _FEW else f"{len(others)} more"
    nor = f"; nor {'do' if len(others) > 1 else 'does'} {few} take it all"
    nor = nor if others else ""
    if row.role is Role.PARTLY_CLEARED:
        return f"{FALSE_AS_SAID}: {wash} takes part of {film}, not all{nor}."
    return f"False: {takes(row.role, wash, film)}{nor}."


_NAMED = 6
_FEW = 3
"""So many more are named."""
_UNDER_WATER = "It stays under water alone"
_YES_NO = {PROVEN: "Yes", REFUTED: "No"}


def _unsettled(  # noqa: PLR0913 - what is known, and how it stands to the claim
    nouns: Nouns,
    row: Verdict,
    how: str,
    others: Sequence[str],
    *,
    needed: bool,
    denied: bool,
) -> str:
    """What is known for a claim or against it, and what nobody here knows."""
    known = unsure(nouns.world, row)
    partly = ENDS[row.role][0] is Role.PART_OF_IT
    if partly and (how or denied):
        surely, _, _ = known.partition("; ")
        if how:
            surely = surely.replace(row.wash, f"{row.wash}, {how},", 1)
        verdict = "No, for taking part none is needed" if needed else NOT_AS_SAID
        return f"{verdict}: {surely}. Whether anything takes all of it is not known."
    if how and needed:
        surely = known.replace(row.wash, f"{row.wash}, {how},", 1)
        return f"Not shown: of what does without, the most is this: {surely}."
    if how:
        known = known.replace(row.wash, f"{row.wash}, {how},", 1)
    head = "Cannot tell whether all of it goes" if partly else "Cannot tell"
    return f"{head}: {known}.{_more(others, 'It is as open for')}"


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
    is_ = "is" if count == 1 else "are"
    return f"Not all of it: {known}; {few} of the {kinds} {is_} shown to take it all."


def no_other_sentence(nouns: Nouns, own: Verdict, kinds: str, part: bool) -> str:
    """That nothing else is shown to do it, and how much the best of its own takes.

    Args:
        nouns: names the things.
        own: what the first of those that are named takes.
        kinds: those that it is said of.
        part: whether something else takes part.
    """
    film = nouns.world.base.label(own.film)
    known = unsure(nouns.world, own).partition("; ")[0]
    head = f"As far as is known: but for {kinds} nothing here is shown to take "
    amount = f"all of {film}" if part else f"even part of {film}"
    return f"{head}{amount}; {known}. Whether anything takes all of it is not known."


def neither_sentence(  # noqa: PLR0913, PLR0917 - two washes, and what they are of
    nouns: Nouns,
    kinds: str,
    own: Verdict,
    other: Verdict | None,
    how: str,
    films: str = "",
) -> str:
    """That what is said of some things alone is so of none, and who does as much.

    Args:
        nouns: names the things.
        kinds: the things that it is said of.
        own: what the first of them takes.
        other: what something takes that is none of them, if anything takes part.
        how: how that is none of them.
        films: the films that it is said of, where they are a class.
    """
    if other is None:
        known = unsure(nouns.world, own)
        return f"No: nothing is shown to take all, {kinds} included: {known}."
    said = unsure(nouns.world, other).partition("; ")[0]
    said = said.replace(other.wash, f"{other.wash}, {how},", 1)
    film = nouns.world.base.label(other.film)
    too = " too" if ENDS[own.role][0] is Role.PART_OF_IT else ""
    what, them = (f"{films}, as {film},", "them") if films else (film, "it")
    said = f"{said.replace(film, what)}{too}"
    return f"No: {said}. Nothing is shown to take all of {them}, {kinds} included."
