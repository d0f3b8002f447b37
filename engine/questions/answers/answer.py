"""What a question comes to: an answer with its rows, each explained.

    Answer
    ├── rows      what was asked for
    ├── others    what was looked at and is not so
    ├── findings  what was asked about the rows: ways, sides, changes, differences
    └── notes     what a reader should know about the question or the labels

A row is a `Verdict`, a film `Left`, or a `Member` of what was asked for. For a claim,
`claim` says how it was judged and the first row is the witness.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.explained import Explained, Lacking
from abluent.engine.questions.answers.share import Share
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import Item
from abluent.engine.reading.name_rules import PatternScore
from abluent.grammar.common.record import Record

PROVEN, REFUTED = "proven", "refuted"
DISPUTED, UNSUPPORTED = "disputed", "unsupported"
TRUE_OF_ALL = "True of all of it, not of a part"
FALSE_AS_SAID, NOT_AS_SAID = "False as said", "Not so as said"
"""How a sentence begins on a claim that a part of a film bears out, or belies."""


class Member(Explained):
    """A thing that belongs to the answer of a question, with the fact that says so."""

    def __init__(
        self, case: Case, item: Item, goal: Ground, beside: Sequence[Ground] = ()
    ) -> None:
        self.item = item
        super().__init__(case, goal, beside)


class NotMember(Lacking):
    """A thing of which nothing in the base says what was asked, and what it is.

    `known` are the facts that say what it is.
    """

    def __init__(
        self, case: Case, item: Item, goal: Ground, known: Sequence[Ground]
    ) -> None:
        self.item = item
        super().__init__(case, goal[0], goal[1], known)


Row = Verdict | Left | Member | NotMember


def symbol_of(row: Row) -> str:
    """The film or thing that a row is about; for a product, its name."""
    return row.film if isinstance(row, Verdict | Left) else row.item.key


class Finding(NamedTuple):
    """Something that was found out about an answer, in words.

    Args:
        kind: one word for a program, such as `way`, `side` or `gained`.
        head: what it is.
        items: what it consists of, each in a sentence.
        complete: whether the search for such came to its end; None if none was made.
    """

    kind: str
    head: str
    items: tuple[str, ...] = ()
    complete: bool | None = None

    def __str__(self) -> str:
        """Head and items in one line."""
        return f"{self.head}: {' '.join(self.items)}" if self.items else self.head


class Order(NamedTuple):
    """Washes in an order that does not compare them all.

    Args:
        how: the order in words, such as `mildest first`.
        steps: the washes, the first first; those of one step are not compared.
        apart: those that nothing compares with any of these.
    """

    how: str
    steps: tuple[tuple[str, ...], ...]
    apart: tuple[str, ...] = ()


class Answer(Record):
    """The answer to one question.

    Args:
        query: the question in the language's own wording.
        sentence: the answer in one plain sentence.
        rows: what was asked for, explained.
        others: what was looked at and is not part of the answer.
        members: the things named by the answer, for a later `those`.
        notes: what a reader should know about the question or the labels.
        claim: how a claim was judged, else empty.
        witness: the name of what proves or refutes a claim.
        why: the question asked for the reasons.
        compared: the answers that are set side by side.
        findings: what the question asked about the rows, in the order to be told.
        score: how far the names of a claim about names can be trusted.
        share: of how many things it is so, where a share was asked for.
        heard: free speech that was read as the question; empty if it was exact.
        unused: what was said besides, as typed, that bears on nothing asked.
        by_film: the question asks which films, so that rows are told by the film.
        shown: the rows that a screen lists, where these are not all.
        in_order: the rows stand in an order that was asked for.
        order: that order by its steps, where it is one of washes.
        truth: whether what was asked is so: `yes`, `no` or `open`; empty where it was
            not asked whether something is so.
        instead: the washes at hand that take part of what the one that was asked about
            may leave whole, the mildest first.
        aside: it is about another answer, so that what is to be minded of that one
            need not be said again.
    """

    query: str
    sentence: str
    rows: Sequence[Row] = ()
    others: Sequence[Row] = ()
    members: Sequence[Item] = ()
    notes: Sequence[str] = ()
    claim: str = ""
    witness: str = ""
    why: bool = False
    compared: Sequence[Answer] = ()
    findings: Sequence[Finding] = ()
    score: PatternScore | None = None
    share: Share | None = None
    heard: str = ""
    unused: Sequence[str] = ()
    by_film: bool = False
    in_order: bool = False
    order: Order | None = None
    shown: Sequence[Row] | None = None
    truth: str = ""
    instead: Sequence[Item] = ()
    aside: bool = False
