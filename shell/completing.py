"""What Tab offers: words of the language, and names that exist here.

Which may stand at the cursor comes from the state of the query parser; the names
are those of the shelf and the base, by the kinds the parser waits for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property

from abluent.engine.errors import EngineError
from abluent.engine.store import Base
from abluent.grammar.query_complete import NounKind, NounOffer, complete
from abluent.grammar.query_wording import is_plain, quoted
from abluent.shell.orders import ORDERS
from abluent.shell.session import Session
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
        offers = complete(text)
        for word in offers.words:
            yield Completion(word.text, word.start - len(text))
        if offers.noun is not None:
            yield from self._nouns(offers.noun, text)

    def _orders(self, text: str) -> Iterator[Completion]:
        first, gap, rest = text.lstrip().partition(" ")
        if not gap:
            for word in ORDERS:
                if word.startswith(first.casefold()) and first:
                    yield Completion(word, -len(first), display_meta="an order")
        elif first.casefold() in {"drop", "read"}:
            names = fitting(self.names.of(NounKind.PRODUCT), rest.lstrip('"'))
            for name in names:
                yield Completion(quoted(name), -len(rest))
        elif first.casefold() == "name":
            for name in fitting(self.names.of(NounKind.INGREDIENT), rest):
                yield Completion(name, -len(rest))

    def _nouns(self, offer: NounOffer, text: str) -> Iterator[Completion]:
        for kind in sorted(offer.kinds, key=lambda each: each.value):
            for name in fitting(self.names.of(kind), offer.typed):
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


def fitting(names: Iterable[str], typed: str) -> list[str]:
    """Return the names that begin as typed, then those with a word that does."""
    wanted = typed.casefold()
    known = [(name, name.casefold()) for name in names]
    first = [name for name, folded in known if folded.startswith(wanted)]
    then = [name for name, folded in known if f" {wanted}" in folded and wanted]
    return list(dict.fromkeys([*first, *then]))[:MOST_NAMES]


class Names:
    """Every name that a question can use, by what it is the name of."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._sources: dict[NounKind, Callable[[], Sequence[str]]] = {
            NounKind.PRODUCT: self._products,
            NounKind.KIND: lambda: self._product_kinds,
            NounKind.INGREDIENT: lambda: self._ingredients,
            NounKind.CLASS: lambda: self._classes,
            NounKind.FILM: lambda: self._films,
            NounKind.SET: lambda: list(session.sets),
        }

    def of(self, kind: NounKind) -> Sequence[str]:
        """The names of one kind; there are none of a kind still to be named."""
        source = self._sources.get(kind)
        return source() if source else ()

    @property
    def _base(self) -> Base:
        return self._session.world.base

    def _products(self) -> list[str]:
        return [label.product for label in self._session.shelf.labels]

    @cached_property
    def _product_kinds(self) -> list[str]:
        return [self._base.plural(k) for k in self._base.instances("ProductKind")]

    @cached_property
    def _ingredients(self) -> list[str]:
        symbols = {symbol for symbol, _ in self._base.names.values()}
        return sorted(map(self._base.label, symbols), key=str.casefold)

    @cached_property
    def _classes(self) -> list[str]:
        base = self._base
        called = {kind for kinds in base.phrases.values() for kind in kinds}
        kinds = (k for k in called if base.is_class(k))
        listed = (k for k in kinds if "Ingredient" in base.ancestors(k))
        return sorted(map(base.plural, listed), key=str.casefold)

    @cached_property
    def _films(self) -> list[str]:
        films = self._base.instances("FilmFormer")
        return sorted(map(self._base.label, films), key=str.casefold)
