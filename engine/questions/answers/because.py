"""What makes a verdict what it is, as one reason that a group of verdicts may share.

That is a claim on an agent of the wash that does most of its work, or on any such
wash; or that the wash leaves such a film itself; or that a line of its label was not
read. A claim on a wash without something is no reason where the wash holds that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.contract import (
    ACTS,
    BEHAVES_AS,
    FILM_AS,
    FOILS,
    ISA,
    MAY_ACT,
    PUTS_BACK,
    UNREAD_LINE,
    YIELDS,
)
from abluent.engine.base.roles import Role
from abluent.engine.proof.nodes import RuleNode
from abluent.engine.proof.proofs import Proof
from abluent.engine.questions.answers.account import (
    charge_of,
    claims_by_agent,
    deciding,
    places,
)
from abluent.engine.questions.answers.account_parts import AT_THE_END
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import left_itself, puts_back
from abluent.engine.questions.world.alone import agent_of
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence

_AGENT, _FILM = "agent", "film"
_CARRIED = {
    (_AGENT, True): "Stronger cleansers do no better",
    (_FILM, True): "A film that goes more easily goes no further",
    (f"{_AGENT} and {_FILM}", True): (
        "Stronger cleansers do no better on a film that goes more easily"
    ),
    (_AGENT, False): "Weaker cleansers do as much",
    (_FILM, False): "A film that holds as hard goes as far",
    (f"{_AGENT} and {_FILM}", False): (
        "Weaker cleansers do as much on a film that holds as hard"
    ),
}
"""What an order carries over, in words, as the upper end or the lower."""
_NAMED = 4
"""So many washes are named with what each leaves itself."""


class Because(NamedTuple):
    """A reason.

    Args:
        what: a claim by its symbol, or the predicate that says it.
        carried: over what an order carries a claim that is on others: `agent`,
            `film` or both; empty where it is on these.
        upper: whether it says that no more goes; else that as much does.
    """

    what: str
    carried: str = ""
    upper: bool = False


def telling_end(row: Verdict) -> bool:
    """Whether the upper end of a verdict is what says how much goes."""
    return ENDS[row.role][0] is Role.NONE_OF_IT


def shape(row: Verdict) -> tuple[object, ...]:
    """Alike in all that decides which reasons a verdict has.

    Washes of one ingredient are alike where they are judged as the same classes.
    """
    case, (_, (wash, film, *_)) = row.case, row.goal
    agent = agent_of(case.world, row.wash)
    who: object = wash
    if agent and row.wash != WATER:
        who = frozenset(case.model.match(BEHAVES_AS, (agent, None)))
        who = frozenset(kind for _, kind in who) or wash
    kinds = frozenset(
        (str(kind), case.model.holds(PUTS_BACK, (wash, grade)))
        for grade in row.grades
        for _, kind in case.model.match(FILM_AS, (grade, None))
    )
    return who, kinds or film, row.role, row.contested


def reasons_of(row: Verdict, *, upper: bool) -> tuple[Because, ...]:
    """The reasons that one end of a verdict has, the plainest first."""
    end = row.at_most if upper else row.at_least
    if row.role is Role.NO_WASH_NEEDED:
        return ()
    if end is None:
        # A base may have no bounds, but verdicts alone.
        return (
            () if upper or row.role is Role.OPEN else tuple(map(Because, deciding(row)))
        )
    if row.role is Role.OPEN:
        unread = any(row.case.model.match(UNREAD_LINE, (row.goal[1][0], None)))
        return (Because(UNREAD_LINE),) if unread else ()
    proof = end.proof
    if upper and puts_back(row) and _holds(proof, PUTS_BACK):
        return (Because(PUTS_BACK),)
    found = [*_of_an_end(row, proof, upper=upper)]
    if not found and any(row.case.model.match(UNREAD_LINE, (row.goal[1][0], None))):
        return (Because(UNREAD_LINE),)
    return tuple(
        each._replace(upper=upper)
        for each in dict.fromkeys(sorted(found, key=lambda each: len(each.carried)))
    )


def _holds(proof: Proof, predicate: str) -> bool:
    steps = (node for node in proof.nodes.values() if isinstance(node, RuleNode))
    return any(step.rule.head.predicate == predicate for step in steps)


def _of_an_end(row: Verdict, proof: Proof, *, upper: bool) -> Iterator[Because]:
    """The claims that set an end, those on what does most of the work first."""
    base = row.case.world.base
    by_agent: dict[str, list[str]] = {}
    for agent, claims in claims_by_agent(row, proof):
        kept = [each for each in claims if _bounds(row, each, upper=upper)]
        by_agent.setdefault(agent, []).extend(kept)
    water = row.case.world.known.water_symbol
    others = [agent for agent in by_agent if agent != water]
    order = _by_work(row, others)
    whole = [*dict.fromkeys(claim for own in by_agent.values() for claim in own)]
    for claim in whole:
        if upper and _of_all(row, claim, [by_agent[agent] for agent in others]):
            yield _because(row, claim, order[:1])
    if not upper and order and (better := _better(row, proof, order[0])):
        yield from better
    for agent in order:
        for claim in by_agent[agent]:
            if not base.record(claim).link("ofWash"):
                yield _because(row, claim, [agent])
    if not whole:
        yield from _of_any_wash(row, proof, upper=upper)
    if not order and water in by_agent:
        yield from (_because(row, claim, [water]) for claim in by_agent[water])


def _of_any_wash(row: Verdict, proof: Proof, *, upper: bool) -> Iterator[Because]:
    """The claims on any wash whatever by which an end is bounded without its agents."""
    base = row.case.world.base
    named = dict.fromkeys(str(f.args[0]) for f in proof.facts if f.args)
    for claim in named:
        if claim in base and base.record(claim).space == "claim":
            if _bounds(row, claim, upper=upper) and base.record(claim).link("ofWash"):
                if _of_all(row, claim, []):
                    yield _because(row, claim, [])


def _bounds(row: Verdict, claim: str, *, upper: bool) -> bool:
    """Whether a claim sets an end itself, and does not carry what another set."""
    base = row.case.world.base
    record = base.record(claim)
    if record.number("shareLow") is not None:
        return True
    said = record.link("atMost" if upper else "atLeast")
    end = row.at_most
    if upper and said and end is not None:
        # What says of one agent that it takes less is no reason why the rest stops.
        return said == base.term(end.effect)
    return bool(said)


def _by_work(row: Verdict, agents: Sequence[str]) -> list[str]:
    """Agents of a wash, those that do most of its work first."""
    base, found = row.case.world.base, places(row)
    (negative,) = base.terms(Role.NEGATIVE) or ("",)

    def order(agent: str) -> tuple[bool, int]:
        weak = charge_of(base, agent) != negative
        return weak, found.get(agent, AT_THE_END)

    return sorted(dict.fromkeys(agents), key=order)


def _of_all(row: Verdict, claim: str, of_agents: Sequence[Sequence[str]]) -> bool:
    """Whether a claim speaks of all that may act in a wash, and so of the wash."""
    case = row.case
    kind = case.world.base.record(claim).link("ofWash")
    if not kind:
        return bool(of_agents) and all(claim in own for own in of_agents)
    only = case.world.base.record(kind).links("actsOnlyBy")
    acting = [str(a) for _, a in case.model.match(MAY_ACT, (row.goal[1][0], None))]
    return not only or all(any(_is(case, a, k) for k in only) for a in acting)


def _better(row: Verdict, proof: Proof, told: str) -> list[Because]:
    """The claims on an agent that does more of the work, where it takes as much.

    A proof goes by one agent that is enough; it need not be the main one. None where
    what is said of the main one stands lower.
    """
    case, wash = row.case, row.goal[1][0]
    steps = [n for n in proof.nodes.values() if isinstance(n, RuleNode)]
    asked = [n.args[1:] for n in steps if n.rule.head.predicate == YIELDS]
    acting = [str(a) for _, a in case.model.match(ACTS, (wash, None))]
    if told not in acting or any(case.model.match(UNREAD_LINE, (wash, None))):
        return []
    standings = case.prover.scale.names
    for agent in _by_work(row, [a for a in acting if a in places(row)]):
        if agent == told:
            return []
        holds = [case.model.holds(YIELDS, (agent, *rest)) for rest in asked]
        foiled = any(case.model.holds(FOILS, (wash, agent, rest[0])) for rest in asked)
        if not all(holds) or foiled:
            continue
        found: list[Because] = []
        for rest in asked:
            own = case.prover.prove(YIELDS, (agent, *rest))
            if standings.index(own.standing) > standings.index(proof.standing):
                break
            for _, claims in claims_by_agent(row, own):
                kept = [c for c in claims if _bounds(row, c, upper=False)]
                found += [_because(row, claim, [agent]) for claim in kept]
        else:
            if found and not any(each.carried for each in found):
                return found
    return []


def _because(row: Verdict, claim: str, agents: Sequence[str]) -> Because:
    """A claim, and whether it is on these agents and this film."""
    record, case = row.case.world.base.record(claim), row.case
    wanted = record.links("agent")
    mine = all(any(_is(case, agent, kind) for kind in wanted) for agent in agents)
    films = record.links("film")
    here = any(_is(case, grade, kind) for grade in row.grades for kind in films)
    mine = mine or bool(record.link("ofWash"))
    over = [*([] if mine else [_AGENT]), *([] if here else [_FILM])]
    return Because(claim, " and ".join(over))


def _is(case: Case, symbol: str, kind: str) -> bool:
    base = case.world.base
    stated = symbol in base and kind in base.classes_of(symbol)
    return stated or symbol == kind or case.model.holds(ISA, (symbol, kind))


def words(because: Because, rows: Sequence[Verdict]) -> str:
    """A reason in a sentence, said of some verdicts that have it.

    Args:
        because: the reason.
        rows: the verdicts, at least one.
    """
    base = rows[0].case.world.base
    if because.what == PUTS_BACK:
        return _own_films(rows)
    if because.what == UNREAD_LINE:
        many = len({row.wash for row in rows}) > 1
        label = "their labels were" if many else "its label was"
        line = "lines of" if many else "a line of"
        return f"{line} {label} not read".capitalize() + "."
    said = as_sentence(base.record(because.what).text("statement") or "")
    order = _CARRIED.get((because.carried, because.upper))
    return f"{order}: {said}" if order else said


def _own_films(rows: Sequence[Verdict]) -> str:
    """What each of some washes leaves of its own of the family of the films."""
    label = rows[0].case.world.base.label
    own: dict[str, dict[str, None]] = {}
    akin = False
    for row in rows:
        others = left_itself(row)
        akin = akin or bool(others)
        own.setdefault(row.wash, {}).update(dict.fromkeys(others or [row.film]))
    told = {wash: listed([*map(label, films)], 2) for wash, films in own.items()}
    alike = set(told.values())
    family = ", of the same family" if akin else ""
    if len(alike) == 1:
        (films,) = alike
        who = "Each leaves" if len(told) > 1 else "It leaves"
        return f"{who} {films} on hair itself{family}."
    each = [f"{wash} {films}" for wash, films in told.items()]
    return f"Each leaves such a film itself{family}: {listed(each, _NAMED)}."
