"""What a word points back to: `the last one`, `the pomade`, `of them`.

Each is told before the text is parted, so that the clause it stands in has a name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import Entry, words_in
from abluent.grammar.phrase.pieces import IDLE, NAME, Piece, Sense

_OR = Entry("small", "or")
_LEAVE = Entry("verb", "leave")
_ADVISE = Entry("ask", "advise")
_JOINTS = ("small:and", "small:or", "ask:compare")
_MARKS = frozenset(",/+&;>")
_PRODUCTS = Sense("products", frozenset({"kind"}), "product")


def referred(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, with names for the words that point back to one."""
    found = _put_back(_opposed(_washed_with(_wanted(_the_most(pieces)))))
    found = _of_the_shelf(found)
    found = _in_brackets(_rivals_as_list(found))
    return _named_before(_ones_of_list(found))


def _idle(piece: Piece) -> Piece:
    return replace(piece, entry=IDLE, sense=None, other=())


def _is_named(piece: Piece) -> bool:
    return piece.sense is not None and not piece.sense.kinds & {"condition", "sort"}


def _kinds(piece: Piece) -> frozenset[str]:
    return piece.sense.kinds if piece.sense is not None else frozenset()


def _the_most(pieces: Sequence[Piece]) -> list[Piece]:
    """`the most repeated`: the first of its sort, and no share of anything."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:-1], 1):
        led = pieces[at - 1].does("small:article") and piece.role == "quantity:share"
        if led and len(piece.words) == 1 and not _is_named(pieces[at + 1]):
            found[at] = _idle(piece)
    return found


def _opposed(pieces: Sequence[Piece]) -> list[Piece]:
    """`in soft or hard water`: the one condition and its opposite."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-2]):
        sense = pieces[at + 2].sense
        joined = pieces[at + 1].does(*_JOINTS)
        if sense is None or sense.kinds != {"condition"} or not joined:
            continue
        if len(piece.words) == 1 and piece.words[0] in sense.one.split():
            other = Sense(sense.one, sense.kinds, sense.text)
            found[at] = replace(piece, entry=NAME, sense=other, other=())
    return _not_there(found)


def _not_there(pieces: Sequence[Piece]) -> list[Piece]:
    """`in hard water but not soft`: nor in soft water."""
    found = list(pieces)
    stated = [e.sense for e in pieces if e.sense and e.sense.kinds == {"condition"}]
    for at, piece in enumerate(pieces[1:], 1):
        if piece.sense is not None or not pieces[at - 1].does("small:no"):
            continue
        against = [each for each in stated if piece.words[0] in each.one.split()]
        if against and len(piece.words) == 1:
            other = Sense(against[0].one, against[0].kinds, against[0].text)
            found[at] = replace(piece, entry=NAME, sense=other, other=())
    return found


def _wanted(pieces: Sequence[Piece]) -> list[Piece]:
    """`need a wash that …`: which wash; after a name it is said of that."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-2]):
        wants = piece.words[-1] in words_in("wants") and piece.sense is None
        kind = next((e for e in pieces[at + 1 : at + 4] if _is_named(e)), None)
        led = pieces[at + 1].does("small:article", "contrast:mild", "contrast:harsh")
        begins = not any(map(_is_named, pieces[max(0, at - 3) : at]))
        wash = kind is not None and _kinds(kind) >= {"wash", "kind"}
        if wants and led and wash and begins:
            found[at] = replace(piece, entry=_ADVISE, other=())
    return found


def _washed_with(pieces: Sequence[Piece]) -> list[Piece]:
    """`…, washes with W`: what somebody does, and with what."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-2]):
        after = pieces[at + 2]
        doer = at > 0 and {*pieces[at - 1].words} & words_in("subjects")
        if doer and {*piece.words} & words_in("puts") and piece.sense is None:
            # `she puts on P`: what she uses.
            found[at] = _idle(piece)
            continue
        verb = piece.does("heads:clear") and _kinds(piece) >= {"wash", "kind"}
        wash = _kinds(after) >= {"wash", "product"}
        if verb and wash and pieces[at + 1].does("small:with"):
            found[at] = _idle(piece)
    return found


def _put_back(pieces: Sequence[Piece]) -> list[Piece]:
    """`puts silicone back`: leaves it."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if piece.sense is not None or piece.words[0] not in words_in("puts"):
            continue
        rest = pieces[at + 1 : at + 5]
        named = any(_is_named(e) or e.does("small:pronoun") for e in rest)
        if named and any(each.words[0] in words_in("back") for each in rest):
            found[at] = replace(piece, entry=_LEAVE, other=())
    return found


def _put_on(rest: Sequence[Piece]) -> bool:
    """Whether a film, and no product, is put `on`."""
    named = [at for at, each in enumerate(rest) if _is_named(each)]
    if not named or named[0] + 1 >= len(rest):
        return False
    kinds = _kinds(rest[named[0]])
    return (
        rest[named[0] + 1].words == ("on",)
        and "film" in kinds
        and not kinds & {"product", "kind"}
    )


def _of_the_shelf(pieces: Sequence[Piece]) -> list[Piece]:
    """`which 2 of my shelf`: which products of it."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if not piece.does("small:my_shelf") or not at:
            continue
        led = [n for n in range(at) if pieces[n].does("ask:which", "ask:how_many")]
        between = range(led[-1] + 1, at) if led else range(0)
        counts = [n for n in between if pieces[n].entry.section == "number"]
        plain = all(
            n in counts or pieces[n].does("small:of", "small:article") for n in between
        )
        after = pieces[at + 1] if at + 1 < len(pieces) else None
        if not led or not plain or (after is not None and "kind" in _kinds(after)):
            continue
        found[at] = replace(piece, entry=NAME, sense=_PRODUCTS, other=())
        for n in counts:
            # Which they are tells how many as well.
            found[n] = _idle(pieces[n])
    return found


def _rivals_as_list(pieces: Sequence[Piece]) -> list[Piece]:
    """`A vs B vs C`, `A vs B, which of them …`: one of a list."""
    places = [
        at
        for at in range(1, len(pieces) - 1)
        if pieces[at].role == "ask:compare"
        and {*pieces[at].words} & words_in("versus")
        and _are_rivals(pieces[at - 1], pieces[at + 1])
    ]
    asked = (
        any(each.does("ask:which") for each in pieces[places[-1] :]) if places else 0
    )
    if not places or (len(places) == 1 and not asked):
        return list(pieces)
    found = list(pieces)
    for at in places:
        found[at] = replace(pieces[at], entry=_OR, other=(pieces[at].entry,))
    return found


def _are_rivals(one: Piece, other: Piece) -> bool:
    """Whether two names are of one sort, so that they can be set side by side."""
    both = _kinds(one) & _kinds(other)
    return bool(both & {"ingredient", "product", "class"})


def _lists(pieces: Sequence[Piece]) -> Iterator[list[int]]:
    """The places of names that stand in one list, for each list of two or more."""
    now: list[int] = []
    for at, piece in enumerate(pieces):
        if _is_named(piece):
            now.append(at)
        elif not (piece.words[0] in _MARKS or piece.does(*_JOINTS)) or not now:
            if len(now) > 1:
                yield now
            now = []
    if len(now) > 1:
        yield now


_CLOSE = 4
"""How many pieces may stand between a kind and the list of those that are meant."""


def _in_brackets(pieces: Sequence[Piece]) -> list[Piece]:
    """`the washes on my table (A, B, C)`: these."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if piece.words != ("(",):
            continue
        inside = [n for n in range(at + 1, _shut(pieces, at)) if _is_named(pieces[n])]
        before = [n for n in range(max(0, at - _CLOSE), at) if _is_named(pieces[n])]
        if before and inside and _is_member(pieces, before[-1], inside, at):
            # `soap (sodium cocoate)`: what is meant by it.
            found[before[-1]] = _idle(pieces[before[-1]])
            continue
        if len(inside) < 2 or not before:
            continue
        kind, shared = (
            before[-1],
            frozenset.intersection(*map(_kinds, _at(pieces, inside))),
        )
        if "kind" in _kinds(pieces[kind]) and _kinds(pieces[kind]) - {"kind"} <= shared:
            if not any(_is_verb(each) for each in pieces[kind + 1 : at]):
                for n in range(kind, at + 1):
                    found[n] = _idle(pieces[n])
                found[_shut(pieces, at)] = _idle(pieces[_shut(pieces, at)])
    return found


def _is_member(
    pieces: Sequence[Piece], kind: int, inside: Sequence[int], at: int
) -> bool:
    """Whether what stands in brackets right after a class is of that class."""
    known = _kinds(pieces[kind])
    members = [_kinds(pieces[n]) for n in inside]
    wanted = known - {"class", "kind"}
    close = kind == at - 1 and "class" in known and "product" not in known
    return close and all("ingredient" in e and wanted <= e for e in members)


def _at(pieces: Sequence[Piece], places: Sequence[int]) -> list[Piece]:
    return [pieces[each] for each in places]


def _is_verb(piece: Piece) -> bool:
    return piece.entry.section in ("verb", "turned", "heads", "contrast")


def _shut(pieces: Sequence[Piece], at: int) -> int:
    """Where a bracket is closed."""
    rest = range(at + 1, len(pieces))
    return next((n for n in rest if pieces[n].words == (")",)), len(pieces) - 1)


def _ones_of_list(pieces: Sequence[Piece]) -> list[Piece]:
    """`…, X - what is the last one`: X, and the others are no more spoken of."""
    found = list(pieces)
    lists = [*_lists(pieces)]
    for at, piece in enumerate(pieces):
        which = _which_one(piece, pieces[at + 1] if at + 1 < len(pieces) else None)
        before = [each for each in lists if each[-1] < at]
        if (
            which is None
            or not before
            or not -len(before[-1]) <= which < len(before[-1])
        ):
            continue
        meant = pieces[before[-1][which]]
        for n in before[-1]:
            found[n] = _idle(pieces[n])
        found[at] = replace(piece, entry=NAME, sense=meant.sense, other=(), value="")
        found[at + 1] = _idle(pieces[at + 1])
    return found


def _which_one(piece: Piece, after: Piece | None) -> int | None:
    """Which of a list `the last one`, `the second ingredient` is."""
    if after is None or not {*after.words} & words_in("member"):
        return None
    if {*piece.words} & words_in("last"):
        return -1
    ordinal = piece.entry.section == "number" and not piece.words[0].isdigit()
    if ordinal and piece.value.isdigit() and piece.words[0] in words_in("ordinals"):
        return int(piece.value) - 1
    return None


def _named_before(pieces: Sequence[Piece]) -> list[Piece]:
    """`Rope Pomade … does the pomade stay`: the product named before."""
    found = list(pieces)
    named: list[Piece] = []
    for at, piece in enumerate(pieces):
        kinds = _kinds(piece)
        if "product" in kinds:
            named.append(piece)
        led = at > 0 and {*pieces[at - 1].words} & words_in("that one")
        if not led or len(piece.words) != 1 or "kind" not in kinds:
            continue
        fits = [
            each
            for each in named
            if each.sense is not None
            and piece.words[0] in each.sense.text.casefold().split()
        ]
        if len({each.sense.text for each in fits if each.sense}) == 1:
            found[at] = replace(piece, sense=fits[0].sense, other=())
    return found
