"""Terms and predicates of a query: what it is about, and what it says of it.

Part of the syntax tree; `tree` gives every name of this module too.
"""

from decimal import Decimal
from enum import Enum

from abluent.grammar.common.errors import NOWHERE, Span
from abluent.grammar.common.record import Record, aside


class Node(Record):
    """Anything in the tree; `span` is `NOWHERE` for a node made by hand."""

    span: Span = aside(default=NOWHERE, kw_only=True)


def _require_two(members: tuple[object, ...]) -> None:
    if len(members) < 2:
        raise ValueError("a list has two members or more")


# --- terms: what a question is about ------------------------------------------


class Quantity(Enum):
    """How many members of a term a sentence must hold for."""

    EVERY = "every"
    SOME = "some"
    NO = "no"
    ONLY = "only"
    AT_LEAST = "at least"
    AT_MOST = "at most"
    EXACTLY = "exactly"


COUNTED = frozenset({Quantity.AT_LEAST, Quantity.AT_MOST, Quantity.EXACTLY})


class Name(Node):
    """A name as typed: of a product, an ingredient, a class, a film or a set.

    The article before it is kept for the wording alone and makes no difference.

    Raises:
        ValueError: the text is empty, or holds a line break or loose spaces.
    """

    text: str
    article: str = aside(default="", kw_only=True)

    def check(self) -> None:
        if not self.text or self.text != " ".join(self.text.split()):
            raise ValueError(f"not a name: {self.text!r}")


class Thing(Node):
    """Whatever can stand in its place: `things`, and the noun in `what clears …`."""


class Those(Node):
    """The members of the last answer, or those of them that are of a kind."""

    kind: Name | None = None


class Shelf(Node):
    """The products of the reader's own shelf: `my shelf`."""


class And(Node):
    """All of a list (two or more): `"A", "B" and "C"`."""

    terms: tuple["Term", ...]

    def check(self) -> None:
        _require_two(self.terms)


class Or(Node):
    """Any of a list (two or more): `"A", "B" or "C"`."""

    terms: tuple["Term", ...]

    def check(self) -> None:
        _require_two(self.terms)


def members(term: "Term") -> tuple["Term", ...]:
    """The members of a list; of anything else, the term itself."""
    return term.terms if isinstance(term, And | Or) else (term,)


def unquantified(term: "Term") -> "Term":
    """A term without its quantity, if it has one."""
    return term.term if isinstance(term, Quantified) else term


class Except(Node):
    """The members of one term that are not members of the other."""

    term: "Term"
    left_out: "Term"


class Quantified(Node):
    """A term with its quantity; `count` is there for the counted ones only.

    `everything`, `anything` and `nothing` are EVERY, SOME and NO of `Thing`.

    Raises:
        ValueError: a counted quantity lacks its count, or another one has it.
    """

    quantity: Quantity
    term: "Term"
    count: int | None = None
    word: str = aside(default="", kw_only=True)

    def check(self) -> None:
        if (self.quantity in COUNTED) != (self.count is not None):
            raise ValueError(f"{self.quantity.value}: count is {self.count}")


class Such(Node):
    """The members of a term for which every condition holds.

    Raises:
        ValueError: there is no condition, or the term carries conditions itself.
    """

    term: "Term"
    conditions: tuple["Predicate", ...]

    def check(self) -> None:
        if not self.conditions or isinstance(self.term, Such):
            raise ValueError("the conditions of a term belong together in one node")


Term = Name | Thing | Those | Shelf | And | Or | Except | Quantified | Such


def narrowed(term: Term, *conditions: "Predicate", span: Span = NOWHERE) -> Such:
    """A term under conditions, together in one node with those that it has."""
    if isinstance(term, Such):
        return Such(term.term, term.conditions + conditions, span=span)
    return Such(term, conditions, span=span)


# --- predicates: what is said of a term ---------------------------------------


class Extent(Enum):
    """Which verdicts a `clear` asks for."""

    FULLY = "clear"
    PARTLY = "partly clear"
    AT_LEAST_PARTLY = "at least partly clear"
    PERHAPS = "perhaps clear"
    SURELY = "surely clear"


class Level(Node):
    """A range of weight per cent; None is an end without bound.

    Raises:
        ValueError: neither end is given, one is below zero or no number, or they
            stand the wrong way round.
    """

    low: Decimal | None = None
    high: Decimal | None = None
    open_ended: bool = False
    """The one bound given is itself outside: `above 1 %`, `below 1 %`."""

    def check(self) -> None:
        ends = [end for end in (self.low, self.high) if end is not None]
        if not ends or not all(end.is_finite() and end >= 0 for end in ends):
            raise ValueError("a level needs a number that is not below zero")
        if self.low is not None and self.high is not None:
            if self.low > self.high:
                raise ValueError(f"{self.low} to {self.high} %: the wrong way round")
            if self.open_ended:
                raise ValueError("only a level with one bound can be open-ended")


class Clears(Node):
    """What a wash does to a film, or to all that `source` leaves.

    `circumstances` are phrases of the language: `in hard water`, `on damaged hair`;
    `rounds` is how often the wash is taken one after the other.

    Raises:
        ValueError: it is taken less than once.
    """

    object: Term
    source: Term | None = None
    extent: Extent = Extent.FULLY
    circumstances: tuple[str, ...] = ()
    rounds: int = 1

    def check(self) -> None:
        if self.rounds < 1:
            raise ValueError("a wash is taken once or more")


class Leaves(Node):
    """What a product leaves on hair once dry."""

    object: Term
    circumstances: tuple[str, ...] = ()


LAST_PLACE = -1
"""The place at the end of a label, wherever that is."""


class Contains(Node):
    """What stands on a product's label, perhaps at a level or at a place."""

    object: Term
    level: Level | None = None
    place: int | None = None


class Precedes(Node):
    """One ingredient stands before another on a label."""

    object: Term
    other: Term


class Stays(Node):
    """More of it is on the hair after every use: what water or air does not take."""

    circumstances: tuple[str, ...] = ()


class Outdoes(Node):
    """The subject takes more of a film off than another wash does."""

    object: Term
    than: Term


class Says(Node):
    """What the pack of a product says of it is so: `rightly say "silicone-free"`.

    Raises:
        ValueError: there are no words, or a line break or loose spaces in them.
    """

    text: str

    def check(self) -> None:
        if not self.text or self.text != " ".join(self.text.split()):
            raise ValueError(f"not what a pack says: {self.text!r}")


class Resembles(Node):
    """The label of the subject is nearly that of the object."""

    object: Term


class Hides(Node):
    """What a label does not say openly."""

    object: Term


class Needs(Node):
    """Nothing outside the object clears the subject; `needs no wash` too."""

    object: Term


class Suffices(Node):
    """Every member of the subject clears the object: `is enough for`."""

    object: Term


class Passive(Enum):
    """What is done to a film."""

    CLEARED = "cleared by"
    LEFT = "left by"


class Undergoes(Node):
    """Something clears, or leaves, the subject: `is cleared by "Tideline Wash"`.

    Raises:
        ValueError: what is left is left after so many rounds.
    """

    way: Passive
    object: Term
    circumstances: tuple[str, ...] = ()
    rounds: int = 1

    def check(self) -> None:
        if self.rounds < 1 or (self.way is Passive.LEFT and self.rounds > 1):
            raise ValueError("only what is cleared is so after rounds")


class Strength(Enum):
    """Which way a wash differs in strength from another."""

    MILDER = "milder"
    HARSHER = "harsher"
    STRONGER = "stronger"


class Differs(Node):
    """The subject is a milder, a harsher or a stronger wash than the object."""

    strength: Strength
    object: Term


class Ease(Enum):
    """Which way a film differs from another in how it goes."""

    HARDER = "harder"
    EASIER = "easier"


class Resists(Node):
    """The subject is a film that is harder, or easier, to clear than the object.

    `under` are the washes by which it is judged; None is all that are at hand.
    """

    way: Ease
    object: Term
    under: Term | None = None


class Shifts(Node):
    """The subject is a film that is harder, or easier, to clear here than there.

    `here` and `there` are phrases of the language: `on damaged hair`.

    Raises:
        ValueError: one of the two is not said.
    """

    way: Ease
    here: tuple[str, ...]
    there: tuple[str, ...]

    def check(self) -> None:
        if not self.here or not self.there:
            raise ValueError("a condition is set against another")


class Is(Node):
    """The subject is a member of the object: `is a silicone`, `is anionic`."""

    object: Term


class Named(Node):
    """The subject's name fits a pattern in which `*` stands for any letters.

    Raises:
        ValueError: the pattern is empty, or holds a line break or loose spaces.
    """

    pattern: str

    def check(self) -> None:
        if not self.pattern or self.pattern != " ".join(self.pattern.split()):
            raise ValueError(f"not a pattern: {self.pattern!r}")


class Among(Node):
    """The subject is one of a list, a named set or a shelf."""

    object: Term


class Not(Node):
    """The predicate does not hold."""

    part: "Predicate"


class Both(Node):
    """Every part holds (two parts or more)."""

    parts: tuple["Predicate", ...]

    def check(self) -> None:
        _require_two(self.parts)


class Either(Node):
    """At least one part holds (two parts or more)."""

    parts: tuple["Predicate", ...]

    def check(self) -> None:
        _require_two(self.parts)


Act = Clears | Leaves | Contains | Hides | Needs
Predicate = (
    Act
    | Stays
    | Outdoes
    | Precedes
    | Suffices
    | Undergoes
    | Differs
    | Resists
    | Shifts
    | Says
    | Resembles
    | Is
    | Named
    | Among
    | Not
    | Both
    | Either
)
