"""Verdicts: what a wash does to a film, and what a product leaves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from abluent.engine.base.contract import (
    ACTS,
    CONTESTED,
    LEAVES,
    LEAVES_NONE,
    LEAVING_UNKNOWN,
    LINE,
    LOWER,
    MAY_LEAVE,
    READING,
    REMARK,
    REMARK_ON_LEFT,
    SET_ASIDE,
    TRIED,
    UPPER,
    VERDICT,
)
from abluent.engine.base.roles import EFFECTS, VERDICTS, Role
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.nearest_advice import takes_most
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER

ENDS: Mapping[Role, tuple[Role, Role]] = {
    Role.NOT_CLEARED: (Role.NONE_OF_IT, Role.NONE_OF_IT),
    Role.AT_MOST_PARTLY: (Role.NONE_OF_IT, Role.PART_OF_IT),
    Role.OPEN: (Role.NONE_OF_IT, Role.ALL_OF_IT),
    Role.PARTLY_CLEARED: (Role.PART_OF_IT, Role.PART_OF_IT),
    Role.AT_LEAST_PARTLY: (Role.PART_OF_IT, Role.ALL_OF_IT),
    Role.CLEARED: (Role.ALL_OF_IT, Role.ALL_OF_IT),
    Role.NO_WASH_NEEDED: (Role.ALL_OF_IT, Role.ALL_OF_IT),
}
"""What each verdict says: the effect at least, and at most."""
TAKES: Mapping[Role, str] = {
    Role.CLEARED: "all",
    Role.NO_WASH_NEEDED: "all",
    Role.AT_LEAST_PARTLY: "at least part",
    Role.PARTLY_CLEARED: "part",
    Role.AT_MOST_PARTLY: "at most part",
    Role.OPEN: "an unknown amount",
    Role.NOT_CLEARED: "none",
}
"""How much each verdict says is taken, in a word or two."""
GONE = frozenset({Role.CLEARED, Role.NO_WASH_NEEDED})
"""The verdicts after which nothing of the film stays."""
NOT_ALL = "perhaps not all in one wash"
"""What stays open where practice counts on most of a film going."""
_DISPUTED = {Role.PART_OF_IT: "any", Role.ALL_OF_IT: "all"}
"""Of how much of a film it is disputed that it goes, in a word."""


def takes(role: Role, wash: str, film: str) -> str:
    """How much a wash takes of a film, as a clause by itself."""
    said = _SAID.get(role, f"{{}} takes {TAKES[role]} of {{}}")
    return said.format(wash, film)


_SAID = {
    Role.AT_LEAST_PARTLY: "{} takes {} off, at least in part",
    Role.AT_MOST_PARTLY: "{} takes at most part of {}, if any",
}
"""What is said otherwise where it stands by itself."""


class Verdict(Explained):
    """What one wash does to one film.

    Attributes:
        wash: the name of the product, or `water`.
        film: the symbol of the film-former.
        source: the name of the product that left it; empty for any.
        value: the verdict, as the base calls it.
        role: what that verdict says, one of `VERDICTS`.
    """

    def __init__(self, case: Case, args: tuple[str, str, str, str]) -> None:
        wash, film, product, value = args
        self.wash = case.world.name(wash)
        self.film = film
        self.source = case.world.name(product)
        self.value = value
        self.role = case.world.known.verdict_roles[value]
        aside = [] if self.gone else _beside(case, args, self.role)
        remarks = _remarks(case, args, self.source)
        super().__init__(case, (VERDICT, args), [*aside, *remarks])

    @property
    def gone(self) -> bool:
        """Whether nothing of the film stays."""
        return self.role in GONE

    @cached_property
    def takes_most(self) -> bool:
        """Whether practice counts on most of the film going, and no end bars all."""
        if self.role is not Role.AT_LEAST_PARTLY or Role.PART_OF_IT in self.contested:
            return False
        world, acts = self.case.world, self.case.model.match
        agents = [str(row[1]) for row in acts(ACTS, (self.goal[1][0], None))]
        kinds = world.labels.kinds_of(self.film)
        films = self.grades or (self.film,)
        return all(takes_most(world.base, each, agents, kinds) for each in films)

    @cached_property
    def grades(self) -> tuple[str, ...]:
        """The kinds of thing, as grades, that the name of its film may stand for."""
        _, (_, film, product, _) = self.goal
        found = self.case.model.match(READING, (film, product, None))
        return tuple(sorted(str(grade) for *_, grade in found))

    @cached_property
    def at_least(self) -> End | None:
        """What the wash surely takes; nothing where no wash is needed."""
        return self._end(LOWER)

    @cached_property
    def at_most(self) -> End | None:
        """What the wash can take at the most; nothing where no wash is needed."""
        return self._end(UPPER)

    def _end(self, predicate: str) -> End | None:
        about = self.goal[1][:3]
        for *_, effect in self.case.model.match(predicate, (*about, None)):
            return End(self.case, (predicate, (*about, effect)))
        return None

    @cached_property
    def contested(self) -> tuple[Role, ...]:
        """The effects of which equals say both that they are reached and are not."""
        about, term = self.goal[1][:3], self.case.world.base.term
        holds = self.case.model.holds
        return tuple(e for e in EFFECTS if holds(CONTESTED, (*about, term(e))))

    @property
    def contested_words(self) -> str:
        """Of how much it is disputed whether it goes, in words."""
        return " and ".join(_DISPUTED[each] for each in self.contested)

    @property
    def disputed(self) -> bool:
        """Whether sources of equal rank part over one of its ends."""
        return bool(self.contested)

    @cached_property
    def disputes(self) -> tuple[Explained, ...]:
        """Why each effect is disputed that is."""
        about, term = self.goal[1][:3], self.case.world.base.term
        goals = [(CONTESTED, (*about, term(effect))) for effect in self.contested]
        return tuple(Explained(self.case, goal) for goal in goals)


class End(Explained):
    """One end of a verdict: what a wash takes of a film at least, or at most.

    Attributes:
        effect: the effect, one of `EFFECTS`.
    """

    def __init__(self, case: Case, goal: Ground) -> None:
        super().__init__(case, goal)
        self.effect = case.world.known.effect_roles[str(goal[1][-1])]


class Left(Explained):
    """Whether a product leaves an ingredient on hair.

    Attributes:
        source: the name of the product, or `water`.
        film: the symbol of the ingredient.
        how: whether it leaves it, may, does not, or nobody here knows; the predicate
            that says so.
    """

    def __init__(self, case: Case, product: str, film: str, how: str = LEAVES) -> None:
        self.source = case.world.name(product)
        self.film = film
        self.how = how
        remarks = [*_remarks_on_left(case, product, film)]
        super().__init__(case, (how, (product, film)), remarks)

    @property
    def sure(self) -> bool:
        """Whether it surely leaves it."""
        return self.how == LEAVES


def sorted_grades(left: Left) -> list[str]:
    """The grades that the name of a film which a product leaves may stand for."""
    _, (product, film) = left.goal
    rows = left.case.model.match(READING, (film, product, None))
    return sorted(str(grade) for *_, grade in rows)


def verdicts(case: Case, wash: str = "") -> list[Verdict]:
    """The verdicts of a case, those of one wash if it is named.

    In the order of the shelf by wash, the worst film first.
    """
    symbol = case.world.symbol(wash) if wash else None
    found = case.model.match(VERDICT, (symbol, None, None, None))
    made = [Verdict(case, tuple(str(each) for each in row)) for row in found]  # type: ignore[arg-type]
    order = {name: n for n, name in enumerate([*case.world.products, WATER])}
    return sorted(
        made,
        key=lambda v: (order[v.wash], v.source, VERDICTS.index(v.role), v.film),
    )


def films_left(case: Case, product: str) -> list[Left]:
    """The films that a product leaves or may leave, in the order of its label."""
    return _leaving(case, product, (MAY_LEAVE, LEAVES))


def not_left(case: Case, product: str) -> list[Left]:
    """What a product leaves none of, and that of which nobody here knows."""
    return _leaving(case, product, (LEAVING_UNKNOWN, LEAVES_NONE))


def _leaving(case: Case, product: str, ways: Sequence[str]) -> list[Left]:
    """All of which some predicate says how it is left; the last that does counts."""
    symbol = case.world.symbol(product)
    found = {
        str(film): how
        for how in ways
        for _, film in case.model.match(how, (symbol, None))
    }
    places = {
        str(film): place
        for _, place, film in case.model.match(LINE, (symbol, None, None))
    }
    ordered = sorted(found, key=lambda film: (str(places.get(film, "")).zfill(6), film))
    return [Left(case, symbol, film, found[film]) for film in ordered]


def worst(found: list[Verdict]) -> Verdict | None:
    """The verdict that decides for a whole product, if anything is left at all."""
    return min(found, key=lambda v: VERDICTS.index(v.role), default=None)


def _remarks(
    case: Case, args: tuple[str, str, str, str], source: str
) -> Iterator[Ground]:
    """What is told beside a verdict and changes none, such as matters of degree."""
    wash, film, product, _ = args
    for *_, grade in sorted(case.model.match(READING, (film, product, None))):
        for each in sorted(case.model.match(REMARK, (wash, grade, None)), key=str):
            yield REMARK, each
    if source:
        yield from _remarks_on_left(case, product, film)


def _remarks_on_left(case: Case, product: str, film: str) -> Iterator[Ground]:
    for each in sorted(
        case.model.match(REMARK_ON_LEFT, (product, film, None)), key=str
    ):
        yield REMARK_ON_LEFT, each


def _beside(case: Case, args: tuple[str, str, str, str], role: Role) -> list[Ground]:
    """What a wash lists that did not help: set aside, or tried in vain."""
    wash, film, product, _ = args
    asides = sorted(case.model.match(SET_ASIDE, (wash, None)))
    found: list[Ground] = [(SET_ASIDE, each) for each in asides]
    if ENDS[role][0] is Role.NONE_OF_IT:
        for *_, grade in case.model.match(READING, (film, product, None)):
            tried = sorted(case.model.match(TRIED, (wash, grade, None)))
            found += [(TRIED, each) for each in tried]
    return found
