"""What speaks against a reading: that nobody would ask it of things of such kinds.

`Salt clears wax` is a question of the language, and seldom what was meant where a wash
is named as well. Of a line of which little is read, its other words tell how much it
speaks of washing hair, labels or evidence at all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from abluent.grammar.common.record import Record, records, replace
from abluent.grammar.phrase.book import near_words
from abluent.grammar.phrase.pieces import Piece, Token
from abluent.grammar.query import tree as q
from abluent.grammar.speech.parting import is_name

Kinds = Mapping[str, frozenset[str]]
_CLEANSING = frozenset({"wash", "cleanser", "water", "kind", "product"})
_ODD = 2.0
"""What speaks against a reading that hardly anybody would mean."""


def kinds_of(pieces: Sequence[Piece]) -> Kinds:
    """What each thing named in a text can be taken for."""
    found: dict[str, frozenset[str]] = {}
    for piece in pieces:
        if piece.sense is not None and is_name(piece):
            found[piece.sense.text] = piece.sense.kinds
    return found


def oddness(query: q.Query, kinds: Kinds) -> float:
    """How much speaks against a question, by the kinds of what it names."""
    match query:
        case q.About(matter=q.Claim() | q.Whether() as matter):
            return oddness(matter, kinds)
        case q.Which(subject=q.Name(text=text)) if "product" in _get(kinds, text):
            return 2 * _ODD
        case q.Compare(things=q.And(terms=terms)):
            return 2 * _ODD * (_unlike(terms, kinds) or _one_in_other(terms, kinds))
    if isinstance(query, q.Argue) and (_uneven(query) or _loose(query)):
        return _ODD / 4
    said = (_of_statement(*each, kinds) for each in _statements(query))
    return max(said, default=0.0)


def _uneven(query: q.Argue) -> bool:
    """Whether one statement is under conditions that another may be under too."""
    bare = map(anywhere, query.statements)
    if len({(each.subject, q.asked_act(each.predicate)) for each in bare}) == 1:
        # `… unless the water is hard`
        return False
    said = (q.asked_act(each.predicate) for each in query.statements)
    acts = (q.Clears, q.Leaves, q.Stays)
    held = {core.circumstances for core in said if isinstance(core, acts)}
    return len(held) > 1


_EVERYTHING = q.Quantified(q.Quantity.EVERY, q.Thing())


def _loose(query: q.Argue) -> bool:
    """Whether one statement is of no film, or of nothing, in particular."""
    subjects = (each.subject for each in query.statements)
    if any(isinstance(e, q.Quantified) and e.term == q.Thing() for e in subjects):
        # `P has no X, so nothing builds up`: nothing that is in P.
        return True
    return any(
        isinstance(core := q.asked_act(each.predicate), q.Clears)
        and core.object == _EVERYTHING
        and core.source is None
        for each in query.statements
    )


def anywhere(said: q.Statement) -> q.Statement:
    """A statement without the conditions it is under, as a key."""
    core = q.asked_act(said.predicate)
    if not isinstance(core, q.Clears | q.Leaves | q.Stays):
        return said
    bare: q.Predicate = replace(core, circumstances=())
    denied = isinstance(said.predicate, q.Not)
    return replace(said, predicate=q.Not(bare) if denied else bare)


def _statements(query: q.Query) -> Iterator[tuple[q.Term, Any]]:
    """The subjects and predicates of a question."""
    match query:
        case q.Claim(statement=said) | q.Whether(statement=said):
            yield said.subject, said.predicate
        case q.Argue(statements=statements):
            yield from ((each.subject, each.predicate) for each in statements)
        case q.Which(subject=subject, predicate=acts) if acts is not None:
            yield subject, acts
        case q.What(subject=subject, predicate=acts):
            yield subject, acts


def _get(kinds: Kinds, name: str) -> frozenset[str]:
    return kinds.get(name, frozenset())


def _names(term: Any) -> Iterator[str]:
    """What a term names, its conditions left out."""
    match term:
        case q.Name(text=text):
            yield text
        case q.Quantified(term=inner) | q.Such(term=inner):
            yield from _names(inner)
        case q.And(terms=terms) | q.Or(terms=terms):
            for each in terms:
                yield from _names(each)


def _of_statement(subject: q.Term, said: Any, kinds: Kinds) -> float:
    core = q.asked_act(said)
    if isinstance(core, q.Clears):
        return _clearing(subject, core, kinds)
    narrowed = isinstance(core, q.Is) and _narrows(subject, core.object, kinds)
    return _ODD * sum(_oddly(subject, core, kinds)) + _NARROW * narrowed


_NARROW = 0.5
"""What speaks against a word read as a class that it only describes."""


def _narrows(subject: q.Term, object_: q.Term, kinds: Kinds) -> bool:
    """Whether what only stays is said to be one of those that clean and stay.

    `A film is cationic` may be said of its charge, and not of such surfactants.
    """
    films = [_get(kinds, each) for each in _names(subject)]
    said = [_get(kinds, each) or _get(kinds, f"{each}s") for each in _names(object_)]
    stays = any("film" in each and "agent" not in each for each in films)
    return stays and any(each >= {"film", "cleanser"} for each in said)


def _oddly(subject: q.Term, said: Any, kinds: Kinds) -> Iterator[bool]:
    """What hardly anybody says of such a subject."""
    bare = [_get(kinds, each) for each in _names(subject)]
    match said:
        case q.Contains():
            yield any("water" in each for each in bare)
        case q.Says():
            yield any(each and "product" not in each for each in bare)
        case q.Stays():
            # What is asked of a wash is rather what it takes off.
            others = any("product" in e and "wash" not in e for e in kinds.values())
            yield others and any(each >= {"product", "wash"} for each in bare)
        case q.Outdoes(than=than):
            films = [_get(kinds, each) for each in _names(than)]
            yield any("film" in e and not e & {"agent", *_CLEANSING} for e in films)
        case q.Needs(object=q.Name(text="washes")):
            # All that has to be washed off does.
            yield True
        case q.Is(object=object_):
            yield _crossed(subject, object_, kinds)
        case q.Leaves(object=object_):
            yield object_ == _EVERYTHING
            yield any(each and not each & {"product", "kind", "wash"} for each in bare)
            left = [_get(kinds, each) for each in _names(object_)]
            yield any(each == "washes" for each in _names(object_))
            yield any(
                "product" in each or (each and "film" not in each) for each in left
            )


def _clearing(subject: q.Term, said: q.Clears, kinds: Kinds) -> float:
    """Whether what is said to clean does, and what is said to go is what stays."""
    agents = [_get(kinds, each) for each in _names(subject)]
    cleansing = any(each & _CLEANSING - {"kind"} for each in kinds.values())
    odd = 0.0
    if any(each and not each & {"agent", *_CLEANSING} for each in agents):
        odd += _ODD
    elif any(each and not each & _CLEANSING for each in agents) and cleansing:
        odd += _ODD / 5
    elif any("product" in each and "wash" not in each for each in agents):
        # A conditioner can be rinsed out over something, and seldom is meant to.
        odd += _ODD / 5
    if any(_get(kinds, e) >= {"wash", "product"} for e in _names(said.source)):
        odd += _ODD / 2
    films = [_get(kinds, each) for each in _names(said.object)]
    if any(each and not each & {"film", "thing", "kind", "product"} for each in films):
        odd += _ODD
    return odd


def _crossed(subject: q.Term, object_: q.Term, kinds: Kinds) -> bool:
    """Whether a class that stays is said to be one that cleans, or the other way."""
    for one in _names(subject):
        for other in _names(object_):
            first, second = _get(kinds, one), _get(kinds, other)
            if "class" in first and "class" in second:
                stays = "film" in first, "film" in second
                if first and second and stays[0] != stays[1]:
                    return True
    return False


def _unlike(terms: Sequence[q.Term], kinds: Kinds) -> bool:
    """Whether what cleans is set beside what stays."""
    stays = {
        "film" in kind and "agent" not in kind
        for each in terms
        for name in _names(each)
        if (kind := _get(kinds, name)) and "product" not in kind
    }
    return len(stays) > 1


_LABELLED = frozenset({"product", "kind", "wash"})
"""What has a label."""


def _one_in_other(terms: Sequence[q.Term], kinds: Kinds) -> bool:
    """Whether what stands on labels is set beside what has one."""
    names = [name for each in terms for name in _names(each)]
    found = [_LABELLED if name in GENERAL else _get(kinds, name) for name in names]
    products = [not each.isdisjoint(_LABELLED) for each in found if each]
    listed = any(e & {"ingredient", "class"} and not e & _LABELLED for e in found)
    return any(products) and listed and not any("cleanser" in e for e in found)


_TELLING = (
    *("verb:clear", "verb:stay", "verb:need", "turned:clear", "turned:rinse"),
    *("ask:evidence", "ask:how_often", "ask:advise", "ask:compare", "ask:plan"),
    *("contrast:milder", "contrast:harsher", "contrast:stronger"),
    *("contrast:harder", "contrast:easier"),
    *("contrast:mild", "contrast:harsh", "ask:how_mild", "ask:how_strong"),
    *("ask:define", "ask:rank"),
    *("small:before", "small:after", "small:without", "small:free"),
)
_ASKING = ("ask:whether", "ask:which", "ask:why", "small:question", "quantity:no")
GENERAL = frozenset({"washes", "water", "ingredients", "products"})
"""Names that a reading may say in other words: `needs no wash`, `which …`."""


def weight(pieces: Sequence[Piece], words: Sequence[Token], named: set[str]) -> float:
    """How much of a line tells that it speaks of this: names, verbs, near words."""
    telling = sum(any(each.does(role) for each in pieces) for role in _TELLING)
    # `gets it off` tells as much as `removes it`.
    heads = any(each.does("heads:clear", "heads:turned") for each in pieces)
    telling += heads and any(each.does("particles:words") for each in pieces)
    asked = any(each.does(*_ASKING) for each in pieces)
    near = len({*_near(words)})
    strange = sum(each.entry.section == "unknown" for each in pieces)
    names = len(named - GENERAL) + 0.5 * bool(named & GENERAL)
    return names + telling + near + 0.5 * asked - 0.15 * max(0, strange - near)


def _near(words: Sequence[Token]) -> Iterator[tuple[str, ...]]:
    texts = tuple(word.text for word in words)
    known = near_words()
    for at in range(len(texts)):
        for length in (1, 2):
            phrase = texts[at : at + length]
            if len(phrase) == length and phrase in known:
                yield phrase


def is_impossible(query: q.Query, kinds: Kinds) -> bool:
    """Whether a question cannot be meant: a label lists what is no ingredient, say."""
    return any(_is_senseless(each, kinds) for each in records(query))


def _lists_no_ingredient(node: Record, kinds: Kinds) -> bool:
    """`washes with "Some Cream"`, or minerals on a label."""
    if not isinstance(node, q.Contains):
        return False
    held = q.unquantified(node.object)
    known = kinds.get(held.text) if isinstance(held, q.Name) else None
    return bool(known) and not (known or frozenset()) & _LISTED


_LISTED = frozenset({"ingredient", "class", "thing", "value"})


def _is_senseless(node: Record, kinds: Kinds) -> bool:
    """Whether nobody can mean a part of a question."""
    match node:
        case q.What() if _leaves_as_no_product(node, kinds):
            return True
        case q.Which(subject=q.Name(text=text)) if "product" in _get(kinds, text):
            # `which "P" clears F`: it is one.
            return True
        case q.Precedes(object=one, other=other) if one == other:
            return True
        case q.Statement(subject=q.Name(text="water"), predicate=said):
            named = said.object if isinstance(said, q.Is) else None
            a_wash = named in (q.Name("wash"), q.Name("washes"))
            return a_wash or isinstance(said, q.Stays)
        case q.Leaves(object=object_) if "water" in _names(object_):
            return True
        case _:
            return (
                _lists_no_ingredient(node, kinds)
                or _contradicts(node)
                or _takes_a_trait(node, kinds)
            )


def _takes_a_trait(node: Record, kinds: Kinds) -> bool:
    """`clears "X" and water soluble`: what is no film, and only what one is like."""
    if not isinstance(node, q.Clears) or not isinstance(node.object, q.And | q.Or):
        return False
    return any("value" in _get(kinds, each) for each in _names(node.object))


def _leaves_as_no_product(node: q.What, kinds: Kinds) -> bool:
    """`what does "Soap" leave`: only of a product can it be asked what it leaves."""
    said = q.asked_act(node.predicate)
    if not isinstance(said, q.Leaves | q.Hides) or not isinstance(node.subject, q.Name):
        return False
    known = kinds.get(node.subject.text)
    return bool(known) and not (known or frozenset()) & {"product", "kind", "wash"}


def _contradicts(node: Record) -> bool:
    """`washes with chelants without chelants`."""
    if not isinstance(node, q.Such):
        return False
    return any(q.Not(each) in node.conditions for each in node.conditions)
