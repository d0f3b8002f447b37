"""A clause of free speech to what it says, in the trees of the question language.

Each verb has a frame, which tells from the kinds of the names about it, and from the
small words before them, what does it and what it is done to. A name that nothing in
the clause takes is left unread.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.grammar.common.record import Record, replace
from abluent.grammar.phrase.alone import alone
from abluent.grammar.phrase.book import words_in
from abluent.grammar.phrase.noun import Noun, Part
from abluent.grammar.phrase.nouns import noun_phrases
from abluent.grammar.phrase.pieces import OF_WASHES, Piece
from abluent.grammar.query import tree as q

_PREPOSITIONS = (
    *("small:with", "small:by", "small:from", "small:of", "small:for", "small:than"),
    *("small:in", "small:without", "small:as", "small:before", "small:except"),
    *("ask:compare", "small:to"),
)


WASHES = q.Name("washes")


REPEATED = "over repeated washes"
"""How the language says that it is done again and again."""
NO_WASH = q.Needs(q.Quantified(q.Quantity.NO, q.Name("wash")))


class Said(Record):
    """What a clause says or asks.

    `subject` and `predicate` make a statement; `asked` is a question of another form,
    ready made. `used` are the places of the pieces it is read from; `doubt` is what
    speaks against the reading.
    """

    subject: q.Term | None = None
    predicate: q.Predicate | None = None
    asked: q.Plain | None = None
    single: bool = False
    used: frozenset[int] = frozenset()
    doubt: float = 0.0
    folded: bool = False
    general: bool = False
    slot: str = ""
    """Which part is asked for: `subject`, `object`, or neither."""


class Clause:
    """The parts of one clause, by what they do."""

    def __init__(self, pieces: Sequence[Piece], places: Sequence[int]) -> None:
        self.pieces = _with_heads(pieces)
        self.places = places
        self.parts = _prepared(noun_phrases(self.pieces), self.pieces)
        self.nouns = [part for part in self.parts if isinstance(part, Noun)]
        loose = [*self._loose()]
        self.denied = any(
            piece.does("small:no") and _denies(loose, at)
            for at, piece in enumerate(loose)
        )

    def _loose(self) -> Iterator[Piece]:
        for part in self.parts:
            if isinstance(part, Piece):
                yield part

    def where(self, *roles: str) -> list[int]:
        """The places among the parts of pieces that do one of some things."""
        return [
            at
            for at, part in enumerate(self.parts)
            if isinstance(part, Piece) and part.does(*roles)
        ]

    def stating(self) -> frozenset[int]:
        """The places of pieces that state the conditions of `conditions`."""
        return frozenset(
            self.places[at]
            for at, piece in enumerate(self.pieces)
            if states(self.pieces, piece) or piece.does("time:repeated")
        )

    def verbs(self, *keys: str) -> list[int]:
        """The places of verbs that say one of some things."""
        return self.where(*(f"verb:{key}" for key in keys))

    def before(self, at: int, *, bare: bool = True) -> list[Noun]:
        """The nouns before a place; without a preposition, unless told otherwise."""
        nouns = [part for part in self.parts[:at] if isinstance(part, Noun)]
        return [n for n in nouns if not bare or n.before in ("", "compare")]

    def after(self, at: int, *prepositions: str) -> list[Noun]:
        """The nouns after a place that follow one of some prepositions, or none."""
        wanted = prepositions or ("", "of")
        nouns = [part for part in self.parts[at + 1 :] if isinstance(part, Noun)]
        return [noun for noun in nouns if noun.before in wanted]

    def led_by(self, *prepositions: str) -> list[Noun]:
        """The nouns that follow one of some prepositions."""
        return [noun for noun in self.nouns if noun.before in prepositions]

    def pair(self, at: int) -> tuple[Noun, Noun] | None:
        """What is set against what: the noun before, and the one after `than`."""
        than = self.led_by("than") or self.after(at, "", "than", "as")
        before = [n for n in self.before(at) if n not in than]
        if not before or not than:
            return None
        return before[-1], than[0]

    def is_busy(self) -> bool:
        """Whether there is a verb that says more than `is`, or a contrast."""
        return any(
            piece.entry.section in VERBAL and not piece.does("verb:be")
            for piece in self._loose()
        )

    def asks(self, *keys: str) -> bool:
        """Whether the clause has a word that asks so."""
        return bool(self.where(*(f"ask:{key}" for key in keys)))

    def conditions(self) -> tuple[str, ...]:
        """The conditions it states, in phrases."""
        found = [
            piece.sense.text
            for piece in self._loose()
            if piece.sense is not None and states(self.pieces, piece)
        ]
        if self.where("time:repeated"):
            found.append(REPEATED)
        return tuple(dict.fromkeys(found))

    def rounds(self) -> int:
        """How often one after the other the wash is taken, as far as it is said."""
        if any(map(self._is_put_on, range(len(self.pieces)))):
            # So often something is put on, and not washed.
            return 1
        loose = [*self._loose()]
        counts = [
            rounds_of(each) for at, each in enumerate(loose) if not _is_rate(loose, at)
        ]
        return next((n for n in counts if n > 1), 1)

    def _is_put_on(self, at: int) -> bool:
        """Whether something is put on there, and it is no wash that is used."""
        if not {*self.pieces[at].words} & _PUT_ON:
            return False
        later = (each.sense for each in self.pieces[at + 1 :] if each.sense)
        used = next(later, None)
        return used is None or "wash" not in used.kinds

    def circumstances(self) -> tuple[str, ...]:
        """The conditions, if one thing can be under all of them."""
        against = {
            piece.sense.one
            for piece in self.pieces
            if piece.sense is not None and states(self.pieces, piece)
        }
        found = self.conditions()
        return () if against & {*found} else found

    def counting(self) -> frozenset[int]:
        """The places of pieces that say how often."""
        rounds = self.rounds()
        found = [at for at, each in enumerate(self.pieces) if rounds_of(each) == rounds]
        return frozenset(self.places[at] for at in found if rounds > 1)

    def used(self, *nouns: Noun | None, verbs: Sequence[int] = ()) -> frozenset[int]:
        """The places of pieces that a reading with these nouns and verbs is from."""
        found: set[int] = set()
        for noun in nouns:
            if noun is not None:
                found.update(set(range(noun.first, noun.last + 1)) - noun.loose)
        places = self._places()
        found.update(places[at] for at in verbs)
        if any(self._tells(at) for at in verbs):
            # `are leaving`, `be removed`: the verb says it.
            found.update(places[at] for at in self.verbs("be"))
        for at, piece in enumerate(self.pieces):
            senseless = is_carried(piece)
            if senseless:
                found.add(at)
        return frozenset(self.places[at] for at in found)

    def _tells(self, at: int) -> bool:
        """Whether a part is a verb that says more than `is`."""
        part = self.parts[at]
        if not isinstance(part, Piece) or part.does("verb:be"):
            return False
        return part.entry.section in ("verb", "turned", "heads")

    def _places(self) -> list[int]:
        """Where each part stands among the pieces."""
        found, at = [], 0
        for part in self.parts:
            found.append(part.first if isinstance(part, Noun) else at)
            at = part.last + 1 if isinstance(part, Noun) else at + 1
        return found


def _is_rate(pieces: Sequence[Piece], at: int) -> bool:
    """`four times in a week`: how often, and not one after the other."""
    after = [word for each in pieces[at + 1 : at + 4] for word in each.words[:2]]
    led = [n for n, word in enumerate(after) if word in _PER]
    return any({*after[n : n + 3]} & _SPANS for n in led) or after[:1] in _RATES


_PER = words_in("per")
_SPANS = words_in("spans of time")
_RATES = [["weekly"], ["daily"], ["monthly"], ["wk"]]
_PUT_ON = words_in("put on")
_CARRIED = frozenset({"small", "ask", "quantity", "particles", "time", "idle", "mark"})
"""Sections whose words are read with the clause they stand in."""


def _denies(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a word denies the verb; `ends not roots` denies none."""
    if pieces[at].words != ("not",):
        return True
    rest = [each for each in pieces[at + 1 :] if each.role != "idle:words"]
    return bool(rest) and rest[0].entry.section in VERBAL | {"quantity"}


def states(pieces: Sequence[Piece], piece: Piece) -> bool:
    """Whether a piece states a condition; `without hot water` states none."""
    if piece.sense is None or piece.sense.kinds != {"condition"}:
        return False
    at = next(n for n, each in enumerate(pieces) if each is piece)
    before = [each for each in pieces[:at] if not each.does("small:article")]
    return not (before and before[-1].does("small:without"))


def rounds_of(piece: Piece) -> int:
    """How many washes one after the other a piece tells of; 1 if it tells of none."""
    key = piece.entry.key
    counts = piece.entry.section == "time" and key.startswith("rounds_")
    return int(key.removeprefix("rounds_")) if counts else 1


def is_carried(piece: Piece) -> bool:
    """Whether a piece is read with its clause, and is no matter of its own."""
    if rounds_of(piece) > 1:
        return False
    return piece.entry.section in _CARRIED and not piece.does(
        *("quantity:only", "quantity:most", "quantity:no", "ask:how_often"),
        *("small:nothing", "small:clash", "small:except", "small:all_but"),
        *("quantity:at_least", "quantity:at_most", "quantity:exactly"),
        *("quantity:fewer", "quantity:share", "time:repeated", "small:itself"),
    )


def _with_heads(pieces: Sequence[Piece]) -> list[Piece]:
    """Verbs that a particle later in the clause makes `clear`."""
    found = list(pieces)
    for at, piece in enumerate(found):
        key = next((k for k in ("clear", "turned") if piece.does(f"heads:{k}")), "")
        if not key or piece.sense is not None:
            continue
        later = found[at + 1 :]
        if any(each.does("particles:words") for each in later):
            between = any(each.sense is not None for each in later)
            pronoun = any(
                each.does("small:everything", "small:nothing", "small:pronoun")
                for each in later
            )
            active = key == "clear" and (between or pronoun)
            section = "verb" if active else "turned"
            found[at] = replace(
                piece, entry=type(piece.entry)(section, "clear"), other=()
            )
    return found


VERBAL = frozenset({"verb", "turned", "heads", "contrast"})


def _prepared(parts: Sequence[Part], pieces: Sequence[Piece]) -> list[Part]:
    """The parts with each noun told which preposition it follows."""
    parts = alone(parts, pieces, VERBAL)
    found: list[Part] = []
    before = ""
    for part in parts:
        if isinstance(part, Noun):
            tool = before in ("with", "by") and part.quantity is q.Quantity.ONLY
            quantity = None if tool else part.quantity
            noun = _held_only(part) if tool else part
            found.append(replace(noun, before=before, quantity=quantity))
            before = ""
            continue
        held = found[-1] if found and part.does("quantity:only") else None
        if isinstance(held, Noun) and held.before in ("with", "by"):
            only = _held_only(held)
            if only is not held:
                # `with nonionics only`
                found[-1] = replace(only, last=held.last + 1)
                continue
        found.append(part)
        role = next((r for r in _PREPOSITIONS if part.does(r)), "")
        if role == "small:from" and _asked_last(found):
            # `which from my products`: of these.
            role = ""
        if role:
            before = role.partition(":")[2]
        elif part.entry.section not in ("idle", "quantity") and not part.does(
            "small:my_shelf"
        ):
            before = ""
    return found


def _held_only(noun: Noun) -> Noun:
    """`with nonionics only`: washes that have no other surfactants."""
    if not noun.has("class") or not noun.has("agent") or noun.has("product", "wash"):
        return noun
    held = q.Contains(q.Quantified(q.Quantity.ONLY, noun.term))
    return replace(noun, term=q.Such(WASHES, (held,)), kinds=OF_WASHES, general=True)


def _asked_last(parts: Sequence[Part]) -> bool:
    """Whether the last part but one asks which; the last is the preposition."""
    last = parts[-2] if len(parts) > 1 else None
    return isinstance(last, Piece) and last.does("ask:which", "ask:how_many")


def asked_noun(clause: Clause) -> Noun | None:
    """The noun right after `which` or `what`."""
    places = clause.where("ask:which", "ask:what")
    for at in places:
        for part in clause.parts[at + 1 :]:
            if isinstance(part, Noun):
                return part if part.general or part.has("thing") else None
            if part.entry.section in ("verb", "turned"):
                return None
    return None
