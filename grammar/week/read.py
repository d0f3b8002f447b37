"""Free speech to the lines of a routine: what is used, how often, and to what end.

Products are found as questions find them; how often, how long and what is wished is
read by `week.toml`. A rhythm belongs to the product next to it within a clause, and to
those that are listed with it; one of washing itself to the wash that has none of its
own. What was not said, and is put in its place, is told, and so is what was not read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.errors import Span
from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.pieces import Lexicon, Piece, Token, cut, tokens
from abluent.grammar.phrase.reading import LONGEST
from abluent.grammar.routine.printer import quoted
from abluent.grammar.week import table
from abluent.grammar.week.placed import ENDS, Event, Placed, placed

_CLAUSE = frozenset(".;:!?,")
_BREAKS = frozenset({"but", "then"})
_CLEAR = "clear "
"""How a wish about films begins."""

_BESIDE = "beside"
"""What a rhythm is of that tells no how often by itself: after every wash."""

_MANY = 2
"""How many rhythms tell of a week where nothing is asked of it."""


class Used(Record):
    """A product and when it is used, in the words of a line.

    `given` tells that its rhythm was said, and not put in its place.
    """

    product: str
    when: str
    wash: bool
    given: bool = True

    @property
    def line(self) -> str:
        """The line of a routine."""
        verb = "wash with" if self.wash else "use"
        return f"{verb} {quoted(self.product)} {self.when}"


class Week(Record):
    """A week as it was told.

    `washes` is when a plan is to choose a wash, and `given` tells that it was said;
    `length` and `wants` are lines; `aside` are products that were named without a
    place in the week; `conditions` what was said of water or hair, each with the words
    of the text; `unread` the stretches that were not read; `plan` tells that a plan is
    asked for, `asked` that anything is, `rhythms` how many were said.
    """

    uses: tuple[Used, ...]
    washes: str
    given: bool
    length: str
    wants: tuple[str, ...]
    aside: tuple[str, ...]
    conditions: tuple[tuple[str, str], ...]
    unread: tuple[Span, ...]
    plan: bool
    asked: bool
    swims: bool
    rhythms: int

    @property
    def lines(self) -> list[str]:
        """The lines on its length, uses and wishes."""
        told = [self.length, *(each.line for each in self.uses if each.wash)]
        told.append(f"wash {self.washes}" if self.washes else "")
        told += [each.line for each in self.uses if not each.wash]
        wants = [*self.wants]
        plan = self.plan or self.washes
        if plan and not any(each.startswith(_CLEAR) for each in wants):
            wants.append(table.unsaid("wish"))
        return [line for line in [*told, *wants] if line]

    @property
    def put_in(self) -> list[str]:
        """The lines whose rhythm nobody said."""
        found = [each.line for each in self.uses if not each.given]
        return [*found, *[f"wash {self.washes}"] * bool(self.washes and not self.given)]

    @property
    def leads(self) -> bool:
        """Whether it is more than any one question says."""
        return self.rhythms >= _MANY or (self.asked and bool(self.plan or self.length))


def read_week(text: str, lexicon: Lexicon) -> Week | None:
    """Read a week; nothing where no product and how often was told.

    Args:
        text: as typed.
        lexicon: the names that can be meant.
    """
    text = text[:LONGEST]
    words = tokens(text)
    if not any(table.at(words, place) for place in range(len(words))):
        return None
    pieces = cut(text, lexicon)
    named = [each for each in pieces if _is_product(each)]
    named += [each for e in pieces if (each := _by_kind(e, lexicon, named)) is not None]
    read = _Read(words, named, pieces)
    tells = read.often and (read.asked or read.rhythms >= _MANY)
    if not named or read.people or not (tells or read.length):
        return None
    washes = {e.sense.text for e in named if e.sense and "wash" in e.sense.kinds}
    alone = {e.sense.text for e in named if e.sense and e not in pieces}
    if len({e.sense.text for e in named if e.sense}) == 1:
        alone = set()
    found = _week(placed(read.events, washes), read, text, washes, alone)
    return found if found.uses else None


def _is_product(piece: Piece) -> bool:
    return piece.sense is not None and "product" in piece.sense.kinds


def _by_kind(piece: Piece, lexicon: Lexicon, named: Sequence[Piece]) -> Piece | None:
    """`leave-in`, `co-wash`: the one product of that kind, where it is not named."""
    sense = piece.sense
    if sense is None or "kind" not in sense.kinds or "product" in sense.kinds:
        return None
    only = lexicon.find(("the", *piece.words))
    if only is None or "product" not in only.kinds:
        return None
    if any(each.sense and each.sense.text == only.text for each in named):
        return None
    return replace(piece, sense=only)


class _Read:
    """The events of a text in their order, and what they leave unread."""

    def __init__(
        self, words: Sequence[Token], named: Sequence[Piece], pieces: Sequence[Piece]
    ) -> None:
        self.events: list[Event] = []
        self.length, self.plan, self.asked = "", False, False
        self.swims, self.people = False, False
        self.rhythms, self.often = 0, 0
        self.wants: list[str] = []
        self.aside: list[str] = []
        self._denied = False
        self.unread: list[Span] = []
        self.conditions: list[Piece] = []
        by = {each.start: each for each in [*_told(pieces), *named]}
        at = 0
        while at < len(words):
            piece = by.get(words[at].start)
            found = table.at(words, at)
            if piece is not None and (found is None or _is_product(piece)):
                before = words[at - 1] if at else None
                denied = before is not None and _denies(before)
                swapped = self._denied and before is not None and before.text == "for"
                self._denied = False
                self._piece(piece, denied=denied or swapped)
                while at < len(words) and words[at].start < piece.end:
                    at += 1
            elif found is not None:
                self._said(found, words[at : at + found.many])
                at += found.many
            else:
                self._word(words[at])
                at += 1

    def _piece(self, piece: Piece, *, denied: bool) -> None:
        assert piece.sense is not None
        if "product" in piece.sense.kinds and denied:
            self.aside.append(piece.sense.text)
            self._denied = True
        elif "product" in piece.sense.kinds:
            self._event("product", piece.sense.text, piece.start, piece.end)
        elif "condition" in piece.sense.kinds:
            self.conditions.append(piece)

    def _event(self, sort: str, text: str, start: int, end: int, of: str = "") -> None:
        self.events.append(Event(sort, text, start, end, of))

    def _said(self, found: table.Found, words: Sequence[Token]) -> None:
        start, end = words[0].start, words[-1].end
        if found.sort == "length":
            self.length = self.length or found.says
        elif found.sort == "wish":
            self.asked, self.plan = True, self.plan or found.plan
            if found.says and found.says not in self.wants:
                self.wants.append(found.says)
            if words[0].text == "how":
                self._event("ask", "how often", start, end)
        else:
            self.rhythms += 1
            self.often += found.of != _BESIDE
            self.swims = self.swims or found.of == "swim"
            self._event("rhythm", found.says, start, end, found.of)

    def _word(self, word: Token) -> None:
        text = word.text
        if text in _CLAUSE or text in _BREAKS:
            self._event("end", text if text in ENDS else ",", word.start, word.end)
        elif text in table.words_for("joins"):
            self._event("and", text, word.start, word.end)
        elif text in table.words_for("uses"):
            self._event("use", text, word.start, word.end)
        elif text in table.words_for("swim"):
            self.swims = True
            self._event("verb", "swim", word.start, word.end)
        elif text in table.words_for("wash"):
            self._event("verb", "wash", word.start, word.end)
        elif text in table.words_for("people"):
            self.people = True
        elif word.sort != "mark" and text not in table.words_for("idle"):
            self.unread.append(Span(word.start, word.end))


def _denies(word: Token) -> bool:
    """Whether a word before a product says that it is not used, or not yet."""
    return word.text in table.words_for("denies")


def _told(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """The pieces that say something of a week and are no product."""
    for each in pieces:
        verb = len(each.words) == 1 and each.words[0] in table.words_for("wash")
        said = each.sense is not None and {"condition", "kind"} & each.sense.kinds
        if said and not verb:
            yield each


def _week(
    found: Placed, read: _Read, text: str, washes: set[str], alone: set[str]
) -> Week:
    """A week from what was placed; `alone` are products of a kind that was named.

    Such a one has no place in it without a rhythm of its own.
    """
    uses = [Used(name, when, wash=name in washes) for name, when in found.pairs]
    washed = any(each.wash for each in uses)
    aside, general = [*read.aside, *found.asked], found.washes
    for name in (each for each in found.bare if each not in alone):
        if name not in washes:
            uses.append(Used(name, table.unsaid("use"), wash=False, given=False))
        elif general or not washed:
            said = bool(general)
            uses.append(Used(name, general or table.unsaid("wash"), True, said))
            washed, general = True, ""
        else:
            aside.append(name)
    slot = "" if washed else general or table.unsaid("wash")
    lost = [*found.lost, *([found.at] if found.at and general and washed else ())]
    conditions = [
        (each.sense.text, text[each.start : each.end])
        for each in read.conditions
        if each.sense is not None
    ]
    return Week(
        tuple(dict.fromkeys(uses)),
        slot,
        bool(general),
        read.length,
        tuple(read.wants),
        tuple(e for e in dict.fromkeys(aside) if e not in {u.product for u in uses}),
        tuple(dict.fromkeys(conditions)),
        (*read.unread, *(Span(each.start, each.end) for each in lost)),
        read.plan,
        read.asked,
        read.swims,
        read.rhythms,
    )
