"""Free speech to exact questions: at most three, with what was left unread.

A text is cut into clauses at its marks and joints. What each clause says is put
together: several statements are judged apart, a conclusion with its step, a question
is asked. What is offered is a question of the language, printed and read again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import query_in
from abluent.grammar.query.printer import print_query
from abluent.grammar.speech.book import topics
from abluent.grammar.speech.clause import WASHES, Said, is_carried, with_verbs
from abluent.grammar.speech.clauses import like, said
from abluent.grammar.speech.pieces import Lexicon, Piece, cut, tokens

MOST = 3
"""How many questions are offered at most."""
LONGEST = 1_500
"""How many letters are read of one saying."""
_LEAST = 0.3
"""The share of what matters that must be read for anything to be offered."""
_HARD = frozenset(".?!;:\u2014\u2013")
_WEAK = frozenset(":\u2014\u2013")
"""Marks that part clauses only where there is a verb on both sides."""
_LINKS = {
    "small:so": "so",
    "small:because": "because",
    "small:but": "and",
    "small:if": "if",
    "small:unless": "and",
}


class Reading(Record):
    """One exact question that a saying can mean.

    `unread` are the stretches of the text that it leaves aside, `mended` those that
    were read as slips or as something wider; `share` is how much
    of what matters it takes, from 0 to 1; `sure` tells that nothing speaks against it.
    """

    query: q.Query
    question: str
    unread: tuple[Span, ...]
    mended: tuple[Span, ...]
    share: float
    sure: bool


class Heard(Record):
    """What a saying comes to: readings, best first, or why there is none.

    `unsettled` is what is to be said of a matter that nothing here settles.
    """

    readings: tuple[Reading, ...]
    unsettled: str = ""


class _Clause(Record):
    places: tuple[int, ...]
    link: str


_Earlier: TypeAlias = tuple[tuple[int, ...], tuple[int, ...]]


class _Offer(Record):
    query: q.Query
    used: frozenset[int]
    doubt: float


def read_speech(text: str, lexicon: Lexicon) -> Heard:
    """Read a saying.

    Args:
        text: as typed.
        lexicon: the names that can be meant.
    """
    text = text[:LONGEST]
    pieces = with_verbs(cut(text, lexicon))
    unsettled, spoken, weak = _unsettled(text)
    named = [piece for piece in pieces if _is_name(piece)]
    if not named:
        spoken_of = unsettled and any(_is_of_the_trade(piece) for piece in pieces)
        return Heard((), unsettled if spoken_of else "")
    offers = sorted(_offers(pieces), key=lambda offer: offer.doubt)
    readings = list(_readings(pieces, offers, spoken))
    if weak and readings and readings[0].share >= _LEAST:
        unsettled = ""
    if not readings and unsettled:
        readings = list(_readings(pieces, list(_instead(pieces)), spoken))
        return Heard(tuple(readings[:MOST]), unsettled)
    kept = [each for each in readings if each.share >= _LEAST or unsettled]
    return Heard(tuple(kept[:MOST]), unsettled if kept or unsettled else "")


def _is_name(piece: Piece) -> bool:
    return piece.sense is not None and piece.sense.kinds != {"condition"}


def _is_of_the_trade(piece: Piece) -> bool:
    """Whether a piece speaks of washing hair at all."""
    verbs = ("verb:clear", "verb:stay", "turned:clear", "turned:rinse")
    return piece.sense is not None or piece.does(*verbs) or piece.words == ("hair",)


def _matters(piece: Piece) -> bool:
    return not is_carried(piece)


def _clauses(pieces: Sequence[Piece]) -> list[_Clause]:
    """The clauses of a text, each with how it is linked to the one before."""
    found: list[_Clause] = []
    places: list[int] = []
    link = ""
    for at, piece in enumerate(pieces):
        linked = next((k for role, k in _LINKS.items() if piece.role == role), "")
        if piece.does("small:than") and _after_contrast(pieces, at):
            linked = ""
        hard = piece.entry.section == "mark" and piece.words[0] in _HARD
        if hard and piece.words[0] in _WEAK:
            rest = range(at + 1, len(pieces))
            hard = _has_verb(pieces, places) and _has_verb(pieces, [*rest])
        soft = not linked and not hard and _parts_clauses(pieces, places, at)
        if _begins_anew(pieces, places, at):
            found.append(_Clause(tuple(places), link))
            places, link = [at], "and"
            continue
        if not (hard or linked or soft):
            places.append(at)
            continue
        if any(_matters(pieces[each]) for each in places):
            found.append(_Clause(tuple(places), link))
            link = ""
        places = []
        link = linked or link or ("and" if found else "")
    if any(_matters(pieces[each]) for each in places):
        found.append(_Clause(tuple(places), link))
    return found


def _begins_anew(pieces: Sequence[Piece], before: Sequence[int], at: int) -> bool:
    """`… u need oil first`: a subject and a verb after a clause that has both."""
    if pieces[at].words[0] not in _SUBJECTS or at + 1 >= len(pieces):
        return False
    after = pieces[at + 1].entry.section in ("verb", "heads")
    return (
        after
        and _has_verb(pieces, before)
        and any(_is_name(pieces[each]) for each in before)
    )


_SUBJECTS = frozenset("u you i we they he she it".split())


def _after_contrast(pieces: Sequence[Piece], at: int) -> bool:
    """Whether `then` is a slip for `than`."""
    earlier = [piece for piece in pieces[:at] if _matters(piece)]
    return bool(earlier) and earlier[-1].entry.section == "contrast"


def _parts_clauses(pieces: Sequence[Piece], before: Sequence[int], at: int) -> bool:
    """Whether an `and` or a comma stands between two clauses and not two names."""
    piece = pieces[at]
    if piece.words != (",",) and not piece.does("small:and", "small:or"):
        return False
    after = _until_next(pieces, at + 1)
    if not _has_verb(pieces, before):
        return False
    return _has_verb(pieces, after) or _is_denial(pieces, after)


def _is_denial(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    """A name and a `not`, as in `…, plain dimethicone doesn't`."""
    last = places[-1] if places else -1
    named = any(_is_name(pieces[at]) for at in places)
    return named and last >= 0 and pieces[last].does("small:no")


def _until_next(pieces: Sequence[Piece], start: int) -> list[int]:
    found = []
    for at in range(start, len(pieces)):
        piece = pieces[at]
        if piece.entry.section == "mark" and piece.words[0] in _HARD | {","}:
            break
        found.append(at)
    return found


def _has_verb(pieces: Sequence[Piece], places: Sequence[int]) -> bool:
    sections = ("verb", "turned", "heads")
    return any(pieces[at].entry.section in sections for at in places)


def _completed(
    pieces: Sequence[Piece], clause: _Clause, earlier: _Earlier
) -> tuple[int, ...]:
    """The places of a clause, with what a pronoun or a lacking subject means."""
    places: list[int] = []
    replaced = verbed = False
    subject, object_ = earlier
    for at in clause.places:
        verbed = verbed or pieces[at].entry.section in ("verb", "turned", "heads")
        if pieces[at].does("small:pronoun") and subject and not replaced:
            places += object_ if verbed and pieces[at].role != "verb:be" else subject
            places += [at] if pieces[at].role == "verb:be" else []
            replaced = True
        else:
            places.append(at)
    if replaced or not subject:
        return tuple(places)
    first = next((at for at in places if _matters(pieces[at])), None)
    if first is not None and pieces[first].entry.section in ("verb", "turned", "heads"):
        asked = any(
            pieces[at].entry.section == "ask" for at in places[: places.index(first)]
        )
        if not asked:
            return (*subject, *places)
    return tuple(places)


def _nouns_at(pieces: Sequence[Piece], places: Sequence[int]) -> _Earlier | None:
    """Where the first and the last noun of a clause stand."""
    from abluent.grammar.speech.nouns import Noun, noun_phrases  # noqa: PLC0415

    own = [pieces[at] for at in places]
    nouns = [part for part in noun_phrases(own) if isinstance(part, Noun)]
    if not nouns:
        return None
    first, last = (
        tuple(places[noun.first : noun.last + 1]) for noun in (nouns[0], nouns[-1])
    )
    return first, last


def _offers(pieces: Sequence[Piece]) -> Iterator[_Offer]:
    """Everything that the text can be asked as."""
    found: list[tuple[_Clause, list[Said]]] = []
    earlier: _Earlier = ((), ())
    last: Said | None = None
    asked_before: frozenset[str] = frozenset()
    for clause in _clauses(pieces):
        places = _completed(pieces, clause, earlier)
        own = [pieces[at] for at in places]
        read = like(own, places, last) if last is not None else []
        read = read or said(own, places)
        read = [_held(each, last) for each in read]
        own_asks = _asking([pieces[at] for at in clause.places])
        if "which" in asked_before and places != clause.places:
            read = [_as_which(each) for each in read]
        if any(pieces[at].does("small:pronoun") for at in clause.places):
            # What a pronoun stands for is a guess, and so is asked about.
            read = [replace(each, doubt=each.doubt + 0.1) for each in read]
        asked_before = own_asks or asked_before
        found.append((clause, read))
        earlier = _nouns_at(pieces, places) or earlier
        last = next((each for each in read if each.predicate is not None), last)
    whole = tuple(range(len(pieces)))
    asks = _asking(pieces)
    best = [(clause, read[0]) for clause, read in found if read]
    best = [
        (clause, each)
        for at, (clause, each) in enumerate(best)
        if at + 1 == len(best) or not best[at + 1][1].folded
    ]
    yield from _together(best, asks)
    for clause, read in found:
        for rank, each in enumerate(read[:3]):
            local = _asking([pieces[at] for at in clause.places]) | (
                asks & {"evidence", "sure", "question"}
            )
            yield _Offer(_as_query(each, local), each.used, each.doubt + rank * 0.2)
    if len(found) != 1:
        for each in said(pieces, whole)[:2]:
            yield _Offer(_as_query(each, asks), each.used, each.doubt + 0.6)


def _as_which(each: Said) -> Said:
    """What is said of the things that the clause before asked for."""
    if each.subject is None or each.predicate is None or not each.general:
        return each
    subject, predicate = each.subject, each.predicate
    if isinstance(subject, q.Quantified):
        if subject.quantity is not q.Quantity.NO:
            return each
        subject, predicate = subject.term, q.Not(predicate)
    return replace(each, asked=q.Which(subject, predicate), predicate=None)


def _held(each: Said, last: Said | None) -> Said:
    """What is said of a kind of product that was said before to contain something.

    `My shampoo has no sulfates. Does it …`: the question is about such washes.
    """
    if last is None or last.subject is None or last.predicate is None:
        return each
    held = _contents(last.predicate)
    base = last.subject.term if isinstance(last.subject, q.Such) else last.subject
    if held is None or not isinstance(base, q.Name) or not last.general:
        return each
    if each.subject is None or each.predicate is None:
        return each
    own = each.subject.term if isinstance(each.subject, q.Quantified) else each.subject
    if own != last.subject:
        return each
    if isinstance(own, q.Such):
        narrow = q.Such(own.term, (*own.conditions, held))
    else:
        narrow = q.Such(own, (held,))
    subject: q.Term = narrow
    if isinstance(each.subject, q.Quantified):
        subject = replace(each.subject, term=narrow)
    return replace(each, subject=subject, used=each.used | last.used, folded=True)


def _contents(said_: q.Predicate) -> q.Predicate | None:
    """A predicate as a condition on a label, if it is one."""
    core = said_.part if isinstance(said_, q.Not) else said_
    if not isinstance(core, q.Contains) or core.level is not None:
        return None
    if isinstance(core.object, q.Quantified):
        if core.object.quantity is q.Quantity.NO:
            return q.Not(q.Contains(core.object.term))
        return replace(core, object=core.object.term)
    return said_


def _asking(pieces: Sequence[Piece]) -> frozenset[str]:
    """How a text asks: by the keys of its words, and `question` for its mark."""
    found = {p.entry.key for p in pieces if p.entry.section == "ask"}
    found |= {e.key for p in pieces for e in p.other if e.section == "ask"}
    if any(p.words[0] == "?" for p in pieces):
        found.add("question")
    first = next((p for p in pieces if p.role != "idle:words"), None)
    if first is not None and first.does("verb:be"):
        found.add("whether")
    return frozenset(found)


def _together(
    best: Sequence[tuple[_Clause, Said]], asks: frozenset[str]
) -> Iterator[_Offer]:
    """Several statements, judged apart, the last perhaps as what follows."""
    stated = [(clause, each) for clause, each in best if each.predicate is not None]
    asked = [each for _, each in best if each.asked is not None]
    if len(stated) < 2 or (asked and "question" in asks):
        return
    ordered: list[Said] = []
    follows = False
    for clause, each in stated:
        if clause.link == "because" and ordered:
            ordered.insert(len(ordered) - 1, each)
            follows = True
            continue
        follows = follows or clause.link == "so"
        ordered.append(each)
    if stated[0][0].link == "if":
        follows = True
    statements = tuple(_statement(each) for each in ordered)
    if len(set(statements)) < 2:
        return
    used = frozenset().union(*(each.used for each in ordered))
    doubt = sum(each.doubt for each in ordered) / len(ordered)
    yield _Offer(q.Argue(statements, follows), used, doubt - 0.3)


def _statement(each: Said) -> q.Statement:
    assert each.subject is not None
    assert each.predicate is not None
    return q.Statement(each.subject, each.predicate)


def _as_query(each: Said, asks: frozenset[str]) -> q.Query:
    """A question for what one clause says."""
    if each.asked is not None:
        return each.asked
    statement = _statement(each)
    if "sure" in asks:
        return q.About(q.Aspect.SURE, _claim(statement))
    if "evidence" in asks:
        return q.About(q.Aspect.SOURCES, _claim(statement))
    if "why" in asks:
        return _why(each, statement)
    asking = bool(asks & {"whether", "question"})
    if asking and each.single:
        return q.Whether(statement)
    return _claim(statement)


def _claim(statement: q.Statement) -> q.Claim:
    return q.Claim(statement)


def _why(each: Said, statement: q.Statement) -> q.Query:
    negative = isinstance(each.predicate, q.Not)
    if negative and isinstance(each.predicate, q.Not):
        statement = replace(statement, predicate=each.predicate.part)
    matter: q.Whether | q.Claim = (
        q.Whether(statement) if each.single else q.Claim(statement)
    )
    return q.About(q.Aspect.WHY, matter, negative)


def _instead(pieces: Sequence[Piece]) -> Iterator[_Offer]:
    """What can be asked of the things named, where what was asked cannot be settled."""
    for at, piece in enumerate(pieces):
        if not _is_name(piece) or piece.sense is None:
            continue
        name, used = q.Name(piece.sense.text), frozenset({at})
        if "product" in piece.sense.kinds:
            yield _Offer(q.What(name, q.Leaves(q.Thing())), used, 1.0)
        elif "film" in piece.sense.kinds:
            yield _Offer(q.Which(WASHES, q.Clears(name)), used, 1.2)
            yield _Offer(q.Claim(q.Statement(name, q.Stays())), used, 1.4)
        elif "kind" not in piece.sense.kinds and "water" not in piece.sense.kinds:
            yield _Offer(q.Define(name), used, 1.6)


def _readings(
    pieces: Sequence[Piece],
    offers: Sequence[_Offer],
    spoken: frozenset[int],
) -> list[Reading]:
    """The offers as readings, those first that take most of what matters."""
    matter = [at for at, piece in enumerate(pieces) if _matters(piece)]
    best: dict[str, tuple[float, Reading]] = {}
    for offer in offers:
        question = "" if _is_empty(offer.query) else _printed(offer.query)
        if not question:
            continue
        taken = [at for at in matter if at in offer.used]
        share = len(taken) / len(matter) if matter else 0.0
        unread = [at for at in matter if at not in offer.used]
        slips = [at for at in sorted(offer.used) if pieces[at].slip]
        sure = not unread and not slips and offer.doubt <= 0 and not spoken
        reading = Reading(
            offer.query,
            question,
            tuple(_spans(pieces, unread)),
            tuple(_spans(pieces, slips)),
            share,
            sure,
        )
        score = share - 0.06 * offer.doubt
        if question not in best or best[question][0] < score:
            best[question] = score, reading
    ordered = sorted(best.values(), key=lambda each: -each[0])
    return [reading for _, reading in ordered]


_EVERYTHING = q.Name("ingredients")


def _is_empty(query: q.Query) -> bool:
    """Whether a question asks of all ingredients, or of nothing in particular."""
    match query:
        case q.Which(predicate=q.Clears(object=term)) | q.Define(term=term):
            return term == _EVERYTHING
        case q.Claim(statement=said_) | q.Whether(statement=said_):
            bare = said_.subject
            bare = bare.term if isinstance(bare, q.Quantified) else bare
            core = said_.predicate
            core = core.part if isinstance(core, q.Not) else core
            loose = isinstance(core, q.Needs) and isinstance(core.object, q.Thing)
            return loose or bare == _EVERYTHING
        case q.Compare(film=q.Thing()):
            return True
        case _:
            return False


def _printed(query: q.Query) -> str:
    """A question as text; empty if it would not be read as the same again."""
    try:
        text = print_query(query)
    except ValueError:
        return ""
    return text if query_in(text) == query else ""


def _spans(pieces: Sequence[Piece], places: Sequence[int]) -> Iterator[Span]:
    """The stretches of some pieces, neighbours as one."""
    last: Span | None = None
    before = -2
    for at in places:
        piece = pieces[at]
        if last is not None and at == before + 1:
            last = Span(last.start, piece.end)
        else:
            if last is not None:
                yield last
            last = Span(piece.start, piece.end)
        before = at
    if last is not None:
        yield last


def _unsettled(text: str) -> tuple[str, frozenset[int], bool]:
    """What is to be said of a matter that cannot be settled, and how it counts."""
    words = [token.text for token in tokens(text)]
    for topic in topics():
        for phrase in topic.words:
            size = len(phrase)
            for at in range(len(words) - size + 1):
                if tuple(words[at : at + size]) == phrase:
                    return topic.says, frozenset({at}), topic.weak
    return "", frozenset(), False
