"""A clause of free speech to what it says, in the trees of the question language.

Each verb has a frame, which tells from the kinds of the names about it, and from the
small words before them, what does it and what it is done to. A name that nothing in
the clause takes is left unread.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from abluent.grammar.common.record import Record, replace
from abluent.grammar.query import tree as q
from abluent.grammar.speech.nouns import Noun, Part, noun_phrases
from abluent.grammar.speech.pieces import Piece

_PREPOSITIONS = (
    *("small:with", "small:by", "small:from", "small:of", "small:for", "small:than"),
    *("small:in", "small:without", "small:as", "small:before", "small:except"),
    *("ask:compare", "small:to"),
)
WASHES = q.Name("washes")
NO_WASH = q.Needs(q.Quantified(q.Quantity.NO, q.Name("wash")))


class Said(Record):
    """What a clause says or asks.

    `subject` and `predicate` make a statement; `asked` is a question of another form,
    ready made. `used` are the places of the pieces it is read from; `doubt` is what
    speaks against the reading.
    """

    subject: q.Term | None = None
    predicate: q.Predicate | None = None
    asked: q.Plain | None = None
    single: bool = False
    used: frozenset[int] = frozenset()
    doubt: float = 0.0
    slot: str = ""
    """Which part is asked for: `subject`, `object`, or neither."""


class Clause:
    """The parts of one clause, by what they do."""

    def __init__(self, pieces: Sequence[Piece], places: Sequence[int]) -> None:
        self.pieces = _with_heads(pieces)
        self.places = places
        self.parts = _prepared(noun_phrases(self.pieces))
        self.nouns = [part for part in self.parts if isinstance(part, Noun)]
        self.denied = any(piece.does("small:no") for piece in self._loose())

    def _loose(self) -> Iterator[Piece]:
        for part in self.parts:
            if isinstance(part, Piece):
                yield part

    def where(self, *roles: str) -> list[int]:
        """The places among the parts of pieces that do one of some things."""
        return [
            at
            for at, part in enumerate(self.parts)
            if isinstance(part, Piece) and part.does(*roles)
        ]

    def asks(self, *keys: str) -> bool:
        """Whether the clause has a word that asks so."""
        return bool(self.where(*(f"ask:{key}" for key in keys)))

    def conditions(self) -> tuple[str, ...]:
        """The conditions it states, in phrases."""
        found = [
            piece.sense.text
            for piece in self._loose()
            if piece.sense is not None and _states(self.pieces, piece)
        ]
        if self.where("time:repeated"):
            found.append("over repeated washes")
        return tuple(dict.fromkeys(found))

    def used(self, *nouns: Noun | None, verbs: Sequence[int] = ()) -> frozenset[int]:
        """The places of pieces that a reading with these nouns and verbs is from."""
        found: set[int] = set()
        for noun in nouns:
            if noun is not None:
                found.update(range(noun.first, noun.last + 1))
        places = self._places()
        found.update(places[at] for at in verbs)
        for at, piece in enumerate(self.pieces):
            senseless = is_carried(piece)
            if senseless or _states(self.pieces, piece):
                found.add(at)
        return frozenset(self.places[at] for at in found)

    def _places(self) -> list[int]:
        """Where each part stands among the pieces."""
        found, at = [], 0
        for part in self.parts:
            found.append(part.first if isinstance(part, Noun) else at)
            at = part.last + 1 if isinstance(part, Noun) else at + 1
        return found


_CARRIED = frozenset({"small", "ask", "quantity", "particles", "time", "idle", "mark"})
"""Sections whose words are read with the clause they stand in."""


def _states(pieces: Sequence[Piece], piece: Piece) -> bool:
    """Whether a piece states a condition; `without hot water` states none."""
    if piece.sense is None or piece.sense.kinds != {"condition"}:
        return False
    at = next(n for n, each in enumerate(pieces) if each is piece)
    before = [each for each in pieces[:at] if not each.does("small:article")]
    return not (before and before[-1].does("small:without"))


def is_carried(piece: Piece) -> bool:
    """Whether a piece is read with its clause, and is no matter of its own."""
    return piece.entry.section in _CARRIED and not piece.does(
        "quantity:only", "ask:how_often"
    )


def _with_heads(pieces: Sequence[Piece]) -> list[Piece]:
    """Verbs that a particle later in the clause makes `clear`."""
    found = list(pieces)
    for at, piece in enumerate(found):
        key = next((k for k in ("clear", "turned") if piece.does(f"heads:{k}")), "")
        if not key or piece.sense is not None:
            continue
        later = found[at + 1 :]
        if any(each.does("particles:words") for each in later):
            between = any(each.sense is not None for each in later)
            pronoun = any(
                each.does("small:everything", "small:nothing", "small:pronoun")
                for each in later
            )
            active = key == "clear" and (between or pronoun)
            section = "verb" if active else "turned"
            found[at] = replace(
                piece, entry=type(piece.entry)(section, "clear"), other=()
            )
    return found


def _alone(parts: Sequence[Part]) -> list[Part]:
    """`X is the only Y that …` as `only X …`."""
    found = list(parts)
    for at in range(len(found) - 1):
        one, other = found[at], found[at + 1]
        if isinstance(one, Noun) and isinstance(other, Noun):
            rest = [p for p in found[at + 2 :] if isinstance(p, Piece)]
            verbs = any(p.entry.section in _VERBAL for p in rest)
            if other.quantity is q.Quantity.ONLY and verbs:
                merged = replace(one, quantity=q.Quantity.ONLY, last=other.last)
                return [*found[:at], merged, *found[at + 2 :]]
    for at in range(len(found) - 2):
        one, verb, other = found[at : at + 3]
        if not (isinstance(one, Noun) and isinstance(other, Noun)):
            continue
        if not isinstance(verb, Piece) or not verb.does("verb:be", "quantity:only"):
            continue
        only = other.quantity is q.Quantity.ONLY or verb.does("quantity:only")
        rest = [p for p in found[at + 3 :] if isinstance(p, Piece)]
        if only and any(p.entry.section in _VERBAL for p in rest):
            merged = replace(one, quantity=q.Quantity.ONLY, last=other.last)
            return [*found[:at], merged, *found[at + 3 :]]
    return found


def _prepared(parts: Sequence[Part]) -> list[Part]:
    """The parts with each noun told which preposition it follows."""
    parts = _alone(parts)
    found: list[Part] = []
    before = ""
    for part in parts:
        if isinstance(part, Noun):
            found.append(replace(part, before=before))
            before = ""
            continue
        found.append(part)
        role = next((r for r in _PREPOSITIONS if part.does(r)), "")
        if role:
            before = role.partition(":")[2]
        elif part.entry.section not in ("idle", "quantity"):
            before = ""
    return found


# --- what a clause says -----------------------------------------------------------


def said(pieces: Sequence[Piece], places: Sequence[int]) -> list[Said]:
    """Every reading of a clause, best first.

    Args:
        pieces: its pieces.
        places: where each of them stands in the whole text.
    """
    clause = Clause(pieces, places)
    if not clause.nouns:
        return []
    found: list[Said] = []
    for frame in _FRAMES:
        found += frame(clause)
    return sorted(found, key=lambda each: each.doubt - len(each.used))


def like(pieces: Sequence[Piece], places: Sequence[int], last: Said) -> list[Said]:
    """A clause without a verb, which says of another thing what the last one said.

    `… but not beeswax` is said of what is done, `… plain dimethicone does not` of
    what does it.
    """
    clause = Clause(pieces, places)
    nouns = clause.nouns
    verbless = not any(
        p.entry.section in _VERBAL and not p.does("small:no") for p in clause.pieces
    )
    if len(nouns) != 1 or not verbless or last.predicate is None:
        return []
    if not any(piece.does("small:no") for piece in clause.pieces):
        return []
    noun, said_ = nouns[0], last.predicate
    core = said_.part if isinstance(said_, q.Not) else said_
    used = clause.used(noun)
    turned = (
        isinstance(core, q.Clears) and noun.has("film") and last.subject is not None
    )
    if turned and isinstance(core, q.Clears) and not noun.has("wash", "product"):
        acts = replace(core, object=noun.term)
        return [Said(last.subject, q.Not(acts), single=last.single, used=used)]
    return [_stated(clause, noun, core, used)]


_VERBAL = frozenset({"verb", "turned", "heads", "contrast"})


def _verbs(clause: Clause, *keys: str) -> list[int]:
    return clause.where(*(f"verb:{key}" for key in keys))


def _before(clause: Clause, at: int, *, bare: bool = True) -> list[Noun]:
    nouns = [p for p in clause.parts[:at] if isinstance(p, Noun)]
    return [n for n in nouns if not bare or n.before in ("", "compare")]


def _after(clause: Clause, at: int, *prepositions: str) -> list[Noun]:
    wanted = prepositions or ("", "of")
    nouns = [p for p in clause.parts[at + 1 :] if isinstance(p, Noun)]
    return [n for n in nouns if n.before in wanted]


def _with(clause: Clause, *prepositions: str) -> list[Noun]:
    return [noun for noun in clause.nouns if noun.before in prepositions]


def _stated(
    clause: Clause, subject: Noun, predicate: q.Predicate, used: frozenset[int]
) -> Said:
    """A statement, its denial put where the language has it."""
    term, denied = subject.whole, clause.denied
    quantity = subject.quantity
    if quantity is q.Quantity.SOME and subject.any:
        quantity = q.Quantity.EVERY
        term = q.Quantified(quantity, subject.term)
    if denied and quantity is q.Quantity.NO:
        denied = False
    if denied and (subject.general or quantity is q.Quantity.EVERY):
        if quantity in (None, q.Quantity.EVERY):
            term, denied = q.Quantified(q.Quantity.NO, subject.term), False
    if denied:
        predicate = q.Not(predicate)
    single = not subject.general and quantity is None
    return Said(term, predicate, single=single, used=used)


# --- clearing ----------------------------------------------------------------------


def _clearing(clause: Clause) -> Iterator[Said]:
    for at in _verbs(clause, "clear"):
        yield from _cleared(clause, at, turned=False)
    for at in clause.where("turned:clear"):
        yield from _cleared(clause, at, turned=True)
    for at in [*_verbs(clause, "rinse"), *clause.where("turned:rinse")]:
        yield from _rinsed(clause, at)


def _cleared(clause: Clause, at: int, *, turned: bool) -> Iterator[Said]:
    agent, film, source = _roles(clause, at, turned)
    if film is None and source is None and (agent is None or not agent.has("product")):
        return
    circumstances = clause.conditions()
    leaving = _verbs(clause, "leave", "contain")
    if source is None and leaving and film is not None and film.has("thing"):
        left = [n for n in _after(clause, at) if n.has("product") and n is not film]
        source = left[0] if left else None
        leaving = leaving if left else []
    used = clause.used(agent, film, source, verbs=[at, *leaving])
    thing: q.Term = q.Quantified(q.Quantity.EVERY, q.Thing())
    object_ = film.whole if film is not None else thing
    acts = q.Clears(
        object_,
        source.term if source is not None else None,
        circumstances=circumstances,
    )
    lacking = _lacking(clause, agent, film, source)
    if lacking and (agent is None or (agent.has("kind") and agent.general)):
        base = agent.term if agent is not None else WASHES
        used |= clause.used(*lacking)
        if agent is None:
            agent = Noun(base, frozenset({"wash", "kind"}), 0, -1, general=True)
        agent = replace(agent, term=_without(base, lacking))
    asked = _asked_noun(clause)
    if asked is None and clause.asks("which", "what", "advise"):
        asked = agent if agent is not None and agent.has("kind") else None
    if film is not None and not film.has("film", "thing", "kind", "product"):
        return
    if clause.where("contrast:mildest", "contrast:strongest", "contrast:best"):
        yield _superlative(clause, agent, acts, used)
        return
    if clause.asks("which", "what") and (
        agent is None or (asked is not None and asked.first == agent.first)
    ):
        subject = agent.term if agent is not None else WASHES
        predicate: q.Predicate = q.Not(acts) if clause.denied else acts
        yield Said(asked=q.Which(subject, predicate), used=used, slot="subject")
        return
    if asked is not None and film is not None and asked.first == film.first and agent:
        object_term = film.term
        asking = q.Clears(object_term, acts.source, circumstances=circumstances)
        predicate = q.Not(asking) if clause.denied else asking
        yield Said(asked=q.What(agent.whole, predicate), used=used, slot="object")
        return
    if agent is None:
        yield _by_any(clause, film, source, acts, used)
        return
    yield _stated(clause, agent, acts, used)


def _by_any(
    clause: Clause,
    film: Noun | None,
    source: Noun | None,
    acts: q.Clears,
    used: frozenset[int],
) -> Said:
    """A film that comes off, by whatever: some wash takes it, or none does."""
    none = clause.denied or (film is not None and film.quantity is q.Quantity.NO)
    if film is not None and film.quantity is q.Quantity.NO:
        acts = replace(acts, object=film.term)
    quantity = q.Quantity.NO if none else q.Quantity.SOME
    subject = q.Quantified(quantity, WASHES)
    return Said(subject, acts, used=used, doubt=0.5)


def _superlative(
    clause: Clause, agent: Noun | None, acts: q.Clears, used: frozenset[int]
) -> Said:
    strongest = bool(clause.where("contrast:strongest", "contrast:best"))
    order = q.Order.STRONGEST if strongest else q.Order.MILDEST
    used = used | clause.used(
        verbs=clause.where("contrast:mildest", "contrast:strongest", "contrast:best")
    )
    subject = agent.term if agent is not None else WASHES
    return Said(asked=q.Which(subject, acts, order, 1), used=used, slot="subject")


def _lacking(clause: Clause, *taken: Noun | None) -> list[Noun]:
    """What the wash is to be without, wherever the clause says so."""
    found = []
    for noun in clause.nouns:
        if any(noun is each for each in taken) or not noun.has("class", "ingredient"):
            continue
        denied = noun.quantity is q.Quantity.NO and not noun.has("thing")
        if noun.before == "without" or denied:
            found.append(noun)
    return found


def _without(subject: q.Term, lacking: Sequence[Noun]) -> q.Term:
    """Washes without something more."""
    conditions = tuple(q.Not(q.Contains(noun.term)) for noun in lacking)
    if not conditions:
        return subject
    if isinstance(subject, q.Such):
        return q.Such(subject.term, (*subject.conditions, *conditions))
    return q.Such(subject, conditions)


def _asked_noun(clause: Clause) -> Noun | None:
    """The noun right after `which` or `what`."""
    places = clause.where("ask:which", "ask:what")
    for at in places:
        for part in clause.parts[at + 1 :]:
            if isinstance(part, Noun):
                return part if part.general or part.has("thing") else None
            if part.entry.section in ("verb", "turned"):
                return None
    return None


def _roles(
    clause: Clause, at: int, turned: bool
) -> tuple[Noun | None, Noun | None, Noun | None]:
    """What takes something off, what is taken off, and what left it."""
    before, after = _before(clause, at), _after(clause, at, "", "of", "to")
    tools = _after(clause, at, "with", "by", "in", "for") + [
        noun
        for noun in _before(clause, at, bare=False)
        if noun.before in ("with", "by")
    ]
    agents = [noun for noun in tools if noun.has("agent")]
    sources = [n for n in _with(clause, "from") if n.has("product", "kind")]
    source = sources[0] if sources else None
    film: Noun | None
    agent: Noun | None
    if turned and not after:
        film = before[-1] if before else None
        agent = agents[0] if agents else None
        if film is not None and agent is None and len(before) > 1:
            agent = next((n for n in before[:-1] if n.has("agent")), None)
    else:
        agent = before[-1] if before else (agents[0] if agents else None)
        film = after[0] if after else None
        if agent is not None and film is None and agents and agent.has("film"):
            film, agent = agent, agents[0]
    if agent is not None and film is None and not agent.has("agent"):
        film, agent = agent, None
    if agent is not None and film is not None and _crossed(agent, film):
        agent, film = film, agent
    if film is None:
        others = [n for n in clause.nouns if n not in (agent, source) and n.has("film")]
        film = others[0] if others and source is None else None
    return _settled(agent, film, source)


def _crossed(agent: Noun, film: Noun) -> bool:
    """Whether two nouns can only be meant the other way round."""
    if agent.has("wash", "water") or film.has("thing"):
        return False
    wrong = not agent.has("agent") and film.has("agent", "wash")
    return wrong or (film.has("wash", "water") and not agent.has("wash"))


def _settled(
    agent: Noun | None, film: Noun | None, source: Noun | None
) -> tuple[Noun | None, Noun | None, Noun | None]:
    """A product as what is taken off is what it leaves."""
    if film is not None and film.has("product", "kind") and not film.has("film"):
        return agent, None, film
    return agent, film, source


def _rinsed(clause: Clause, at: int) -> Iterator[Said]:
    """`rinses out` is said of what water takes off."""
    before = [n for n in _before(clause, at) if not n.has("water")]
    if not before:
        return
    film = before[-1]
    water = next((n for n in clause.nouns if n.has("water")), None)
    washes = [n for n in _after(clause, at, "with", "by") if n.has("wash")]
    if washes:
        yield from _cleared(clause, at, turned=True)
        return
    used = clause.used(film, water, verbs=[at])
    if film.has("product") and not film.has("film"):
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, film.term, circumstances=clause.conditions())
        tap = Noun(q.Name("water"), frozenset({"water"}), film.first, film.last)
        yield _stated(clause, tap, acts, used)
        return
    if clause.conditions() and not film.general:
        acts = q.Clears(film.term, circumstances=clause.conditions())
        tap = Noun(q.Name("water"), frozenset({"water"}), film.first, film.last)
        yield _stated(clause, tap, acts, used)
        return
    if clause.asks("which"):
        predicate: q.Predicate = q.Not(NO_WASH) if clause.denied else NO_WASH
        yield Said(asked=q.Which(film.term, predicate), used=used, slot="subject")
        return
    yield _stated(clause, film, NO_WASH, used)


# --- leaving and staying -------------------------------------------------------------


def _leaving(clause: Clause) -> Iterator[Said]:
    for at in _verbs(clause, "leave"):
        before, after = _before(clause, at), _after(clause, at)
        products = [n for n in before if n.has("product", "kind", "wash")]
        subject = products[-1] if products else before[-1] if before else None
        object_ = after[0] if after else None
        if subject is None:
            washes = [n for n in clause.nouns if n.has("wash") and n is not object_]
            subject = washes[-1] if washes else None
        if subject is None:
            continue
        used = clause.used(subject, object_, verbs=[at])
        circumstances = clause.conditions()
        if clause.asks("what") and object_ is None:
            yield Said(
                asked=q.What(subject.term, q.Leaves(q.Thing(), circumstances)),
                used=used,
                slot="object",
            )
            continue
        if subject.has("film") and not subject.has("product", "kind"):
            yield from _left(clause, subject, object_, used)
            continue
        if clause.asks("which") and _asked_noun(clause) is subject:
            object_term = object_.whole if object_ else _any()
            acts: q.Predicate = q.Leaves(object_term, circumstances)
            acts = q.Not(acts) if clause.denied else acts
            yield Said(asked=q.Which(subject.term, acts), used=used, slot="subject")
            continue
        target = object_.whole if object_ is not None else _any()
        yield _stated(clause, subject, q.Leaves(target, circumstances), used)


def _any() -> q.Term:
    return q.Quantified(q.Quantity.SOME, q.Thing())


def _left(
    clause: Clause, subject: Noun, object_: Noun | None, used: frozenset[int]
) -> Iterator[Said]:
    """An ingredient that leaves a film stays itself."""
    nothing = object_ is not None and object_.quantity is q.Quantity.NO
    said_ = _stated(clause, subject, q.Stays(clause.conditions()), used)
    if nothing and said_.predicate is not None:
        if subject.general and subject.quantity in (None, q.Quantity.EVERY):
            none = q.Quantified(q.Quantity.NO, subject.term)
            yield replace(said_, subject=none)
            return
        said_ = replace(said_, predicate=q.Not(said_.predicate))
    yield said_


def _staying(clause: Clause) -> Iterator[Said]:
    for at in _verbs(clause, "stay"):
        before = _before(clause, at)
        if not before:
            continue
        subject = before[-1]
        inside = [n for n in _with(clause, "in", "from") if n.has("product")]
        used = clause.used(subject, *inside[:1], verbs=[at])
        if subject.has("thing") and inside:
            yield _stated(clause, inside[0], q.Leaves(subject.whole), used)
            continue
        circumstances = clause.conditions()
        if clause.asks("which", "what") and subject.general:
            acts: q.Predicate = q.Stays(circumstances)
            acts = q.Not(acts) if clause.denied else acts
            yield Said(asked=q.Which(subject.term, acts), used=used, slot="subject")
            continue
        yield _stated(clause, subject, q.Stays(circumstances), used)
    for at in _verbs(clause, "go"):
        for subject in _before(clause, at)[-1:]:
            used = clause.used(subject, verbs=[at])
            yield _stated(clause, subject, NO_WASH, used)


def _remaining(clause: Clause) -> Iterator[Said]:
    """`what remains of P after W`: what W does not take off."""
    verbs = _verbs(clause, "stay", "leave")
    washes = [n for n in clause.nouns if n.has("wash") and n.before != "in"]
    products = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    if verbs and clause.asks("what", "which") and washes and products:
        wash = washes[0]
        terms = tuple(n.term for n in products)
        source = terms[0] if len(terms) == 1 else q.And(terms)
        acts = q.Not(q.Clears(q.Thing(), source))
        used = clause.used(wash, *products, verbs=verbs)
        yield Said(asked=q.What(wash.term, acts), used=used, slot="object", doubt=-0.5)


# --- contents, needs, kinds ----------------------------------------------------------


def _containing(clause: Clause) -> Iterator[Said]:
    for at in _verbs(clause, "contain", "lack"):
        before, after = _before(clause, at), _after(clause, at, "", "of")
        holders = [n for n in before if n.has("product", "kind", "wash")]
        holders += [n for n in _with(clause, "in") if n.has("product", "kind", "wash")]
        things = [n for n in after if n.has("ingredient", "class", "value", "thing")]
        if not holders or not things or things[0] in holders:
            continue
        subject, object_ = holders[-1], things[0]
        lacks = bool(_verbs(clause, "lack"))
        place, level, more = _detail(clause, at)
        used = clause.used(subject, object_, verbs=[at, *more])
        predicate: q.Predicate = q.Contains(object_.whole, level, place)
        predicate = q.Not(predicate) if lacks else predicate
        yield _stated(clause, subject, predicate, used)
    for at in _verbs(clause, "hide"):
        before, after = _before(clause, at), _after(clause, at)
        if before and before[-1].has("product"):
            used = clause.used(before[-1], *after[:1], verbs=[at])
            if after:
                predicate = q.Hides(after[0].whole)
                yield _stated(clause, before[-1], predicate, used)
            else:
                yield Said(
                    asked=q.What(before[-1].term, q.Hides(q.Thing())),
                    used=used,
                    slot="object",
                )


def _detail(clause: Clause, at: int) -> tuple[int | None, q.Level | None, list[int]]:
    """A place or a level that the clause gives."""
    from decimal import Decimal  # noqa: PLC0415 - few clauses have a level

    for spot, part in enumerate(clause.parts):
        if not isinstance(part, Piece) or part.entry.section != "number":
            continue
        after = clause.parts[spot + 1] if spot + 1 < len(clause.parts) else None
        if isinstance(after, Piece) and after.does("small:percent"):
            value = Decimal(part.value)
            earlier = clause.parts[spot - 1] if spot else None
            if isinstance(earlier, Piece) and earlier.does("small:above"):
                return None, q.Level(low=value, open_ended=True), [spot, spot + 1]
            if isinstance(earlier, Piece) and earlier.does("small:below"):
                return None, q.Level(high=value, open_ended=True), [spot, spot + 1]
            return None, q.Level(value, value), [spot, spot + 1]
        if part.value.isdigit() and (
            (isinstance(after, Piece) and after.does("small:place"))
            or not part.words[0].isdigit()
        ):
            return int(part.value), None, [spot]
    return None, None, []


def _placed(clause: Clause) -> Iterator[Said]:
    """`X is the ninth ingredient of P`."""
    place, level, more = _detail(clause, 0)
    if place is None and level is None:
        return
    products = [n for n in clause.nouns if n.has("product")]
    things = [
        n
        for n in clause.nouns
        if n.has("ingredient", "class") and n.has("film", "agent")
    ]
    things = [n for n in things if n not in products]
    if products and things and not _verbs(clause, "contain"):
        used = clause.used(products[0], things[0], verbs=more)
        predicate = q.Contains(things[0].term, level, place)
        yield replace(_stated(clause, products[0], predicate, used), doubt=1.0)


def _needing(clause: Clause) -> Iterator[Said]:
    for at in _verbs(clause, "need"):
        before, after = _before(clause, at), _after(clause, at, "", "with")
        cleared = [
            n
            for verb in _verbs(clause, "clear")
            for n in _after(clause, verb)
            if n.has("film")
        ]
        films = cleared or [n for n in before if n.has("film", "product")]
        if not films or not after:
            continue
        needed = next((n for n in after if n not in films), None)
        if needed is None:
            continue
        film = films[0]
        verbs = [at, *_verbs(clause, "clear"), *clause.where("turned:clear")]
        used = clause.used(film, needed, *before, verbs=verbs)
        predicate: q.Predicate = q.Needs(needed.term)
        if clause.asks("which") and film.general:
            predicate = q.Not(predicate) if clause.denied else predicate
            asked = q.Which(film.term, predicate)
            yield Said(asked=asked, used=used, slot="subject")
            continue
        yield _stated(clause, film, predicate, used)


def _being(clause: Clause) -> Iterator[Said]:
    places = _verbs(clause, "be")
    for at in places:
        before, after = _before(clause, at), _after(clause, at, "", "as")
        if not before and len(after) >= 2:
            # `is X a silicone`
            before, after = after[:1], after[1:]
        if not before or not after:
            continue
        yield from _is(clause, before[-1], _either(clause, after), [at])
    if not places and len(clause.nouns) == 2:
        one, other = clause.nouns
        if not _busy(clause) and other.has("class", "value") and not one.has("kind"):
            for found in _is(clause, one, other, []):
                yield replace(found, doubt=2.0)


def _either(clause: Clause, nouns: Sequence[Noun]) -> Noun:
    """What something may be, where `or` stands between several."""
    kinds = [n for n in nouns if n.has("class", "value", "ingredient")]
    if len(kinds) < 2 or not clause.where("small:or"):
        return nouns[0]
    terms = []
    for noun in kinds:
        term = noun.single_term or noun.term
        terms += term.terms if isinstance(term, q.Or) else [term]
    joined = q.Or(tuple(terms))
    return replace(
        kinds[0],
        term=joined,
        single_term=joined,
        last=kinds[-1].last,
        kinds=frozenset({"class"}),
    )


def _busy(clause: Clause) -> bool:
    """Whether there is another verb or a contrast."""
    return any(
        isinstance(part, Piece)
        and part.entry.section in ("verb", "turned", "contrast")
        and not part.does("verb:be")
        for part in clause.parts
    )


def _is(
    clause: Clause, subject: Noun, object_: Noun, verbs: Sequence[int]
) -> Iterator[Said]:
    used = clause.used(subject, object_, verbs=verbs)
    if object_.has("wash") and isinstance(object_.term, q.Such):
        # `is always sulfate-free`
        for condition in object_.term.conditions[:1]:
            yield _stated(clause, subject, condition, used)
        return
    if not object_.has("class", "value", "kind"):
        return
    if subject.has("product", "kind") and not object_.has("value", "kind"):
        # A product is no ingredient; it has it in it.
        predicate = q.Contains(object_.whole)
        yield replace(_stated(clause, subject, predicate, used), doubt=0.5)
        return
    if clause.asks("which", "what") and subject.general:
        predicate: q.Predicate = q.Is(object_.term)
        predicate = q.Not(predicate) if clause.denied else predicate
        yield Said(asked=q.Which(subject.term, predicate), used=used, slot="subject")
        return
    term = _one_of(object_)
    yield _stated(clause, subject, q.Is(term), used)


def _one_of(noun: Noun) -> q.Term:
    """A class as what one thing can be: `a silicone`."""
    return noun.single_term or noun.term


# --- contrasts ------------------------------------------------------------------------


def _contrasting(clause: Clause) -> Iterator[Said]:
    for key, strength in (
        ("milder", q.Strength.MILDER),
        ("stronger", q.Strength.STRONGER),
    ):
        for at in clause.where(f"contrast:{key}"):
            pair = _pair(clause, at)
            if pair is not None:
                used = clause.used(*pair, verbs=[at, *_verbs(clause, "be")])
                predicate = q.Differs(strength, _every(pair[1]))
                yield _stated(clause, pair[0], predicate, used)
    for key, way in (("harder", q.Ease.HARDER), ("easier", q.Ease.EASIER)):
        for at in clause.where(f"contrast:{key}"):
            pair = _pair(clause, at)
            if pair is not None and pair[0].has("film", "product"):
                verbs = [
                    at,
                    *_verbs(clause, "be", "stay"),
                    *clause.where("turned:clear"),
                ]
                used = clause.used(*pair, verbs=verbs)
                predicate = q.Resists(way, _every(pair[1]))
                yield _stated(clause, pair[0], predicate, used)
    for at in clause.where("contrast:better"):
        yield from _better(clause, at)
    for key, order in (
        ("mildest", q.Order.MILDEST),
        ("strongest", q.Order.STRONGEST),
    ):
        for at in clause.where(f"contrast:{key}"):
            if not _verbs(clause, "clear"):
                noun = next((n for n in clause.nouns if n.has("agent")), None)
                subject = noun.term if noun is not None else WASHES
                used = clause.used(noun, verbs=[at])
                asked = q.Which(subject, None, order, 1)
                yield Said(asked=asked, used=used, slot="subject", doubt=0.5)
    for key, way in (("hardest", q.Ease.HARDER), ("easiest", q.Ease.EASIER)):
        for at in clause.where(f"contrast:{key}"):
            yield from _extreme(clause, at, way)


def _every(noun: Noun) -> q.Term:
    """What something is compared with: any of them is each of them."""
    return noun.term if noun.any or noun.quantity is None else noun.whole


def _pair(clause: Clause, at: int) -> tuple[Noun, Noun] | None:
    """What is set against what: the noun before, and the one after `than`."""
    than = _with(clause, "than") or _after(clause, at, "", "than", "as")
    before = [n for n in _before(clause, at) if n not in than]
    if not before or not than:
        return None
    return before[-1], than[0]


def _better(clause: Clause, at: int) -> Iterator[Said]:
    """`A takes F off better than B`; without a film, A beside B."""
    than = _with(clause, "than") or _after(clause, at, "", "than")
    agents = [n for n in clause.nouns if n.has("agent") and n not in than]
    if not than or not agents:
        return
    films = [
        n
        for n in clause.nouns
        if n.has("film") and n is not agents[0] and n is not than[0]
    ]
    verbs = [at, *_verbs(clause, "clear", "be"), *clause.where("turned:clear")]
    used = clause.used(agents[0], than[0], *films[:1], verbs=verbs)
    if films:
        predicate = q.Outdoes(films[0].term, than[0].whole)
        yield replace(_stated(clause, agents[0], predicate, used), doubt=-1.0)
        return
    pair = q.And((agents[0].term, than[0].term))
    yield Said(asked=q.Compare(pair), used=used, doubt=1.0)


def _extreme(clause: Clause, at: int, way: q.Ease) -> Iterator[Said]:
    """`which is hardest to remove: A, B or C`."""
    lists = [n for n in clause.nouns if isinstance(n.term, q.And | q.Or)]
    verbs = [at, *_verbs(clause, "be"), *clause.where("turned:clear")]
    for noun in lists[:1]:
        assert isinstance(noun.term, q.And | q.Or)
        terms = noun.term.terms
        used = clause.used(noun, verbs=verbs)
        predicate = q.Resists(way, q.Or(terms))
        yield Said(
            asked=q.Which(q.And(terms), q.Resists(way, q.And(terms))),
            used=used,
            slot="subject",
        )
        del predicate


def _comparing(clause: Clause) -> Iterator[Said]:
    """`A vs B for F`, `A or B for F`."""
    places = clause.where("ask:compare", "contrast:same", "contrast:better")
    pair = [n for n in clause.nouns if n.has("agent", "product")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent")]
    listed = [n for n in pair if isinstance(n.term, q.And | q.Or)]
    both: q.Term | None = None
    if listed and (places or clause.asks("which", "compare")):
        terms = listed[0].term
        assert isinstance(terms, q.And | q.Or)
        both, sides = q.And(terms.terms), [listed[0]]
    elif len(pair) >= 2 and clause.where("ask:compare", "contrast:same"):
        both, sides = q.And((pair[0].term, pair[1].term)), pair[:2]
    elif len(films) >= 2 and clause.where("ask:compare"):
        used = clause.used(*films[:2], verbs=places)
        predicate = q.Resists(q.Ease.HARDER, films[1].term)
        yield replace(_stated(clause, films[0], predicate, used), doubt=1.0)
        return
    if both is None:
        return
    used = clause.used(*sides, *films[:1], verbs=[*places, *_verbs(clause, "clear")])
    film = films[0].term if films else None
    yield Said(asked=q.Compare(both, film), used=used, doubt=0.5)


# --- what something is, and the rest -------------------------------------------------


def _defining(clause: Clause) -> Iterator[Said]:
    if not clause.asks("define", "what"):
        return
    places = clause.where("ask:define", "ask:what")
    after = [n for n in clause.nouns if not n.has("thing")]
    if not after:
        return
    noun = after[0]
    used = clause.used(noun, verbs=[*places, *_verbs(clause, "be")])
    others = after[1:]
    if others and others[0].has("class") and not _busy(clause):
        yield from _is(clause, noun, others[0], places)
        return
    doubt = 0.0 if not _busy(clause) else 3.0
    yield Said(asked=q.Define(noun.term), used=used, doubt=doubt)


def _counting(clause: Clause) -> Iterator[Said]:
    """`how many silicones are in P`."""
    if not clause.asks("how_many"):
        return
    products = [n for n in clause.nouns if n.has("product")]
    things = [n for n in clause.nouns if n.has("class", "value") and n not in products]
    narrow = [
        n
        for n in things
        if not isinstance(n.term, q.Name) or n.term.text != "ingredients"
    ]
    if products and things:
        thing = (narrow or things)[-1]
        asked = q.What(products[0].term, q.Contains(thing.term))
        used = clause.used(products[0], *things, verbs=_verbs(clause, "be", "contain"))
        yield Said(asked=q.HowMany(asked), used=used, slot="object", doubt=-0.5)


def _advising(clause: Clause) -> Iterator[Said]:
    """`which wash for P`: those that take off what it leaves."""
    if not clause.asks("which", "what", "advise") or _verbs(clause, "clear"):
        return
    washes = [n for n in clause.nouns if n.has("wash") and not n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    lacking = _lacking(clause)
    films = [n for n in films if n not in lacking]
    if not washes or not (sources or films):
        return
    subject = _without(washes[0].term, lacking)
    used = clause.used(washes[0], *sources[:1], *films[:1], *lacking)
    conditions = clause.conditions()
    if sources:
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, sources[0].term, circumstances=conditions)
    else:
        acts = q.Clears(films[0].term, circumstances=conditions)
    yield Said(asked=q.Which(subject, acts), used=used, slot="subject", doubt=0.3)


def _how_often(clause: Clause) -> Iterator[Said]:
    """How many washes it takes is not counted; whether one does can be asked."""
    if not clause.asks("how_often"):
        return
    washes = [n for n in clause.nouns if n.has("wash") and n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    if not washes or not (sources or films):
        return
    verbs = [*_verbs(clause, "clear", "go"), *clause.where("turned:clear")]
    used = clause.used(washes[0], *sources[:1], *films[:1], verbs=verbs)
    if sources:
        object_: q.Term = (
            films[0].term if films else q.Quantified(q.Quantity.EVERY, q.Thing())
        )
        acts = q.Clears(object_, sources[0].term)
    else:
        acts = q.Clears(films[0].term)
    yield Said(washes[0].term, acts, single=True, used=used, doubt=-0.5)


def _planning(clause: Clause) -> Iterator[Said]:
    """A plan is asked for: the mildest washes that take off what is named."""
    if not clause.asks("plan"):
        return
    washes = [n for n in clause.nouns if n.has("wash") and not n.has("product")]
    sources = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("agent", "thing")]
    films += [_inside(n) for n in clause.nouns if _holds(n)]
    if not sources and not films:
        return
    subject = washes[0].term if washes else WASHES
    used = clause.used(*washes[:1], *sources, *films)
    used |= clause.used(verbs=_verbs(clause, "clear", "stay"))
    lacking = _lacking(clause)
    subject = _without(subject, lacking)
    used |= clause.used(*lacking)
    films = [n for n in films if n not in lacking]
    everything = q.Quantified(q.Quantity.EVERY, q.Thing())
    if sources:
        source = (
            sources[0].term
            if len(sources) == 1
            else q.And(tuple(n.term for n in sources))
        )
        acts = q.Clears(everything, source, circumstances=clause.conditions())
    else:
        terms = tuple(n.term for n in films)
        target = terms[0] if len(terms) == 1 else q.And(terms)
        acts = q.Clears(target, circumstances=clause.conditions())
    yield Said(asked=q.Which(subject, acts, q.Order.MILDEST), used=used, slot="subject")


def _holds(noun: Noun) -> bool:
    """Whether a noun is a kind of product with something in it: `PVP gel`."""
    if noun.has("wash") or not isinstance(noun.term, q.Such):
        return False
    return isinstance(noun.term.conditions[0], q.Contains)


def _inside(noun: Noun) -> Noun:
    assert isinstance(noun.term, q.Such)
    held = noun.term.conditions[0]
    assert isinstance(held, q.Contains)
    return replace(noun, term=held.object, kinds=frozenset({"film"}))


def _bare(clause: Clause) -> Iterator[Said]:
    """Nothing but names: what takes the one off, or what the other leaves."""
    if _busy(clause) or _verbs(clause, "be"):
        return
    products = [n for n in clause.nouns if n.has("product") and not n.has("wash")]
    washes = [n for n in clause.nouns if n.has("wash")]
    films = [n for n in clause.nouns if n.has("film") and not n.has("thing")]
    used = clause.used(*clause.nouns)
    if washes and products:
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, products[0].term)
        yield replace(_stated(clause, washes[0], acts, used), doubt=3.0)
    elif films and not washes:
        yield Said(
            asked=q.Which(WASHES, q.Clears(films[0].term)),
            used=used,
            slot="subject",
            doubt=3.0,
        )
    elif products:
        asked = q.What(products[0].term, q.Leaves(q.Thing()))
        yield Said(asked=asked, used=used, slot="object", doubt=3.0)


_FRAMES: tuple[Callable[[Clause], Iterator[Said]], ...] = (
    _contrasting,
    _comparing,
    _clearing,
    _remaining,
    _leaving,
    _staying,
    _containing,
    _placed,
    _needing,
    _being,
    _counting,
    _defining,
    _advising,
    _how_often,
    _planning,
    _bare,
)
