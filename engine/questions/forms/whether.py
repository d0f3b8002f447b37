"""Whether something is so: `does A clear B`, `is A a B`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.contract import ISA, LISTED
from abluent.engine.base.kinds import telling
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Member, Row, symbol_of
from abluent.engine.questions.answers.degrees import led_by
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.answers.wording import (
    YES_OR_NO,
    is_of_some_grades,
    kinds_of_grades,
    leave_verb,
    row_phrase,
    verdicts_sentence,
    without_head,
)
from abluent.engine.questions.forms.looks_like import (
    class_asked,
    only_in_its_name,
    only_sounds_like,
)
from abluent.engine.questions.forms.notes import (
    beside,
    instead,
    offered_instead,
    turning,
    under_conditions,
    unread,
)
from abluent.engine.questions.forms.nothing_left import nothing_left
from abluent.engine.questions.verbs.bearing import PLAIN, takes_part
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.one_percent import of_amounts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q

_NAMED, _SEVERAL = 3, 2
_TRUTH = {True: "Yes", False: "No", None: "Open"}


def whether(judge: Judge, said: q.Statement, text: str) -> Answer:
    """Judge a statement.

    Args:
        judge: judges its predicate.
        said: the statement.
        text: the question in the language's own wording.

    Raises:
        Unanswerable: it is asked what an ingredient contains.
    """
    items = judge.terms.items(said.subject, place_of(said.predicate))
    _lists_something(judge, said, items)
    judged = judge.judge(items, said.predicate)
    truths = [judged[item].truth for item in items]
    rows = tuple(row for item in items for row in judged[item].rows)
    truth = False if False in truths else None if None in truths else True
    turned = [*turning(rows)]
    notes = [*unread(judge, items, said.predicate), *turned]
    notes += under_conditions(judge, said.predicate)
    notes += beside(judge, items, said.predicate)
    others = offered_instead(judge, items, said.predicate, rows)
    if others or not turned:
        # Where a condition turns it, that no wash does it would be too much said.
        notes += instead(judge, said.predicate, rows, others)
    if not rows and isinstance(said.predicate, q.Clears):
        return nothing_left(judge, said.predicate, text, notes)
    deciding = [r for i in items if judged[i].truth is truth for r in judged[i].rows]
    sentence = truth_sentence(judge.world, truth, rows) or _told(
        judge, said, truth, deciding, items
    )
    if isinstance(said.predicate, q.Resists | q.Outdoes):
        # How far each goes is no answer to which of them goes further.
        sentence = f"{YES_OR_NO[truth]}: {without_head(sentence)}"
    if isinstance(said.predicate, q.Resists):
        sentence = judge.contrasts.resist_sentence(said, truth, rows) or sentence
    if isinstance(said.predicate, q.Differs):
        strong = said.predicate.strength is q.Strength.STRONGER
        verb = judge.strength if strong else judge.mildness
        sentence = verb.sentence(said, truth, rows)
    if _denies_all(said.predicate) and any(map(takes_part, rows)):
        # That not all goes is so; who asks whether none does is not told yes.
        sentence = f"It does in part: {without_head(sentence)}"
    if truth is False and isinstance(said.predicate, q.Is) and len(items) == 1:
        sentence += only_in_its_name(judge, items[0], said.predicate.object)
    if told := of_amounts(judge, said.predicate, items, deciding or rows, truth):
        sentence, more = told
        notes += more
    if isinstance(said.predicate, q.Shifts):
        sentence = judge.contrasts.shift_sentence(said, truth, rows)
    return Answer(
        text,
        sentence,
        rows,
        notes=notes,
        members=items,
        truth=_TRUTH[truth].lower(),
        instead=others or (),
    )


def _denies_all(said: q.Predicate) -> bool:
    """Whether it is asked if something is not taken off, with no word of how much."""
    act = said.part if isinstance(said, q.Not) else None
    return isinstance(act, q.Clears) and act.extent == PLAIN


def truth_sentence(world: World, truth: bool | None, rows: Sequence[Row]) -> str:
    """The verdicts that decide whether something is so; empty if none do."""
    found = [row for row in rows if isinstance(row, Verdict)]
    return verdicts_sentence(world, found, truth) if found else ""


def _lists_something(judge: Judge, said: q.Statement, items: Sequence[Item]) -> None:
    """Refuse a question of what stands on the label of an ingredient."""
    holds = isinstance(q.asked_act(said.predicate), q.Contains)
    single = [item for item in items if item.kind != PRODUCT]
    if holds and single:
        name = judge.nouns.title(single[0])
        problem = f"{name} is an ingredient and has no list itself; ask what it is"
        raise Unanswerable(problem, said.subject.span)


def _told(
    judge: Judge,
    said: q.Statement,
    truth: bool | None,
    rows: Sequence[Row],
    items: Sequence[Item],
) -> str:
    """Whether something is so, by what shows it, or else by what was looked at."""
    head = YES_OR_NO[truth]
    if rows:
        plain = isinstance(said.predicate, q.Contains) and all(
            isinstance(row, Member) and row.goal[0] == LISTED for row in rows
        )
        if plain and truth and len(items) == 1:
            names = listed([judge.world.base.label(symbol_of(row)) for row in rows])
            return f"{head}: {judge.nouns.title(items[0])} contains {names}."
        told = listed([row_phrase(judge.world, row) for row in rows], _NAMED)
        left = [row for row in rows if isinstance(row, Left)]
        if truth and len(left) == len(rows):
            told = _left_alike(judge, left) or told
        if truth and len(items) == len(rows) == 1 and rows[0].goal[0] == ISA:
            return f"{head}{_by_grade(judge.world, rows[0], told)}."
        return f"{head}: {told}."
    if isinstance(said.predicate, q.Contains):
        if named := _not_listed(judge, said.predicate, truth, items):
            return named
    from abluent.grammar.query.printer import print_statement  # noqa: PLC0415

    denied = said.predicate.part if isinstance(said.predicate, q.Not) else None
    opposite = denied or q.Not(said.predicate)
    as_it_is = said if truth else q.Statement(said.subject, opposite)
    told = f"whether {print_statement(said)} is not known here"
    if truth is not None:
        told = print_statement(as_it_is)
    if truth and isinstance(said.predicate, q.Is) and _on_shelf(judge, items):
        # What kind a product is nobody reads off its names.
        stands = told.replace(" is ", " stands as ", 1)
        return f"{head}: on this shelf {stands}.{_leader(judge, items[0])}"
    looked = _looked_at(judge, items, said.predicate, truth)
    return f"{head}: {told}{looked or _what_it_is(judge, items, said)}."


def _left_alike(judge: Judge, rows: Sequence[Left]) -> str:
    """What one product leaves, its name once; empty where it is not left alike."""
    world = judge.world
    verbs = {(row.source, row.how, leave_verb(world, row.source)) for row in rows}
    if len(verbs) != 1 or len(rows) < _SEVERAL or not rows[0].sure:
        return ""
    ((source, _, verb),) = verbs
    return f"{verb.format(source)} {listed([world.base.label(r.film) for r in rows])}"


def _on_shelf(judge: Judge, items: Sequence[Item]) -> bool:
    """Whether one product is asked about, which the shelf says what it is."""
    return len(items) == 1 and items[0].key in judge.world.products


def _not_listed(
    judge: Judge, said: q.Contains, truth: bool | None, items: Sequence[Item]
) -> str:
    """That a label lists nothing of a class, or none that was understood.

    Empty where no class of ingredients is asked for by itself, at any level.
    """
    kind, _ = class_asked(judge, said.object)
    quantity = getattr(said.object, "quantity", q.Quantity.SOME)
    there = not truth if quantity is q.Quantity.NO and truth is not None else truth
    plain = said.level is None and said.place is None and len(items) == 1
    of_all = quantity not in {q.Quantity.SOME, q.Quantity.NO}
    if not kind or not plain or of_all or there:
        return ""
    (item,) = items
    label = judge.world.base.label(kind)
    head = f"{YES_OR_NO[truth]}: {judge.nouns.title(item)} contains no {label}"
    looked = _looked_at(judge, items, q.Leaves(q.Thing()), truth).removeprefix("; ")
    if truth is None:
        head += " among the names that were understood"
    like = only_sounds_like(judge, items, said.object)
    built = _built_on(judge, item, kind)
    return " ".join(filter(None, [f"{head} ({looked}).", built, like]))


def _built_on(judge: Judge, item: Item, kind: str) -> str:
    """What a wash is built on that holds none of a class of cleansers."""
    base = judge.world.base
    if base.term(Role.CLEANSER) not in base.ancestors(kind):
        return ""
    return _leader(judge, item).lstrip()


def _leader(judge: Judge, item: Item) -> str:
    """What a wash is built on; empty for what is no wash."""
    if not judge.nouns.cleans(item):
        return ""
    case = Case.of(judge.world, [item.key])
    main = led_by(case, case.world.symbol(item.key))
    return f" It is built on {main}." if main else ""


def _by_grade(world: World, row: Row, told: str) -> str:
    """What a thing is, and that its name does not say which grade, if it does not."""
    symbol, kind = (str(each) for each in row.goal[1])
    kinds = kinds_of_grades(world.base, symbol)
    if not kinds:
        return f": {told}"
    some = is_of_some_grades(world.base, symbol, kind)
    which = f"it may be {kinds}, and its name does not say which"
    return f"{', in some of its grades' if some else ''}: {told}; {which}"


def _what_it_is(judge: Judge, items: Sequence[Item], said: q.Statement) -> str:
    """What a thing is instead, where it is asked whether it is something."""
    base = judge.world.base
    if not isinstance(said.predicate, q.Is) or len(items) != 1:
        return ""
    (item,) = items
    kinds = telling(base.classes_of(item.key), base) if item.key in base else []
    return f"; it is {with_article(base.label(kinds[0]))}" if kinds else ""


def _looked_at(
    judge: Judge, items: Sequence[Item], said: q.Predicate, truth: bool | None
) -> str:
    """How many names were read for an answer, and how many could not be."""
    labels = [i.key for i in items if i.key in judge.world.products]
    if not labels:
        return f"; {len(items)} looked at" if len(items) > 1 else ""
    readings = [r for name in labels for r in judge.world.read(name).readings]
    unread = sum(reading.symbol is None for reading in readings)
    more = f", {unread} more not understood" if unread else ""
    names = len(readings) - unread
    lists = isinstance(said, q.Contains) and not more
    none = ", and none of them is one" if lists and truth is False else ""
    return f"; {names} name{'s' * (names != 1)} read{more}{none}"


def place_of(said: q.Predicate | None) -> str:
    """Where the subject of a predicate is looked for first."""
    while isinstance(said, q.Not | q.Both | q.Either):
        said = said.part if isinstance(said, q.Not) else said.parts[0]
    about = q.Undergoes | q.Is | q.Named | q.Stays | q.Resists | q.Shifts
    return INGREDIENT if isinstance(said, about) else PRODUCT
