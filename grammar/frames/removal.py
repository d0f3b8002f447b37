"""What takes something off, said either way round: `W removes F`, `F comes off`."""

from __future__ import annotations

from collections.abc import Iterator

from abluent.grammar.common.record import Record, replace
from abluent.grammar.frames.clause import WASHES, Clause, Said, asked_noun
from abluent.grammar.frames.lacking import bans, without
from abluent.grammar.frames.statement import stated
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun
from abluent.grammar.phrase.pieces import OF_WASHES, Piece
from abluent.grammar.query import tree as q


def clearing(clause: Clause) -> Iterator[Said]:
    for at in clause.verbs("clear"):
        if not _is_needed_for(clause, at):
            yield from _cleared(clause, at, turned=False)
    for at in clause.where("heads:clear"):
        if not clause.verbs("clear", "need", "leave", "contain"):
            for each in _cleared(clause, at, turned=False):
                yield replace(each, doubt=each.doubt + 0.4)
    for at in clause.where("turned:clear"):
        yield from _cleared(clause, at, turned=True)
    for at in [*clause.verbs("rinse"), *clause.where("turned:rinse")]:
        yield from _rinsed(clause, at)


def _is_needed_for(clause: Clause, at: int) -> bool:
    """`do you need A to clear F`: of A it is asked whether F needs it."""
    return any(
        any(isinstance(part, Noun) for part in clause.parts[need + 1 : at])
        for need in clause.verbs("need")
        if not clause.before(need)
    )


class _Act(Record):
    """What takes what off, and the places this is read from."""

    agent: Noun | None
    film: Noun | None
    acts: q.Clears
    used: frozenset[int]


def _cleared(clause: Clause, at: int, *, turned: bool) -> Iterator[Said]:
    act = _act(clause, at, turned)
    if act is None:
        return
    if act.agent and act.film is None and act.acts.source is None:
        # `I clarify with W`: of what, is not said.
        yield replace(stated(clause, act.agent, act.acts, act.used), doubt=0.5)
        return
    if clause.where("contrast:mildest", "contrast:strongest", "contrast:best"):
        yield _superlative(clause, act.agent, act.acts, act.used)
        return
    asked = asked_noun(clause)
    kind = act.agent is not None and act.agent.has("kind")
    films = q.members(act.film.term) if act.film is not None else ()
    of_films = len(films) > 1 and clause.asks("which") and asked is None
    of_films = of_films and (turned or _of_them(clause)) and act.agent is not None
    if asked is None and kind and clause.asks("which", "what", "advise"):
        asked = None if of_films else act.agent
    which = asked is not None and _is(asked, act.agent)
    advised = act.agent is not None and kind and clause.asks("advise")
    asks = clause.asks("which", "what")
    named = q.members(act.agent.term) if act.agent and act.agent.has("product") else ()
    if clause.asks("which") and len(named) > 1:
        # `which of A, B and C handle it`
        acts = q.Not(act.acts) if clause.denied else act.acts
        yield Said(asked=q.Which(q.And(named), acts), used=act.used, slot="subject")
        return
    if of_films or (len(films) > 1 and clause.asks("which") and asked is None):
        # `A, B or C: which of them does W take off`
        acts = replace(act.acts, object=q.And(films))
        said = q.Not(acts) if clause.denied else acts
        if act.agent is not None:
            asking = q.What(act.agent.whole, said)
            yield Said(asked=asking, used=act.used, slot="object", doubt=-0.3)
            return
    if (asks and (act.agent is None or which)) or (advised and which):
        subject = act.agent.term if act.agent is not None else WASHES
        predicate: q.Predicate = q.Not(act.acts) if clause.denied else act.acts
        yield Said(asked=q.Which(subject, predicate), used=act.used, slot="subject")
    elif act.agent is None:
        yield _by_any(clause, act)
    elif act.film is not None and _only_by(act, turned):
        needs = q.Needs(act.agent.term)
        yield stated(clause, act.film, needs, act.used)
    elif asked is not None and act.film is not None and _is(asked, act.film):
        yield _film_asked(clause, act.agent, act.film, act)
    else:
        yield stated(clause, act.agent, act.acts, act.used)


def _of_them(clause: Clause) -> bool:
    """Whether it is asked which of them, and not which wash."""
    places = clause.where("ask:which")
    after = (clause.parts[at + 1] for at in places if at + 1 < len(clause.parts))
    return any(isinstance(e, Piece) and e.does("small:pronoun") for e in after)


def _only_by(act: _Act, turned: bool) -> bool:
    """`a film that only W removes`, said of the film."""
    if act.agent is None or act.film is None or turned:
        return False
    only = act.agent.quantity is q.Quantity.ONLY
    none = act.film.quantity is q.Quantity.NO
    return only and none and act.film.first < act.agent.first


def _is(one: Noun, other: Noun | None) -> bool:
    return other is not None and one.first == other.first


def _act(clause: Clause, at: int, turned: bool) -> _Act | None:
    """Who does it to what; nothing if the clause does not say so much."""
    agent, film, source = _roles(clause, at, turned)
    if film is None and source is None and (agent is None or not agent.has("product")):
        film = _anything(clause, at) if agent is not None else None
        if film is None:
            return None
    leaving: list[int] = []
    if source is None and film is not None and film.has("thing"):
        left = [n for n in clause.after(at) if n.has("product") and n is not film]
        source = left[0] if left else None
        leaving = clause.verbs("leave", "contain") if left else []
    if film is not None and not film.has("film", "thing", "kind", "product"):
        return None
    used = clause.used(agent, film, source, verbs=[at, *leaving])
    if agent is None and not turned and _says_water(clause, at):
        # `hot water removes it`: water alone, as warm as it is said to be.
        agent = Noun(q.Name("water"), frozenset({"water", "agent"}), 0, -1)
    thing: q.Term = q.Quantified(q.Quantity.EVERY, q.Thing())
    acts = q.Clears(
        film.whole if film is not None else thing,
        source.term if source is not None else None,
        circumstances=clause.circumstances(),
    )
    if agent is not None and agent.has("thing") and agent.quantity is q.Quantity.NO:
        # `nothing removes it`: no wash does.
        agent = replace(agent, term=WASHES, kinds=OF_WASHES, general=True)
    lacking = bans(clause, agent, film, source)
    if lacking and (agent is None or (agent.has("kind") and agent.general)):
        base = agent.term if agent is not None else WASHES
        used |= clause.used(*lacking)
        if agent is None:
            agent = Noun(base, frozenset({"wash", "kind"}), 0, -1, general=True)
        agent = replace(agent, term=without(base, lacking))
    return _Act(agent, film, acts, used)


def _says_water(clause: Clause, at: int) -> bool:
    """Whether water of some sort stands where what acts does."""
    parts = [p for p in clause.parts[:at] if isinstance(p, Piece)]
    named = [p for p in parts if p.sense and p.sense.kinds == {"condition"}]
    led = clause.where("small:in")
    return any(p.words[-1] == "water" for p in named) and not any(n < at for n in led)


_WITHOUT_OBJECT = words_in("without object")


def _anything(clause: Clause, at: int) -> Noun | None:
    """`no soap works in hard water`: it takes nothing off."""
    part = clause.parts[at]
    if isinstance(part, Noun) or part.words[0] not in _WITHOUT_OBJECT:
        return None
    kinds = frozenset({"film", "thing"})
    return Noun(q.Thing(), kinds, 0, -1, q.Quantity.SOME)


def _film_asked(clause: Clause, agent: Noun, film: Noun, act: _Act) -> Said:
    """`which silicones does W take off`; what only W takes off needs W."""
    if agent.quantity is q.Quantity.ONLY:
        needs: q.Predicate = q.Needs(agent.term)
        needs = q.Not(needs) if clause.denied else needs
        return Said(asked=q.Which(film.term, needs), used=act.used, slot="subject")
    asking = replace(act.acts, object=film.term)
    predicate = q.Not(asking) if clause.denied else asking
    return Said(asked=q.What(agent.whole, predicate), used=act.used, slot="object")


def _by_any(clause: Clause, act: _Act) -> Said:
    """A film that comes off, by whatever: some wash takes it, or none does."""
    film, acts = act.film, act.acts
    none = clause.denied or (film is not None and film.quantity is q.Quantity.NO)
    if film is not None and film.quantity is q.Quantity.NO:
        acts = replace(acts, object=film.term)
    elif film is not None and clause.denied and film.quantity is q.Quantity.EVERY:
        # `all F never come off`: no wash takes any of them.
        some = q.Quantified(q.Quantity.SOME, film.term)
        acts = replace(acts, object=film.term if film.has("thing") else some)
    quantity = q.Quantity.NO if none else q.Quantity.SOME
    subject = q.Quantified(quantity, WASHES)
    return Said(subject, acts, used=act.used, doubt=0.5)


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


def _roles(
    clause: Clause, at: int, turned: bool
) -> tuple[Noun | None, Noun | None, Noun | None]:
    """What takes something off, what is taken off, and what left it."""
    before, after = clause.before(at), clause.after(at, "", "of", "to")
    if turned:
        # `comes out with conditioner, no shampoo`: without one.
        unused = [n for n in after if n.has("wash") and n.quantity is q.Quantity.NO]
        after = [n for n in after if n not in unused]
    tools = clause.after(at, "with", "by", "in", "for") + [
        noun for noun in clause.before(at, bare=False) if noun.before in ("with", "by")
    ]
    agents = [noun for noun in tools if noun.has("agent")]
    agents = agents or [n for n in tools if n.has("kind") and _alone(clause, n)]
    alone = turned or not any(n.has("agent", "wash") for n in before)
    if alone and not agents and any(n.has("thing") for n in tools):
        # `comes off with anything`, `a wash with anything clears it`: with every wash.
        every = next(noun for noun in tools if noun.has("thing"))
        quantity = q.Quantity.EVERY
        agents = [replace(every, term=WASHES, kinds=OF_WASHES, quantity=quantity)]
    sources = [n for n in clause.led_by("from") if n.has("product", "kind")]
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


def _alone(clause: Clause, noun: Noun) -> bool:
    """Whether nothing else is used: `with just conditioner`."""
    pieces = [clause.pieces[at] for at in range(noun.first, noun.last + 1)]
    return any(each.does("quantity:only") for each in pieces)


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
    before = [n for n in clause.before(at) if not n.has("water")]
    if not before:
        return
    film = before[-1]
    water = next((n for n in clause.nouns if n.has("water")), None)
    washes = [n for n in clause.after(at, "with", "by") if n.has("wash")]
    if washes:
        yield from _cleared(clause, at, turned=True)
        return
    used = clause.used(film, water, verbs=[at])
    if film.has("product") and not film.has("film"):
        everything = q.Quantified(q.Quantity.EVERY, q.Thing())
        acts = q.Clears(everything, film.term, circumstances=clause.circumstances())
        tap = Noun(q.Name("water"), frozenset({"water"}), film.first, film.last)
        yield stated(clause, tap, acts, used)
        return
    yield _by_water(clause, film, used)


def _by_water(clause: Clause, film: Noun, used: frozenset[int]) -> Said:
    """What is said to rinse out, as what water alone takes off."""
    conditions, water = clause.circumstances(), q.Name("water")
    if clause.asks("which") and film.general and film.quantity is None:
        taken = q.Clears(film.term, circumstances=conditions)
        asked = q.What(water, q.Not(taken) if clause.denied else taken)
        return Said(asked=asked, used=used, slot="object")
    every = film.quantity in (None, q.Quantity.EVERY)
    object_ = film.term if film.quantity is None else film.whole
    if clause.denied and film.general and every:
        # `silicones do not rinse out`: it takes none of them.
        object_ = q.Quantified(q.Quantity.NO, film.term)
    acts = q.Clears(object_, circumstances=conditions)
    denied = clause.denied and not (film.general and every)
    denied = denied and film.quantity is not q.Quantity.NO
    said = q.Not(acts) if denied else acts
    return Said(water, said, single=not film.general, used=used)
