"""The proofs of intervals as a trace carries them, with the facts they rest on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from abluent.engine.amounts._law import counted_shares, lifting
from abluent.engine.amounts._proofs import Certificate
from abluent.engine.amounts._rows import Cap
from abluent.engine.amounts.bounded import Bounded
from abluent.engine.amounts.charge_balance import carriers
from abluent.engine.base import contract as c
from abluent.engine.logic.facts import Fact
from abluent.engine.proof.encode import atom_json
from abluent.engine.proof.trace import Bounds

_ENDINGS = {"freeBelow", "freeUpTo"}
LIMIT = {
    *("type", "appliesTo", "high", "low", "unit", "market", "scope", "boundsSum"),
    *("bindsSomeGrades", "bindsPreservativeUse", "openToOtherUse", "usualIn"),
    *("usualAbove", "usualBelow"),
}
"""What is cited of a limit; `_SHARE` of the part that counts, `_MASS` of charges."""
_SHARE = {"measures", "quantity", "low"}
_KINDS = {"chargedInPart", "balanceSign", "massVaries", "drawnMassVaries"}
_MASS = {"ionCharge", "saltMass", "ionMass", "hydrophobicModel"}


def certified(found: Iterable[Bounded]) -> Bounds:
    """What a trace says of some facts that give intervals."""
    bounded = list(found)
    cited = dict.fromkeys(fact for each in bounded for fact in _rests_on(each))
    return Bounds(tuple(map(_entry, bounded)), tuple(cited))


def _entry(bounded: Bounded) -> dict[str, Any]:
    fact = bounded.fact
    return {
        "atom": atom_json(fact.predicate, fact.args),
        "without": list(_without(bounded)),
        "limits": {cap.name: _limit(cap) for cap in _caps(bounded)},
        "low": bounded.low and bounded.low.as_data(),
        "high": bounded.high and bounded.high.as_data(),
    }


def _limit(cap: Cap) -> dict[str, Any]:
    return {
        "shares": {symbol: str(share) for symbol, share in cap.shares},
        "low": None if cap.low is None else str(cap.low),
        "high": None if cap.high is None else str(cap.high),
    }


def _without(bounded: Bounded) -> Iterator[str]:
    """What of the label was set aside to find levels at all."""
    kept, printed = bounded.levels.items, bounded.label.items
    if [each.ordered for each in kept] != [each.ordered for each in printed]:
        yield "order"
    if [each.stated for each in kept] != [each.stated for each in printed]:
        yield "stated"
    unread = any(each.symbol is None for each in kept)
    if not unread and not any(r.name == "sum at least" for r in bounded.levels.rows):
        yield "whole"


def _proofs(bounded: Bounded) -> list[Certificate]:
    return [proof for proof in (bounded.low, bounded.high) if proof is not None]


def _caps(bounded: Bounded) -> list[Cap]:
    """The limits whose rows have a weight in one of the proofs."""
    used = {row.name.split(" ")[1] for proof in _proofs(bounded) for row in proof.used}
    return [cap for cap in bounded.levels.caps if cap.name in used]


# -- facts ------------------------------------------------------------------------


def _rests_on(bounded: Bounded) -> Iterator[Fact]:
    """The facts of the base that the proofs of a fact rest on."""
    label, caps = bounded.label, _caps(bounded)
    base = label.base
    endings = base.facts_about(base.instances("LabelRule"), _ENDINGS)
    yield from endings
    yield from base.facts_about((str(f.args[0]) for f in endings), {"market"})
    if bounded.fact.predicate == c.IONIC_EXCESS:
        charged = {each.symbol for each in carriers(label)}
        yield from base.facts_about(sorted(charged), _MASS)
        kinds = {kind for symbol in charged for kind in label.listed[symbol]}
        yield from base.facts_about(sorted(kinds), _KINDS)
    shares = (symbol for cap in caps for symbol, _ in cap.shares)
    members = {symbol: label.listed[symbol] for symbol in shares}
    names = (cap.name.split(":", maxsplit=1)[0] for cap in caps)
    records = [symbol for name in names for symbol in name.split("+")]
    records += lifting(base, members, label.market, label.on)
    yield from base.facts_about(records, LIMIT)
    scopes = [scope for each in records for scope in base.record(each).links("scope")]
    yield from base.facts_about(scopes, {"coversKind", "mayCoverKind"})
    yield from base.facts_about(counted_shares(base, members), _SHARE)
