"""Which product is used when, by what stands next to what."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from abluent.grammar.common.record import Record, replace

ENDS = frozenset(".;!?")
"""The marks that end more than a clause."""

_APART = 40
"""How many letters a word such as `and` counts for between a rhythm and a product."""

_LISTED = 12
"""How many letters may stand between products that are listed together."""


class Event(Record):
    """What stands at a place of a text.

    `sort` is `product`, `rhythm`, `verb`, `use`, `and`, `ask` or `end`; `of` what a
    rhythm is of, where it is not of what stands beside it.
    """

    sort: str
    text: str
    start: int
    end: int
    of: str = ""


class Placed(Record):
    """Which product is used when.

    `washes` is how often hair is washed with what no rhythm is told of, and `at` where
    that stands, if it stands anywhere; `bare` are the
    products without one, `asked` those of which it is asked how often; `lost` are
    rhythms of nothing that was read.
    """

    pairs: tuple[tuple[str, str], ...]
    washes: str
    bare: tuple[str, ...]
    asked: tuple[str, ...]
    lost: tuple[Event, ...] = ()
    at: Event | None = None


def placed(events: Sequence[Event], washes: Collection[str]) -> Placed:
    """Give each rhythm to the products that it is of."""
    pairs: list[tuple[str, str]] = []
    waiting: list[str] = []
    asked, bare, each_time = list[str](), list[str](), list[str]()
    lost = list[Event]()
    washed: Event | None = None
    other: Event | None = None
    swum: Event | None = None
    for clause in _clauses(events):
        products = [each for each in clause if each.sort == "product"]
        verbs = {each.text for each in clause if each.sort == "verb"}
        own, left = _paired(clause, products, washes)
        pairs += own
        told = {name for name, _ in own}
        lone = [each.text for each in products if each.text not in told]
        if any(each.sort == "ask" for each in clause) and lone and not told:
            asked += lone
            lone = []
        for each in left:
            if each.of == "lost":
                lost.append(each)
            elif each.of == "beside":
                each_time += [name for name in lone if name in washes]
            elif each.of == "swim" or (verbs == {"swim"} and not products):
                swum = swum or each
            elif each.of == "wash" or (verbs and not products):
                washed = washed or each
            elif not waiting:
                other = other or each
            else:
                pairs += [(name, each.text) for name in waiting]
                waiting = []
        waiting += lone
        if clause[-1].text in ENDS:
            bare, waiting = [*bare, *waiting], []
    given = {name for name, _ in pairs}
    bare = [e for e in dict.fromkeys([*bare, *waiting]) if e not in given]
    if washed and other:
        lost.append(other)
    washed = washed or other or swum
    often = washed.text if washed else ""
    if not washed and each_time:
        often = next((w for n, w in pairs if n not in washes and "wash" not in w), "")
    asked = [each for each in asked if each not in given]
    pairs = [pair for pair in pairs if pair[0] not in asked]
    first = sorted(bare, key=lambda name: name not in each_time)
    once, names = tuple(dict.fromkeys(pairs)), tuple(first)
    return Placed(once, often, names, tuple(asked), tuple(lost), washed)


def _clauses(events: Sequence[Event]) -> Iterator[list[Event]]:
    """The events between two marks; the mark that ends a clause is its last."""
    clause: list[Event] = []
    for each in events:
        clause.append(each)
        if each.sort == "end":
            yield clause
            clause = []
    if clause:
        yield clause


def _paired(
    clause: Sequence[Event], products: Sequence[Event], washes: Collection[str]
) -> tuple[list[tuple[str, str]], list[Event]]:
    """The products of a clause with its rhythms, and the rhythms that are left."""
    found: list[tuple[str, str]] = []
    left: list[Event] = []
    for rhythm in (each for each in clause if each.sort == "rhythm"):
        able = [e for e in products if not (rhythm.of == "beside" and e.text in washes)]
        if rhythm.of in {"wash", "swim"} or not able:
            left.append(rhythm)
            continue
        near = min(able, key=lambda each: _far(each, rhythm, clause))
        known = any(near.text == name for name, _ in found)
        if known and _far(near, rhythm, clause) > _APART:
            left.append(replace(rhythm, of="lost"))
            continue
        some = [near, *_listed(near, products, clause)]
        some.sort(key=lambda each: each.start)
        found += [(each.text, rhythm.text) for each in some if each in able]
    return found, left


def _far(product: Event, rhythm: Event, clause: Sequence[Event]) -> int:
    """How far a product stands from a rhythm, what parts them counted."""
    first, last = sorted((product, rhythm), key=lambda each: each.start)
    between = _between(first, last, clause)
    parted = sum(each.sort in {"and", "product", "rhythm"} for each in between)
    return last.start - first.end + _APART * parted


def _between(first: Event, last: Event, clause: Sequence[Event]) -> list[Event]:
    return [e for e in clause if first.end <= e.start and e.end <= last.start]


def _listed(
    product: Event, products: Sequence[Event], clause: Sequence[Event]
) -> Iterator[Event]:
    """The products that are listed with one: nothing but `and` stands between."""
    at = products.index(product)
    for step in (-1, 1):
        one, place = product, at + step
        while 0 <= place < len(products):
            first, last = sorted((one, products[place]), key=lambda each: each.start)
            joined = [each.sort for each in _between(first, last, clause)] == ["and"]
            if not joined or last.start - first.end > _LISTED:
                break
            one, place = products[place], place + step
            yield one
