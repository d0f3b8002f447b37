"""What a picture says of a claim of several parts: each part judged by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import PROVEN, REFUTED, Answer
from abluent.engine.questions.answers.rows import all_rows
from abluent.engine.questions.answers.verdicts import GONE, Left, Verdict
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.shell.ground.strand import LEFT
from abluent.shell.told.asking import asking_of
from abluent.shell.told.claims import CLAIM_WORDS
from abluent.shell.told.group import Group
from abluent.shell.told.groups import groups_of
from abluent.shell.told.headings import claim_words
from abluent.shell.told.labels import deposit_of
from abluent.shell.told.spoken_names import aloud, few, in_letters, spoken_alone
from abluent.shell.told.told import Told

_WHETHER = "is it true that "
_NAMED = 7
"""So many films are named under a part."""


def compound(told: Told, answer: Answer) -> Told:
    """Return each part of a claim with how it was judged and what shows it."""
    parts = answer.compared
    words = [CLAIM_WORDS.get(part.claim, part.claim.capitalize()) for part in parts]
    groups = [
        each
        for part, word in zip(parts, words, strict=True)
        for each in _part(part, word)
    ]
    return told._replace(
        word=_word(answer, words),
        claim=_claim(answer),
        groups=tuple(groups),
    )


def _word(answer: Answer, words: list[str]) -> str:
    """How the whole was judged, in the word that stands first."""
    if len(set(words)) == 1 and not _follows(answer):
        return words[0]
    if {"True", "False"} == set(words):
        return "Half true" if len(words) == 2 else "True in part"
    step = next((f.kind for f in answer.findings), "")
    return "Does not follow" if step == "broken step" else "Not shown as a whole"


def _follows(answer: Answer) -> bool:
    """Whether one part is said to follow from the others, and that is not so."""
    return any(each.kind != "step" for each in answer.findings)


def _claim(answer: Answer) -> str:
    """How many of the parts are so, and whether the last follows."""
    parts = answer.compared
    true = [part for part in parts if part.claim == PROVEN]
    false = [part for part in parts if part.claim == REFUTED]
    if _follows(answer) and len(true) == len(parts) - 1 and parts[-1] in false:
        told = " ".join(claim_words(part.query) for part in true)
        return f"{told} It does not follow that {_as_it(parts[-1], true)}"
    if len(parts) == 2 and len(true) == len(false) == 1:
        return f"{claim_words(true[0].query)} Not so: {claim_words(false[0].query)}"
    if len(true) == len(parts):
        every = "Both" if len(parts) == 2 else f"All {in_letters(len(parts))}"
        more = "; that one follows from the other is not shown"
        return f"{every} parts are so{more if _follows(answer) else ''}."
    if len(false) == len(parts):
        return "Neither part is so." if len(parts) == 2 else "No part is so."
    are = "is" if len(true) == 1 else "are"
    return f"Of {in_letters(len(parts))} parts {in_letters(len(true))} {are} shown."


def _as_it(part: Answer, others: Sequence[Answer]) -> str:
    """A part within a sentence; what it speaks of is `it` where others named that."""
    said = part.query.replace('"', "")
    subject = next(
        iter(asking_of(replace(part, query=_WHETHER + part.query)).products), ""
    )
    if subject and said.startswith(subject) and others:
        return f"it{said.removeprefix(subject)}."
    return f"{said}."


def _part(part: Answer, word: str) -> Iterator[Group]:
    """One part: how it was judged, then what shows it."""
    said = claim_words(part.query)
    rows = list(all_rows(part))
    judged = [row for row in rows if isinstance(row, Verdict)]
    left = [row for row in rows if isinstance(row, Left)]
    washes = {row.wash for row in judged}
    claim = replace(part, query=_WHETHER + part.query)
    stays = all(row.role is Role.NOT_CLEARED for row in judged)
    if washes == {WATER} and stays and isinstance(asking_of(claim).act, q.Stays):
        names = _names(judged)
        why = f"It leaves {names}, and water alone does not take that off."
        yield Group(LEFT, word, (said,), 1, why)
        return
    if len(washes) == 1 and len(judged) > 1:
        yield Group(None, word, (said,), 1)
        yield from groups_of([r for r in judged if r.role not in GONE], ())
        return
    if left:
        sure = all(row.sure for row in left)
        said = f"{said.rstrip('.')}: {_names(left)}."
        yield Group(LEFT if sure else None, word, (said,), 1, deposit_of(left[0]))
        return
    yield Group(None, word, (said,), 1)


def _names(rows: list[Verdict] | list[Left]) -> str:
    told = [spoken_alone(aloud(row.case.world.base, row.film)) for row in rows]
    return few(list(dict.fromkeys(told)), _NAMED)
