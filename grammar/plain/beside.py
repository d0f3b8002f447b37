"""What is said beside a question: conditions, what somebody uses, what is asked too.

A way of the part `beside` may stand between any two parts of a question, before it or
after it. It asks nothing by itself: it changes what is asked, asks something more of
it, or is told as not used.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from abluent.grammar.common.record import Record, records, replace
from abluent.grammar.query import tree as q

BESIDE = "beside"
"""The part whose ways these are."""
SAID = "context"
"""The part whose ways are such too, but only in a sentence that asks nothing."""
_MARK = re.compile("\u27e6(\\w+)\\|([^|]*)\\|(\\d+)\\|(\\d+)\u27e7")
_WASHES = q.Name("washes")


class Remark(NamedTuple):
    """One thing said beside a question.

    `deed` is what it does, `what` of what, in the words of the question language, and
    the places are those of its first word and of the one after its last.
    """

    deed: str
    what: str
    first: int
    after: int

    @property
    def mark(self) -> str:
        """The remark as it travels with a meaning."""
        return f"\u27e6{self.deed}|{self.what}|{self.first}|{self.after}\u27e7"


def remark(asked: str, first: int, after: int) -> Remark:
    """The remark that a way of the part comes to: `when in hard water`."""
    deed, _, what = asked.partition(" ")
    return Remark(deed, what, first, after)


def remarks(text: str) -> tuple[Remark, ...]:
    """The remarks that travel with a meaning, each once, in their order."""
    found = (
        Remark(each[1], each[2], int(each[3]), int(each[4]))
        for each in _MARK.finditer(text)
    )
    return tuple(sorted(set(found), key=lambda each: each.first))


def without_remarks(text: str) -> str:
    """A meaning alone."""
    return _MARK.sub("", text)


def heeded(
    queries: Sequence[q.Query], deed: str, what: q.Term | str
) -> tuple[q.Query, ...]:
    """Questions as a remark changes them, with what it asks besides.

    Args:
        queries: what is asked.
        deed: what the remark does.
        what: the phrase of a condition, or the thing that is spoken of.

    Returns:
        Nothing, if the remark bears on none of them.
    """
    if deed in _MORE:
        more = [_MORE[deed](each, what) for each in queries]
        found = [each for each in more if each is not None]
        return (*queries, *found[:1]) if found else ()
    changed = [_CHANGES[deed](each, what) for each in queries]
    if all(each is None for each in changed):
        return ()
    pairs = zip(queries, changed, strict=True)
    return tuple(old if new is None else new for old, new in pairs)


# --- changes ------------------------------------------------------------------

_UNDER = q.Clears | q.Leaves | q.Stays | q.Undergoes | q.Compare


def _under(query: q.Query, phrase: Any) -> q.Query | None:
    """Each act under a condition; nothing where none can be."""
    found = [each for each in records(query) if isinstance(each, _UNDER)]
    if not found or any(isinstance(e, q.Compare) and e.lines for e in found):
        return None

    def changed(node: Any) -> Any:
        if not isinstance(node, _UNDER) or phrase in node.circumstances:
            return node
        return replace(node, circumstances=(*node.circumstances, phrase))

    made: q.Query = _mapped(query, changed)
    return made


def _worn(query: q.Query, product: Any) -> q.Query | None:
    """As of what a product leaves, which somebody wears."""
    if product in tuple(records(query)):
        return query
    everything = q.Quantified(q.Quantity.EVERY, q.Thing())
    match query:
        case q.Which(subject=subject, predicate=None) if _are_washes(subject):
            return replace(query, predicate=q.Clears(everything, product))
        case q.Compare(film=None, lines=False):
            return replace(query, film=product)
    if any(isinstance(each, q.Outdoes | q.Needs) for each in records(query)):
        return None
    open_ones = [
        each
        for each in records(query)
        if isinstance(each, q.Clears) and each.source is None
    ]
    if not open_ones:
        return None

    def changed(node: Any) -> Any:
        here = isinstance(node, q.Clears) and node.source is None
        return replace(node, source=product) if here else node

    made: q.Query = _mapped(query, changed)
    return made


def _washed(query: q.Query, wash: Any) -> q.Query | None:
    """Of what stays of a product, under a wash that somebody uses."""
    if wash in tuple(records(query)):
        return query
    match query:
        case q.Whether(statement=q.Statement(subject=source, predicate=q.Stays())):
            return q.What(wash, q.Not(q.Clears(q.Thing(), source)))
    return None


def _film(query: q.Query, film: Any) -> q.Query | None:
    """Of one film, where it is not said of which."""
    match query:
        case q.Which(subject=subject, predicate=None) if _are_washes(subject):
            return replace(query, predicate=q.Clears(film))
        case q.Whether(statement=q.Statement(predicate=q.Clears(source=None)) as said):
            everything = q.Quantified(q.Quantity.EVERY, q.Thing())
            clears = said.predicate
            if isinstance(clears, q.Clears) and clears.object == everything:
                return q.Whether(replace(said, predicate=replace(clears, object=film)))
        case q.Compare(film=None, lines=False):
            return replace(query, film=film)
    return None


def _lacking(query: q.Query, stuff: Any) -> q.Query | None:
    """Of washes without something; or whether the one that is named does without."""
    lacks = q.Not(q.Contains(stuff))
    match query:
        case q.Which(subject=subject) if _are_washes(subject):
            return replace(query, subject=q.narrowed(subject, lacks))
        case q.Whether(statement=q.Statement(predicate=q.Clears() as clears) as said):
            both = q.Both((clears, lacks))
            return q.Whether(replace(said, predicate=both))
    return None


def _twice(query: q.Query, number: Any) -> q.Query | None:
    """After so many rounds."""
    if not any(isinstance(each, q.Clears) for each in records(query)):
        return None

    def changed(node: Any) -> Any:
        here = isinstance(node, q.Clears) and node.rounds == 1
        return replace(node, rounds=int(number)) if here else node

    made: q.Query = _mapped(query, changed)
    return made


def _partly(query: q.Query, _: Any) -> q.Query | None:
    """To some part at least."""
    full = [e for e in records(query) if isinstance(e, q.Clears)]
    if not full or any(each.extent is not q.Extent.FULLY for each in full):
        return None

    def changed(node: Any) -> Any:
        here = isinstance(node, q.Clears)
        return replace(node, extent=q.Extent.AT_LEAST_PARTLY) if here else node

    made: q.Query = _mapped(query, changed)
    return made


def _why(query: q.Query, _: Any) -> q.Query | None:
    """Why it is so; an answer to any other question has its reasons with it."""
    return q.About(q.Aspect.WHY, query) if isinstance(query, q.Whether) else query


def _mildest_first(query: q.Query, number: Any) -> q.Query | None:
    """The mildest of them before the others."""
    match query:
        case q.Which(order=None, subject=subject) if _are_washes(subject):
            limit = None if number is None or not str(number).isdigit() else int(number)
            return replace(query, order=q.Order.MILDEST, limit=limit)
    return None


def _as_it_is(query: q.Query, _: Any) -> q.Query:
    """What every answer says of itself."""
    return query


_CHANGES: dict[str, Callable[[Any, Any], q.Query | None]] = {
    "when": _under,
    "worn": _worn,
    "washed": _washed,
    "film": _film,
    "lacking": _lacking,
    "rounds": _twice,
    "partly": _partly,
    "why": _why,
    "ordered": _mildest_first,
    "told": _as_it_is,
}

# --- what is asked besides ----------------------------------------------------


def _mildest(query: q.Query, _: Any) -> q.Query | None:
    """The mildest of those that an answer names."""
    match query:
        case q.Which(predicate=predicate, subject=subject) if _are_washes(subject):
            return q.Which(subject, predicate, q.Order.MILDEST, 1)
    return None


def _clearing(query: q.Query) -> tuple[q.Term, q.Clears] | None:
    """Who is asked to clear what, where one thing is asked of a wash."""
    match query:
        case q.Whether(statement=said) | q.About(matter=q.Whether(statement=said)):
            pass
        case q.Unlike(matter=q.Whether(statement=said)):
            pass
        case _:
            return None
    for each in records(said.predicate):
        if isinstance(each, q.Clears):
            return said.subject, replace(each, extent=q.Extent.FULLY)
    return None


def _instead(query: q.Query, _: Any) -> q.Query | None:
    """Which other washes do it."""
    match query:
        case q.What(subject=wash, predicate=q.Not(part=q.Clears(source=source))):
            if source is not None:
                everything = q.Quantified(q.Quantity.EVERY, q.Thing())
                return q.Which(q.Except(_WASHES, wash), q.Clears(everything, source))
        case q.Whether(statement=q.Statement(subject=stays, predicate=q.Stays())):
            return q.Which(_WASHES, q.Clears(stays))
    found = _clearing(query)
    if found is None:
        return None
    wash, clears = found
    return q.Which(q.Except(_WASHES, wash), clears)


def _mildest_instead(query: q.Query, _: Any) -> q.Query | None:
    """The mildest of the other washes that do it."""
    made = _instead(query, None)
    if not isinstance(made, q.Which):
        return None
    return replace(made, order=q.Order.MILDEST, limit=1)


def _also_under(query: q.Query, phrase: Any) -> q.Query | None:
    """The same under a condition, besides."""
    return _under(query, phrase)


def _without(query: q.Query, stuff: Any) -> q.Query | None:
    """Which washes without something do it."""
    found = _clearing(query)
    lacks = q.Not(q.Contains(stuff))
    match query:
        case q.Which(subject=subject, predicate=predicate) if _are_washes(subject):
            return q.Which(q.narrowed(subject, lacks), predicate)
    return None if found is None else q.Which(q.narrowed(_WASHES, lacks), found[1])


def _rather(query: q.Query, wash: Any) -> q.Query | None:
    """The same of another wash."""
    match query:
        case q.Whether(statement=said) if isinstance(said.subject, q.Name):
            return q.Whether(replace(said, subject=wash))
        case q.What(subject=q.Name()):
            return replace(query, subject=wash)
    return None


def _needing(query: q.Query, agent: Any) -> q.Query | None:
    """Whether what is to come off needs something."""
    for each in records(query):
        if isinstance(each, q.Clears):
            everything = each.object == q.Quantified(q.Quantity.EVERY, q.Thing())
            film = each.source if everything and each.source else each.object
            return q.Whether(q.Statement(film, q.Needs(agent)))
    return None


def _enough(query: q.Query, product: Any) -> q.Query | None:
    """Which of those that were put in order take off what a product leaves."""
    everything = q.Quantified(q.Quantity.EVERY, q.Thing())
    clears = q.Clears(everything, product)
    match query:
        case q.Which(subject=subject, predicate=None):
            return q.Which(subject, clears)
        case q.Compare(things=things) | q.Rank(things=things):
            return q.Which(things, clears)
    return None


def _what(query: q.Query, _: Any) -> q.Query | None:
    """What it is that they leave, or clear, or list."""
    match query:
        case q.Which(subject=subject, predicate=q.Leaves(circumstances=under)):
            return q.What(subject, q.Leaves(q.Thing(), under))
        case q.Whether(statement=q.Statement(subject=subject, predicate=q.Leaves())):
            return q.What(subject, q.Leaves(q.Thing()))
    return None


def _washes(query: q.Query, _: Any) -> q.Query | None:
    """Which washes take off what stays."""
    everything = q.Quantified(q.Quantity.EVERY, q.Thing())
    match query:
        case q.What(subject=source, predicate=q.Leaves(circumstances=under)):
            clears = q.Clears(everything, source, circumstances=under)
            return q.Which(_WASHES, clears)
        case q.Whether(statement=said) | q.Claim(statement=said):
            if isinstance(said.predicate, q.Stays):
                return q.Which(_WASHES, q.Clears(said.subject))
            if isinstance(said.predicate, q.Leaves):
                return q.Which(_WASHES, q.Clears(said.predicate.object, said.subject))
    return None


def _same_of(query: q.Query, film: Any) -> q.Query | None:
    """The same of one thing more."""
    match query:
        case q.Claim(statement=said):
            return q.Whether(replace(said, subject=film))
    return None


def _about(aspect: q.Aspect) -> Callable[[Any, Any], q.Query | None]:
    """A question about the answer."""

    def asked(query: q.Query, _: Any) -> q.Query | None:
        match query:
            case q.About(aspect=known) if known is aspect:
                return query
            case q.Whether() | q.Claim():
                return q.About(aspect, query)
            case q.About(aspect=q.Aspect.WHY, matter=q.Whether() as matter):
                return q.About(aspect, matter)
        return None

    return asked


_MORE: dict[str, Callable[[Any, Any], q.Query | None]] = {
    "mildest": _mildest,
    "instead": _instead,
    "milder": _mildest_instead,
    "also": _also_under,
    "without": _without,
    "rather": _rather,
    "enough": _enough,
    "same": _same_of,
    "washes": _washes,
    "what": _what,
    "need": _needing,
    "sure": _about(q.Aspect.SURE),
    "sources": _about(q.Aspect.SOURCES),
    "change": _about(q.Aspect.CHANGE),
}
FILLING = ("worn", "film")
"""What says of what it is asked, where the question does not."""
FACTS = ("premise", "lacks", "lists", "leaves")
"""What is said of a label."""
DEEDS = frozenset((*_CHANGES, *_MORE, *FACTS, "aside"))
"""All that a remark can do; what is said `aside` is told as not used."""


def premise(queries: Sequence[q.Query], deed: str, stuff: q.Term) -> q.Query | None:
    """What is said of the label of that which is asked about, as a question."""
    for each in records(tuple(queries)):
        match each:
            case (
                q.Statement(subject=q.Name() as subject)
                | q.What(subject=q.Name() as subject)
            ):
                pass
            case q.HowMuch(things=q.Name() as subject):
                pass
            case _:
                continue
        lists: q.Predicate = q.Contains(stuff)
        says = {"lists": lists, "lacks": q.Not(lists), "leaves": q.Leaves(stuff)}
        said = says[deed]
        return q.Whether(q.Statement(subject, said))
    return None


# --- trees --------------------------------------------------------------------


def _are_washes(term: q.Term) -> bool:
    """Whether a term is washes in general, perhaps under conditions."""
    match term:
        case q.Name(text=text):
            return text.casefold() in ("washes", "wash")
        case q.Such(term=inner) | q.Quantified(term=inner) | q.Except(term=inner):
            return _are_washes(inner)
        case q.And(terms=terms) | q.Or(terms=terms):
            return all(isinstance(each, q.Name) for each in terms)
    return False


def _mapped(node: Any, change: Callable[[Any], Any]) -> Any:
    """A tree with each of its nodes changed."""
    if isinstance(node, tuple):
        return tuple(_mapped(each, change) for each in node)
    if not isinstance(node, Record):
        return node
    fields = zip(node._fields, node._values(), strict=True)
    return change(replace(node, **{key: _mapped(e, change) for key, e in fields}))
