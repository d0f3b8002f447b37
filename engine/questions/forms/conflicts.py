"""Which products stand in each other's way: `what conflicts on my shelf`.

unwashed  a film that no wash at hand is known to take anything of
charged   what is positive in one product and negative in another that stays on too
undone    a wash that leaves what another wash takes off
needed    the fewest cleansers with which a wash would take what none here does
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Finding, Row
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict, films_left
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.query import tree as q

_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())
_NAMED = 6
_MOST_CLEANSERS = 2
"""Of so many cleansers at most a purchase is put together."""


def conflicts(judge: Judge, query: q.Conflicts, text: str) -> Answer:
    """Tell which of some products conflict, each kind with what shows it.

    Raises:
        Unanswerable: no product is among them.
    """
    items = [
        item
        for item in judge.terms.items(query.things, PRODUCT)
        if item.kind == PRODUCT and item.key != WATER
    ]
    if not items:
        raise Unanswerable("there is no product among these", query.things.span)
    washes = [item for item in items if item in judge.nouns.washes]
    others = [item for item in items if item not in washes]
    at_hand = washes or list(judge.nouns.washes)
    unwashed = _unwashed(judge, at_hand, others)
    undone = [*_undone(judge, washes)]
    charged = [*_charged(judge, others)]
    rows: list[Row] = [row for each in unwashed.values() for row in each]
    rows += [row for _, row in undone]
    findings = [
        Finding(kind, head, tuple(told))
        for kind, head, told in (
            ("unwashed", "No wash at hand is known to take", [*_told(judge, unwashed)]),
            ("undone", "Left by one wash, taken by another", [t for t, _ in undone]),
            ("charged", "Opposite charges that stay on together", charged),
            ("needed", "The least to buy", [*_needed(judge, unwashed)]),
        )
        if told
    ]
    parts = [
        f"{len(told)} {name}"
        for told, name in (
            (unwashed, "films that no wash at hand is known to take"),
            (undone, "films that one wash leaves and another takes"),
            (charged, "pairs of opposite charge"),
        )
        if told
    ]
    looked = f"{len(at_hand)} washes and {len(others)} other products looked at"
    sentence = f"{listed(parts) or 'Nothing that is known here'}; {looked}."
    sentence = sentence[0].upper() + sentence[1:]
    involved = [i for i in items if any(i.key in str(f) for f in findings)]
    return Answer(text, sentence, rows, members=involved, findings=findings)


def _unwashed(
    judge: Judge, washes: Sequence[Item], others: Sequence[Item]
) -> Mapping[str, list[Verdict]]:
    """Films left by products of which no wash takes anything, for all that is known."""
    found: dict[str, list[Verdict]] = {}
    for item in others:
        asked = q.Clears(_EVERYTHING, q.Name(item.key))
        by_wash = judge.removal.verdicts([wash.key for wash in washes], asked)
        rows = [row for each in by_wash.values() for row in each]
        for film in dict.fromkeys(row.film for row in rows):
            mine = [row for row in rows if row.film == film]
            if all(ENDS[row.role][0] is Role.NONE_OF_IT for row in mine):
                found.setdefault(film, []).extend(mine)
    return found


def _told(judge: Judge, unwashed: Mapping[str, list[Verdict]]) -> Iterator[str]:
    base = judge.world.base
    for film, rows in unwashed.items():
        sources = listed(list(dict.fromkeys(row.source for row in rows)))
        surely = all(ENDS[row.role][1] is Role.NONE_OF_IT for row in rows)
        how = "none takes any of it" if surely else "what they take is not known"
        yield f"{base.label(film)}, which {sources} leaves: {how}."


def _undone(judge: Judge, washes: Sequence[Item]) -> Iterator[tuple[str, Left]]:
    """What one wash leaves itself and another takes at least a part of."""
    base, names = judge.world.base, [wash.key for wash in washes]
    case = Case.of(judge.world, sources=names)
    left = [each for name in names for each in films_left(case, name) if each.sure]
    if not left or len(names) < 2:
        return
    films = tuple(q.Name(base.label(f)) for f in dict.fromkeys(e.film for e in left))
    asked = q.Clears(films[0] if len(films) == 1 else q.And(films))
    found = judge.removal.verdicts(names, asked)
    for each in left:
        taking = [
            name
            for name in names
            if name != each.source
            and any(row.film == each.film and _takes(row) for row in found[name])
        ]
        if taking:
            verb = "takes" if len(taking) == 1 else "take"
            what = base.label(each.film)
            who = listed(taking, _NAMED)
            yield (
                f"{each.source} leaves {what}; {who} {verb} it, or a part of it.",
                each,
            )


def _takes(row: Verdict) -> bool:
    return ENDS[row.role][0] is not Role.NONE_OF_IT


def _charged(judge: Judge, others: Sequence[Item]) -> Iterator[str]:
    """Products that stay on hair, one with a positive and one with a negative part."""
    base = judge.world.base
    staying = [
        i for i in others if not base.record(judge.nouns.kind_of(i)).truth("rinsedOff")
    ]
    signed = {i.key: _signed(judge, i) for i in staying}
    for one, other in combinations(staying, 2):
        for a, b in ((one, other), (other, one)):
            plus, minus = signed[a.key][0], signed[b.key][1]
            if plus and minus:
                yield (
                    f"{a.key} ({listed(plus[:3])}, positive) beside {b.key} "
                    f"({listed(minus[:3])}, negative)."
                )


def _signed(judge: Judge, item: Item) -> tuple[list[str], list[str]]:
    """The names on a label that are of positive, and of negative charge."""
    base = judge.world.base
    trait = base.term(Role.CHARGE)
    names: tuple[list[str], list[str]] = [], []
    for symbol in sorted(judge.nouns.on_label(item)):
        if symbol not in base:
            continue  # a name that only the label prints
        value = base.record(symbol).link(trait)
        for side, role in enumerate((Role.POSITIVE, Role.NEGATIVE)):
            if value == base.term(role) and _is_large(judge, symbol):
                names[side].append(base.label(symbol))
    return names


def _is_large(judge: Judge, symbol: str) -> bool:
    """Whether it acts on hair: a film, what cleans, or a polymer of no one structure.

    The ion of a preservative or of a salt does not count.
    """
    if not judge.world.base.record(symbol).text("smiles"):
        return True
    kinds = {*judge.world.labels.kinds_of(symbol)}
    base = judge.world.base
    return bool(kinds & {base.term(Role.FILM), base.term(Role.CLEANSER)})


def _needed(judge: Judge, unwashed: Mapping[str, list[Verdict]]) -> Iterator[str]:
    """The fewest cleansers that take at least a part of what no wash here does."""
    films = [*unwashed]
    if not films:
        return
    base = judge.world.base
    cleansers = judge.terms.alike(judge.nouns.cleansers)
    names = {judge.removal.as_wash(each): each for each in cleansers}
    terms = tuple(q.Name(base.label(film)) for film in films)
    asked = q.Clears(terms[0] if len(terms) == 1 else q.And(terms))
    taken: dict[str, frozenset[str]] = {}
    for name, rows in judge.removal.verdicts(list(names), asked).items():
        taken[name] = frozenset(row.film for row in rows if _takes(row))
    able = frozenset().union(*taken.values())

    def is_enough(some: Sequence[str]) -> bool:
        return frozenset().union(*(taken[name] for name in some)) == able

    useful = [name for name in names if taken[name]]
    for size in range(1, _MOST_CLEANSERS + 1) if able else ():
        fitting = filter(is_enough, combinations(useful, size))
        some = next(fitting, None)
        if some is not None:
            who = listed([judge.nouns.title(names[name]) for name in some])
            what = listed([base.label(film) for film in films if film in able])
            yield f"A wash with {who} would take at least a part of {what}."
            break
    rest = [base.label(film) for film in films if film not in able]
    if rest:
        yield f"Nothing known here is shown to take any of {listed(rest)}."
