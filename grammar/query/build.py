"""Parts of a read query to nodes of the tree: one method for each grammar rule.

Sugar ends here. Articles and brackets leave no trace, `without X` becomes the
condition not to contain X, `sulfate-free washes` becomes washes without sulfate,
and `every A except B` is every one of (A except B).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any, TypeVar, cast

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.lex import LAST, Lexeme

Parts = Sequence[Any]
"""What a rule is made of, in order: words, nodes and `Loose` values."""

_N = TypeVar("_N", bound=q.Node)
THING = q.Thing()


class Misread(Exception):
    """Words in an order that the grammar allows and that still mean nothing."""

    def __init__(self, message: str, span: Span) -> None:
        super().__init__(message)
        self.span = span


MIXED = "`and` and `or` stand in one list; brackets must tell what belongs together."


class Loose(Record):
    """A value that is no node of its own, or not yet, and where it stood."""

    value: Any
    span: Span
    word: str = ""


class Stated(Record):
    """Under what circumstances something is done, in phrases of the language."""

    phrases: tuple[str, ...]
    span: Span


class Group(Record):
    """A term in brackets: nothing outside may be drawn into it."""

    term: q.Term
    span: Span


def _ends(part: Any) -> Span:
    if isinstance(part, Lexeme):
        return Span(part.start, part.end)
    return cast(Span, part.span)


def span_of(parts: Parts) -> Span:
    return Span(_ends(parts[0]).start, _ends(parts[-1]).end)


def at(node: _N, parts: Parts) -> _N:
    return replace(node, span=span_of(parts))


def kind_of(part: Any) -> str:
    return part.kind if isinstance(part, Lexeme) else ""


def has(parts: Parts, kind: str) -> bool:
    return any(kind_of(part) == kind for part in parts)


def nodes(parts: Parts) -> list[Any]:
    """The parts that are no words of the language."""
    return [part for part in parts if not kind_of(part)]


def term_of(part: Any) -> q.Term:
    return part.term if isinstance(part, Group) else part


def such(part: Any, conditions: Iterable[q.Predicate], parts: Parts) -> q.Term:
    """A term under conditions; those of `everything` go to the things it means."""
    held = tuple(conditions)
    term = term_of(part)
    if not held:
        return term
    if isinstance(term, q.Quantified) and not isinstance(part, Group):
        return replace(term, term=such(term.term, held, parts), span=span_of(parts))
    return q.narrowed(term, *held, span=span_of(parts))


def _list(parts: Parts) -> tuple[tuple[Any, ...], bool]:
    """The members of a list, and whether `or` joins them."""
    joints = {part.text.lower() for part in parts if kind_of(part)} & {"and", "or"}
    if len(joints) > 1:
        raise Misread(MIXED, span_of(parts))
    return tuple(nodes(parts)), joints == {"or"}


def with_article(part: Any, article: str) -> Any:
    """The same term, its wording kept: `an anionic surfactant`."""
    if isinstance(part, q.Name):
        return replace(part, article=article)
    if isinstance(part, q.Such):
        return replace(part, term=with_article(part.term, article))
    return part


def _before(word: str, ending: str) -> str:
    """What stands before an ending; nothing, if the word does not end so."""
    return word[: -len(ending)] if word.lower().endswith(ending) else ""


def whole(word: Lexeme) -> int:
    """The whole number a word spells.

    Raises:
        Misread: it has a decimal point.
    """
    if "." in word.text:
        raise Misread("A count is a whole number.", span_of([word]))
    return int(word.text)


def _without(term: q.Term) -> q.Predicate:
    return q.Not(q.Contains(term, span=term.span), span=term.span)


class Nouns:
    """Names, terms and the conditions they carry."""

    def quoted(self, parts: Parts) -> q.Name:
        return at(q.Name(unquote(parts[0])), parts)

    def words(self, parts: Parts) -> q.Name:
        return at(q.Name(" ".join(part.text for part in parts)), parts)

    def described(self, parts: Parts) -> q.Term:
        """A name; `X-free` before it is the condition to be without X."""
        words = parts[0].text.split()
        free = []
        while words and (what := _before(words[0], "-free")):
            free.append(q.Name(what))
            words.pop(0)
        if not free:
            return cast(q.Name, parts[0])
        head = q.Name(" ".join(words)) if words else THING
        return such(at(head, parts), [_without(each) for each in free], parts)

    def thing(self, parts: Parts) -> q.Term:
        return at(THING, parts)

    def those(self, parts: Parts) -> q.Term:
        return at(q.Those(*parts[1:]), parts)

    def my_shelf(self, parts: Parts) -> q.Term:
        return at(q.Shelf(), parts)

    def everything(self, parts: Parts) -> q.Term:
        return self._pronoun(q.Quantity.EVERY, parts)

    def anything(self, parts: Parts) -> q.Term:
        return self._pronoun(q.Quantity.SOME, parts)

    def nothing(self, parts: Parts) -> q.Term:
        return self._pronoun(q.Quantity.NO, parts)

    def _pronoun(self, quantity: q.Quantity, parts: Parts) -> q.Term:
        return q.Quantified(quantity, at(THING, parts), span=span_of(parts))

    def grouped(self, parts: Parts) -> Group:
        return Group(parts[1], span_of(parts))

    def clause(self, parts: Parts) -> Any:
        """An object with at most a name pattern and one relative clause."""
        conditions = nodes(parts[1:])
        if not conditions:
            return parts[0]
        return such(parts[0], conditions, parts)

    subject_clause = clause

    def quantity(self, parts: Parts) -> Loose:
        counted = [whole(part) for part in parts if kind_of(part) == "NUMBER"]
        kind = kind_of(parts[0])
        if kind == "ARTICLE":
            return Loose((parts[0].text.lower(),), span_of(parts))
        if kind == "ABOVE":
            return Loose((q.Quantity.AT_LEAST, counted[0] + 1), span_of(parts))
        if kind == "BELOW":
            return Loose((q.Quantity.AT_MOST, max(0, counted[0] - 1)), span_of(parts))
        word = parts[0].text.lower()
        return Loose((q.Quantity[kind], *counted), span_of(parts), word)

    def element(self, parts: Parts) -> Any:
        if len(parts) == 1:
            return parts[0]
        quantity, *count = parts[0].value
        if isinstance(quantity, str):
            return with_article(parts[1], quantity)
        made = q.Quantified(quantity, term_of(parts[1]), *count, span=span_of(parts))
        return replace(made, word=parts[0].word)

    def other_than(self, parts: Parts) -> q.Term:
        return q.Quantified(q.Quantity.NO, term_of(parts[1]), span=span_of(parts))

    def series(self, parts: Parts) -> Any:
        if len(parts) == 1:
            return parts[0]
        members, either = _list(parts)
        terms = tuple(term_of(member) for member in members)
        if either and _denies_all(members):
            # `no silicones or waxes`: neither of them.
            no = q.Quantity.NO
            rest = (q.Quantified(no, each, span=each.span) for each in terms[1:])
            return at(q.And((terms[0], *rest)), parts)
        return at(q.Or(terms) if either else q.And(terms), parts)

    def term(self, parts: Parts) -> q.Term:
        if len(parts) == 1:
            return term_of(parts[0])
        kept, left_out = term_of(parts[0]), term_of(parts[2])
        if isinstance(kept, q.Quantified) and not isinstance(parts[0], Group):
            rest = q.Except(kept.term, left_out, span=span_of(parts))
            return replace(kept, term=rest, span=span_of(parts))
        return q.Except(kept, left_out, span=span_of(parts))

    subject = term

    def paired(self, parts: Parts) -> q.Term:
        return at(q.And((parts[0], parts[2])), parts)


def _denies_all(members: Sequence[Any]) -> bool:
    """Whether a `no` before the first of a list goes on over the rest."""
    first, *rest = members
    denied = isinstance(first, q.Quantified) and first.quantity is q.Quantity.NO
    return denied and not any(isinstance(e, q.Quantified | Group) for e in rest)


def unquote(word: Lexeme) -> str:
    """The text between quotes, a doubled quote mark read as one.

    Raises:
        Misread: there is none.
    """
    inner = word.text[1:-1]
    if word.text[0] == '"':
        inner = inner.replace('""', '"')
    if not inner.strip():
        raise Misread("There is nothing between these quotes.", span_of([word]))
    return " ".join(inner.split())


class Sayings:
    """What is said of a subject."""

    WASH = "wash"
    """What `needs no wash` is said with."""

    def said(self, parts: Parts) -> q.Predicate:
        if len(parts) == 1:
            return cast(q.Predicate, parts[0])
        members, either = _list(parts)
        return at(q.Either(members) if either else q.Both(members), parts)

    def act_with(self, parts: Parts) -> q.Predicate:
        return at(q.Both((parts[0], self.with_(parts[1:]))), parts)

    def with_(self, parts: Parts) -> q.Predicate:
        if has(parts, "WITHOUT"):
            return at(_without(parts[1]), parts)
        return at(q.Contains(parts[1]), parts)

    def denied(self, parts: Parts) -> q.Predicate:
        return at(q.Not(parts[-1]), parts)

    def affirmed(self, parts: Parts) -> q.Predicate:
        return cast(q.Predicate, nodes(parts)[0])

    that = affirmed

    def clears(self, parts: Parts) -> q.Clears:
        source: q.Term | None = None
        details: dict[str, Any] = {}
        for part in parts:
            if isinstance(part, Stated):
                details["circumstances"] = part.phrases
            elif isinstance(part, Loose) and isinstance(part.value, int):
                details["rounds"] = part.value
            elif isinstance(part, Loose):
                source = part.value
            elif (kind := kind_of(part).removesuffix(LAST)) in q.Extent.__members__:
                details["extent"] = q.Extent[kind]
        return q.Clears(_object(parts), source, span=span_of(parts), **details)

    def rounds_needed(self, parts: Parts) -> q.Rounds:
        _, washes, *rest = parts
        return at(q.Rounds(washes, self.clears(rest)), parts)

    def rounds(self, parts: Parts) -> Loose:
        count = whole(parts[1])
        if count < 1:
            raise Misread("A wash is taken once or more.", span_of(parts))
        return Loose(count, span_of(parts))

    def says(self, parts: Parts) -> q.Says:
        return at(q.Says(unquote(parts[1])), parts)

    def resembles(self, parts: Parts) -> q.Resembles:
        return at(q.Resembles(parts[1]), parts)

    def harder_there(self, parts: Parts) -> q.Shifts:
        here, there = (part.phrases for part in parts if isinstance(part, Stated))
        return at(q.Shifts(q.Ease[kind_of(parts[0])], here, there), parts)

    def from_(self, parts: Parts) -> Loose:
        return Loose(parts[1], span_of(parts))

    def leaves(self, parts: Parts) -> q.Leaves:
        said = parts[-1].phrases if isinstance(parts[-1], Stated) else ()
        return q.Leaves(_object(parts), said, span=span_of(parts))

    def circumstances(self, parts: Parts) -> Stated:
        phrases = (" ".join(part.text.lower().split()) for part in parts)
        return Stated(tuple(dict.fromkeys(phrases)), span_of(parts))

    def contains(self, parts: Parts) -> q.Contains:
        details = [part.value for part in parts if isinstance(part, Loose)]
        level = next((each for each in details if isinstance(each, q.Level)), None)
        place = next((each for each in details if isinstance(each, int)), None)
        return q.Contains(_object(parts), level, place, span=span_of(parts))

    def precedes(self, parts: Parts) -> q.Precedes:
        return at(q.Precedes(parts[1], parts[3]), parts)

    def stays(self, parts: Parts) -> q.Stays:
        said = parts[-1].phrases if isinstance(parts[-1], Stated) else ()
        return at(q.Stays(said), parts)

    def evaporates(self, parts: Parts) -> q.Needs:
        wash = q.Name(self.WASH, span=span_of(parts))
        return at(q.Needs(q.Quantified(q.Quantity.NO, wash)), parts)

    def outdoes(self, parts: Parts) -> q.Outdoes:
        return at(q.Outdoes(parts[1], parts[3]), parts)

    def harder(self, parts: Parts) -> q.Resists:
        return at(q.Resists(q.Ease.HARDER, *nodes(parts)), parts)

    def easier(self, parts: Parts) -> q.Resists:
        return at(q.Resists(q.Ease.EASIER, *nodes(parts)), parts)

    def under(self, parts: Parts) -> Any:
        return parts[1]

    def ends(self, parts: Parts) -> q.Named:
        return at(q.Named("*" + _letters(parts[1])), parts)

    def starts(self, parts: Parts) -> q.Named:
        return at(q.Named(_letters(parts[1]) + "*"), parts)

    def hides(self, parts: Parts) -> q.Hides:
        return at(q.Hides(_object(parts)), parts)

    def needs(self, parts: Parts) -> q.Needs:
        return at(q.Needs(_object(parts)), parts)

    def is_(self, parts: Parts) -> q.Predicate:
        """To be of a kind; to be `X-free`, with no noun, is not to contain X."""
        match parts[0]:
            case q.Such(term=q.Thing(), conditions=(q.Not(part=q.Contains()) as only,)):
                return only
        return at(q.Is(parts[0]), parts)

    def suffices(self, parts: Parts) -> q.Suffices:
        return at(q.Suffices(parts[1]), parts)

    def cleared_by(self, parts: Parts) -> q.Undergoes:
        phrases = [part.phrases for part in parts if isinstance(part, Stated)]
        counts = [part.value for part in parts if isinstance(part, Loose)]
        rounds = next((each for each in counts if isinstance(each, int)), 1)
        held = phrases[0] if phrases else ()
        return at(q.Undergoes(q.Passive.CLEARED, parts[1], held, rounds), parts)

    def left_by(self, parts: Parts) -> q.Undergoes:
        phrases = [part.phrases for part in parts if isinstance(part, Stated)]
        held = phrases[0] if phrases else ()
        return at(q.Undergoes(q.Passive.LEFT, parts[1], held), parts)

    def milder(self, parts: Parts) -> q.Differs:
        return at(q.Differs(q.Strength.MILDER, parts[1]), parts)

    def harsher(self, parts: Parts) -> q.Differs:
        return at(q.Differs(q.Strength.HARSHER, parts[1]), parts)

    def stronger(self, parts: Parts) -> q.Differs:
        return at(q.Differs(q.Strength.STRONGER, parts[1]), parts)

    def named(self, parts: Parts) -> q.Named:
        return at(q.Named(unquote(parts[1])), parts)

    def among(self, parts: Parts) -> q.Among:
        return at(q.Among(parts[1]), parts)

    def shelved(self, parts: Parts) -> q.Among:
        return at(q.Among(at(q.Shelf(), parts)), parts)

    def at(self, parts: Parts) -> Loose:
        exact = Decimal(parts[1].text)
        return self._level(q.Level(exact, exact), parts)

    def between(self, parts: Parts) -> Loose:
        low, high = sorted((Decimal(parts[1].text), Decimal(parts[3].text)))
        return self._level(q.Level(low, high), parts)

    def bounded(self, parts: Parts) -> Loose:
        bound, kind = Decimal(parts[1].text), kind_of(parts[0])
        open_ended = kind in ("ABOVE", "BELOW")
        if kind in ("ABOVE", "AT_LEAST"):
            return self._level(q.Level(low=bound, open_ended=open_ended), parts)
        return self._level(q.Level(high=bound, open_ended=open_ended), parts)

    def _level(self, level: q.Level, parts: Parts) -> Loose:
        return Loose(at(level, parts), span_of(parts))


def _letters(word: Lexeme) -> str:
    """The letters a name ends in or starts with, as typed: `-ate`, `"ate"`.

    Raises:
        Misread: there are none.
    """
    text = unquote(word) if word.kind == "QUOTED" else word.text
    letters = text.strip("-\u2013*\u2026.")
    if not letters:
        raise Misread("No letters are given.", span_of([word]))
    return letters


def _object(parts: Parts) -> q.Term:
    """The object of a verb; in a what-question there is none, and it is asked."""
    found = [part for part in nodes(parts) if not isinstance(part, Loose | Stated)]
    return found[0] if found else THING
