"""The parts that terms of the base play in questions, labels and routines.

The code above the reasoner knows no class, kind or value by its name. It knows these
roles, and asks the base which term plays one: `abl:FilmFormer abl:role "film"`. A
class may so be renamed or replaced, and another base may have classes of its own,
without a change of code.

What stays known by name is the form in which knowledge is written, such as
`abl:source`, `abl:standing` and `abl:statement`, and the predicates of `contract`.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from abluent.engine.errors import EngineError


class Role(StrEnum):
    """A part that a term may play; but for `MANY` one term plays each.

    `about` says what plays it.
    """

    about: str

    def __new__(cls, value: str, about: str) -> Role:
        """Make a role of the word that data has for it, and what plays it."""
        made = str.__new__(cls, value)
        made._value_, made.about = value, about
        return made

    INGREDIENT = "ingredient", "The class of everything that a label may list."
    FILM = "film", "The class of what may stay behind, and is cleared or left."
    FILM_FAMILY = (
        "film family",
        "A class of films that are told together; the narrowest one of a film counts.",
    )
    CLEANSER = (
        "cleanser",
        "The class of agents that a wash may be counted on to clean with.",
    )
    PRODUCT_KIND = "product kind", "The class of what a product can be sold as."
    MARKET = "market", "The class of where a product can be sold."

    WASH = (
        "wash",
        "The kind of an ordinary wash; what is washed with is `abl:meantToClean`.",
    )
    WASH_SORT = (
        "wash sort",
        "A class of sorts of wash, which are shown by what follows and not by kind.",
    )
    OTHER_KIND = "other kind", "The kind of a product whose kind is not known."
    WATER = (
        "water",
        "The ingredient that every wash is used with, and that washes by itself.",
    )
    ANY_PRODUCT = (
        "any product",
        "What stands for whatever left a film that is asked about by itself.",
    )

    CHARGE = "charge", "The property that says which charge an ingredient carries."
    WATER_SOLUBILITY = (
        "water solubility",
        "The property that says how an ingredient behaves in water.",
    )
    NEGATIVE = (
        "negative charge",
        "The value of a charge that may tie up the positive one.",
    )
    POSITIVE = (
        "positive charge",
        "The value of a charge that may tie up the negative one.",
    )

    CLEARED = "cleared", "The verdict that a wash takes a film off."
    PARTLY_CLEARED = (
        "partly cleared",
        "The verdict that a wash takes a part of a film off.",
    )
    NOT_CLEARED = "not cleared", "The verdict that a wash leaves a film where it is."
    NO_WASH_NEEDED = "no wash needed", "The verdict that a film goes without a wash."
    AT_LEAST_PARTLY = (
        "at least partly cleared",
        "The verdict that a wash takes part of a film off, and perhaps all.",
    )
    AT_MOST_PARTLY = (
        "at most partly cleared",
        "The verdict that a wash takes a part of a film off, and perhaps none.",
    )
    OPEN = (
        "open",
        "The verdict that nothing bounds what a wash takes of a film, on either side.",
    )

    NONE_OF_IT = (
        "none of it",
        "The effect that nothing of a film is taken: the least that can be.",
    )
    PART_OF_IT = "part of it", "The effect that a part of a film is taken."
    ALL_OF_IT = (
        "all of it",
        "The effect that a film is taken whole: the most that can be.",
    )
    UNREAD = "unread", "What stands for a line of a label that was not read."

    CONDITION = (
        "condition",
        "The class of what a question, a shelf or a routine may state of its washes.",
    )
    PRACTICE = "practice", "A kind of source that is no work, such as a convention."

    SEARCH = "search", "A kind of source that tells only that nothing was found."

    INVENTORY = (
        "inventory",
        "The source that lists names by number and official function, shipped whole.",
    )

    INSIDE_OTHERS = (
        "inside others",
        "A class whose level may be part of that of another item of the label.",
    )
    ANY_ORDER_LAST = "any order last", "A class that may end a list in any order."
    NOT_ANY_ORDER = (
        "not any order",
        "A class that may not, although it is part of one that may.",
    )


MANY = frozenset(
    {
        Role.FILM_FAMILY,
        Role.WASH_SORT,
        Role.PRACTICE,
        Role.SEARCH,
        Role.INVENTORY,
        Role.INSIDE_OTHERS,
        Role.ANY_ORDER_LAST,
        Role.NOT_ANY_ORDER,
    }
)
"""The roles that several terms, or none, may play."""

BY_ALL = (
    *(Role.INGREDIENT, Role.FILM, Role.CLEANSER, Role.PRODUCT_KIND),
    *(Role.WASH, Role.OTHER_KIND, Role.WATER, Role.ANY_PRODUCT),
    *(Role.CLEARED, Role.PARTLY_CLEARED, Role.NOT_CLEARED, Role.NO_WASH_NEEDED),
    *(Role.AT_LEAST_PARTLY, Role.AT_MOST_PARTLY, Role.OPEN),
    *(Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT),
)
"""The roles without which no question about a wash can be answered. The others are
asked for where their matter comes up."""

EFFECTS = (Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT)
"""How far one wash takes a film, the least first."""

VERDICTS = (
    Role.NOT_CLEARED,
    Role.AT_MOST_PARTLY,
    Role.OPEN,
    Role.PARTLY_CLEARED,
    Role.AT_LEAST_PARTLY,
    Role.CLEARED,
    Role.NO_WASH_NEEDED,
)
"""The verdicts, the worst first."""


class RoleError(EngineError):
    """A base in which no term plays a part that is needed to answer.

    Args:
        role: the part that nothing plays.
    """

    def __init__(self, role: Role) -> None:
        self.role = role
        super().__init__(
            f"no term of the base plays the part `{role}`\n"
            f'Add `abl:role "{role}"` to the term of the vocabulary that does.'
        )


class MissingRoles(EngineError):
    """A base in which nothing plays some parts that every base needs.

    Args:
        roles: all of them.
    """

    def __init__(self, roles: Sequence[Role]) -> None:
        self.roles = tuple(roles)
        told = [f'  abl:role "{each}"  {each.about}' for each in roles]
        listed = "\n".join(told)
        super().__init__(
            f"no term of the base plays these parts; add each to the term that does:\n"
            f"{listed}"
        )
