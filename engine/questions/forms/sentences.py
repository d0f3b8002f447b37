"""What an answer comes to, in one sentence that names its members."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.questions.answers.answer import DISPUTED, UNSUPPORTED, Row
from abluent.engine.questions.answers.folded_words import MANY, by_class
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.common.text import as_sentence


def claim_sentence(
    nouns: Nouns,
    claim: str,
    members: Sequence[Item],
    rows: Sequence[Row],
    how: str = "",
) -> str:
    """How a claim was judged, and by what.

    Args:
        nouns: names the things.
        claim: how it was judged.
        members: what decides, the witness first.
        rows: the rows of the witness first.
        how: how the witness stands to the claim, where that is not plain.
    """
    if not members:
        return f"{claim.capitalize()}."
    title = nouns.title(members[0])
    by = {UNSUPPORTED: "for want of an answer on", DISPUTED: "over"}.get(claim, "by")
    who = f"{title}, {how}" if how else title
    phrase = row_phrase(nouns.world, rows[0]) if rows else ""
    more = f" And {len(members) - 1} more." if len(members) > 1 else ""
    return (
        f"{claim.capitalize()} {by} {who}: {phrase}.{more}"
        if phrase
        else (f"{claim.capitalize()} {by} {who}.{more}")
    )


def which_sentence(
    nouns: Nouns,
    kept: Sequence[Item],
    undecided: Sequence[Item],
    looked: Sequence[Item],
) -> str:
    """The members of an answer, and those for which it is open.

    Many are told by what they have in common; none, by how many were looked at.

    Args:
        nouns: names the things.
        kept: the members.
        undecided: those for which it is open.
        looked: all that were looked at.
    """
    sure = " for certain" if undecided else ""
    told = f"None{sure} of the {len(looked)} looked at."
    if kept:
        told = as_sentence(in_common(nouns, kept, looked))
    if undecided:
        told += f" Open: {in_common(nouns, undecided, looked)}."
    return told


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
        and any(r.gone for r in rows)
    }
    if not left:
        return ""
    fewest = min(map(len, left.values()))
    best = [item for item in items if item in left and len(left[item]) == fewest]
    films = listed([nouns.world.base.label(row.film) for row in left[best[0]]])
    names = listed([nouns.title(item) for item in best])
    return f" Nearest: {names}; {nouns.title(best[0])} leaves {films} uncleared."
