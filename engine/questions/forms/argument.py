"""Several statements judged apart, and whether the last follows from the others.

A step from `S is P` to `S is Q` is judged by the claim that whatever is P is Q: its
counterexample is one against the step, whether or not both its ends hold.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import (
    DISPUTED,
    PROVEN,
    REFUTED,
    Answer,
    Finding,
)
from abluent.engine.questions.answers.answer import UNSUPPORTED as OPEN
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import without_head
from abluent.engine.questions.forms.claim import judge_claim
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.nouns import UnknownName
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_statement


def judge_argument(judge: Judge, said: q.Argue, query: str) -> Answer:
    """Judge each statement, and the step from all but the last to the last.

    Raises:
        UnknownName: a name stands for nothing.
    """
    parts = [_part(judge, each) for each in said.statements]
    findings = [_step(judge, said, parts)] if said.follows else []
    claim = _overall(parts, findings)
    step = [_FOLLOWS[f.kind] for f in findings if f.items or f.kind != "broken step"]
    each = [_told(part, whole=said.follows) for part in parts]
    told = f"{_WORDS[claim].capitalize()}: {' '.join([*step, *each])}"
    members = [member for part in parts for member in part.members[:1]]
    return Answer(
        query,
        told,
        [row for part in parts for row in part.rows],
        members=members,
        claim=claim,
        witness=next((part.witness for part in parts if part.claim == REFUTED), ""),
        compared=parts,
        findings=findings,
    )


def _part(judge: Judge, said: q.Statement) -> Answer:
    return judge_claim(judge, said, print_statement(said))


_WORDS = {PROVEN: "true", REFUTED: "false", OPEN: "not settled", DISPUTED: "disputed"}
_FOLLOWS = {
    "step": "the last follows from what goes before.",
    "broken step": "the last does not follow from what goes before.",
    "open step": "whether the last follows from what goes before is not shown.",
}
"""What is said of a step, by what was found of it."""


def _told(part: Answer, *, whole: bool) -> str:
    """How one statement was judged, and what was found of it where that is told."""
    said = part.query.replace('"', "")
    how = f"“{said[:1].upper()}{said[1:]}” is {_WORDS[part.claim or OPEN]}"
    plain = part.claim == PROVEN and not any(isinstance(r, Verdict) for r in part.rows)
    if plain or not whole:
        return f"{how}."
    found = without_head(part.sentence)
    return f"{how}: {found[:1].lower() if part.claim == OPEN else found[:1]}{found[1:]}"


def _overall(parts: Sequence[Answer], findings: Sequence[Finding]) -> str:
    """Refuted if a part is; proven if all are, and the step where there is one."""
    claims = [part.claim for part in parts]
    if REFUTED in claims or any(each.kind == "broken step" for each in findings):
        return REFUTED
    settled = all(claim == PROVEN for claim in claims)
    unsure = any(each.kind != "step" for each in findings)
    return PROVEN if settled and not unsure else OPEN


def _step(judge: Judge, said: q.Argue, parts: Sequence[Answer]) -> Finding:
    """Whether the last statement follows, as far as one claim can tell."""
    *premises, conclusion = said.statements
    *before, last = (part.claim for part in parts)
    if all(claim == PROVEN for claim in before) and last == REFUTED:
        return Finding(
            "broken step", "It does not follow: what goes before is so, the last not"
        )
    general = _general(premises[-1], conclusion)
    judged = None if general is None else _tried(judge, general)
    if judged is None:
        head = "Whether the last follows from what goes before is not judged"
        return Finding("open step", f"{head}: they speak of different things")
    found = (without_head(judged.sentence),)
    if judged.claim == REFUTED:
        head = f"It is not so that {judged.query}"
        return Finding("broken step", head.replace('"', ""), found)
    if judged.claim == PROVEN:
        return Finding("step", f"It follows, as {judged.query}", found)
    return Finding("open step", f"Whether {judged.query} is not settled", found)


def _tried(judge: Judge, said: q.Statement) -> Answer | None:
    try:
        return judge_claim(judge, said, print_statement(said))
    except UnknownName:
        return None


def _general(premise: q.Statement, conclusion: q.Statement) -> q.Statement | None:
    """`every thing that is P is Q`, where both speak of the same thing."""
    one, other = _bare(premise.subject), _bare(conclusion.subject)
    if one != other:
        return None
    acts = q.Contains | q.Precedes | q.Leaves | q.Hides | q.Differs
    about_products = isinstance(_core(premise.predicate), acts)
    whole = q.Name("products" if about_products else "ingredients")
    subject = q.Such(whole, (premise.predicate,))
    return q.Statement(q.Quantified(q.Quantity.EVERY, subject), conclusion.predicate)


def _core(said: q.Predicate) -> q.Predicate:
    return _core(said.part) if isinstance(said, q.Not) else said


def _bare(term: q.Term) -> q.Term:
    return _bare(term.term) if isinstance(term, q.Quantified) else term
