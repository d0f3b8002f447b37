"""The trace of an answer: which facts it rests on, and what of it they show.

A trace has one model, so an answer whose rows were found in several cases has a
trace for each; most answers have one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from abluent.engine.base.contract import CONTESTED
from abluent.engine.base.phrases import product_name, product_symbol
from abluent.engine.base.roles import EFFECTS
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term
from abluent.engine.proof.encode import atom_json, fact_from
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
from abluent.engine.questions.answers.verdicts import End, Verdict
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World
from abluent.engine.reading.labels import label_facts

# What the terms of a row's fact are called in the verdict of its trace.
_TERMS = {
    "verdict": ("wash", "film", "from", "verdict"),
    "lower": ("wash", "film", "from", "effect"),
    "upper": ("wash", "film", "from", "effect"),
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


def base_for(trace: Mapping[str, Any], world: World) -> dict[str, Any]:
    """Return the base of a world as the checker compares a trace with it.

    The labels of the trace are read once more, so that what it says of their lines
    is held against what this base makes of them.
    """
    facts = [*world.base.facts, *_reread(trace, world)]
    known = [
        LabelText(product_symbol(name), product.text, ())
        for name, product in world.products.items()
    ]
    setting = Setting(
        _citations(world), tuple(known), world.known.phrases, terms=_TERMS
    )
    return build_base(world.program, facts, setting, trace)


def _reread(trace: Mapping[str, Any], world: World) -> Iterator[Fact]:
    """Yield what the labels say, what follows of levels, and the kinds of product."""
    for label in trace["labels"]:
        symbol, name = label["product"], product_name(label["product"])
        own = world
        if name not in world.products:
            # No product of the shelf, but one that the question itself describes.
            own = world.with_products([_described(trace, symbol, world)])
        yield from own.read(name).facts
        yield from _bounded(_as_supposed(own, name, trace), name, trace)


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
    goals: list[TracedGoal] = []
    verdict = []
    for place, row in enumerate(rows):
        shown, shows = _shown(row, place)
        verdict.append(shown)
        goals += shows
    told = Told(question, answer.query, {"answers": verdict}, cautions(rows))
    world = case.world
    labels, supposed = tuple(_labels(case)), _supposed(case)
    setting = Setting(
        _citations(world), labels, world.known.phrases, supposed, _TERMS, _bounds(case)
    )
    return build_trace(case.prover, goals, told, setting)


def _end(end: End, here: tuple[str | int, ...]) -> tuple[dict[str, Any], TracedGoal]:
    """Return one end of a verdict as plain data, and the goal that shows it."""
    told = ("standing", "memory", "proof")
    shown = {"effect": title_of(end), **{part: _PARTS[part](end) for part in told}}
    binds: dict[tuple[str | int, ...], int | str] = {(*here, "effect"): 3}
    binds |= {(*here, part): part for part in told}
    return shown, TracedGoal(*end.goal, binds)


def title_of(end: End) -> str:
    """Return the effect of an end in words."""
    return end.case.world.base.label(str(end.goal[1][-1]))


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


def _shown(row: Row, place: int) -> tuple[dict[str, Any], list[TracedGoal]]:
    """Return a row as plain data, and the goals that show every part of it."""
    predicate = row.goal[0]
    args: tuple[Term | None, ...] = row.goal[1]
    if isinstance(row, Lacking):
        args = row.pattern
    told = ("holds",) if isinstance(row, Lacking) else ("standing", "memory")
    shown: dict[str, Any] = {
        **_terms(row, predicate, args),
        **{part: _PARTS[part](row) for part in (*told, "proof")},
    }
    here = ("answers", place)
    binds: dict[tuple[str | int, ...], int | str] = {
        **{(*here, name): n for n, name in _named(predicate, args)},
        **{(*here, part): part for part in (*told, "proof")},
    }
    goals = [TracedGoal(predicate, args, binds)]
    goals += [TracedGoal(*each) for each in row.beside]
    if isinstance(row, Verdict):
        for name, end in (("at_least", row.at_least), ("at_most", row.at_most)):
            if end is not None:
                shown[name], goal = _end(end, (*here, name))
                goals.append(goal)
        shown["disputed"] = {}
        for effect in EFFECTS[1:]:
            symbol = row.case.world.base.term(effect)
            word = row.case.world.base.label(symbol)
            shown["disputed"][word] = {CONTESTED: effect in row.contested}
            path = (*here, "disputed", word, CONTESTED)
            goals.append(TracedGoal(CONTESTED, (*args[:3], symbol), {path: "holds"}))
    return shown, goals


_PARTS: dict[str, Callable[[Row], object]] = {
    "holds": lambda row: False,
    "standing": lambda row: row.standing,
    "memory": lambda row: row.from_memory,
    "proof": lambda row: row.proof.root.key,
}


def _terms(row: Row, predicate: str, args: Sequence[Term | None]) -> dict[str, str]:
    naming = row.case.world.known.phrases
    return {
        name: naming(term, "")
        for n, name in _named(predicate, args)
        if (term := args[n]) is not None
    }


def _named(predicate: str, args: Sequence[Term | None]) -> Iterator[tuple[int, str]]:
    """Return the places of the terms that are known, with what each is called."""
    names = _TERMS.get(predicate)
    for n, term in enumerate(args):
        if term is not None:
            yield n, names[n] if names else f"term {n + 1}"


def _labels(case: Case) -> Iterator[LabelText]:
    """Return the labels that were read for a case, as the checker takes them."""
    for symbol, *_ in case.model.match("product", (None,)):
        name = product_name(symbol)
        read = case.world.read(name)
        label = read.label
        yield LabelText(
            str(symbol),
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
