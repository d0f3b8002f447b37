"""A verdict in everyday words: what comes off, how sure that is, what is in doubt.

What a chemist would dispute stands on the pages of a trace. Here is what an educator
says aloud.
"""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.base.contract import UNREAD_LINE
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence
from abluent.shell.told.asking import cleans, unread_names
from abluent.shell.told.spoken_names import aloud, nth

RECALLED = "common knowledge in the trade"
"""How what was recalled, and not read again in its source, is said to stand."""
_CLAIMS = {
    Role.NOT_CLEARED: "{} does not take off {}",
    Role.AT_MOST_PARTLY: "{} hardly takes off {}",
    Role.PARTLY_CLEARED: "{} takes off {} in part",
    Role.AT_LEAST_PARTLY: "{} takes off {} well",
    Role.CLEARED: "{} takes off all of {}",
    Role.OPEN: "We cannot tell whether {} takes off {}",
}
_DISPUTED: dict[tuple[Role, ...], str] = {
    (Role.ALL_OF_IT,): "{} takes off {} in part. All of it? Sources disagree",
}
_ANY_DISPUTED = "Sources disagree whether {} takes off {}"


def plainly(base: Base, symbol: str) -> str:
    """What the base calls a thing in everyday words; else its label."""
    return base.record(symbol).text("plainly") or base.label(symbol)


def in_a_word(base: Base, symbol: str) -> str:
    """How much a verdict says goes, in a word: `well`, `in part`, `hardly`."""
    return base.record(symbol).text("inAWord") or plainly(base, symbol)


def caption_in_a_word(row: Verdict) -> str:
    """The same as a heading of what is listed."""
    base = row.case.world.base
    told = in_a_word(base, row.value)
    if row.role is Role.AT_LEAST_PARTLY and not cleans(row.case.world, row.wash):
        # A rinse is no wash that works well or less well.
        told = "in part at least"
    told = f"{told[:1].upper()}{told[1:]}"
    return f"{told} (sources disagree)" if row.disputed else told


def caption_of(row: Verdict) -> str:
    """A verdict in a few words, as it stands beside its mark."""
    told = plainly(row.case.world.base, row.value)
    return f"{told} (sources disagree)" if row.disputed else told


def claim_of(row: Verdict) -> str:
    """What a wash does to a film, as one would say it."""
    base = row.case.world.base
    film = aloud(base, row.film)
    whose = f" from {row.source}" if row.source else ""
    if row.role is Role.NO_WASH_NEEDED:
        how = base.record(row.value).text("spokenAs")
        told = f"{film}{whose} needs no wash"
        return as_sentence(f"{told}: {how}" if how else told)
    said = _CLAIMS[row.role]
    if row.contested:
        said = _DISPUTED.get(row.contested, _ANY_DISPUTED)
    told = said.format(row.wash, f"{film}{whose}")
    return as_sentence(told[:1].upper() + told[1:] if row.wash == WATER else told)


def sure_of(rows: Iterable[Row]) -> str:
    """How sure some rows are, in everyday words, each once.

    Of several ways in which they stand only the weakest is told.
    """
    found = [row for row in rows if row.standing]
    ways = dict.fromkeys(map(_stands, found))
    if len(ways) < 2:
        return "".join(ways)
    return f"partly {_stands(min(found, key=_rank))}"


def _rank(row: Explained) -> tuple[object, bool]:
    record = row.case.world.base.record(row.standing)
    return record.number("rank") or 0, not row.from_memory


def _stands(row: Explained) -> str:
    if not row.standing:
        return ""
    return RECALLED if row.from_memory else plainly(row.case.world.base, row.standing)


def doubt_of(row: Verdict) -> str:
    """What of a verdict is not known, and why; empty if all is."""
    least, most = ENDS[row.role]
    if least is most:
        return ""
    if any(row.case.model.match(UNREAD_LINE, (row.goal[1][0], None))):
        return _unread(row)
    if puts_back(row) or row.contested:
        return ""
    if row.role is Role.OPEN:
        return "Nobody has published a test that would settle it."
    what = "all" if least is Role.PART_OF_IT else "any"
    return f"Whether {what} of it really goes, nobody has shown."


def _unread(row: Verdict) -> str:
    """Which names of the label of a wash nobody understood."""
    names = unread_names(row.case.world, row.wash)
    if len(names) == 1:
        ((name, place),) = names
        return (
            f"{name}, {nth(place)} on its list, is a name that tells nobody what it "
            "is. It may tip this either way."
        )
    if names:
        return (
            f"{len(names)} names on its label tell nobody what they are. They may tip "
            "this either way."
        )
    return "Part of its label could not be read; that decides it."
