"""What a name tells: a claim about names, scored over every ingredient of the base.

A claim such as `every ingredient named "*ate" is an anionic surfactant` falls with
one counterexample. How far it can be trusted all the same is a matter of counting:
of the names that fit, how many are one; of those that are one, how many fit.
"""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base.contract import ISA
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT
from abluent.engine.questions.world.nouns import Noun
from abluent.engine.reading.name_rules import PatternScore, score_names
from abluent.grammar.query import tree as q

_NAMED = 10
"""How many exceptions of one sort are named in a sentence; an answer holds them all."""


def scored(judge: Judge, said: q.Statement) -> PatternScore | None:
    """The score of a claim that says what names of one form are; None of any other.

    Two forms count: `… named "…" is …` and `… is named "…"`, whatever their quantity
    and wherever their members are looked for.

    Raises:
        UnknownName: a name in it stands for nothing.
    """
    rule = _as_rule(said)
    if rule is None:
        return None
    among, pattern, kind = rule
    items, members = (
        judge.terms.items(among, INGREDIENT),
        judge.terms.items(kind, INGREDIENT),
    )
    if any(item.kind != INGREDIENT for item in [*items, *members]):
        return None
    noun = judge.terms.noun(kind, INGREDIENT) if isinstance(kind, q.Name) else None
    keys = {item.key for item in members}
    if noun and judge.world.base.is_class(noun.kind):
        case = Case(judge.world, judge.world.known.about(item.key for item in items))
        keys = {str(key) for key, _ in case.model.match(ISA, (None, noun.kind))}
    items.sort(key=lambda item: -judge.nouns.seen[item.key])
    found = {judge.nouns.title(item): item.key in keys for item in items}
    return score_names(pattern, found, _called(judge, noun))


def told(score: PatternScore) -> Iterator[str]:
    """A score in sentences, with its exceptions by name."""
    right = len(score.right)
    fit, are = right + len(score.wrong), right + len(score.missed)
    names = "name that fits" if fit == 1 else "names that fit"
    yield (
        f"Of {fit} {names} “{score.pattern}”, {right} {_be(right)} {score.kind}"
        f"{_share(right, fit)}."
    )
    fits = f"{right} {'fits' if right == 1 else 'fit'} it{_share(right, are)}"
    yield f"Of {are} that {_be(are)} {score.kind}, {fits}."
    if score.wrong:
        yield f"Fit and are none: {listed(score.wrong, _NAMED)}."
    if score.missed:
        yield f"Are such and do not fit: {listed(score.missed, _NAMED)}."


def _be(count: int) -> str:
    return "is" if count == 1 else "are"


def _share(part: int, whole: int) -> str:
    return f" ({100 * part / whole:.1f} %)" if whole else ""


def _as_rule(said: q.Statement) -> tuple[q.Term, str, q.Term] | None:
    """Among what a claim looks, the pattern, and what names that fit are to be."""
    subject, predicate = said.subject, said.predicate
    match _plain(subject), predicate:
        case (
            q.Such(term=among, conditions=(q.Named(pattern=pattern),)),
            q.Is(object=kind),
        ):
            return among, pattern, _plain(kind)
        case kind, q.Named(pattern=pattern) if not isinstance(kind, q.Such):
            return q.Name("ingredients"), pattern, kind
    return None


def _plain(term: q.Term) -> q.Term:
    """A term without its quantity."""
    return term.term if isinstance(term, q.Quantified) else term


def _called(judge: Judge, noun: Noun | None) -> str:
    """What members are called in the plural, as a reader of the base would."""
    if noun is None:
        return "what was said"
    return judge.world.base.plural(noun.kind) if noun.kind else noun.name
