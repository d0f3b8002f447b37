"""Several statements judged apart, and whether the last follows from the others.

A step from `S is P` to `S is Q` is judged by the claim that whatever is P is Q: its
counterexample is one against the step, whether or not both its ends hold.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.questions.answers.answer import PROVEN, REFUTED, Answer, Finding
from abluent.engine.questions.answers.answer import UNSUPPORTED as OPEN
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
    told = [f"{_head(part.claim)}: {part.query}." for part in parts]
    step = [str(each) for each in findings]
    members = [member for part in parts for member in part.members[:1]]
    return Answer(
        query,
        " ".join([*told, *step]),
        [row for part in parts for row in part.rows],
        members=members,
        claim=_overall(parts, findings),
        witness=next((part.witness for part in parts if part.claim == REFUTED), ""),
        compared=parts,
        findings=findings,
    )


def _part(judge: Judge, said: q.Statement) -> Answer:
    return judge_claim(judge, said, print_statement(said))


def _head(claim: str) -> str:
    return (claim or OPEN).capitalize()


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
        return Finding("broken step", "It does not follow: what goes before holds")
    general = _general(premises[-1], conclusion)
    judged = None if general is None else _tried(judge, general)
    if judged is None:
        head = "Whether the last follows from what goes before is not judged"
        return Finding("open step", f"{head}: they speak of different things")
    found = (judged.sentence,)
    if judged.claim == REFUTED:
        head = f"It does not follow, as it is not so that {judged.query}"
        return Finding("broken step", head, found)
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
