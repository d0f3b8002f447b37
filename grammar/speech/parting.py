"""The clauses of a saying, and what `it` or a lacking subject stands for in each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from abluent.grammar.common.record import Record
from abluent.grammar.frames.clause import is_carried
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.nouns import noun_phrases
from abluent.grammar.phrase.pieces import Piece, says_any
from abluent.grammar.query import tree as q
from abluent.grammar.speech.tails import within_tails

_HARD = frozenset(".?!;:\u2014\u2013")


_WEAK = frozenset(":\u2014\u2013")


_LINKS = {
    "small:so": "so",
    "small:because": "because",
    "small:but": "but",
    "small:if": "if",
    "small:unless": "unless",
}


class Part(Record):
    """Where the pieces of a clause stand, and how it is linked to the one before."""

    places: tuple[int, ...]
    link: str


Places: TypeAlias = tuple[int, ...]


class Earlier(Record):
    """Where what was spoken of last stands: by its part, and by what it can be."""

    subject: Places = ()
    object: Places = ()
    wash: Places = ()
    film: Places = ()


def is_name(piece: Piece) -> bool:
    """Whether a piece names something; a condition is no name."""
    return piece.sense is not None and piece.sense.kinds != {"condition"}


def matters(piece: Piece) -> bool:
    """Whether a piece says something that must not be dropped in silence."""
    return not is_carried(piece)


def parts(pieces: Sequence[Piece]) -> list[Part]:
    """The clauses of a text, each with how it is linked to the one before."""
    found: list[Part] = []
    places: list[int] = []
    link = ""
    added = within_tails(pieces)
    for at, piece in enumerate(pieces):
        if at in added:
            continue
        linked = next((k for role, k in _LINKS.items() if piece.role == role), "")
        if piece.does("small:than") and _after_contrast(pieces, at):
            linked = ""
        marked = piece.entry.section == "mark" or piece.role == "small:question"
        hard = marked and piece.words[0] in _HARD
        if hard and piece.words[0] in _WEAK:
            rest = range(at + 1, len(pieces))
            hard = _has_verb(pieces, places) and _has_verb(pieces, [*rest])
        soft = not linked and not hard and _parts_clauses(pieces, places, at)
        if _begins_anew(pieces, places, at):
            found.append(Part(tuple(places), link))
            places, link = [at], "and"
            continue
        if not (hard or linked or soft):
            places.append(at)
            continue
        if _says_something(pieces, places):
            found.append(Part(tuple(places), link))
            link = ""
        places = []
        # `So does W …`: nothing goes before that it could follow from.
        linked = linked if found or linked != "so" else ""
        link = linked or link or ("and" if found else "")
    if _says_something(pieces, places):
        found.append(Part(tuple(places), link))
    return found


def _says_something(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """Whether a clause has matter of its own, or asks for those that do it."""
    matter = any(matters(pieces[each]) for each in places)
    how = any(pieces[at].does(*_HOW) for at in places)
    of_it = how and any(pieces[at].does("small:pronoun") for at in places)
    return matter or of_it or asks_for_those([pieces[at] for at in places])


def asks_for_those(pieces: Sequence[Piece]) -> bool:
    """`… name one that does`: whether it is asked which of those before do."""
    return says_any(pieces, "one that does")


def _begins_anew(pieces: Sequence[Piece], before: Sequence[int], at: int) -> bool:
    """`… u need oil first`: a subject and a verb after a clause that has both."""
    if pieces[at].words[0] not in _SUBJECTS or at + 1 >= len(pieces):
        return False
    then = at + 1 + pieces[at + 1].does("small:no")
    after = then < len(pieces) and pieces[then].entry.section in ("verb", "heads")
    return (
        after
        and _has_verb(pieces, before)
        and any(is_name(pieces[each]) for each in before)
    )


_SUBJECTS = words_in("subjects")


def _after_contrast(pieces: Sequence[Piece], at: int) -> bool:
    """Whether `then` is a slip for `than`."""
    earlier = [piece for piece in pieces[:at] if matters(piece)]
    return bool(earlier) and earlier[-1].entry.section == "contrast"


def _parts_clauses(pieces: Sequence[Piece], before: Sequence[int], at: int) -> bool:
    """Whether an `and` or a comma stands between two clauses and not two names."""
    piece = pieces[at]
    if piece.words != (",",) and not piece.does("small:and", "small:or"):
        return False
    if piece.words[0] in words_in("within"):
        return False
    after = _until_next(pieces, at + 1)
    if _is_contrast(pieces, before) and _is_contrast(pieces, after):
        return True
    asks = _has_verb(pieces, before) or _asks_what(pieces, before)
    asks = asks or _is_denial(pieces, before)
    asks = asks or (_asks_to_rank(pieces, before) and _asks_which(pieces, after))
    if not asks or _in_what_they_leave(pieces, at):
        return False
    if any(pieces[each].does(*_HOW) for each in after):
        return True
    return _says_more(pieces, before, after)


def _says_more(
    pieces: Sequence[Piece], before: Sequence[int], after: Sequence[int]
) -> bool:
    """Whether what follows is a clause: it has a verb, denies, or asks which."""
    if _asks_which(pieces, after) and _asks_to_rank(pieces, before):
        return True
    if _has_verb(pieces, after) or _is_denial(pieces, after):
        return True
    # `… and B, also without F, can't`
    rest = _until_end(pieces, after[0]) if after else []
    return not _has_verb(pieces, rest) and _is_denial(pieces, rest)


def _until_end(pieces: Sequence[Piece], start: int) -> list[int]:
    """The places up to the end of a sentence."""
    last = range(start, len(pieces))
    hard = (at for at in last if pieces[at].words[0] in _HARD)
    return [*range(start, next(hard, len(pieces)))]


def _asks_to_rank(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """Whether things are to be put in order there, or set side by side."""
    return any(pieces[at].does("ask:rank", "ask:compare") for at in places)


def _asks_which(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """Whether it is asked there, at the head, which things are so."""
    head = next((at for at in places if pieces[at].role != "idle:words"), None)
    return head is not None and pieces[head].does("ask:which", "ask:what")


def _asks_what(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """Whether it is asked there what something is, or how mild: `what's X, …`."""
    asks = any(pieces[at].does("ask:define", "ask:what", *_HOW) for at in places)
    return asks and any(is_name(pieces[at]) for at in places)


_HOW = ("ask:how_mild", "ask:how_strong")


def _is_contrast(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """Whether something is set against something else there: `milder than …`."""
    contrasts = any(pieces[at].entry.section == "contrast" for at in places)
    return contrasts and any(pieces[at].does("small:than") for at in places)


def _in_what_they_leave(pieces: Sequence[Piece], at: int) -> bool:
    """Whether an `and` stands within `what A and B leave`."""
    names = (
        pieces[at - 1].sense,
        pieces[at + 1].sense if at + 1 < len(pieces) else None,
    )
    if not all(each is not None and "product" in each.kinds for each in names):
        return False
    return at > 1 and pieces[at - 2].does("small:everything")


def _is_denial(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """A name and a `not`, as in `…, plain dimethicone doesn't`."""
    last = places[-1] if places else -1
    named = any(is_name(pieces[at]) for at in places)
    return named and last >= 0 and pieces[last].does("small:no")


def _until_next(pieces: Sequence[Piece], start: int) -> list[int]:
    found = []
    for at in range(start, len(pieces)):
        piece = pieces[at]
        if piece.entry.section == "mark" and piece.words[0] in _HARD | {","}:
            break
        if piece.role in _LINKS:
            break
        found.append(at)
    return found


def _has_verb(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    return any(_is_verbal(pieces[at]) for at in places)


def _is_verbal(piece: Piece) -> bool:
    return piece.entry.section in _VERBS or piece.role == "small:clash"


def completed(pieces: Sequence[Piece], clause: Part, earlier: Earlier) -> Places:
    """The places of a clause, with what a pronoun or a lacking subject means."""
    places: list[int] = []
    replaced = verbed = False
    subject = earlier.subject
    taking = _taking(pieces, clause.places)
    for at in clause.places:
        verbed = verbed or pieces[at].entry.section in _VERBS
        own = any(is_name(pieces[each]) for each in places)
        pronoun = pieces[at].does("small:pronoun") and not (own and not verbed)
        meant = _meant(earlier, taking, verbed=verbed) if pronoun else ()
        if _is_all_of_it(pieces[at]) and taking and verbed and earlier.film:
            meant = earlier.film
        if meant and not set(meant) & set(places):
            places += meant
            replaced = True
        elif pronoun and subject and not replaced:
            object_ = verbed and pieces[at].role != "verb:be"
            places += earlier.object if object_ else subject
            places += [at] if pieces[at].role == "verb:be" else []
            replaced = True
        else:
            places.append(at)
    if any(_is_enough(pieces[at]) for at in places) and not _has_film(pieces, places):
        # `so soap is enough`: for what was spoken of.
        return (*places, *(earlier.film or subject))
    if (replaced and not _of_object(pieces, clause.places)) or not subject:
        return tuple(places)
    first = next((at for at in places if matters(pieces[at])), None)
    sections = (*_VERBS, "contrast")
    if first is not None and pieces[first].entry.section in sections:
        asked = any(
            pieces[at].entry.section == "ask" for at in places[: places.index(first)]
        )
        if not asked:
            return (*subject, *places)
    return tuple(places)


def _of_object(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """`… and puts it back`: whether the pronoun is what is acted on, by what was."""
    real = [at for at in places if pieces[at].role != "idle:words"]
    led = len(real) > 1 and pieces[real[0]].entry.section in _VERBS
    return led and pieces[real[1]].does("small:pronoun")


def _is_enough(piece: Piece) -> bool:
    """Whether something is said to be enough, or to be needed, for something."""
    return piece.does("ask:enough") or piece.words[-1] in words_in("needed")


def _is_all_of_it(piece: Piece) -> bool:
    """Whether a piece is all of something that was spoken of."""
    return piece.role == "small:everything" and "it" in piece.words


def _has_film(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    senses = [pieces[at].sense for at in places]
    return any(e and e.kinds & {"film", "product", "thing"} for e in senses)


_VERBS = ("verb", "turned", "heads")


def _taking(pieces: Sequence[Piece], places: Sequence[int]) -> str:
    """Whether a clause says what takes something off, or what comes off."""
    for at in places:
        if pieces[at].does("verb:clear") or pieces[at].role == "heads:clear":
            return "active"
        if pieces[at].does("turned:clear", "heads:turned"):
            return "turned"
    return ""


def _meant(earlier: Earlier, taking: str, *, verbed: bool) -> Places:
    """What a pronoun can only mean: `it takes it off` is a wash and a film."""
    if not taking:
        return ()
    wash = verbed == (taking == "turned")
    return earlier.wash if wash else earlier.film


def nouns_at(
    pieces: Sequence[Piece], places: Sequence[int], earlier: Earlier
) -> Earlier:
    """What was spoken of last after a clause, and where it stands."""
    own = [pieces[at] for at in places]
    nouns = [part for part in noun_phrases(own) if isinstance(part, Noun)]
    if not nouns:
        return earlier

    def where(noun: Noun) -> Places:
        return tuple(places[noun.first : noun.last + 1])

    first, last = nouns[0], nouns[-1]
    inside = [n for n in nouns if n.has("product") and _is_inside(own, n)]
    if inside and not any(piece.entry.section in _VERBS for piece in own):
        # `there is no I in P, so it is …`: it is the product.
        first = last = inside[0]
    elif any(piece.does("verb:contain", "verb:lack") for piece in own):
        # `P has no I, so W takes it off`: it is the product.
        last = first
    washes = [n for n in nouns if n.has("wash") or (n.has("agent") and _pure(n))]
    named = [n for n in washes if n.has("product")] or washes
    films = [n for n in nouns if _stays(n)]
    films = [n for n in films if n not in inside] or films
    if all(piece.does("verb:be") for piece in own if piece.entry.section in _VERBS):
        # `F is a resin, so W takes it off`: it is F.
        films = films[:1]
    return Earlier(
        where(first),
        where(last),
        where(named[-1]) if named else earlier.wash,
        where(films[-1]) if films else earlier.film,
    )


def _is_inside(own: Sequence[Piece], noun: Noun) -> bool:
    """Whether a noun follows `in`."""
    return noun.first > 0 and own[noun.first - 1].does("small:in")


def _pure(noun: Noun) -> bool:
    return not noun.has("film", "kind", "water", "class")


def _stays(noun: Noun) -> bool:
    """Whether a noun can be what stays, or a product that leaves it."""
    if noun.has("thing", "wash") or noun.quantity is q.Quantity.NO:
        return False
    return noun.has("film") or (noun.has("product") and not noun.has("agent"))
