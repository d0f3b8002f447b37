"""What a picture says of many: washes, films, products, each group with why."""

from __future__ import annotations

import re
from collections.abc import Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import acting
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.answers.folded_words import MANY
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.grammar.query import tree as q
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Strand
from abluent.shell.told.asking import (
    Asking,
    cleans,
    unread_line,
)
from abluent.shell.told.by_family import by_family
from abluent.shell.told.compared import clauses, compared, with_what_is_in_it
from abluent.shell.told.group import Cell, Group, Table
from abluent.shell.told.groups import (
    groups_of,
    side_by_side,
    verdicts_among,
)
from abluent.shell.told.headings import (
    LONGEST,
    asked,
    heading_of_list,
    heading_of_table,
    headline,
    in_part,
    numbered,
)
from abluent.shell.told.labels import YES_NO, deposit_of
from abluent.shell.told.spoken_names import (
    aloud,
    few,
    kind_aloud,
    nth,
    spoken_alone,
)
from abluent.shell.told.told import Told
from abluent.shell.told.wash_claims import each_is_asked
from abluent.shell.told.washes import Washes

_LONG_NAME = 60
_NOT_ALL = "Not all of it"
_MILDNESS = "How mild a wash is, is judged by its kind of cleanser."
_WHOLE = (q.Extent.FULLY, q.Extent.SURELY)


def listed(  # noqa: PLR0911 - each kind of list is told by itself
    told: Told, answer: Answer, question: str, asking: Asking, rows: Sequence[Row]
) -> Told:
    """Return what is listed, with a heading that answers the question."""
    found = verdicts_among(rows)
    every = verdicts_among([*rows, *answer.others])
    apart = _compared_for(told, answer, asking, found)
    if apart is not None:
        return apart
    table = side_by_side(found) if answer.compared or len(found) == len(rows) else None
    if table is not None and len(every) == len(found):
        told = told._replace(claim=heading_of_table(asking, found))
        if len(table.rows) == 1:
            # What each cleans with and leaves makes more of a table of one row.
            wider = with_what_is_in_it(table, found)
            return told._replace(table=wider, else_groups=_of_one_row(table))
        return told._replace(table=table, else_groups=tuple(groups_of(found, ())))
    alone = len(rows) + len(answer.others) == 1
    worst = each_is_asked(asking)
    groups: Sequence[Group] = ()
    if not alone:
        groups = groups_of(rows, answer.others, worst=worst)
    if answer.truth == "no" and every and len(every) == len(rows) <= MANY:
        # What decides comes first: the film of which least goes.
        groups = list(reversed(groups))
    grid = _grid(told, answer, asking, every)
    if grid is not None:
        return grid._replace(else_groups=tuple(groups))
    plain = _in_words(told, answer, asking, question)
    if plain is not None:
        return plain
    if not groups or (not every and _are_sentences(groups)):
        world = asking.world
        unread = [unread_line(world, p) for p in asking.products] if world else []
        told = told._replace(beneath=tuple(filter(None, unread[:2])))
        return _prose(told, answer, question, rows, bool(groups))
    heading = heading_of_list(answer, asking, rows)
    groups = numbered(groups, answer, asking)
    word = YES_NO.get(answer.truth, "")
    if answer.truth == "no" and len(every) == len(rows) > 1 and in_part(every):
        # A no to all of them is none to each.
        word, heading = _NOT_ALL, in_part(every)
    told = told._replace(
        word=word,
        claim=heading or (asked(question) if answer.truth else headline("", question)),
        groups=tuple(groups),
        else_groups=_bare(every, worst=worst),
        beneath=tuple(_unread(asking, rows, answer)),
    )
    told = told.with_reasons(
        [_all_of_it(answer, asking), *_besides(answer, rows, worst=worst)]
    )
    if getattr(asking.query, "order", None) is q.Order.MILDEST and answer.in_order:
        told = told._replace(note=_MILDNESS)
    if told.word:
        return told
    mark, caption = _leading(rows, groups)
    if mark is not None and len(groups) == 1:
        # The mark above is that of the one group.
        kept = groups[0]._replace(mark=None)
        told = told._replace(groups=(kept if every else kept._replace(word=""),))
    return told._replace(mark=mark, caption=caption)


def _compared_for(
    told: Told, answer: Answer, asking: Asking, found: Sequence[Verdict]
) -> Told | None:
    """What is compared for the films of another thing, film by film."""
    if not isinstance(asking.query, q.Compare) or answer.compared:
        return None
    table = side_by_side(found)
    several = len({film_key(r) for r in found}) > 1 and not (
        table and len(table.rows) == 1
    )
    whole = len(found) == len(answer.rows) + len(answer.others)
    return compared(told, answer, asking) if several and whole else None


def _grid(
    told: Told, answer: Answer, asking: Asking, every: Sequence[Verdict]
) -> Told | None:
    """Many washes over many films as a grid of kinds; None where it is no such."""
    whole = len(every) == len(answer.rows) + len(answer.others) > 0
    if not isinstance(asking.query, q.What) or not whole or answer.in_order:
        return None
    return by_family(told, every)


def _all_of_it(answer: Answer, asking: Asking) -> str:
    """That none was shown to take all, where it was asked which do."""
    said = asking.act
    if not isinstance(said, q.Clears) or not isinstance(asking.query, q.Which):
        return ""
    if said.extent not in _WHOLE or isinstance(asking.query.predicate, q.Not):
        return ""
    found = verdicts_among([*answer.rows, *answer.others])
    every = len({row.wash for row in found}) > 1
    sure = any(row.role is Role.CLEARED for row in found)
    none = not verdicts_among(answer.rows) and not sure
    return "None is known to take all of it off in one wash." if none and every else ""


def _bare(found: Sequence[Verdict], *, worst: bool) -> tuple[Group, ...]:
    """Several washes by bare names, for where there is less room."""
    judged = [row for row in found if row.role is not Role.NO_WASH_NEEDED]
    if len({row.wash for row in judged}) < 2:
        return ()
    return tuple(Washes(found, worst=worst).groups(kinds=False))


def _in_words(told: Told, answer: Answer, asking: Asking, question: str) -> Told | None:
    """What is best said in the sentence of an answer: a comparison, what a thing is."""
    if isinstance(asking.query, q.Compare):
        return compared(told, answer, asking)
    if isinstance(asking.query, q.Define):
        return told._replace(claim=headline(answer.sentence, question))
    return None


def _unread(asking: Asking, rows: Sequence[Row], answer: Answer) -> list[str]:
    """What was not understood of the one or two labels that a list is about."""
    if asking.world is None or len(asking.products) > 2:
        return []
    every = [*rows, *answer.others]
    about = [r for r in every if isinstance(r, Verdict | Left)]
    used = {n for r in about for n in (r.source, getattr(r, "wash", ""))}
    named = [each for each in asking.products if each in used]
    alone = len(used - {""}) == 1
    lines = (unread_line(asking.world, each, alone=alone) for each in named)
    return [line for line in lines if line]


def _besides(answer: Answer, rows: Sequence[Row], *, worst: bool) -> list[str]:
    """What cleans, and what is not known, where one wash meets many films."""
    found = verdicts_among([*rows, *answer.others])
    if len({row.wash for row in found}) > 1:
        washes = Washes(found, worst=worst)
        puts = [
            f"{wash} puts {few(films, 2)} on hair itself."
            for wash, films in _put_on(found).items()
            if wash not in washes.apart
        ]
        return [*washes.besides(), *puts[:2]]
    if not found:
        return []
    told = []
    first = found[0]
    _, at_work = acting(first)
    base = first.case.world.base
    if at_work:
        kind = kind_aloud(base, base.classes_of(at_work[0].symbol))
        name = f"{base.label(at_work[0].symbol)} ({nth(at_work[0].place)} on its list)"
        does = (
            "It cleans"
            if cleans(first.case.world, first.wash)
            else "What acts first is"
        )
        does += " first of all with" if does == "It cleans" else ""
        told.append(f"{does} {name}{f', {kind}' if kind else ''}.")
    doubt = [row for row in found if ENDS[row.role][0] is not ENDS[row.role][1]]
    if doubt and answer.truth == "open":
        told.append("Some comes off; whether all of it does, nobody has tested.")
    return told


def _put_on(found: Sequence[Verdict]) -> dict[str, list[str]]:
    """What each of several washes leaves on hair of what it is to take off."""
    back: dict[str, dict[str, None]] = {}
    for row in found:
        if row.role not in {Role.NO_WASH_NEEDED, Role.OPEN} and puts_back(row):
            base = row.case.world.base
            names = (aloud(base, each) for each in left_itself(row) or [row.film])
            back.setdefault(row.wash, {}).update(
                dict.fromkeys(map(spoken_alone, names))
            )
    return {wash: list(films) for wash, films in back.items()}


def _prose(
    told: Told, answer: Answer, question: str, rows: Sequence[Row], sentences: bool
) -> Told:
    """What an answer says in its sentence, cut into short ones."""
    word = YES_NO.get(answer.truth, "")
    claim = headline(answer.sentence, question)
    first = re.split(r"(?<=\.) ", answer.sentence)[0]
    if not rows and len(told.cut(first)) <= LONGEST:
        claim = first
    if sentences or word:
        claim = asked(question)
    reasons = [] if sentences or not rows else list(rows[0].reasons)
    if reasons and isinstance(rows[0], Member) and (decides := deposit_of(rows[0])):
        reasons = [decides]
    if not reasons and (claim == asked(question) or word):
        # A question is never left without an answer.
        reasons = list(clauses(answer.sentence, question))
    return told._replace(word=word, claim=claim).with_reasons(reasons)


def _are_sentences(groups: Sequence[Group]) -> bool:
    """Whether what is listed are no names."""
    names = [name for group in groups for name in group.names if group.mark is None]
    if not names:
        return False
    return any(not g.word for g in groups) and max(map(len, names)) > _LONG_NAME


def _of_one_row(table: Table) -> tuple[Group, ...]:
    """The washes of a table of one row, those together that do the same."""
    ((_, cells),) = table.rows
    alike: dict[Cell, list[str]] = {}
    for wash, cell in zip(table.columns, cells, strict=True):
        if cell is not None:
            alike.setdefault(cell, []).append(wash)
    return tuple(
        Group(cell.mark, cell.word, tuple(washes), len(washes))
        for cell, washes in alike.items()
    )


def _leading(rows: Sequence[Row], groups: Sequence[Group]) -> tuple[Strand | None, str]:
    """The one mark of all that is listed; none where each group has its own."""
    marks = {group.mark for group in groups}
    if len(marks) == 1 and None not in marks:
        return groups[0].mark, groups[0].word
    if rows and all(isinstance(row, Left) and row.sure for row in rows):
        return LEFT, "stays on hair"
    if len(rows) == 1 and isinstance(rows[0], Left):
        return MAY_BE_LEFT, "may stay on hair"
    return None, ""
