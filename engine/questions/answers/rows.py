"""The rows of an answer in words, for every face of the shell alike."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import (
    ISA,
    LEAVES,
    LEAVES_NONE,
    LEAVING_UNKNOWN,
    LEVEL,
    LEVEL_ABOVE,
    LEVEL_AT,
    LEVEL_AT_LEAST,
    LEVEL_AT_MOST,
    LEVEL_BELOW,
    LEVEL_WITHIN,
    MAY_LEAVE,
    MILD,
    MILDER,
    PLACED_AS,
    REMOVED_BY,
    SHOWS,
    STRONG,
    STRONGER_ON,
    TAKES_AS_MUCH,
    TOLD_OF,
)
from abluent.engine.base.phrases import PRODUCT, product_name, with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import Step
from abluent.engine.questions.answers.answer import (
    Answer,
    Member,
    NotMember,
    Row,
    symbol_of,
)
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import TAKES, Left, Verdict
from abluent.engine.questions.answers.wording import leave_verb
from abluent.grammar.common.text import in_words

_SHORT, _NAMED = 78, 3
_FEW = 3
"""Of so few the one that stands lowest tells how sure all are."""
ABOUT_LEVELS = frozenset(
    {
        *(LEVEL, LEVEL_ABOVE, LEVEL_AT_LEAST, LEVEL_BELOW, LEVEL_AT_MOST),
        *(LEVEL_AT, LEVEL_WITHIN),
    }
)
"""The predicates of rows that tell a level."""
ABOUT_DEGREES = frozenset(
    {
        *(MILDER, MILD, STRONG, PLACED_AS, SHOWS, TOLD_OF),
        *(STRONGER_ON, TAKES_AS_MUCH, REMOVED_BY),
    }
)
"""Those of rows that tell how mild a wash is, or how strong."""


def all_rows(answer: Answer) -> Iterator[Row]:
    """Return the rows of an answer, and of the answers it compares."""
    yield from answer.rows
    for part in answer.compared:
        yield from all_rows(part)


LEFT_WORDS = {
    LEAVES: "yes",
    MAY_LEAVE: "may",
    LEAVES_NONE: "no",
    LEAVING_UNKNOWN: "not known",
}
"""Whether something is left, in the words of the machine-readable face."""


def traced_rows(answer: Answer) -> list[Row]:
    """Return the rows that a trace shows: what answers, or else why nothing does."""
    return list(all_rows(answer)) or list(answer.others)


def named(row: Explained, symbol: str) -> str:
    """Return what a reader is shown for a symbol of the base."""
    return row.case.world.base.label(symbol)


def title(row: Row) -> str:
    """Return a row in a few words: what it is about, and the verdict if it has one."""
    if isinstance(row, Verdict):
        source = f" from {row.source}" if row.source else ""
        return f"{row.wash}, {named(row, row.film)}{source}: {verdict(row)}"
    if isinstance(row, Left):
        told = "" if row.how in {LEAVES, MAY_LEAVE} else f": {LEFT_WORDS[row.how]}"
        return f"{named(row, row.film)}{told}"
    if row.goal[0] not in {ISA, *ABOUT_LEVELS, *ABOUT_DEGREES}:
        return thing(row)
    sentences = row.case.world.known.sentences
    if isinstance(row, NotMember):
        return sentences.absence(row.goal[0], row.pattern)
    return sentences.claim(*row.goal)


def listing(
    rows: Sequence[Row], *, whole: bool = False, telling: bool = True
) -> list[str]:
    """Rows as lines of a list: those of one product, or one class, together.

    Args:
        rows: the rows.
        whole: whether each row has a line of its own.
        telling: whether each line tells how it stands.
    """
    if not whole and (one := _kinds_of_one(rows)):
        return one
    several = len({_product(row) for row in rows} - {""}) > 1
    many = not whole and len(rows) > _MANY
    lines: dict[tuple[str, ...], list[str]] = {}
    for number, row in enumerate(rows):
        stands = standing(row) if telling and not many else ""
        product = _product(row)
        if isinstance(row, Left) and not whole:
            head = f"{row.source} {_LEAVES[row.how]}"
            if row.sure:
                head = leave_verb(row.case.world, row.source).format(row.source)
            head = head if several else _LEFT[row.how]
            lines.setdefault((head, stands), []).append(named(row, row.film))
        elif isinstance(row, Verdict):
            lines[str(number), stands, _said(row)] = []
        elif isinstance(row, Left):
            lines[str(number), stands, title(row)] = []
        elif row.goal[0] == STRONGER_ON and not whole:
            lines.setdefault((_set_above(row), stands), []).append(_family(row))
        elif product and title(row) == thing(row):
            head = f"{product}:" if several else ""
            lines.setdefault((head, stands), []).append(title(row))
        elif row.goal[0] == ISA and not whole and len(rows) > _ALIKE:
            base, kind_ = row.case.world.base, str(row.goal[1][1])
            no = isinstance(row, NotMember)
            kind = f"no {base.label(kind_)}" if no else base.plural(kind_)
            lines.setdefault((f"{kind}:", stands), []).append(thing(row))
        elif many and not isinstance(row, Left) and title(row) == thing(row):
            lines.setdefault(("", stands), []).append(thing(row))
        else:
            lines[str(number), stands, title(row)] = []
    return [_line(key, names, whole) for key, names in lines.items()]


def _set_above(row: Explained) -> str:
    """Which wash a row sets above which."""
    one, other = (row.case.world.name(str(each)) for each in row.goal[1][:2])
    return f"{one} is set above {other} on"


def _family(row: Explained) -> str:
    return row.case.world.base.plural(str(row.goal[1][2]))


def _said(row: Verdict) -> str:
    """A verdict as a line of a list, how much of the film goes."""
    film = named(row, row.film) + (f" from {row.source}" if row.source else "")
    if row.role is Role.NO_WASH_NEEDED:
        how = row.case.world.base.record(row.value).text("spokenAs")
        return f"{film} needs no wash{f', for {how}' if how else ''}"
    disputed = " (disputed)" if row.disputed else ""
    return f"{row.wash} takes {TAKES[row.role]} of {film}{disputed}"


def _kinds_of_one(rows: Sequence[Row]) -> list[str]:
    """All that one thing is, in one line; nothing if rows are of anything else."""
    members = [row for row in rows if isinstance(row, Member) and row.goal[0] == ISA]
    if len(rows) < 2 or len(members) < len(rows):
        return []
    if len({row.item for row in members}) > 1:
        return []
    base = rows[0].case.world.base
    return [
        f"It is {listed([with_article(base.label(_kind(row))) for row in members])}."
    ]


def _kind(row: Member) -> str:
    return str(row.goal[1][1])


_ALIKE, _SAID, _MANY = 3, 8, 12
_LEAVES = {
    LEAVES: "leaves",
    MAY_LEAVE: "may leave",
    LEAVES_NONE: "leaves no",
    LEAVING_UNKNOWN: "is not known to leave",
}
_LEFT = {
    LEAVES: "",
    MAY_LEAVE: "perhaps",
    LEAVES_NONE: "not left:",
    LEAVING_UNKNOWN: "not known:",
}


def _line(key: tuple[str, ...], names: Sequence[str], whole: bool) -> str:
    head, stands, *title_ = key
    told = title_[0] if title_ else ""
    if names:
        most = len(names) if whole else _SAID
        told = f"{head} {listed(names, most)}".strip()
    return f"{told} ({stands})" if stands else told


def _product(row: Row) -> str:
    """The product that a row is about, if its fact is about one."""
    if isinstance(row, Left):
        return row.source
    first = str(row.goal[1][0]) if row.goal[1] else ""
    return product_name(first) if first.startswith(PRODUCT) else ""


def thing(row: Member | NotMember) -> str:
    """Return the name of the thing that a row is about."""
    key = row.item.key
    return named(row, key) if key in row.case.world.base else key


def verdict(row: Verdict) -> str:
    """Return a verdict in the words of the machine-readable face."""
    return in_words(row.value)


def standing(row: Explained) -> str:
    """Return how a row stands, in words; empty if nothing in it has a standing."""
    words = in_words(row.standing)
    return f"{words}, from memory" if words and row.from_memory else words


def how_sure(rows: Sequence[Row]) -> str:
    """How sure some rows are, in words an audience follows.

    That is how most of them stand, or the least sure of a few; then which of the others
    are surer, and which are less sure.
    """
    groups: dict[str, list[str]] = {}
    washes = {row.wash for row in rows if isinstance(row, Verdict)}
    for row in rows:
        name = named(row, symbol_of(row))
        if isinstance(row, Verdict) and len(washes) > 1:
            name = row.wash
        if row.standing:
            names = groups.setdefault(str(row.standing), [])
            names += [] if name in names else [name]
    if not groups:
        return ""
    scale = list(rows[0].case.world.known.program.standings)
    base = rows[0].case.world.base
    least = max(groups, key=scale.index)
    most = max(groups, key=lambda stands: len(groups[stands]))
    most = least if len(rows) <= _FEW else most
    told = [f"How sure: {likelihood(base, most)}"]
    for stands in sorted(groups, key=scale.index) if len(rows) > _FEW else ():
        if stands != most:
            how = "surer" if scale.index(stands) < scale.index(most) else "less sure"
            why = base.record(stands).text("plainly") or base.label(stands)
            told.append(f"{how} of {listed(groups[stands], _NAMED)} ({why})")
    return f"{'; '.join(told)}."


def likelihood(base: Base, standing: str) -> str:
    """How likely something is that stands so, and what says so."""
    record = base.record(standing)
    how, why = record.text("likelihood"), record.text("plainly")
    return f"{how} ({why})" if how and why else how or why or base.label(standing)


def mostly_sure(rows: Sequence[Row]) -> str:
    """How most of very many rows stand, in a sentence; empty if none has a standing."""
    counted = Counter(str(r.standing) for r in rows if r.standing).most_common()
    if not counted:
        return ""
    base = rows[0].case.world.base
    mostly = "mostly " * (len(counted) > 1)
    return f"How sure: {mostly}{likelihood(base, counted[0][0])}."


def cited(row: Explained) -> list[str]:
    """Return the works a row rests on, in words."""
    return [named(row, source) for source in row.sources]


def short_citation(base: Base, symbol: str) -> str:
    """Return a work by its title, with its authors where these are few, and year."""
    citation = base.label(symbol)
    if len(citation) <= _SHORT:
        return citation.rstrip(".")
    return base.record(symbol).text("title") or citation


def step_words(
    base: Base, step: Step, numbers: Mapping[str, int], whole: str = ""
) -> str:
    """Return a step of an account with how it stands and the numbers of its works.

    How it stands is left out where that is how the `whole` stands.
    """
    marks = "".join(f"[{numbers[name]}]" for name in step.sources)
    told = step.standing and step.standing != whole
    stands = f"({base.label(step.standing)})" if told else ""
    limits = f"({step.limits})" if step.limits else ""
    return " ".join(filter(None, [step.text, stands, limits, marks]))
