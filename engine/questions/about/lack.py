"""Why something is not so that no verdict tells of: what lacks, and what would mend it.

The rules that come nearest to the conclusion are looked for. A condition that fails
is *contradicted* where the base or the label says otherwise, *unknown* where nothing
is said, and there is *no rule* where nothing could ever conclude it. What lacks is
then supposed, to see whether that is enough.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import ISA, KIND, LEAVES, LINE, LISTED, TYPE
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.nearest import NearMiss, nearest
from abluent.engine.proof.obstacles import Failing, Lacking, Obstacle, Standing
from abluent.engine.proof.slices import Pattern, asserted_of
from abluent.engine.questions.about.trials import CONTRADICTED, NO_RULE, UNKNOWN
from abluent.engine.questions.answers.answer import Finding
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.meaning import simplified

_MOST_GOALS = 3
_HEADS = {
    UNKNOWN: "unknown, as nothing says so",
    CONTRADICTED: "contradicted, as the label or the base says otherwise",
    NO_RULE: "no rule concludes this, and nothing of the kind is said",
}


def missing(judge: Judge, said: q.Statement) -> Iterator[Finding]:
    """What lacks for a sentence to be so, for the first few things it names."""
    for case, goal in _goals(judge, said)[:_MOST_GOALS]:
        yield from _why(case, goal)


def _goals(judge: Judge, said: q.Statement) -> list[tuple[Case, Pattern]]:
    """What a sentence says that does not follow."""
    predicate = simplified(said.predicate)
    while isinstance(predicate, q.Not):
        predicate = predicate.part
    if isinstance(predicate, q.Is):
        return _memberships(judge, said.subject, predicate)
    if isinstance(predicate, q.Leaves):
        return _about_labels(judge, said.subject, predicate, LEAVES)
    if isinstance(predicate, q.Contains):
        return _about_labels(judge, said.subject, predicate, LISTED)
    return []


def _memberships(
    judge: Judge, subject: q.Term, said: q.Is
) -> list[tuple[Case, Pattern]]:
    items = judge.terms.items(subject, INGREDIENT)
    found = judge.judge(items, said)
    rows = [row for item in items for row in found[item].rows]
    goals = [(row.case, row.goal) for row in rows]
    return [(case, goal) for case, goal in goals if not case.model.holds(*goal)]


def _about_labels(
    judge: Judge, subject: q.Term, said: q.Leaves | q.Contains, predicate: str
) -> list[tuple[Case, Pattern]]:
    world = judge.world
    wanted = sorted(judge.terms.wanted(said.object) or ())
    products = [
        item.key
        for item in judge.terms.items(subject, PRODUCT)
        if item.kind == PRODUCT and item.key != WATER
    ]
    stated = said.circumstances if isinstance(said, q.Leaves) else ()
    case = Case.of(
        world, sources=products, stated=stated, more=world.known.about(wanted)
    )
    goals = [(predicate, (world.symbol(p), i)) for p in products for i in wanted]
    return [(case, goal) for goal in goals if not case.model.holds(*goal)]


def _why(case: Case, goal: Pattern) -> Iterator[Finding]:
    world = case.world
    phrase = as_sentence(world.known.sentences.absence(*goal)).rstrip(".")
    known = Knowledge(world.program, case.facts, case.model)
    found = nearest(known, goal)
    if not found:
        yield Finding(NO_RULE, f"{phrase}: {_HEADS[NO_RULE]}")
        return
    told: dict[str, dict[str, None]] = {}
    for miss in found:
        for each in miss.failing:
            how, text = _obstacle(case, each)
            told.setdefault(how, {})[text] = None
    for how, texts in told.items():
        yield Finding(how, f"{phrase}: {_HEADS[how]}", tuple(texts))
    yield from _mends(case, known, goal, found)


def _obstacle(case: Case, each: Obstacle) -> tuple[str, str]:
    """How a condition fails, and that in a sentence."""
    world = case.world
    if isinstance(each, Standing):
        told = [Explained(case, row).reasons[-1] for row in each.rows]
        return CONTRADICTED, " ".join(dict.fromkeys(told))
    if isinstance(each, Failing):
        return (
            CONTRADICTED,
            f"{each.left} {each.condition.operator} {each.right} fails.",
        )
    text = as_sentence(world.known.sentences.absence(each.predicate, each.pattern))
    if not _could_be(case, each.predicate):
        return NO_RULE, text
    return (CONTRADICTED if _label_says(case, each) else UNKNOWN), text


def _could_be(case: Case, predicate: str) -> bool:
    """Whether anything of a kind is asserted, or a rule concludes it."""
    if case.world.program.concluding(predicate):
        return True
    return next(iter(asserted_of(case.model, predicate)), None) is not None


def _label_says(case: Case, lack: Lacking) -> bool:
    """Whether a label that was understood in full shows that something is not on it."""
    if lack.predicate not in {LINE, LISTED} or lack.pattern[0] is None:
        return False
    readings = case.world.read(case.world.name(lack.pattern[0])).readings
    return all(reading.symbol is not None for reading in readings)


def _mends(
    case: Case, known: Knowledge, goal: Pattern, found: Sequence[NearMiss]
) -> Iterator[Finding]:
    """What would make it so, each tried; what is said of a thing itself comes first."""
    told: dict[str, None] = {}
    tried = 0
    for miss in sorted(found, key=_is_roundabout):
        facts = [fact for each in miss.failing if (fact := _supposed(each))]
        if len(facts) < len(miss.failing):
            continue  # a term is left open, or something stands against it
        tried += 1
        if known.but(facts).holds(goal):
            said = [
                case.world.known.sentences.claim(f.predicate, f.args) for f in facts
            ]
            told[f"It would be so if {' and '.join(said)} (tried)."] = None
    if tried:
        none = "Nothing that was tried by itself would make it so."
        head = "What would make it so, those that change least first"
        yield Finding("repairs", head, tuple(told or [none]))


def _is_roundabout(miss: NearMiss) -> bool:
    """Whether it lacks what a rule makes of things, and not what is said of them."""
    said = {LINE, LISTED, KIND, TYPE, ISA}
    return any(isinstance(o, Lacking) and o.predicate not in said for o in miss.failing)


def _supposed(each: Obstacle) -> Fact | None:
    """A lacking fact as one that could be supposed, if it has no open term."""
    if not isinstance(each, Lacking):
        return None
    args = tuple(term for term in each.pattern if term is not None)
    return Fact(each.predicate, args) if len(args) == len(each.pattern) else None
