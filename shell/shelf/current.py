"""The shelf that is looked at, and the changes that a user may make to it."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, NamedTuple, ParamSpec, TypeVar

from abluent.engine.faults import CommandError, Problem
from abluent.grammar.common.record import replace
from abluent.shell.ground.settings import setting
from abluent.shell.shelf.by_name import find_shelf
from abluent.shell.shelf.shelf import Shelf, ShelfLabel, as_fields, checked_label
from abluent.shell.shelf.words import installed, knowing, shelf_words

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.shell.shelf.own import OwnShelf

OWN = "mine"  # The shelf of the user's that pasted labels go to.


class Undone(NamedTuple):
    """A change that was taken back: what is so again, and how many more there are."""

    told: tuple[str, ...]
    left: int


def difference(before: Shelf, now: Shelf) -> tuple[str, ...]:
    """Say in words what became of one shelf on its way to another."""
    old = {each.product: each for each in before.labels}
    new = {each.product: each for each in now.labels}
    told = [f'"{name}" is off the shelf again' for name in old if name not in new]
    told += [f'"{name}" is on the shelf again' for name in new if name not in old]
    for name in old.keys() & new.keys():
        was, becomes = as_fields(old[name]), as_fields(new[name])
        what = [_CALLED[key] for key in was if was[key] != becomes[key]]
        if what:
            told.append(f'"{name}" has its {" and ".join(what)} of before')
    for aspect in shelf_words().aspects:
        word = now.conditions.get(aspect, "")
        if word != before.conditions.get(aspect, ""):
            told.append(f"the {aspect} is {word or 'not said'} again")
    return tuple(told)


_CALLED = {"kind": "kind", "market": "market", "text": "label", "product": "name"}


_P = ParamSpec("_P")
_R = TypeVar("_R")
_Method = Callable[Concatenate["CurrentShelf", _P], _R]


def _in_its_words(method: _Method[_P, _R]) -> _Method[_P, _R]:
    """Read and write shelves in the words of the base that the shelf is asked by."""

    @wraps(method)
    def within(self: CurrentShelf, /, *args: _P.args, **named: _P.kwargs) -> _R:
        with knowing(self.words_base):
            return method(self, *args, **named)

    return within


class CurrentShelf:
    """A shelf; it can be changed where it is one that the user keeps."""

    def __init__(self, shelf: Shelf, own: OwnShelf | None = None) -> None:
        """Begin with a shelf.

        Args:
            shelf: the products.
            own: where they are kept, if the user keeps them.
        """
        self._shelf = shelf
        self._own = own
        self._stamp = own.stamp() if own else None

    def words_base(self) -> Base:
        """Return the base whose words shelves are read in."""
        return installed()

    @property
    def shelf(self) -> Shelf:
        """The shelf that questions are asked of."""
        return self._shelf

    @property
    def changeable(self) -> bool:
        """Whether the shelf is one that the user keeps."""
        return self._own is not None

    @_in_its_words
    def refresh(self) -> bool:
        """Read the user's own shelf again if its file is another by now; say so.

        Raises:
            DataError: it cannot be read any more.
        """
        stamp = self._own.stamp() if self._own else None
        if self._own is None or stamp == self._stamp:
            return False
        self._put(self._own.load(), self._own)
        self._stamp = stamp
        return True

    @_in_its_words
    def use(self, name: str) -> None:
        """Go to another shelf: a file, a folder, one of the user's own, or `demo`.

        Raises:
            CommandError: there is no such shelf.
            DataError: it cannot be read at all.
        """
        self._put(*find_shelf(name))

    @_in_its_words
    def use_new(self, name: str) -> None:
        """Go to a new, empty shelf of the user's, written when a product comes.

        Raises:
            CommandError: there is one, or the name cannot be that of a file.
        """
        from abluent.shell.shelf.own import OwnShelf

        own = OwnShelf(name)
        if own.path.exists():
            what = f'there is a shelf "{name}" already'
            raise CommandError(Problem(what, hint=f"`shelf {name}` goes to it"))
        self._put(own.load(), own)

    @_in_its_words
    def add_label(
        self, product: str, kind: str, text: str, market: str = ""
    ) -> ShelfLabel:
        """Put a product on a shelf of the user's, and go to that shelf.

        That is the shelf the session is on if it is the user's own, else `mine`.

        Raises:
            CommandError: the name or the text is empty, or the kind is none.
            DataError: a product of that name is there, or the file is in use.
        """
        from abluent.shell.shelf.own import OwnShelf

        label = checked_label(product, kind, text, market)
        own = self._own or OwnShelf(OWN)
        usual = "" if own.path.exists() else setting("water")
        if usual in shelf_words().aspects.get("water", ()):
            own.set_condition("water", usual)
        own.add(label)
        self._put(own.load(), own)
        return label

    @_in_its_words
    def drop(self, product: str) -> None:
        """Take a product off the user's shelf.

        Raises:
            CommandError: it is not there, or the shelf is not the user's own.
            DataError: the file is in use.
        """
        own = self._changeable()
        own.drop(product)
        self._put(own.load(), own)

    @_in_its_words
    def undo(self) -> Undone:
        """Take back the last change to the user's shelf; say what it was.

        Raises:
            CommandError: there is none, or the shelf is not the user's own.
            DataError: the file is in use.
        """
        own = self._changeable()
        before = own.load()
        left = own.undo()
        self._put(own.load(), own)
        return Undone(difference(before, self._shelf), left)

    @_in_its_words
    def set_condition(self, aspect: str, word: str) -> None:
        """Say how hair is washed, such as `water`, `hard`; one's own shelf keeps it.

        Raises:
            CommandError: the aspect has no such word.
            DataError: the file is in use.
        """
        words = shelf_words().aspects.get(aspect, ())
        if word not in words:
            known = " or ".join(f'"{each}"' for each in words) or "nothing"
            raise CommandError(Problem(f'{aspect} is {known}, not "{word}"'))
        if self._own is None:
            said = {**self._shelf.conditions, aspect: word}
            self._put(replace(self._shelf, conditions=said))
        else:
            self._own.set_condition(aspect, word)
            self._put(self._own.load(), self._own)

    @_in_its_words
    def edit(
        self,
        product: str,
        *,
        name: str = "",
        kind: str = "",
        text: str = "",
        market: str | None = None,
    ) -> ShelfLabel:
        """Change the name, kind, label or market of a product on the user's shelf.

        What is left empty stays as it is.

        Raises:
            CommandError: it is not there, the shelf is not the user's own, or the
                kind is none.
            DataError: another product has the new name, or the file is in use.
        """
        own = self._changeable()
        old = self.on_shelf(product)
        label = checked_label(
            name or old.product,
            kind or old.kind,
            text or old.text,
            old.market if market is None else market,
        )
        own.replace(old.product, label)
        self._put(own.load(), own)
        return label

    def on_shelf(self, product: str) -> ShelfLabel:
        """Return the label of a product on the shelf, as it is printed.

        Raises:
            CommandError: there is no such product.
        """
        label = self._shelf.find(product)
        if label is None:
            from abluent.shell.shelf.unknown_name import unknown_product

            raise unknown_product(product, self._shelf)
        return label

    def _changeable(self) -> OwnShelf:
        if self._own is None:
            raise CommandError(
                Problem(
                    f'the shelf "{self._shelf.name}" is not one of yours to change',
                    hint="paste a label to start your own, or go to it with `shelf`",
                )
            )
        return self._own

    def _put(self, shelf: Shelf, own: OwnShelf | None = None) -> None:
        """Go to another shelf."""
        self._shelf, self._own = shelf, own
        self._stamp = own.stamp() if own else None
