"""Pieces to noun phrases: quantity, name, conditions, lists."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.counts import THINGS, counts_things, number_of
from abluent.grammar.phrase.letters import by_letters, ended, lettered
from abluent.grammar.phrase.noun import (
    JOINTS,
    LEADING,
    Noun,
    Part,
    are_alike,
    is_apart,
    is_aside,
    is_joint,
    past_idle,
    verb_after,
)
from abluent.grammar.phrase.pieces import OF_WASHES, Piece, Sense
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in

_SKIPPED = ("small:article", "small:of", "idle:words")


_PRONOUNS = {
    "small:everything": q.Quantity.EVERY,
    "small:anything": q.Quantity.SOME,
    "small:nothing": q.Quantity.NO,
}


_HOLDERS = frozenset({"kind", "wash"})


_HELD = frozenset({"ingredient", "class", "value"})


def noun_phrases(pieces: Sequence[Piece]) -> list[Part]:
    """The pieces with every noun phrase in the place of those it is made of."""
    found: list[Part] = []
    at = 0
    while at < len(pieces):
        noun = _noun(pieces, at)
        if noun is None:
            found.append(pieces[at])
            at += 1
            continue
        found.append(noun)
        at = noun.last + 1
    return found


def nouns_from(pieces: Sequence[Piece], at: int) -> list[Noun]:
    """The noun phrases that begin at a place: a list, its first, the bare name."""
    read = (_noun(pieces, at), _conditioned(pieces, at), _headed(pieces, at))
    found = [*read, _bare(pieces[at], at)]
    return [*dict.fromkeys(noun for noun in found if noun is not None)]


def _bare(piece: Piece, at: int) -> Noun | None:
    """A name by itself, with nothing before or after it."""
    sense = piece.sense
    if sense is None or sense.kinds == {"condition"} or "sort" in sense.kinds:
        return None
    general = not sense.kinds.isdisjoint({"class", "kind", "value"})
    name, lone = q.Name(sense.text), single(sense)
    return Noun(
        name,
        sense.kinds,
        at,
        at,
        general=general,
        slip=piece.slip,
        single_term=lone,
    )


def _noun(pieces: Sequence[Piece], at: int) -> Noun | None:
    """The longest noun phrase, or list of them, that begins at a place."""
    one = _conditioned(pieces, at)
    if one is None:
        return None
    members = [one]
    either = False
    end = one.last
    while True:
        joint = end + 1
        if joint < len(pieces) and is_joint(pieces, joint):
            after = joint + 1
            if after < len(pieces) and pieces[after].does(*JOINTS):
                after += 1
            other = _conditioned(pieces, after)
            if is_aside(pieces, one, joint, after):
                break
            if (
                other is not None
                and are_alike(one, other)
                and other.quantity
                in (
                    None,
                    one.quantity,
                )
            ):
                either = either or pieces[after - 1].does("small:or")
                members.append(other)
                end = other.last
                continue
        break
    if len(members) == 1 or is_apart(pieces, members):
        return one
    terms = tuple(each.term for each in members)
    if len(set(terms)) < len(terms):
        return one
    joined = q.Or(terms) if either else q.And(terms)
    singles = tuple(each.single_term or each.term for each in members)
    single = q.Or(singles) if either else q.And(singles)
    kinds = frozenset.intersection(*(each.kinds for each in members))
    general = all(each.general for each in members)
    slip = any(each.slip for each in members)
    return replace(
        one,
        term=joined,
        kinds=kinds,
        last=end,
        general=general,
        slip=slip,
        single_term=single,
        listed=tuple(members),
    )


def _conditioned(pieces: Sequence[Piece], at: int) -> Noun | None:
    """A noun with the conditions that follow it."""
    ending = ended(pieces, at)
    if ending is not None:
        return ending
    noun = _all_but(pieces, at) or _headed(pieces, at)
    if noun is None:
        noun = by_letters(pieces, at) or _another(pieces, at)
    if noun is not None:
        noun = lettered(pieces, noun)
    if noun is not None and noun.has("cleanser") and not noun.has("wash", "product"):
        return _with_another(pieces, noun)
    if noun is None or not noun.has(*_HOLDERS) or noun.has("product"):
        return noun
    while True:
        held = _condition(pieces, past_idle(pieces, noun.last + 1))
        if held is None:
            return noun
        noun = _such(noun, *held)


def _with_another(pieces: Sequence[Piece], noun: Noun) -> Noun:
    """`SLES with betaine`: washes with both cleansers."""
    at = past_idle(pieces, noun.last + 1)
    if at + 1 >= len(pieces) or not pieces[at].does("small:with"):
        return noun
    other = _headed(pieces, at + 1)
    if other is None or not other.has("cleanser") or other.has("wash", "product"):
        return noun
    both = q.Contains(q.And((noun.term, other.term)))
    made = q.Such(q.Name("washes"), (both,))
    return Noun(made, OF_WASHES, noun.first, other.last, noun.quantity, general=True)


def _condition(pieces: Sequence[Piece], at: int) -> tuple[q.Predicate, Noun] | None:
    """What follows a kind of product as a condition on it, and the noun it names."""
    if at >= len(pieces):
        return None
    piece = pieces[at]
    without = piece.does("small:without", "quantity:no") or piece.words == ("no",)
    if without:
        held = _held(pieces, at + 1, either=True)
        return None if held is None else (q.Not(q.Contains(held.term)), held)
    if not piece.does("small:with", "verb:contain") or piece.words == ("have",):
        return None
    denied = at + 1 < len(pieces) and pieces[at + 1].does("quantity:no")
    held = _held(pieces, at + 1, either=denied)
    if held is None or _states(pieces, at, held):
        return None
    if held.has("agent") and piece.words == ("using",):
        return None
    said = q.Contains(held.term)
    return (q.Not(said) if denied else said), held


def _states(pieces: Sequence[Piece], at: int, held: Noun) -> bool:
    """Whether `contain` is what a clause says, and no condition on its subject."""
    if not pieces[at].does("verb:contain") or pieces[at].does("small:with"):
        return False
    relative = at > 0 and pieces[at - 1].words[-1] in ("that", "which", "who")
    return not relative and not verb_after(pieces, held.last)


def _all_but(pieces: Sequence[Piece], at: int) -> Noun | None:
    """`all but the waxes`, `everything except beeswax`."""
    if at >= len(pieces) or not pieces[at].does("small:all_but"):
        return None
    other = _noun(pieces, at + 1)
    if other is None or not other.has("film"):
        return None
    rest = q.Except(q.Thing(), other.term)
    kinds = frozenset({"film", "thing"})
    return Noun(rest, kinds, at, other.last, q.Quantity.EVERY, slip=other.slip)


def _another(pieces: Sequence[Piece], at: int) -> Noun | None:
    """`one with SLES`: another wash."""
    if at + 1 >= len(pieces) or pieces[at].words not in (("one",), ("ones",)):
        return None
    if not pieces[at + 1].does("small:with", "small:without"):
        return None
    return Noun(q.Name("washes"), OF_WASHES, at, at, general=True)


def _held(pieces: Sequence[Piece], at: int, *, either: bool) -> Noun | None:
    """An ingredient, class or list of them that a product is with or without.

    Args:
        pieces: the pieces.
        at: where it begins.
        either: whether any one of a list is meant, as after `without`.
    """
    noun = _headed(pieces, at)
    if noun is None or not noun.has(*_HELD) or noun.has("wash", "product"):
        return None
    terms = [noun.term]
    end = noun.last
    while end + 1 < len(pieces) and is_joint(pieces, end + 1):
        after = end + 2
        if after < len(pieces) and pieces[after].does(*JOINTS):
            after += 1
        other = _headed(pieces, after)
        if other is None or not other.has(*_HELD) or other.has("wash", "product"):
            break
        either = either or pieces[after - 1].does("small:or")
        terms.append(other.term)
        end = other.last
    if len(terms) == 1:
        return noun
    joined = q.Or(tuple(terms)) if either else q.And(tuple(terms))
    return replace(noun, term=joined, last=end)


def _such(noun: Noun, condition: q.Predicate, held: Noun) -> Noun:
    made = q.narrowed(noun.term, condition)
    return replace(
        noun, term=made, last=held.last, slip=noun.slip or held.slip, general=True
    )


def _headed(pieces: Sequence[Piece], at: int) -> Noun | None:
    """Quantity, articles and adjectives, then a name; `sulfate-free` before it."""
    start = at
    quantity: q.Quantity | None = None
    count: int | None = None
    is_any = False
    fewer = said_at = 0
    unread: list[int] = []
    free: list[q.Predicate] = []
    while at < len(pieces):
        piece = pieces[at]
        leading = next((r for r in LEADING if piece.does(r)), None)
        if piece.sense is not None and "sort" in piece.sense.kinds:
            free += _shown(piece.sense.text)
            at += 1
            continue
        if piece.sense is not None and piece.sense.kinds != {"condition"}:
            if at + 1 < len(pieces) and pieces[at + 1].does("small:free"):
                free.append(q.Not(q.Contains(q.Name(piece.sense.text))))
                at += 2
                at += _joins_free(pieces, at)
                continue
            break
        if piece.does(*_PRONOUNS) and quantity is None:
            pronoun = next(r for r in _PRONOUNS if piece.does(r))
            thing = q.Thing()
            return Noun(
                thing,
                frozenset({"film", "thing", "ingredient"}),
                start,
                at,
                quantity=_PRONOUNS[pronoun],
            )
        if count is not None and piece.words[0] in THINGS:
            kinds = frozenset({"film", "thing", "ingredient"})
            return Noun(q.Thing(), kinds, start, at, quantity, count)
        if leading is not None:
            quantity = LEADING[leading]
            is_any = leading == "quantity:any"
            fewer = int(leading == "quantity:fewer")
            said_at = at
        elif (number := number_of(pieces, at, quantity)) is not None:
            count = max(0, number - fewer)
        elif piece.entry.section == "number" and counts_things(pieces, at):
            quantity, count = q.Quantity.EXACTLY, int(piece.value)
        elif piece.does("contrast:mild", "contrast:harsh"):
            unread.append(at)
        elif piece.role not in _SKIPPED or (at == start and piece.role == "idle:words"):
            break
        at += 1
    if quantity in q.COUNTED and count is None:
        # A count without a number is not read.
        unread.append(said_at)
    return _named(pieces, start, at, quantity, count, is_any, unread, free)


def _joins_free(pieces: Sequence[Piece], at: int) -> int:
    """`A free and B free`: whether a joint leads to another such word."""
    after = pieces[at : at + 3]
    if len(after) < _FREE or not is_joint(pieces, at):
        return 0
    sense = after[1].sense
    named = sense is not None and sense.kinds != {"condition"}
    return int(named and after[2].does("small:free"))


_FREE = 3
"""A joint, a name and `free`."""


@lru_cache(maxsize=64)
def _shown(text: str) -> tuple[q.Predicate, ...]:
    """What the label of a kind of wash shows: `chelating` is `with chelants`."""
    query = query_in(f"which washes {text}")
    held = isinstance(query, q.Which) and isinstance(query.subject, q.Such)
    return query.subject.conditions if held else ()  # type: ignore[union-attr]


def _is_kind(piece: Piece) -> bool:
    """Whether a piece is no more than a kind of product."""
    kinds = piece.sense.kinds if piece.sense is not None else frozenset()
    return "kind" in kinds and kinds.isdisjoint({"film", "ingredient", "product"})


def _is_water(piece: Piece) -> bool:
    """Whether a piece says what the water is like."""
    if piece.sense is None or piece.sense.kinds != {"condition"}:
        return False
    return piece.words[-1] == "water"


_OF_IT = words_in("of it")
"""What is said after the name of what is left on hair and says no more of it."""


def _named(  # noqa: PLR0913, PLR0917 - the parts of one noun phrase
    pieces: Sequence[Piece],
    start: int,
    at: int,
    quantity: q.Quantity | None,
    count: int | None,
    is_any: bool,
    unread: Sequence[int],
    free: Sequence[q.Predicate],
) -> Noun | None:
    if quantity in q.COUNTED and count is None:
        quantity = None
    piece = pieces[at] if at < len(pieces) else None
    sense = piece.sense if piece is not None else None
    if piece is None or sense is None or sense.kinds == {"condition"}:
        if not free:
            return None
        # `sulfate-free` by itself is said of washes.
        term = q.Such(q.Name("washes"), tuple(free))
        return Noun(
            term,
            OF_WASHES,
            start,
            at - 1,
            quantity,
            count,
            is_any,
            True,
            frozenset(unread),
        )
    conditions = list(free)
    slip = piece.slip
    last = at
    following = pieces[at + 1] if at + 1 < len(pieces) else None
    other = following.sense if following is not None else None
    compound = (
        other is not None
        and "kind" in other.kinds
        and not sense.kinds.isdisjoint(_HELD)
        and "product" not in sense.kinds
    )
    if compound and other is not None and following is not None:
        # `PVP gel`, `EDTA shampoo`: a kind of product with it.
        conditions.append(q.Contains(q.Name(sense.text)))
        sense, last, slip = other, at + 1, slip or following.slip
    before = pieces[start - 1] if start else None
    if before is not None and _is_water(before) and "kind" in sense.kinds:
        if "agent" in sense.kinds and "wash" not in sense.kinds:
            # `cold water rinse`: water alone, and how warm it is.
            sense = Sense("water", frozenset({"water", "agent"}))
    after = pieces[last + 1] if last + 1 < len(pieces) else None
    if after is not None and after.words[0] in _OF_IT and after.sense is None:
        last += 1
    elif after is not None and "product" in sense.kinds and after.words == ("one",):
        # `the plum one`
        last += 1
    elif after is not None and "product" in sense.kinds and _is_kind(after):
        # `Plover shampoo`: the product, and what sort of product it is.
        last += 1
    elif after is not None and "product" in sense.kinds and _is_sort(pieces, last + 1):
        # `Plover Clarifying Wash`: likewise, with what the pack says of itself.
        last += 2
    name: q.Term = q.Name(sense.text)
    whole = q.Such(name, tuple(conditions)) if conditions else name
    general = not sense.kinds.isdisjoint({"class", "kind", "value"})
    return Noun(
        whole,
        sense.kinds,
        start,
        last,
        quantity if quantity not in q.COUNTED or count is not None else None,
        count,
        is_any,
        general or bool(conditions),
        frozenset(unread),
        slip=slip,
        single_term=single(sense) if not conditions else None,
    )


def _is_sort(pieces: Sequence[Piece], at: int) -> bool:
    """Whether `clarifying wash` or the like stands at a place."""
    sense = pieces[at].sense
    sort = sense is not None and "sort" in sense.kinds
    return sort and at + 1 < len(pieces) and _is_kind(pieces[at + 1])


def single(sense: Sense) -> q.Term:
    """The name for one member of a class, with its article."""
    if not sense.one:
        return q.Name(sense.text)
    article = "an" if sense.one[:1].lower() in set("aeiou") else "a"
    return q.Name(sense.one, article=article)
