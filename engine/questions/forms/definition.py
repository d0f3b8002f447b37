"""What something is: `what is A`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.amounts.lawful import rules_on
from abluent.engine.base.contract import ISA
from abluent.engine.base.kinds import telling
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Finding, Member, Row
from abluent.engine.questions.answers.best_known import how_well_known
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import films_left
from abluent.engine.questions.answers.wording import kinds_of_grades
from abluent.engine.questions.verbs.doing import (
    how_far_it_goes,
    told_below,
    what_it_does,
)
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q

_MOST = 20
_KINDS = 8
_LAWS = 6
_EXAMPLES = 6
"""So many of a class are named, those that are known best."""


def define(judge: Judge, term: q.Term, text: str) -> Answer:
    """Say what some things are.

    Args:
        judge: knows what the term stands for.
        term: the things.
        text: the question in the language's own wording.
    """
    items = judge.terms.items(term, PRODUCT)
    kind = _class_of(judge, term)
    if kind and len(items) > 1:
        return _class_defined(judge, kind, items, text)
    described = [_described(judge, item) for item in items[:_MOST]]
    more = f" And {len(items) - _MOST} more." if len(items) > _MOST else ""
    rows = [row for item in items[:_MOST] for row in _facts_of(judge.world, item)]
    said, notes = " ".join(described) + more, _law_of(judge.world, items[:_MOST])
    alone = items[0].key if len(items) == 1 and items[0].kind != PRODUCT else ""
    findings = told_below(judge.world, alone) if alone else []
    if alone:
        does = what_it_does(judge.world, alone)
        said = " ".join(filter(None, [said, does, how_far_it_goes(judge, items[0])]))
    return Answer(text, said, rows, (), items, notes=notes, findings=findings)


def _law_of(world: World, items: Sequence[Item]) -> list[str]:
    """The bans and limits that name some ingredients, each in a sentence."""
    base = world.base
    known = [e.key for e in items if e.kind != PRODUCT and e.key in base]
    rules = [base.record(rule) for each in known for rule in rules_on(base, each)]
    told = [(rule.text("statement"), rule.text("provision")) for rule in rules]
    law = [f"{_stopped(said)} ({where})." for said, where in told if said and where]
    found = list(dict.fromkeys(law))
    more = [f"And {len(found) - _LAWS} more bans and limits."]
    return [*found[:_LAWS], *(more if len(found) > _LAWS else [])]


def _stopped(sentence: str) -> str:
    return sentence.rstrip(".")


def _class_of(judge: Judge, term: q.Term) -> str:
    """The class that a term names, if it is the name of one."""
    if not isinstance(term, q.Name):
        return ""
    kind = judge.terms.noun(term, PRODUCT).kind or ""
    return kind if judge.world.base.is_class(kind) else ""


def _class_defined(judge: Judge, kind: str, items: list[Item], text: str) -> Answer:
    """What a class is, by its meaning, its best known members and its sorts."""
    world, base = judge.world, judge.world.base
    under: dict[str, list[str]] = {}
    for item in items:
        kinds = base.classes_of(item.key) if item.key in base else []
        below = [each for each in kinds if kind in base.ancestors(each) - {each}]
        if below:
            under.setdefault(below[-1], []).append(item.key)
    parts = sorted(under, key=lambda each: (-len(under[each]), each))
    told = [f"{base.plural(each)} ({len(under[each])})" for each in parts]
    said = (base.record(kind).text("comment") or "") if kind in base else ""
    known = sorted(items, key=lambda item: -how_well_known(base, item.key))
    names = [base.label(i.key) if i.key in base else i.key for i in known[:_EXAMPLES]]
    plural = base.plural(kind)
    meaning = f"{plural[:1].upper()}{plural[1:]}: {said.rstrip('.')}. " if said else ""
    does = what_it_does(world, kind)
    such = f"Such are {listed(names)}; {len(items)} are known here."
    sentence = meaning + (f"{does} {such}" if does else such)
    sorts = [Finding("sorts", "Their sorts", (f"{listed(told, _KINDS)}.",))]
    findings = [*(sorts if told else []), *told_below(world, kind)]
    case = Case(world, world.known.about(item.key for item in items))
    goals = [(item, (ISA, (item.key, kind))) for item in items]
    rows = [Member(case, item, g) for item, g in goals if case.model.holds(*g)]
    law = _law_of(world, items)
    return Answer(text, sentence, rows, (), items, notes=law, findings=findings)


def _described(judge: Judge, item: Item) -> str:
    world, base = judge.world, judge.world.base
    if item.kind == PRODUCT:
        product, wash = world.products.get(item.key), base.term(Role.WASH)
        if product is None:
            return f"{item.key} alone is {world.known.phrases(wash, 'a')}."
        kind = base.label(judge.nouns.kind_of(item))
        return f"{item.key} is a product of the shelf, sold as {kind}."
    kinds = telling(base.classes_of(item.key), base)
    if grades := kinds_of_grades(base, item.key):
        name = base.label(item.key)
        return f"{name} may be {grades}: its name does not say which."
    said = f"{base.label(item.key)} is {world.known.phrases(kinds[0], 'a')}"
    meaning = (base.record(kinds[0]).text("comment") or "").rstrip(".")
    return f"{said}: {meaning[:1].lower()}{meaning[1:]}." if meaning else f"{said}."


def _facts_of(world: World, item: Item) -> list[Row]:
    if item.kind == PRODUCT:
        case = Case.of(world, sources=[item.key])
        return list(films_left(case, item.key))
    case = Case(world, world.known.about([item.key]))
    kinds = telling(world.base.classes_of(item.key), world.base)
    goals = [(ISA, (item.key, kind)) for kind in kinds]
    return [Member(case, item, goal) for goal in goals if case.model.holds(*goal)]
