"""How two answers to one question differ, and in which steps their reasons part.

A row is the same row in both if it is about the same things. What is gained follows
in the one answer only, what is lost in the other only, and what is changed in both
with another outcome.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

from abluent.engine.base.contract import LEAVES, LINE, MAY_LEAVE
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nodes import AbsenceNode, FactNode
from abluent.engine.proof.origins import QUESTION, SUPPOSITION
from abluent.engine.proof.suppose import turns
from abluent.engine.questions.answers.answer import Answer, Finding, NotMember, Row
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import TAKES, Left, Verdict
from abluent.engine.questions.answers.wording import puts_back, row_phrase, without_head
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.record import replace
from abluent.grammar.common.text import as_sentence

GAINED, LOST, CHANGED, SAME = "gained", "lost", "changed", "same"


def told_apart(
    query: str, before: Answer, after: Answer, notes: Sequence[str] = ()
) -> Answer:
    """The answer to a supposition: what it is then, and how that differs.

    `notes` tell how the supposition was taken.
    """
    same = before.sentence == after.sentence
    was = without_head(before.sentence)
    now = "as it is now" if same else f"as it is now: {was}"
    if not same and len(before.sentence) > _LONG:
        now = "how that differs from what is now is told below"
    text = f"{after.sentence} ({'The same ' if same else ''}{now})"
    if not same:
        said, beside = after.sentence.rstrip("."), now.rstrip(".")
        text = f"{said} ({beside})."
    if not same and (changes := "; ".join(_changes(before, after))):
        text = f"{as_sentence(changes)} In all then: {after.sentence}"
    found = tuple(differences(before, after))
    if [each.kind for each in found] == [SAME]:
        found = (*found, *_still(after))
    return replace(
        after,
        query=query,
        sentence=text,
        others=(),
        compared=(before,),
        findings=(*found, *after.findings),
        notes=(*notes, *after.notes),
    )


def _changes(before: Answer, after: Answer) -> Iterator[str]:
    """What is otherwise of several things, each kind of change once, as clauses.

    Nothing of a single thing, which is told by itself.
    """
    old, new = _by_subject(before), _by_subject(after)
    if max(len(old), len(new)) < _SEVERAL:
        return
    base = next(iter((new or old).values())).case.world.base
    for rows, verb in ((_apart(old, new), "no longer"), (_apart(new, old), "then")):
        left = [row for row in rows if isinstance(row, Left) and row.how in _STAYS]
        for source in dict.fromkeys(row.source for row in left):
            mine = [base.label(row.film) for row in left if row.source == source]
            yield f"{source} {verb} leaves {listed(mine)}"
    for turned in _turned_alike(old, new):
        first, was = turned[0]
        films = [row.film for row, _ in turned]
        every = [row.film for row in new.values() if isinstance(row, Verdict)]
        some = in_brief(base, films, every, _FILMS)
        told = f"{first.wash} then takes {TAKES[first.role]} of {some}, "
        why = ", for it leaves no such film itself then"
        own = puts_back(was) and not puts_back(first)
        yield f"{told}where it takes {TAKES[was.role]} now{why if own else ''}"


def _apart(these: Mapping[_Key, Row], those: Mapping[_Key, Row]) -> list[Row]:
    """What one side has and the other not."""
    return [row for key, row in these.items() if key not in those]


def _turned_alike(
    old: Mapping[_Key, Row], new: Mapping[_Key, Row]
) -> list[list[tuple[Verdict, Verdict]]]:
    """The verdicts that are otherwise, those together that turned alike."""
    found: dict[tuple[str, str, str], list[tuple[Verdict, Verdict]]] = {}
    for key, row in new.items():
        was = old.get(key)
        if isinstance(row, Verdict) and isinstance(was, Verdict):
            if TAKES[row.role] != TAKES[was.role]:
                turn = row.wash, was.value, row.value
                found.setdefault(turn, []).append((row, was))
    return [*found.values()]


_Key: TypeAlias = tuple[str, ...]
_STAYS = frozenset({LEAVES, MAY_LEAVE})
_SEVERAL = 2
"""Of so many things it is told first what changes, and then what they come to."""
_FILMS = 4
"""So many groups of films are named of which something else is so."""
_LONG = 160
"""A longer answer is not told twice; what was lost and gained is told of it."""


def _still(answer: Answer) -> Iterator[Finding]:
    """Why the one verdict of an answer is as it is now."""
    from abluent.engine.questions.answers.account import account  # noqa: PLC0415

    if len(answer.rows) == 1 and isinstance(answer.rows[0], Verdict):
        steps = account(answer.rows[0])
        yield Finding("still", "It rests on", tuple(step.text for step in steps))


def differences(before: Answer, after: Answer) -> Iterator[Finding]:
    """What an answer gained, lost and has otherwise, each with its reasons."""
    old, new = _by_subject(before), _by_subject(after)
    changed = [k for k in new if k in old and _outcome(new[k]) != _outcome(old[k])]
    gained = {k: row for k, row in new.items() if k not in old}
    lost = {k: row for k, row in old.items() if k not in new}
    now, then = _cases(old.values()), _cases(new.values())
    alike: dict[object, list[_Key]] = {}
    for key in changed:
        row, was = new[key], old[key]
        turn: object = key
        if isinstance(row, Verdict) and isinstance(was, Verdict):
            turn = row.wash, row.source, _outcome(was), _outcome(row)
        alike.setdefault(turn, []).append(key)
    for first, *more in alike.values():
        head = f"Changed: {_phrase(new[first])}; as it is now: {_phrase(old[first])}"
        if more:
            label = new[first].case.world.base.label
            films = [label(r.film) for k in more if isinstance(r := new[k], Verdict)]
            head += f" (and so for {listed(films)})"
        cases = [old[first].case], [new[first].case]
        yield Finding(CHANGED, head, _reasons(new[first], old[first], *cases))
    for row in _answered(after, gained):
        told = _reasons(row, None, now, ())
        yield Finding(GAINED, f"Gained: {_phrase(row)}", told)
    for row in _answered(before, lost):
        told = _reasons(None, row, (), then)
        yield Finding(LOST, f"Lost: {_phrase(row)}", told)
    yield from _looked_at(GAINED, "Looked at only then", after, gained)
    yield from _looked_at(LOST, "Looked at only as it is now", before, lost)
    if not (changed or gained or lost):
        yield Finding(SAME, "Nothing that was asked about comes out otherwise")


def _answered(answer: Answer, rows: Mapping[tuple[str, ...], Row]) -> list[Row]:
    """Those of some rows that answer the question."""
    return [rows[key] for row in answer.rows if (key := _subject(row)) in rows]


def _looked_at(
    kind: str, head: str, answer: Answer, rows: Mapping[tuple[str, ...], Row]
) -> Iterator[Finding]:
    """Those that do not answer it and that the other side has nothing like."""
    found = [rows[key] for row in answer.others if (key := _subject(row)) in rows]
    if found:
        yield Finding(kind, head, tuple(as_sentence(_phrase(row)) for row in found))


def _by_subject(answer: Answer) -> Mapping[tuple[str, ...], Row]:
    """The rows of an answer by what they are about."""
    return {_subject(row): row for row in (*answer.rows, *answer.others)}


def _subject(row: Row) -> tuple[str, ...]:
    if isinstance(row, Verdict):
        return "verdict", row.wash, row.film, row.source
    if isinstance(row, Left):
        return "left", row.source, row.film
    predicate, args = row.goal
    return predicate, row.item.key, *map(str, args)


def _outcome(row: Row) -> tuple[object, ...]:
    if isinstance(row, Verdict):
        return row.value, row.disputed
    if isinstance(row, Left):
        return (row.how,)
    return (not isinstance(row, NotMember),)


def _phrase(row: Row) -> str:
    text = row_phrase(row.case.world, row)
    return text[:1].upper() + text[1:]


def _cases(rows: Iterable[Row]) -> list[Case]:
    return list({id(row.case): row.case for row in rows}.values())


# -- reasons -----------------------------------------------------------------------


def _reasons(
    new: Row | None, old: Row | None, now: Iterable[Case], then: Iterable[Case]
) -> tuple[str, ...]:
    """The steps in which two sides part; else the last reason of what there is.

    Args:
        new: the row as it would be, if there is one.
        old: the row as it is, if there is one.
        now: the cases of the answer as it is.
        then: those of the other.
    """
    told: dict[str, None] = {}
    if new is not None:
        told |= _turned(new, now, _THEN, _NOW)
    if old is not None:
        told |= _turned(old, then, _NOW, _THEN)
    row = new or old
    return tuple(told) or (row.reasons[-1:] if row else ())


_THEN, _NOW = "Then", "As it is now"


def _turned(
    row: Row, there: Iterable[Case], here: str, elsewhere: str
) -> dict[str, None]:
    """The steps of a row that other cases do not have, and what they have against it.

    Args:
        row: the row.
        there: the other cases.
        here: what the side of the row is called.
        elsewhere: what the other side is called.
    """
    told: dict[str, None] = {}
    for case in there:
        known = Knowledge(case.world.program, case.facts, case.model)
        for turn in turns(row.proof, known):
            node = turn.node
            if isinstance(node, FactNode) and not _is_idle(node.fact, case):
                text = as_sentence(row.case.world.known.sentences.node(node))
                told[f"{here}: {text}"] = None
            elif isinstance(node, AbsenceNode) and turn.against is not None:
                text = as_sentence(case.world.known.sentences.node(turn.against.root))
                told[f"{elsewhere}: {text}"] = None
    return told


def _is_idle(fact: Fact, there: Case) -> bool:
    """Whether a fact that is one side's only is no reason: a question, a new number."""
    if fact.basis.origin == QUESTION:
        return True
    if fact.predicate != LINE or fact.basis.origin == SUPPOSITION:
        return False
    product, _, ingredient = fact.args
    return any(there.model.match(LINE, (product, None, ingredient)))
