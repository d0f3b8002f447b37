"""The syntax tree of a query: what was asked, with no word resolved yet.

Nouns are kept as typed (`Name`); whether a name is a product, an ingredient, a
class or a film is decided later, against what the base and the shelf know.
A node's `span` tells where it stood in the text and does not count in equality.
`LANGUAGE.md` says what every form means.
"""

from enum import Enum

from abluent.grammar.query.terms import (
    COUNTED,
    LAST_PLACE,
    Act,
    Among,
    And,
    Both,
    Clears,
    Contains,
    Differs,
    Ease,
    Either,
    Except,
    Extent,
    Hides,
    Is,
    Leaves,
    Level,
    Name,
    Named,
    Needs,
    Node,
    Not,
    Or,
    Outdoes,
    Passive,
    Precedes,
    Predicate,
    Quantified,
    Quantity,
    Resembles,
    Resists,
    Says,
    Shelf,
    Shifts,
    Stays,
    Strength,
    Such,
    Suffices,
    Term,
    Thing,
    Those,
    Undergoes,
    members,
    narrowed,
    unquantified,
)

__all__ = [
    "COUNTED",
    "EASES",
    "LAST_PLACE",
    "About",
    "Act",
    "Among",
    "Amount",
    "And",
    "Argue",
    "Aspect",
    "Become",
    "Both",
    "Change",
    "Claim",
    "Clears",
    "Compare",
    "Conflicts",
    "Contains",
    "Define",
    "Differs",
    "Ease",
    "Either",
    "Except",
    "Extent",
    "Forget",
    "Hides",
    "HowMany",
    "HowMuch",
    "Is",
    "Leaves",
    "Let",
    "Level",
    "Measure",
    "Name",
    "Named",
    "Needs",
    "Node",
    "Not",
    "NotUnderstood",
    "Or",
    "Order",
    "Outdoes",
    "Passive",
    "Plain",
    "Precedes",
    "Predicate",
    "Quantified",
    "Quantity",
    "Query",
    "Question",
    "Rank",
    "Resembles",
    "Resists",
    "Rounds",
    "Save",
    "Saying",
    "Says",
    "Shelf",
    "Shifts",
    "Statement",
    "Stays",
    "Strength",
    "Such",
    "Suffices",
    "Suppose",
    "Task",
    "Term",
    "Thing",
    "Those",
    "Undergoes",
    "Unlawful",
    "Unlike",
    "What",
    "Whether",
    "Which",
    "With",
    "Without",
    "asked_act",
    "members",
    "narrowed",
    "unquantified",
]


class Statement(Node):
    """A sentence that is true or not: a subject and what is said of it."""

    subject: Term
    predicate: Predicate


# --- questions ----------------------------------------------------------------


class Order(Enum):
    """How the members of an answer are put in order."""

    MILDEST = "mildest first"
    STRONGEST = "strongest first"
    HARDEST = "hardest first"
    EASIEST = "easiest first"


EASES = frozenset({Order.HARDEST, Order.EASIEST})
"""The orders that films are put in."""


def _require_ease(order: Order | None, under: Term | None) -> None:
    if under is not None and order not in EASES:
        raise ValueError("only films are put in order by what some washes take")


class Whether(Node):
    """Does the statement hold, with the verdicts behind it?"""

    statement: Statement


class Claim(Node):
    """Is the statement proven, refuted by a counterexample, or unsupported?"""

    statement: Statement


class Argue(Node):
    """Several statements, each to be judged, and whether the last one follows.

    Raises:
        ValueError: there is only one.
    """

    statements: tuple[Statement, ...]
    follows: bool = False

    def check(self) -> None:
        if len(self.statements) < 2:
            raise ValueError("one statement by itself is a claim")


class Which(Node):
    """Which members of the subject are so; without a predicate, all of them.

    `under` are the washes by which films are put in order; None is all at hand.

    Raises:
        ValueError: washes are named for another order.
    """

    subject: Term
    predicate: Predicate | None = None
    order: Order | None = None
    limit: int | None = None
    under: Term | None = None

    def check(self) -> None:
        _require_ease(self.order, self.under)


class What(Node):
    """Which members of the predicate's object make the sentence true?

    `what does P leave` asks for members of `Thing`; the predicate is an `Act`
    or the `Not` of one.

    Raises:
        ValueError: the predicate is of another kind, or washes are named for another
            order than that of films.
    """

    subject: Term
    predicate: Act | Not
    order: Order | None = None
    limit: int | None = None
    under: Term | None = None

    def check(self) -> None:
        _require_ease(self.order, self.under)
        if not isinstance(asked_act(self.predicate), Act):
            raise ValueError("a what-question asks for the object of one verb")


def asked_act(predicate: Predicate) -> Predicate:
    """What is said, under its negation."""
    return predicate.part if isinstance(predicate, Not) else predicate


class HowMany(Node):
    """How many members the answer to a question has, or what share of all they are."""

    question: Which | What
    share: bool = False


class Rounds(Node):
    """How often a wash must be taken, one time after the other, to clear a film.

    Raises:
        ValueError: it is asked how far, or of a number of rounds.
    """

    washes: Term
    clears: Clears

    def check(self) -> None:
        if self.clears.extent is not Extent.FULLY or self.clears.rounds > 1:
            raise ValueError("how many rounds is asked of all of a film")


class NotUnderstood(Node):
    """Which names of labels were not understood, those that matter most first."""

    limit: int | None = None


class Define(Node):
    """What a name, a class or a product is: `what is "Dimethicone"`."""

    term: Term


class Measure(Enum):
    """What is asked of a wash by degrees."""

    MILD = "mild"
    STRONG = "strong"


class HowMuch(Node):
    """How mild a wash is, test by test; or how strong, film family by family.

    Raises:
        ValueError: mildness is asked for a film.
    """

    measure: Measure
    things: Term
    film: Term | None = None

    def check(self) -> None:
        if self.film is not None and self.measure is Measure.MILD:
            raise ValueError("how mild a wash is does not turn on a film")


class Amount(Node):
    """How much of an ingredient the labels of products allow, in per cent."""

    ingredient: Term
    products: Term


class Task(Node):
    """What an ingredient is there for in some products, and what it does there."""

    ingredient: Term
    products: Term


class Rank(Node):
    """Washes in order: by mildness, or by strength on films where these are named."""

    things: Term
    film: Term | None = None


class Compare(Node):
    """Products side by side, for one film or for all they leave and clear.

    `circumstances` are phrases of the language: `in hard water`. `lines` sets two
    labels side by side, line by line.

    Raises:
        ValueError: lines are compared for a film, or under conditions.
    """

    things: Term
    film: Term | None = None
    lines: bool = False
    circumstances: tuple[str, ...] = ()

    def check(self) -> None:
        if self.lines and (self.film is not None or self.circumstances):
            raise ValueError("labels are compared line by line for no film")


class Unlike(Node):
    """Why something is so of one thing and not of others.

    The others are such as its subject is, or such as its object is.
    """

    matter: Whether
    others: Term


class Saying(Node):
    """What is known of something that people say: `what of the saying "…"`.

    Raises:
        ValueError: it has an article.
    """

    said: Name

    def check(self) -> None:
        if self.said.article:
            raise ValueError("a saying stands in quotes, without an article")


class Unlawful(Node):
    """What law says against the lines of a label."""

    things: Term


class Conflicts(Node):
    """Which of some products stand in each other's way."""

    things: Term


class Aspect(Enum):
    """What is asked about an answer."""

    WHY = "why"
    SURE = "how sure"
    SOURCES = "who says"
    CHANGE = "what would change"
    NEEDED = "what must be so"
    PARTING = "where do sources part"
    WAYS = "in how many ways"


class About(Node):
    """A question about an answer.

    `matter` is the question it is about; a term (with WHY only) asks about its
    members' place in the last answer; None is the last answer itself. `negative`
    is `why not`: why the matter does not hold.

    Raises:
        ValueError: `negative`, or a term, with another aspect than WHY.
    """

    aspect: Aspect
    matter: "Whether | Claim | Term | None" = None
    negative: bool = False

    def check(self) -> None:
        if self.aspect is Aspect.WHY:
            return
        if self.negative or not isinstance(self.matter, Whether | Claim | None):
            raise ValueError(f"{self.aspect.value!r} is asked of a question")


# --- changes and names --------------------------------------------------------


class With(Node):
    """A label with an ingredient, at a level or a place where one is given.

    An ingredient already on the label is moved, or its level is set.
    """

    product: Term
    ingredient: Term
    level: Level | None = None
    place: int | None = None


class Without(Node):
    """A label without an ingredient, or without every member of a class."""

    product: Term
    ingredient: Term


class Become(Node):
    """A product taken to be of another kind, an ingredient of another class."""

    subject: Term
    kind: Term


Change = With | Without | Become

Plain = (
    Whether
    | Claim
    | Argue
    | Which
    | What
    | HowMany
    | Rounds
    | NotUnderstood
    | HowMuch
    | Amount
    | Task
    | Rank
    | Define
    | Compare
    | About
    | Unlike
    | Saying
    | Unlawful
    | Conflicts
)


class Suppose(Node):
    """A question asked as if the changes were made, and how the answer differs."""

    changes: tuple[Change, ...]
    question: Plain


Question = Plain | Suppose


class Let(Node):
    """Give a name to a set, for later questions."""

    name: Name
    term: Term


class Save(Node):
    """Ask a question and give its answer's members a name."""

    question: Question
    name: Name


class Forget(Node):
    """Take back a name given by `let` or `save`."""

    name: Name


Query = Question | Let | Save | Forget
