"""What a picture says of many: washes, films, products, each group with why."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from abluent.engine.base.contract import LEAVING_UNKNOWN
from abluent.engine.questions.answers.account import acting
from abluent.engine.questions.answers.answer import Answer, Member, Row
from abluent.engine.questions.answers.folded_words import MANY
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Strand
from abluent.shell.told.asking import (
    Asking,
    unread_in_brief,
    unread_line,
    unread_names,
)
from abluent.shell.told.groups import (
    Cell,
    Group,
    Table,
    by_the_worst,
    groups_of,
    least_among,
    side_by_side,
    verdicts_among,
)
from abluent.shell.told.headings import (
    LONGEST,
    asked,
    heading_of_list,
    heading_of_table,
    headline,
)
from abluent.shell.told.labels import YES_NO, deposit_of
from abluent.shell.told.spoken_names import aloud, few, kind_aloud, spoken_alone
from abluent.shell.told.told import Told

_LONG_NAME = 60
_PRODUCTS = 9
"""So many products are listed with what each of them leaves."""
_FILMS_NAMED = 8


def listed(
    told: Told, answer: Answer, question: str, asking: Asking, rows: Sequence[Row]
) -> Told:
    """Return what is listed, with a heading that answers the question."""
    found = verdicts_among(rows)
    every = verdicts_among([*rows, *answer.others])
    table = side_by_side(found) if answer.compared or len(found) == len(rows) else None
    if table is not None and len(every) == len(found):
        told = told._replace(claim=heading_of_table(asking, found))
        if len(table.rows) == 1:
            # A table of one row is half empty: its cells are a list.
            return told._replace(groups=_of_one_row(table))
        return told._replace(table=table, else_groups=tuple(groups_of(found, ())))
    alone = len(rows) + len(answer.others) == 1
    groups: Sequence[Group] = () if alone else groups_of(rows, answer.others)
    if answer.truth == "no" and every and len(every) == len(rows) <= MANY:
        # What decides comes first: the film of which least goes.
        groups = list(reversed(groups))
    plain = _in_words(told, answer, asking, question)
    if plain is not None:
        return plain
    if not groups or (not every and _are_sentences(groups)):
        world = asking.world
        unread = [unread_line(world, p) for p in asking.products] if world else []
        told = told._replace(beneath=tuple(filter(None, unread[:2])))
        return _prose(told, answer, question, rows, bool(groups))
    heading = heading_of_list(answer, asking, rows)
    told = told._replace(
        word=YES_NO.get(answer.truth, ""),
        claim=heading or (asked(question) if answer.truth else headline("", question)),
        groups=tuple(groups),
        beneath=tuple(_unread(asking, rows, answer)),
        else_groups=_merged(groups, rows, answer),
    )
    if by_the_worst(every):
        named = isinstance(asking.act, q.Clears) and asking.act.source is None
        films = _films(every) if named else []
        told = told._replace(
            note=_note(every),
            beneath=(*films, *told.beneath),
            else_groups=_those_and_others(answer),
        )
    told = told.with_reasons(_besides(answer, rows))
    if told.word:
        return told
    mark, caption = _leading(rows, groups)
    if mark is not None and len(groups) == 1:
        # The mark above is that of the one group.
        kept = groups[0]._replace(mark=None)
        told = told._replace(groups=(kept if every else kept._replace(word=""),))
    return told._replace(mark=mark, caption=caption)


def _merged(
    groups: Sequence[Group], rows: Sequence[Row], answer: Answer
) -> tuple[Group, ...]:
    """The same groups, each told once, where some were told apart by why."""
    if all(group.word for group in groups):
        return ()
    return tuple(groups_of(rows, answer.others, apart=False))


def _those_and_others(answer: Answer) -> tuple[Group, ...]:
    """The washes that do what was asked, and those that are not known to."""
    so = dict.fromkeys(row.wash for row in verdicts_among(answer.rows))
    rest = dict.fromkeys(
        row.wash for row in verdicts_among(answer.others) if row.wash not in so
    )
    if not so:
        return ()
    told = (("These do", tuple(so)), ("Of these we cannot say so", tuple(rest)))
    found = verdicts_among([*answer.rows, *answer.others])
    return tuple(
        Group(None, word, names, len(names), least_among(found, names))
        for word, names in told
        if names
    )


def _in_words(told: Told, answer: Answer, asking: Asking, question: str) -> Told | None:
    """What is best said in the sentence of an answer: a comparison, what a thing is."""
    if isinstance(asking.query, q.Compare):
        return _compared(told, answer)
    if isinstance(asking.query, q.Define):
        return told._replace(claim=headline(answer.sentence, question))
    return None


def _compared(told: Told, answer: Answer) -> Told:
    """Which of some washes takes more, what each is built on, and which is milder."""
    first, *more = re.split(r"(?<=\.) ", answer.sentence)
    besides = [f for f in answer.findings if f.kind == "besides"]
    reasons = [c for text in reversed(more) for c in _clauses(text, "")]
    reasons += [item for each in besides for item in each.items[:1]]
    return told._replace(claim=first).with_reasons(reasons)


def _note(found: Sequence[Verdict]) -> str:
    two = len({(row.film, row.source) for row in found}) == 2
    which = "worse of its two results" if two else "worst of its results"
    return f"Each wash is listed by the {which}."


def _films(found: Sequence[Verdict]) -> list[str]:
    """The films that were asked about, where there are few enough to name."""
    names = dict.fromkeys(
        spoken_alone(aloud(row.case.world.base, row.film)) for row in found
    )
    if not 2 < len(names) <= _FILMS_NAMED:
        return []
    return [as_sentence(few(list(names), _FILMS_NAMED))]


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


def _besides(answer: Answer, rows: Sequence[Row]) -> list[str]:
    """What cleans, and what is not known, where one wash meets many films."""
    found = verdicts_among([*rows, *answer.others])
    if not found or len({row.wash for row in found}) > 1:
        return []
    told = []
    first = found[0]
    _, at_work = acting(first)
    base = first.case.world.base
    if at_work:
        kind = kind_aloud(base, base.classes_of(at_work[0].symbol))
        name = f"{base.label(at_work[0].symbol)} (number {at_work[0].place})"
        told.append(f"It cleans first of all with {name}{f', {kind}' if kind else ''}.")
    doubt = [row for row in found if ENDS[row.role][0] is not ENDS[row.role][1]]
    if doubt and answer.truth == "open":
        told.append("Some comes off; whether all of it does, nobody has tested.")
    return told


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
        reasons = list(_clauses(answer.sentence, question))
    return told._replace(word=word, claim=claim).with_reasons(reasons)


def _clauses(sentence: str, question: str) -> tuple[str, ...]:
    """A long sentence as the short ones that it is made of."""
    name, colon, rest = sentence.partition(": ")
    if colon and (name in question or name in {"Yes", "No", "Open", "Cannot tell"}):
        sentence = rest
    parts = re.split(r"; |(?<=\.) ", sentence)
    return tuple(as_sentence(part[:1].upper() + part[1:]) for part in parts if part)


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


# -- what products leave -----------------------------------------------------------


def left(told: Told, asking: Asking, answer: Answer, rows: Sequence[Row]) -> Told:
    """Return what one product leaves, by family, and what of it is not known."""
    (product,) = asking.products
    found = [row for row in rows if isinstance(row, Left)]
    sure = [row for row in found if row.sure]
    groups = groups_of(found, ())
    world = found[0].case.world if found else asking.world
    unread = unread_line(world, product, alone=True) if world is not None else ""
    several = len(sure) > 1
    claim = f"{product} leaves {len(sure)} of its ingredients on hair."
    if unread and sure:
        claim = f"{product} leaves these on hair, and perhaps more."
    elif not several and sure:
        claim = (
            f"{product} leaves {aloud(sure[0].case.world.base, sure[0].film)} on hair."
        )
    elif not sure:
        claim = f"{product} may leave some of these on hair."
    mark, caption = _leading(rows, groups)
    told = told._replace(
        claim=claim,
        beneath=(unread,) if unread else (),
        groups=tuple(groups),
        mark=mark,
        caption=caption,
    )
    if not several and sure and len(found) == 1:
        told = told._replace(groups=())
        return told.with_reasons(found[0].reasons)
    return told.with_reasons([*_why_left(sure or found), _not_known(answer)])


def _why_left(found: Sequence[Left]) -> list[str]:
    """Why most of it stays, as the claims on what a product leaves say."""
    times = Counter(deposit_of(row) for row in found)
    if not found or times[""] > len(found) / 2:
        return ["What is not rinsed out stays until it is washed out."] * bool(found)
    return [text for text, _ in times.most_common(3) if text][:2]


def _not_known(answer: Answer) -> str:
    """Of what nobody knows whether it stays."""
    doubted = [
        aloud(row.case.world.base, row.film)
        for row in answer.others
        if isinstance(row, Left) and row.how == LEAVING_UNKNOWN
    ]
    return f"Nobody has shown whether {few(doubted)} stays." if doubted else ""


def products(told: Told, asking: Asking, answer: Answer, rows: Sequence[Row]) -> Told:
    """Return which products leave something, each with what it leaves."""
    found = [row for row in [*rows] if isinstance(row, Left)]
    if not found or not isinstance(asking.act, q.Leaves):
        return told._replace(claim=headline(answer.sentence, answer.query))
    world = found[0].case.world
    what = print_term(asking.act.object).replace('"', "")
    groups = [*_by_product(found, True), *_by_product(found, False)]
    sure = len({row.source for row in found if row.sure})
    s = "s" * (sure == 1)
    claim = f"{sure} of these {len(world.products)} products leave{s} {what} on hair."
    if not sure:
        claim = f"These products may leave {what} on hair."
    open_ = _open(world, answer, {row.source for row in found})
    return told._replace(
        claim=claim,
        groups=tuple(groups),
        mark=LEFT if all(row.sure for row in found) else None,
        beneath=(f"We cannot tell for {open_}.",) if open_ else (),
        else_groups=(
            *_by_product(found, True, apart=False),
            *_by_product(found, False, apart=False),
        ),
    )


def _by_product(
    found: Sequence[Left], sure: bool, *, apart: bool = True
) -> list[Group]:
    mine = [row for row in found if row.sure is sure]
    films: dict[str, list[str]] = {}
    for row in mine:
        films.setdefault(row.source, []).append(aloud(row.case.world.base, row.film))
    word = "may leave" if not sure else "leaves"
    mark = MAY_BE_LEFT if not sure else LEFT
    if films and (not apart or len(films) > _PRODUCTS):
        return [Group(mark, word, tuple(films), len(films))]
    may = "" if sure else "perhaps "
    return [
        Group(None, name, (f"{may}{few(left, 3)}",), 1) for name, left in films.items()
    ]


def _open(world: World, answer: Answer, met: set[str]) -> str:
    """The products of which nobody can tell, each with what of it is not known."""
    names = [n for n in world.products if n not in met and unread_names(world, n)]
    return few([unread_in_brief(world, name) for name in names], 2)
