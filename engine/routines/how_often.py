"""How often a strong wash is advised, and which washes nobody is, as the base has it.

Nobody is advised to take or to buy some washes, though they may be at hand; and some
are used for more than cleaning, so that no other takes their place.
"""

from __future__ import annotations

from typing import NamedTuple

from abluent.engine.base.conditions import implied
from abluent.engine.base.contract import LINE, MAY_ACT
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import World
from abluent.engine.routines.routine import WEEK

STRONG_AT_MOST = "strongWashAtMost"
"""The property that says how many strong washes a week are advised at the most."""

STRONG_ONE_OF = "strongWashOneOf"
"""The property that says of how many washes a week one may be strong."""

STRONG_APART = "strongWashApart"
"""The property that says how many days apart strong washes are to be."""

STRONG_APART_HARMED = "strongWashApartHarmed"
"""The property that says so where a note tells of harm."""

NOT_WASHED_FOR = "notWashedFor"
"""The property of a family of films that is no reason for a stronger wash."""

STRONG_TOO_MANY = "strongWashTooMany"
"""The property that says from how many strong washes a week on that is too often."""

TAKEN_APART = "takenApart"
"""The property of a family of films that is washed for no more often than that."""

TAKEN_WITHIN = "takenWithin"
"""The property of a family of films that is washed for no more seldom than that."""

USES_BETWEEN, USES_BETWEEN_COATED = "usesBetween", "usesBetweenCoated"
"""The properties of a family: uses between two washes, also where hair is coated."""

LOOSENED_BY = "firstLoosenedBy"
"""The property of a family of films: what loosens it before it is washed."""

GATHERS_AFTER, LIGHTER_AFTER = "gathersAfter", "lighterHandAfter"
"""The properties of a wash: days, and uses of what is left in, that may lie between."""

TRIED_APART, TRIED_STRONG_APART = "triedApart", "triedStrongApart"
"""The properties of a wash: of how many one is it that helped on trial, or the days."""

TAKEN_BY_STRONGEST = "takenByStrongest"
"""The property of a family against which only the strongest washes are counted on."""


class HowOften(NamedTuple):
    """How often a strong wash is advised in one way of washing; 0 where nothing says.

    Args:
        most: from how many a week on a milder one comes first.
        many: from how many a week on that is said to be too often.
        harmed: how many days apart they are where a note tells of harm.
        one_of: of how many washes a week one may be strong; of fewer, one in two weeks.
        apart: how many days there are from one to the next.
    """

    most: int
    one_of: int
    apart: int
    many: int = 0
    harmed: int = 0

    @property
    def span(self) -> int:
        """In how many days there is one at the most."""
        return max(self.apart, WEEK)

    @property
    def seldom(self) -> int:
        """In how many days one is advised that is not surely needed."""
        return max(self.apart, 2 * WEEK)

    def too_often(self, uses: int, days: int) -> bool:
        """Whether so many in so many days are such that a milder one comes first."""
        many = bool(self.most) and uses * WEEK >= self.most * days
        return many or (self.apart > WEEK and uses * self.apart > days)

    def far_too_often(self, uses: int, days: int, *, harmed: bool) -> bool:
        """Whether so many are too often to go without a word.

        Args:
            uses: how many strong washes there are.
            days: in how many days.
            harmed: whether a note says that hair or skin is washed too harshly.
        """
        few = self.many and uses * WEEK < self.many * days
        spared = few and not harmed and self.apart <= WEEK
        return self.too_often(uses, days) and not spared

    def may_be(self, uses: int, days: int) -> bool:
        """Whether so many in so many days are no more than one may have."""
        few = not self.most or uses * WEEK <= self.most * days
        return few and (self.apart <= WEEK or uses * self.apart <= days)


def how_often(world: World) -> HowOften:
    """How often a strong wash is advised in the way of washing that is stated."""
    base = world.base
    wash = base.term(Role.WASH)
    said = [wash, *(up for each in world.stated for up in implied(base, each))]
    apart = max(_number(base, each, STRONG_APART) for each in said)
    names = STRONG_AT_MOST, STRONG_ONE_OF, STRONG_TOO_MANY, STRONG_APART_HARMED
    most, one_of, many, harmed = (_number(base, wash, name) for name in names)
    return HowOften(most, one_of, apart, many, harmed)


def taken_apart(base: Base, family: str) -> int:
    """How many days apart washes for the sake of a family need be; 0 for any."""
    return _number(base, family, TAKEN_APART)


def taken_within(base: Base, family: str) -> int:
    """In how many days a wash for the sake of a family is advised; 0 for any."""
    return _number(base, family, TAKEN_WITHIN)


def gathers_after(base: Base) -> int:
    """How many days may lie between two washes before a film is said to stay."""
    return _number(base, base.term(Role.WASH), GATHERS_AFTER)


def lighter_after(base: Base) -> int:
    """How many uses may lie between two washes before a lighter hand is advised."""
    return _number(base, base.term(Role.WASH), LIGHTER_AFTER)


def tried_apart(base: Base) -> tuple[int, int]:
    """Of how many washes one is mild that helped on trial; of strong ones the days."""
    wash = base.term(Role.WASH)
    return _number(base, wash, TRIED_APART), _number(base, wash, TRIED_STRONG_APART)


def uses_between(base: Base, former: str, *, coated: bool) -> tuple[int, bool]:
    """How many uses of a film-former may lie between two washes that take it.

    Beside it whether only the strongest washes are counted on.
    """
    kinds = [k for k in base.classes_of(former) if _number(base, k, USES_BETWEEN)]
    if not kinds:
        return 0, False
    kind = max(kinds, key=lambda each: (len(base.ancestors(each)), each))
    fewer = _number(base, kind, USES_BETWEEN_COATED) if coated else 0
    strongest = base.record(kind).truth(TAKEN_BY_STRONGEST)
    return fewer or _number(base, kind, USES_BETWEEN), strongest


def loosened_by(base: Base, former: str) -> str:
    """What loosens a film-former before the wash that is to take it; may be empty."""
    told = (base.record(kind).text(LOOSENED_BY) for kind in base.classes_of(former))
    return next(filter(None, told), "")


def washed_for(base: Base, family: str) -> bool:
    """Whether films of a family that may build up are a reason for a stronger wash."""
    return not (family in base and base.record(family).truth(NOT_WASHED_FOR))


def _number(base: Base, symbol: str, name: str) -> int:
    return int(base.record(symbol).number(name) or 0) if symbol in base else 0


# --- what speaks against a wash -------------------------------------------------------

ADVICE_AGAINST = "adviceAgainst"
"""The property of a class of surfactants that says why nobody is advised to buy it."""

OWN_PURPOSE = "ownPurpose"
"""The property of a class of ingredients that says what a wash with one is for."""


def never_bought(agent: str, base: Base) -> str:
    """Why nobody is advised to buy a wash that rests on an agent; else empty."""
    told = (base.record(kind).text(ADVICE_AGAINST) for kind in base.classes_of(agent))
    return next(filter(None, told), "")


def unadvised(case: Case, wash: str) -> str:
    """Why nobody is advised to take a wash that rests on nothing but such agents."""
    base, water = case.world.base, case.world.known.water_symbol
    against = [
        never_bought(str(agent), base)
        for _, agent in case.model.match(MAY_ACT, (case.world.symbol(wash), None))
        if agent != water
    ]
    return against[0] if against and all(against) else ""


NO_PURPOSE_BEHIND = "noPurposeBehind"
"""The property of such a class that says as what one may stand there alone.

One that is of that class too, and stands behind another of it, is taken for no more.
"""


class Purpose(NamedTuple):
    """What a wash is for, and what in it is."""

    ingredient: str
    text: str


def purpose(world: World, wash: str) -> Purpose | None:
    """What a wash is for by what its label lists; nothing where it only cleans."""
    base, before = world.base, set[str]()
    lines = [f for f in world.read(wash).facts if f.predicate == LINE]
    for fact in lines:
        symbol = str(fact.args[2])
        kinds = {*base.classes_of(symbol)} if symbol in base else set[str]()
        behind = {
            k for kind in kinds for k in base.record(kind).links(NO_PURPOSE_BEHIND)
        }
        texts = filter(None, (base.record(kind).text(OWN_PURPOSE) for kind in kinds))
        if not behind & kinds & before and (text := next(texts, "")):
            return Purpose(base.label(symbol), text)
        before |= kinds
    return None
