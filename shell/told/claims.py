"""What a picture says of a claim: true or false first, then what shows it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.account import charge_of
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    FALSE_AS_SAID,
    NOT_AS_SAID,
    PROVEN,
    REFUTED,
    TRUE_OF_ALL,
    UNSUPPORTED,
    Answer,
    Member,
    NotMember,
    Row,
)
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.engine.questions.answers.wording import row_phrase, without_head
from abluent.engine.questions.world.world import World
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_statement
from abluent.shell.ground.strand import LEFT, strand_of
from abluent.shell.told.asking import Asking, unread_names
from abluent.shell.told.headings import asked, claim_words, names_by_pattern
from abluent.shell.told.plain import caption_of, claim_of, doubt_of
from abluent.shell.told.reasons import reasons_of
from abluent.shell.told.spoken_names import aloud, few, what_it_is
from abluent.shell.told.told import Told
from abluent.shell.told.washes import Washes

CLAIM_WORDS = {
    PROVEN: "True",
    REFUTED: "False",
    DISPUTED: "Disputed",
    UNSUPPORTED: "Unproven",
}
"""How a claim was judged, in the word that stands first."""
_AS_SAID = {
    TRUE_OF_ALL: "True of all of it",
    FALSE_AS_SAID: FALSE_AS_SAID,
    NOT_AS_SAID: NOT_AS_SAID,
}
"""The word where a part of a film bears a claim on all of it out, or belies it."""
_NOT_ONLY = "No, not only"
"""The word where what lacks what only is said to do it does a part of it."""
_SEVERAL = 2
_FEW = 2
"""So many films are named that need no wash."""
_YES_NO = {
    PROVEN: "Yes",
    REFUTED: "No",
    DISPUTED: "Disputed",
    UNSUPPORTED: "Not shown",
}


def claimed(told: Told, answer: Answer, asking: Asking, rows: Sequence[Row]) -> Told:
    """Return what is said of a claim, whose witness is the first of some rows."""
    claim = claim_words(answer.query)
    reasons = list(_reasons(answer, asking, _nearest_first(rows, asking)))
    reasons = [text for text in reasons if as_sentence(text) != claim]
    so = answer.claim == PROVEN and _head(answer) not in {NOT_AS_SAID, FALSE_AS_SAID}
    if isinstance(asking.query, q.Claim) and not so:
        # What is not so is quoted, lest it be read as what the picture says.
        inner = claim.rstrip(".").replace("“", "\N{LEFT SINGLE QUOTATION MARK}")
        inner = inner.replace("”", "\N{RIGHT SINGLE QUOTATION MARK}")
        claim = f"“{inner}”"
    rows = _nearest_first(rows, asking)
    first = rows[0] if rows else None
    words = CLAIM_WORDS
    if isinstance(asking.query, q.Whether):
        words, claim = _YES_NO, asked(answer.query)
        if answer.claim == PROVEN and asking.statement is not None:
            claim = claim_words(print_statement(asking.statement))
    word = words.get(answer.claim, answer.claim.capitalize())
    told = told._replace(
        word=_word(answer, asking, first, word),
        mark=strand_of(first.role) if isinstance(first, Verdict) else None,
        caption=caption_of(first) if isinstance(first, Verdict) else "",
        claim=claim,
    )
    if isinstance(first, Left) and first.sure:
        told = told._replace(mark=LEFT)
    if isinstance(first, Verdict) and _does_without(answer, first, asking):
        return _without(told, first, rows, reasons)
    return told.with_reasons(reasons)


def _without(
    told: Told, first: Verdict, rows: Sequence[Row], reasons: Sequence[str]
) -> Told:
    """What does without what only is said to do it, each by how much it takes."""
    found = [row for row in rows if isinstance(row, Verdict)]
    if len({row.wash for row in found}) < _SEVERAL:
        return told.with_reasons(reasons)
    washes = Washes(found, worst=False)
    told = told._replace(groups=tuple(washes.groups()), mark=None)
    return told.with_reasons([*reasons[:1], *washes.besides()])


def _word(answer: Answer, asking: Asking, first: Row | None, word: str) -> str:
    """How a claim was judged, in the word that stands first."""
    said = _AS_SAID.get(_head(answer), word)
    return _NOT_ONLY if _does_without(answer, first, asking) else said


def _head(answer: Answer) -> str:
    """With which word an answer begins."""
    return answer.sentence.partition(": ")[0]


def _nearest_first(rows: Sequence[Row], asking: Asking) -> list[Row]:
    """Of the films of one witness, first that which the claim names."""
    act = asking.act
    first = rows[0] if rows else None
    if not isinstance(first, Verdict) or not isinstance(act, q.Clears):
        return list(rows)
    named = [
        fold(n.text).removesuffix("s")
        for n in q.members(act.object)
        if isinstance(n, q.Name)
    ]

    def far(row: Row) -> bool:
        if not isinstance(row, Verdict) or row.wash != first.wash:
            return True
        label = fold(row.case.world.base.label(row.film))
        return row.role is not first.role or not any(n in label for n in named)

    return sorted(rows, key=far)


def _reasons(answer: Answer, asking: Asking, rows: Sequence[Row]) -> Iterator[str]:
    """What shows a claim true or false, the witness first."""
    first = rows[0] if rows else None
    if isinstance(first, Verdict):
        yield _witness(first, answer, asking)
        settled = answer.claim in {PROVEN, REFUTED}
        if not settled and not _does_without(answer, first, asking):
            yield doubt_of(first)
        by_itself = _by_itself(rows)
        yield by_itself if _lacks(first, asking) else ""
        yield from (each.text for each in reasons_of(first))
        yield by_itself
        return
    if isinstance(first, NotMember):
        yield is_not(first)
    elif isinstance(first, Member):
        yield from _is(first)
    elif first is not None:
        yield as_sentence(row_phrase(first.case.world, first))
    elif answer.sentence:
        yield without_head(answer.sentence)
    if answer.score is not None:
        yield from (names_by_pattern(note) for note in answer.notes[:1])
    elif len(answer.members) > 1 and answer.claim in {PROVEN, REFUTED}:
        yield f"{len(answer.members)} show it; this is one of them."
    if isinstance(first, NotMember):
        yield from in_its_name(first)


# -- a wash that shows it ----------------------------------------------------------


def _witness(row: Verdict, answer: Answer, asking: Asking) -> str:
    """What a wash does, as the claim above leaves it to be said."""
    said = claim_of(row)
    lacks = _lacks(row, asking)
    if lacks:
        it = said.replace(f"{row.wash} ", "", 1)
        return f"{row.wash} has no {lacks} and yet {it}"
    if row.wash.casefold() in answer.query.casefold():
        film = aloud(row.case.world.base, row.film)
        whose = f" from {row.source}" if row.source else ""
        said = said.replace(f" off {film}{whose}", " it off", 1)
        said = said.replace(f" {film}{whose}", " it", 1)
        return re.sub(f"^{re.escape(row.wash)}", "It", said, flags=re.IGNORECASE)
    return said


def _does_without(answer: Answer, row: Row | None, asking: Asking) -> bool:
    """Whether something lacks what only is said to do it, and does at least a part."""
    if answer.claim != UNSUPPORTED or not isinstance(row, Verdict):
        return False
    least = ENDS[row.role][0]
    return least is not Role.NONE_OF_IT and bool(_lacks(row, asking))


def _by_itself(rows: Sequence[Row]) -> str:
    """What of the films goes without any wash, and how."""
    found = [
        row
        for row in rows
        if isinstance(row, Verdict) and row.role is Role.NO_WASH_NEEDED
    ]
    names = list(dict.fromkeys(aloud(r.case.world.base, r.film) for r in found))
    if not 0 < len(names) <= _FEW:
        return ""
    s = "s" * (len(names) == 1)
    how = found[0].case.world.base.record(found[0].value).text("spokenAs")
    return (
        f"{few(names, _FEW)} need{s} no wash at all{f': {how}' if how and s else ''}."
    )


def _lacks(row: Verdict, asking: Asking) -> str:
    """What only is said to do it and the wash that does has none of; else empty."""
    said = asking.statement
    term: q.Term | None = None
    if said is not None and isinstance(said.predicate, q.Needs):
        term = said.predicate.object
    elif said is not None and isinstance(said.subject, q.Quantified):
        only = said.subject.quantity is q.Quantity.ONLY
        term = said.subject.term if only else None
    if isinstance(term, q.Quantified):
        term = term.term
    if not isinstance(term, q.Name):
        return ""
    world = row.case.world
    kind = world.base.find_class(term.text)
    if not kind or _holds(world, row.wash, kind):
        return ""
    doubt = " that we know of" if unread_names(world, row.wash) else ""
    plain = world.base.record(kind).text("plainly") or world.base.label(kind)
    return f"{plain.removeprefix('a ').removeprefix('an ')}{doubt}"


def _holds(world: World, wash: str, kind: str) -> bool:
    """Whether a label lists something of a class, as far as it was understood."""
    if wash not in world.products:
        return True
    readings = world.read(wash).readings
    return any(kind in reading.classes for reading in readings)


# -- a thing that is, or is not, of a class ------------------------------------------


def is_not(row: NotMember) -> str:
    """What a thing is instead of what was claimed."""
    base = row.case.world.base
    name = row.item.key
    wanted = _class_of(base, row.goal[1])
    if name not in base:
        return as_sentence(row_phrase(row.case.world, row))
    kind = what_it_is(base, name)
    told = f"{base.label(name)} is {kind}"
    if not wanted:
        return as_sentence(told)
    plain = base.record(wanted).text("plainly") or ""
    if not plain or " with " in plain:
        plain = with_article(base.label(wanted))
    return as_sentence(f"{told}, not {plain}")


def _is(row: Member) -> Iterator[str]:
    """What a thing is, with its charge where that alone says what its class is."""
    base = row.case.world.base
    name = row.item.key
    if name not in base:
        yield as_sentence(row_phrase(row.case.world, row))
        return
    kind = what_it_is(base, name)
    yield f"{base.label(name)} is {kind}."
    charge = charge_of(base, name)
    plain = base.record(charge).text("plainly") if charge else None
    if plain and len({*plain.split()} & {*kind.split()}) < 2:
        yield f"It carries {plain}."


def _class_of(base: Base, args: Sequence[object]) -> str:
    found = [str(each) for each in args if base.is_class(str(each))]
    return found[-1] if found else ""


def in_its_name(row: NotMember) -> Iterator[str]:
    """What in a name only looks like what was claimed: its counter-ion."""
    base, name = row.case.world.base, row.item.key
    wanted = _class_of(base, row.goal[1])
    if name not in base or not wanted or not base.record(name).texts("counterIon"):
        return
    words = {word.rstrip("s") for word in base.label(wanted).split()}
    for part in base.label(name).split()[1:]:
        if any(word in part.casefold() for word in words if len(word) > 4):
            yield (
                f"The “{part.casefold()}” in its name is only the small partner that "
                "balances its charge."
            )
