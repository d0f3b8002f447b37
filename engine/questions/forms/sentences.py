"""What an answer comes to, in one sentence that names its members."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from abluent.engine.questions.answers.answer import DISPUTED, UNSUPPORTED, Row
from abluent.engine.questions.answers.explained import as_sentence
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import listed, row_phrase
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import Item
from abluent.engine.questions.world.nouns import Nouns


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
    nouns: Nouns, kept: Sequence[Item], undecided: Sequence[Item]
) -> str:
    """The members of an answer by name, and those for which it is open."""
    text = listed([nouns.title(item) for item in kept])
    told = as_sentence(text) if text else "None here."
    if undecided:
        told += f" Open: {listed([nouns.title(item) for item in undecided])}."
    return told


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
