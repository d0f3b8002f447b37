"""Answers in one plain sentence."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from abluent.engine.base.contract import (
    LEAVES,
    LEAVES_NONE,
    LEAVING_UNKNOWN,
    MAY_LEAVE,
    PUTS_BACK,
    UNREAD_LINE,
)
from abluent.engine.base.kinds import cleaning_kinds, product_kind, rinsed_off
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.base.store import Base
from abluent.engine.proof.nodes import RuleNode
from abluent.engine.questions.answers.answer import (
    NotMember,
    Row,
)
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.folded_words import said_films
from abluent.engine.questions.answers.folding import Folding, folded
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.spoken import spoken
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    NOT_ALL,
    TAKES,
    Left,
    Verdict,
    takes,
)
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence, in_a_row


def row_phrase(world: World, row: Row) -> str:
    """What one row says, without a full stop."""
    if isinstance(row, Verdict):
        return _verdict_phrase(world, row)
    if isinstance(row, Left):
        verb = leave_verb(world, row.source) if row.sure else _HOW_LEFT[row.how]
        return f"{verb.format(row.source)} {world.base.label(row.film)}"
    if isinstance(row, NotMember):
        predicate, _ = row.goal
        name = world.known.phrases(row.item.key)
        told = [world.known.sentences.claim(*beside) for beside in row.beside]
        short = [each.removeprefix(f"{name} is ") for each in told[1:]]
        absent = world.known.sentences.absence(predicate, row.pattern)
        known = ", ".join([*told[:1], *short])
        return f"{known}; {absent.replace(name, 'it', 1)}" if told else absent
    return world.known.sentences.claim(*row.goal)


_HOW_LEFT = {
    MAY_LEAVE: "{} may leave",
    LEAVES_NONE: "{} leaves no",
    LEAVING_UNKNOWN: "nothing here says whether {} leaves",
}


def leave_verb(world: World, product: str) -> str:
    """How it is said that a product leaves something, with a place for its name.

    What is rinsed out can leave it: how much stays after rinsing no label tells.
    """
    known = world.products.get(product)
    rinsed = known is not None and rinsed_off(known.kind, world.base)
    return "{} can leave" if rinsed else "{} leaves"


def _verdict_phrase(world: World, row: Verdict) -> str:
    film = world.base.label(row.film)
    source = f" from {row.source}" if row.source else ""
    doubt = " (disputed)" if row.disputed else ""
    if row.role is Role.NO_WASH_NEEDED:
        return f"{film}{source} needs no wash{_by_itself(world, row)}{doubt}"
    if row.role is Role.OPEN:
        return f"how much of {film}{source} {row.wash} takes is not known here{doubt}"
    if row.at_least is None:
        return f"{row.wash} {world.base.label(row.value)} {film}{source}{doubt}"
    return f"{row.wash} takes {TAKES[row.role]} of {film}{source}{doubt}"


def _by_itself(world: World, row: Verdict) -> str:
    """How a film goes that needs no wash, where the base says it."""
    how = world.base.record(row.value).text("spokenAs")
    return f", for {how}" if how else ""


_APART = 3
"""So many washes are told of one by one; more, by what they fold to."""
_NAMED = 2
"""So many films that a wash leaves itself are named."""
_OPEN = "how much of {film} {wash} takes is not known here"


def aloud(world: World, row: Verdict) -> str:
    """A verdict as it is said aloud: how much, who says so, and what is in doubt."""
    film = world.base.label(row.film)
    film += f" from {row.source}" if row.source else ""
    if row.role is Role.NO_WASH_NEEDED:
        how = _by_itself(world, row)
        return as_sentence(f"{film} needs no wash{how}{_by(world, row)}")
    kind = _sold_as(world, row.wash)
    if kind:
        used = f"{row.wash} is {kind} and not made to wash; used as a wash, "
        return as_sentence(f"{used}{_amount(world, row, 'it', film)}")
    return as_sentence(_amount(world, row, row.wash, film))


def _sold_as(world: World, wash: str) -> str:
    """What kind a product is that is not sold to clean; empty for a wash."""
    product = world.products.get(wash)
    kind = product_kind(product.kind, world.base) if product else ""
    if not kind or kind in cleaning_kinds(world.base):
        return ""
    return with_article(world.base.label(kind))


def _amount(world: World, row: Verdict, wash: str, film: str) -> str:
    """How much a wash takes, who says so and what is in doubt, as a clause."""
    low, high = row.at_least, row.at_most
    if row.role is Role.OPEN:
        return f"{_OPEN.format(wash=wash, film=film)}{_doubt(world, row)}"
    if low is None or high is None:
        # A base may judge by words alone, without two ends.
        verb = world.base.label(row.value)
        return f"{wash} {verb} {film}{_by(world, row)}"
    least, most = ENDS[row.role]
    told = takes(row.role, wash, film)
    if row.takes_most:
        told = f"{wash} takes most of {film} off, {NOT_ALL}"
    if least is Role.NONE_OF_IT and _doubt(world, row):
        told = f"{wash} takes {TAKES[row.role]} of {film}"
    if row.role is Role.PARTLY_CLEARED and low.standing != high.standing:
        told += f"{_by(world, low)}, and not all{_by(world, high)}"
    else:
        told += _by(world, high if least is Role.NONE_OF_IT else low)
    return told + ("" if least is most else _doubt(world, row))


def unsure(world: World, row: Verdict) -> str:
    """What is known of a verdict that does not settle a claim, and what is not."""
    said = aloud(world, row).removesuffix(".")
    lower = said[:1].lower() + said[1:]
    if lower.startswith(_OPEN.partition("{")[0]):
        said = lower
    return said.replace(_by(world, row), "", 1) if _by(world, row) else said


def _by(world: World, row: Explained) -> str:
    """Who says so, as it is told within a sentence."""
    if not row.standing:
        return ""
    said = world.base.record(row.standing).text("spokenAs")
    return f", {said or world.base.label(row.standing)}"


def _doubt(world: World, row: Verdict) -> str:
    """What is not known, and why."""
    least, _ = ENDS[row.role]
    what = "it takes all" if least is Role.PART_OF_IT else "it takes even part"
    if row.contested:
        parts = row.contested_words
        return f"; whether it takes {parts}, sources of equal rank disagree"
    symbol = row.goal[1][0]
    if any(row.case.model.match(UNREAD_LINE, (symbol, None))):
        if row.role is Role.OPEN:
            return ", for a line of its label was not read"
        return f"; whether {what} hangs on a line of its label that was not read"
    if least is Role.NONE_OF_IT and puts_back(row):
        return f", for it can leave {_itself(row)}"
    return ""


def left_itself(row: Verdict) -> list[str]:
    """What a wash leaves of its own for which it is not counted to take a film.

    Empty where that is the film itself, and where very many washes are judged at a
    glance, which shows no grounds.
    """
    _, (wash, film, *_) = row.goal
    found = dict[str, None]()
    if row.case.at_a_glance:
        return []
    for grade in row.grades:
        if row.case.model.holds(PUTS_BACK, (wash, grade)):
            proof = Explained(row.case, (PUTS_BACK, (wash, grade))).proof
            steps = (n for n in proof.nodes.values() if isinstance(n, RuleNode))
            for step in steps:
                if step.rule.head.predicate == LEAVES and step.args[0] == wash:
                    found[str(step.args[1])] = None
    return [] if film in found else list(found)


def _itself(row: Verdict) -> str:
    """The same in words."""
    found = [row.case.world.base.label(each) for each in left_itself(row)]
    if not found:
        return "that itself"
    return f"{listed(found, _NAMED)}, of the same family"


def puts_back(row: Verdict) -> bool:
    """Whether a wash leaves itself what it is asked to take."""
    wash, holds = row.goal[1][0], row.case.model.holds
    return any(holds(PUTS_BACK, (wash, grade)) for grade in row.grades)


def kinds_of_grades(base: Base, symbol: str) -> str:
    """Of which kinds a thing may be whose name does not say which; else empty."""
    if symbol not in base:
        return ""
    grades = base.record(symbol).links("coversGrade")
    kinds = dict.fromkeys(base.label(base.classes_of(grade)[0]) for grade in grades)
    return with_article(" or ".join(kinds)) if len(kinds) > 1 else ""


def is_of_some_grades(base: Base, symbol: str, kind: str) -> bool:
    """Whether some grades of a thing are of a class, and some are not."""
    grades = base.record(symbol).links("coversGrade") if symbol in base else ()
    return len({kind in base.classes_of(grade) for grade in grades}) > 1


def verdicts_sentence(world: World, rows: Sequence[Verdict], truth: bool | None) -> str:
    """Verdicts on several films as one sentence, those of one kind together.

    The worst comes first, and films are folded to their classes.
    """
    head = _yes_or_no(rows, truth)
    if len(rows) == 1:
        only = aloud(world, rows[0])
        if rows[0].role is Role.OPEN:
            only = f"{unsure(world, rows[0])}."
        return f"{head}: {only}" if head else only
    pairs = list(dict.fromkeys((row.wash, row.source) for row in rows))
    if len(pairs) > _APART:
        films = len({row.film for row in rows})
        summed = spoken(rows) if films > 1 else _by_wash(rows)
        return f"{head}: {summed}."
    told: list[str] = []
    for wash, source in pairs:
        mine = [row for row in rows if (row.wash, row.source) == (wash, source)]
        said = _groups(world, folded(mine))
        left_by = f"of what {source} leaves, " if source else ""
        told.append(f"{left_by}{wash} {listed(said)}")
    return f"{head}: {'; '.join(told)}."


YES_OR_NO: Mapping[bool | None, str] = {True: "Yes", False: "No", None: "Cannot tell"}
"""Whether something is so, in the words that an answer begins with."""
_IN_PART = "Yes, at least in part"
_AT_BEST = "In part at best"
_ONE: Mapping[Role, str] = {
    Role.AT_LEAST_PARTLY: YES_OR_NO[True],
    Role.PARTLY_CLEARED: "Yes, in part",
    Role.AT_MOST_PARTLY: "Not for sure",
    Role.NO_WASH_NEEDED: "",
    Role.NOT_CLEARED: YES_OR_NO[False],
    Role.OPEN: YES_OR_NO[None],
    Role.CLEARED: YES_OR_NO[True],
}
"""With what the answer begins to whether a wash takes a film, by the verdict."""
_HEAD = re.compile(
    r"^(?:(?:Yes|No|True|False)(?:, [a-z ]+)?|Not for sure|Cannot tell|"
    r"In part at best): "
)


def _yes_or_no(rows: Sequence[Verdict], truth: bool | None) -> str:
    """Whether what was asked of some verdicts is so, in a word or a few."""
    if len(rows) == 1:
        return _one_yes_or_no(rows[0], truth)
    if all(ENDS[r.role] == (Role.NONE_OF_IT, Role.PART_OF_IT) for r in rows):
        return _AT_BEST
    taken = [ENDS[row.role][0] is not Role.NONE_OF_IT for row in rows]
    if all(taken) and not truth:
        return _IN_PART if truth is None else "Yes, in part"
    return YES_OR_NO[truth]


def _one_yes_or_no(row: Verdict, truth: bool | None) -> str:
    """The same of one verdict, with how likely a yes is."""
    if row.role is Role.NO_WASH_NEEDED:
        return ""
    if row.role is Role.AT_LEAST_PARTLY and truth is False:
        return "No, not for sure"
    if row.role is Role.AT_MOST_PARTLY and puts_back(row):
        return _AT_BEST
    head = YES_OR_NO[truth] if row.at_least is None else _ONE[row.role]
    yes, _, rest = head.partition(", ")
    how = _likely(row) if yes == YES_OR_NO[True] else ""
    return f"{yes}, {f'{how} {rest}'.strip()}" if how else head


def _likely(row: Verdict) -> str:
    """How likely it is that a wash takes some; empty where that is well founded."""
    end = row.at_least or row
    base = row.case.world.base
    return (base.record(end.standing).text("likelihood") or "") if end.standing else ""


def without_head(sentence: str) -> str:
    """What an answer says, without the yes or no that it begins with."""
    told = _HEAD.sub("", sentence, count=1)
    return told[:1].upper() + told[1:]


def _by_wash(rows: Sequence[Verdict]) -> str:
    """How many of many washes take how much of the one film."""
    counts = Counter(row.role for row in rows)
    ordered = sorted(counts, key=VERDICTS.index, reverse=True)
    return in_a_row(f"{counts[role]} take {TAKES[role]}" for role in ordered)


def _groups(world: World, found: Sequence[Folding]) -> list[str]:
    """What is taken of each group of films, the last of several being the rest."""
    if len(found) == 1:
        (only,) = found
        count = len(only.films.keys)
        one = world.base.label(only.first.film)
        return [_group(only, every_film(count) if count > 1 else one)]
    films = [said_films(world.base, each) for each in found]
    if len(found[-1].films.keys) > 1:
        films[-1] = "the rest"
    return [_group(each, told) for each, told in zip(found, films, strict=True)]


_WORDS = {3: "three", 4: "four", 5: "five", 6: "six"}


def every_film(count: int) -> str:
    """All of several films, as one says it."""
    return "both films" if count == 2 else f"all {_WORDS.get(count, count)} films"


def _group(each: Folding, films: str) -> str:
    row = each.first
    if row.role is Role.OPEN:
        told = f"leaves open what it takes of {films}"
    elif row.role is Role.NO_WASH_NEEDED:
        told = f"needs no wash for {films}"
    else:
        told = f"takes {TAKES[row.role]} of {films}"
    return f"{told} (disputed)" if row.contested else told
