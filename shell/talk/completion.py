"""What Tab offers: words of the language, and names that exist here.

Which may stand at the cursor comes from the state of the query parser; the names
are those of the shelf and the base, by the kinds the parser waits for.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence

from abluent.engine.base.kinds import ingredient_classes
from abluent.engine.base.roles import Role
from abluent.engine.base.sayings import sayings
from abluent.engine.base.store import Base
from abluent.engine.errors import EngineError
from abluent.grammar.query.complete import NounKind, NounOffer, complete
from abluent.grammar.query.wording import is_plain, quoted
from abluent.shell.session.session import Session
from abluent.shell.shelf.words import knowing, shelf_words
from abluent.shell.talk.orders import ORDERS, TEACHABLE
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document

MOST_NAMES = 60


class SessionCompleter(Completer):
    """Completes orders and questions over what a session knows."""

    def __init__(self, session: Session) -> None:
        """Offer the products of a session's shelf and all that its base names."""
        self._session = session
        self._names: Names | None = None

    def get_completions(
        self, document: Document, complete_event: CompleteEvent
    ) -> Iterator[Completion]:
        """Offer what may stand at the cursor."""
        text = document.text_before_cursor
        if "\n" in text:
            return
        try:
            yield from self._offered(text)
        except (EngineError, OSError):
            return  # Whoever asks a question will be told what is wrong.

    def _offered(self, text: str) -> Iterator[Completion]:
        yield from self._orders(text)
        with self._session.speaking():
            offers = complete(text)
        for word in offers.words:
            yield Completion(word.text, word.start - len(text))
        if offers.noun is not None:
            yield from self._nouns(offers.noun, text)

    def _orders(self, text: str) -> Iterator[Completion]:
        first, gap, rest = text.lstrip().partition(" ")
        if not gap:
            with knowing(self._session.words_base):
                aspects = shelf_words().aspects
            for word in (*ORDERS, *aspects):
                if word.startswith(first.casefold()) and first:
                    yield Completion(word, -len(first), display_meta="an order")
        elif first.casefold() in {"drop", "edit", "read", "rename"}:
            for name in self.names.of(NounKind.PRODUCT).fitting(rest.lstrip('"')):
                yield Completion(quoted(name), -len(rest))
        elif first.casefold() == "teach":
            for word in TEACHABLE:
                if word.startswith(rest.casefold()):
                    yield Completion(word, -len(rest))
        elif first.casefold() == "name":
            for name in self.names.of(NounKind.INGREDIENT).fitting(rest):
                yield Completion(name, -len(rest))

    def _nouns(self, offer: NounOffer, text: str) -> Iterator[Completion]:
        # One's own products come before what the base names.
        for kind in sorted(
            offer.kinds, key=lambda each: (each is not NounKind.PRODUCT, each.value)
        ):
            for name in self.names.of(kind).fitting(offer.typed):
                bare = is_plain(name) and not offer.quoted
                yield Completion(
                    name if bare else quoted(name),
                    offer.start - len(text),
                    display=name,
                    display_meta=kind.value,
                )

    @property
    def names(self) -> Names:
        """The names there are, found when first needed."""
        if self._names is None:
            self._names = Names(self._session)
        return self._names


def offered_lines(session: Session, typed: str, most: int = 40) -> list[str]:
    """Return the lines that a line being typed may go on as, one step further."""
    completer, document = SessionCompleter(session), Document(typed)
    event = CompleteEvent(completion_requested=True)
    lines: dict[str, None] = {}
    for each in completer.get_completions(document, event):
        lines[f"{typed[: len(typed) + each.start_position]}{each.text} "] = None
        if len(lines) == most:
            break
    return list(lines)


class NameIndex:
    """Names, found by how they or one of their words begin, without a search.

    A key press over thousands of products must not be felt.
    """

    def __init__(self, names: Iterable[str]) -> None:
        """Put the names in order; the work is done once."""
        known = sorted((name.casefold(), name) for name in names)
        self._starts = known
        self._words = sorted(
            (folded[at + 1 :], name)
            for folded, name in known
            for at, letter in enumerate(folded)
            if letter == " "
        )

    def fitting(self, typed: str) -> list[str]:
        """Return the names that begin as typed, then those with a word that does."""
        wanted = typed.casefold()
        first = _beginning(self._starts, wanted)
        if wanted and len(first) < MOST_NAMES:
            first += _beginning(self._words, wanted)
        return list(dict.fromkeys(first))[:MOST_NAMES]


def _beginning(entries: Sequence[tuple[str, str]], wanted: str) -> list[str]:
    at = bisect_left(entries, (wanted, ""))
    near = entries[at : at + MOST_NAMES]
    return [name for folded, name in near if folded.startswith(wanted)]


class Names:
    """Every name that a question can use, by what it is the name of.

    They are put in order when first needed, and anew when the shelf or the base is
    another one, as after a label was added or something was taught.
    """

    def __init__(self, session: Session) -> None:
        """Know the names of a session."""
        self._session = session
        self._kept: dict[NounKind, tuple[object, NameIndex]] = {}

    def of(self, kind: NounKind) -> NameIndex:
        """The names of one kind; there are none of a kind still to be named."""
        place = self._place(kind)
        kept = self._kept.get(kind)
        if kept is None or kept[0] is not place:
            kept = (place, NameIndex(self._listed(kind)))
            self._kept[kind] = kept
        return kept[1]

    def _place(self, kind: NounKind) -> object:
        """Return what the names come from; they change only where it does."""
        if kind is NounKind.PRODUCT:
            return self._session.shelf
        return object() if kind is NounKind.SET else self._base

    def _listed(self, kind: NounKind) -> Iterable[str]:
        listing: dict[NounKind, Callable[[], Iterable[str]]] = {
            NounKind.PRODUCT: lambda: [x.product for x in self._session.shelf.labels],
            NounKind.KIND: self._product_kinds,
            NounKind.INGREDIENT: self._ingredients,
            NounKind.CLASS: self._classes,
            NounKind.FILM: self._films,
            NounKind.SET: lambda: self._session.sets,
            NounKind.SAYING: lambda: [each.said for each in sayings(self._base)],
        }
        return listing[kind]() if kind in listing else ()

    @property
    def _base(self) -> Base:
        return self._session.world.base

    def _product_kinds(self) -> list[str]:
        kinds = self._base.term(Role.PRODUCT_KIND)
        return [self._base.plural(k) for k in self._base.instances(kinds)]

    def _ingredients(self) -> list[str]:
        symbols = {symbol for symbol, _ in self._base.names.values()}
        return list(map(self._base.label, symbols))

    def _classes(self) -> list[str]:
        return list(map(self._base.plural, ingredient_classes(self._base)))

    def _films(self) -> list[str]:
        films = self._base.instances(self._base.term(Role.FILM))
        return list(map(self._base.label, films))
