"""The trace of an answer: which facts it rests on, and what of it they show.

A trace has one model, so an answer whose rows were found in several cases has a
trace for each; most answers have one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from abluent.engine.base.contract import CIRCUMSTANCE, CONTESTED
from abluent.engine.base.phrases import product_name, product_symbol
from abluent.engine.base.roles import EFFECTS
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.encode import atom_json, fact_from, fact_json
from abluent.engine.proof.origins import LEVELS, SHELF
from abluent.engine.proof.slices import predicates_below
from abluent.engine.proof.trace import (
    NO_BOUNDS,
    Bounds,
    LabelLine,
    LabelNote,
    LabelText,
    Setting,
    Supposed,
    Told,
    TracedGoal,
    build_base,
    build_trace,
)
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import Lacking
from abluent.engine.questions.answers.rows import traced_rows
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.verbs.judgement import NothingBefore, Unanswerable
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.nouns import UnknownName
from abluent.engine.questions.world.world import Product, World
from abluent.engine.reading.labels import label_facts
from abluent.engine.trace.edition import edition
from abluent.engine.trace.foldings import folded_part
from abluent.grammar.common.errors import GrammarError

# What the terms of a row's fact are called in the verdict of its trace.
_TERMS = {
    "verdict": ("wash", "film", "from", "verdict"),
    "lower": ("wash", "film", "from", "effect"),
    "upper": ("wash", "film", "from", "effect"),
    "contested": ("wash", "film", "from", "effect"),
    "leaves": ("from", "film"),
    "listed": ("product", "ingredient"),
    "isa": ("ingredient", "class"),
}


def traces(answer: Answer, question: str) -> list[dict[str, Any]]:
    """Return the traces of an answer, ready to be checked or shown.

    `question` is the question as it was typed.
    """
    return [_trace(case, rows, answer, question) for case, rows in _by_case(answer)]


def reasons(answer: Answer, question: str) -> list[dict[str, Any]]:
    """Return the traces of an answer that has some.

    Raises:
        CommandError: it rests on no reasons, such as a list of names.
    """
    found = traces(answer, question)
    if found:
        return found
    raise CommandError(
        Problem(
            "this answer rests on no reasons that could be traced",
            excerpt=answer.query,
            caret=(0, len(answer.query)),
            hint="ask what a product leaves or what a wash clears",
        )
    )


def base_for(
    trace: Mapping[str, Any],
    world: World,
    again: Callable[[str, World], Answer] | None = None,
    *,
    own: bool = False,
) -> dict[str, Any]:
    """Return the base of a world as the checker compares a trace with it.

    The labels of the trace are read once more, so that what it says of their lines
    is held against what this base makes of them.

    Args:
        trace: the trace.
        world: the base and a shelf; products that are on neither are those of the
            trace.
        again: asks the question once more, of a world with the labels of the trace.
        own: whether a product of the trace may have another label than that of the
            same name on the shelf, as nobody said that it is this shelf.
    """
    here = _with_labels(trace, world, own)
    labels, facts = [], list[Fact]()
    for each in trace["labels"]:
        name = product_name(each["product"])
        labels.append(_label_text(here, name))
        facts += labels[-1].facts
        facts += _bounded(_as_supposed(here, name, trace), name, trace)
    asked = None if again is None else list(_asked_again(trace, world, again))
    wanted = predicates_below(world.program, _predicates(trace))
    known = (
        f for f in (*world.base.facts, *world.known.common) if f.predicate in wanted
    )
    setting = Setting(
        _citations(world),
        tuple(labels),
        world.known.phrases,
        terms=_TERMS,
        edition=edition(world),
    )
    return build_base(world.program, [*known, *facts], setting, trace, asked)


def _predicates(trace: Mapping[str, Any]) -> set[str]:
    """Return the predicates that a trace speaks of."""
    parts = (*trace["facts"], *trace["goals"], *trace["nodes"].values())
    heads = [rule["head"] for rule in trace["program"]["rules"].values()]
    return {atom[0] for atom in (*(p.get("atom", [""]) for p in parts), *heads)}


def _with_labels(trace: Mapping[str, Any], world: World, own: bool) -> World:
    """Return a world in which every product of a trace is on the shelf."""
    known = world.products
    missing = [
        _described(trace, label["product"], world)
        for label in trace["labels"]
        if (name := product_name(label["product"])) not in known
        or (own and known[name].text != label["text"])
    ]
    return world.with_products(missing) if missing else world


def _asked_again(
    trace: Mapping[str, Any], world: World, again: Callable[[str, World], Answer]
) -> Iterator[dict[str, Any]]:
    """Yield what the question of a trace comes to when it is asked again.

    It is asked of the shelf that is there. Where a label of the trace is not on that,
    it is asked besides of the labels of the trace alone, which it then says.
    """
    askable = found = False
    for own, there in _shelves(trace, world):
        try:
            answer = again(trace["question"], there)
        except (GrammarError, CommandError, DataError, UnknownName) as error:
            asks = isinstance(error, Unanswerable)
            askable = askable or (asks and not isinstance(error, NothingBefore))
            continue
        askable = True
        for case, rows in _by_case(answer):
            made = _trace(case, rows, answer, trace["question"])
            parts = ("canonical", "verdict", "supposed", "cautions")
            facts = [*map(fact_json, case.given), *made["facts"]]
            found = True
            yield {part: made[part] for part in parts} | {
                "facts": facts,
                "ownShelf": own,
            }
    if askable and not found:
        yield dict(_NO_ANSWER)


# What a question comes to that can be asked, and of which no trace is made.
_NO_ANSWER = {
    "canonical": "",
    "verdict": {"answers": []},
    "supposed": {"added": [], "removed": []},
    "cautions": [],
    "facts": [],
    "ownShelf": False,
}


def _shelves(trace: Mapping[str, Any], world: World) -> Iterator[tuple[bool, World]]:
    yield False, world
    texts = {product_name(x["product"]): x["text"] for x in trace["labels"]}
    known = world.products
    if any(n not in known or known[n].text != text for n, text in texts.items()):
        labels = [_described(trace, x["product"], world) for x in trace["labels"]]
        said = [
            world.base.label(f["atom"][1])
            for f in trace["facts"]
            if f["atom"][0] == CIRCUMSTANCE and f["origin"] == SHELF
        ]
        made = World(world.base, world.program, labels, said)
        made.amounts.practice = world.amounts.practice
        yield True, made


def _as_supposed(world: World, name: str, trace: Mapping[str, Any]) -> World:
    """Return a world in which one label is what a trace supposes it to be."""
    symbol, supposed = product_symbol(name), trace["supposed"]
    gone = [atom for atom in supposed["removed"] if symbol in atom]
    added = [fact_from(f) for f in trace["facts"] if f["atom"] in supposed["added"]]
    for fact in added:
        if fact.predicate == "type":
            world = world.with_type(str(fact.args[0]), fact)
    more = [fact for fact in added if symbol in fact.args]
    if gone or more:
        read = world.read(name).facts
        kept = [f for f in read if atom_json(f.predicate, f.args) not in gone]
        world = world.with_facts(name, [*kept, *more])
    return world


def _bounded(world: World, name: str, trace: Mapping[str, Any]) -> Iterator[Fact]:
    """Yield the quantities of a label of which a trace says something."""
    about = [
        f["atom"] for f in trace["facts"] if f["atom"][1:2] == [product_symbol(name)]
    ]
    said = {atom[0] for atom in about}
    if "ionicExcess" in said:
        yield from world.amounts.balance(name)
    if "level" in said:
        lines = [f for f in world.read(name).facts if f.predicate == "line"]
        yield from world.amounts.levels(name, [str(f.args[2]) for f in lines])


def _described(trace: Mapping[str, Any], symbol: str, world: World) -> Product:
    """Return a product that is on no shelf, as its own label and shelf have it."""
    atoms = [part["atom"] for part in trace["facts"]] + trace["supposed"]["removed"]
    said = {atom[0]: atom[-1] for atom in atoms if atom[1:2] == [symbol]}
    kind, market = (said.get(each) for each in ("kind", "soldIn"))
    text = next(x["text"] for x in trace["labels"] if x["product"] == symbol)
    kind, market = (each and world.base.label(each) for each in (kind, market))
    return Product(product_name(symbol), kind or "", market or "", text)


def _by_case(answer: Answer) -> list[tuple[Case, list[Row]]]:
    found: dict[int, tuple[Case, list[Row]]] = {}
    for row in traced_rows(answer):
        found.setdefault(id(row.case), (row.case, []))[1].append(row)
    return list(found.values())


def _trace(
    case: Case, rows: Sequence[Row], answer: Answer, question: str
) -> dict[str, Any]:
    goals = [goal for n, row in enumerate(rows) for goal in _goals(row, n)]
    told = Told(question, answer.query, cautions(rows))
    world = case.world
    # The grounds of a case come first: what else is told of it may rest on them.
    given = tuple(fact for fact in case.given if fact.basis.origin != LEVELS)
    setting = Setting(
        _citations(world),
        tuple(_labels(case)),
        world.known.phrases,
        _supposed(case),
        _TERMS,
        _bounds(case),
        edition(world),
        given,
        folded_part(rows),
    )
    return build_trace(case.prover, goals, told, setting)


def _supposed(case: Case) -> Supposed:
    """Return how the facts of a case differ from what its labels and base say."""
    world = case.world
    said, now = list(world.labels.retyped.values()), list[Fact]()
    was = [
        f for f in world.base.facts_about(world.labels.retyped) if f.predicate == "type"
    ]
    for symbol, *_ in case.model.match("product", (None,)):
        name = product_name(symbol)
        product = world.products[name]
        read = label_facts(
            str(symbol), product.kind, product.market, product.text, world.base
        )
        was += read.facts
        now += world.read(name).facts
    now += [f for f in said if case.model.asserted(f.predicate, f.args)]
    kept = {(fact.predicate, fact.args) for fact in now}
    return Supposed(
        tuple(fact for fact in now if fact not in was),
        tuple(fact for fact in was if (fact.predicate, fact.args) not in kept),
    )


def _goals(row: Row, place: int) -> Iterator[TracedGoal]:
    """Yield the goals that show a row, then those that are told beside it."""
    predicate = row.goal[0]
    args: tuple[Term | None, ...] = row.goal[1]
    if isinstance(row, Lacking):
        args = row.pattern
    yield TracedGoal(predicate, args, place)
    if isinstance(row, Verdict):
        for end in (row.at_least, row.at_most):
            if end is not None:
                yield TracedGoal(*end.goal, place, part=True)
        for effect in EFFECTS[1:]:
            about = (*args[:3], row.case.world.base.term(effect))
            yield TracedGoal(CONTESTED, about, place, part=True)
    for each in row.beside:
        yield TracedGoal(*each)


def _labels(case: Case) -> Iterator[LabelText]:
    """Return the labels that were read for a case, as the checker takes them."""
    for symbol, *_ in case.model.match("product", (None,)):
        yield _label_text(case.world, product_name(symbol))


def _label_text(world: World, name: str) -> LabelText:
    read = world.read(name)
    label = read.label
    return LabelText(
        product_symbol(name),
        label.text,
        tuple(LabelLine(*item.span) for item in label.items),
        (
            *(LabelNote(*note.span, note.kind) for note in label.notes),
            *(LabelNote(*gap, "separator") for gap in label.gaps),
        ),
        read.facts,
    )


def _bounds(case: Case) -> Bounds:
    """Return the proofs of the quantities that a case was handed."""
    symbols = [str(symbol) for symbol, *_ in case.model.match("product", (None,))]
    known = [b for s in symbols for b in case.world.amounts.bounded(product_name(s))]
    used = [b for b in known if case.model.asserted(b.fact.predicate, b.fact.args)]
    if not used:
        return NO_BOUNDS
    from abluent.engine.amounts.certified import certified

    return certified(used)


class _Citations(dict[str, str]):
    """The text for every cited work; one that is not listed is a fault of the data."""

    def __missing__(self, name: str) -> str:
        raise DataError(
            Problem(
                f'the source "{name}" is cited and described nowhere',
                hint="describe it as an abl:Source, in a .ttl file with the rules",
            )
        )


def _citations(world: World) -> dict[str, str]:
    base = world.base
    return _Citations({each: base.label(each) for each in base.instances("Source")})
