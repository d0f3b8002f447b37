"""One session: a base, a shelf, and what was asked so far. The Python API.

    from abluent.shell.session import Session

    session = Session.open(["salon.csv"])
    answer = session.ask('which washes clear "Dimethicone"')
    print(session.export_trace(answer, "markdown"))

The one-shot commands and the interactive shell are thin layers over this object;
what it does itself is thin too, as all that is known lives in the engine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from abluent.shell.errors import CommandError, Problem
from abluent.shell.shelf import KINDS, OTHER, WATERS, Shelf, ShelfLabel, kind_of
from abluent.shell.shelves import find_shelf, kept_named, shelves_named

if TYPE_CHECKING:
    from abluent.engine.world import World
    from abluent.shell.kept import KeptShelf

OWN = "mine"  # The shelf of the user's that pasted labels go to.


class Session:
    """Answers questions about one shelf; what it works out is kept for the next."""

    def __init__(self, shelf: Shelf) -> None:
        """Start on a shelf; nothing is loaded until something is asked."""
        self._shelf = shelf
        self._kept: KeptShelf | None = None
        self._world: World | None = None

    @classmethod
    def open(
        cls, shelves: Sequence[str] = (), water: str | None = None, *, own: bool = False
    ) -> Session:
        """Start on the shelves named, read as one.

        Args:
            shelves: files, folders, names of kept shelves, or `demo`; if there are
                none, the demo shelf.
            water: `soft` or `hard`, in place of what the shelves say.
            own: if no shelf is named, start on the user's own if there is one.

        Raises:
            CommandError: there is no such shelf.
            DataError: one cannot be read at all. Faults of single products are in
                `shelf.problems`; the other products are there.
        """
        kept = kept_named(OWN) if own and not shelves else None
        if kept is None:
            return cls(shelves_named(shelves, water))
        session = cls(kept.load())
        session._kept = kept
        return session

    # -- the shelf ------------------------------------------------------------

    @property
    def shelf(self) -> Shelf:
        """The shelf that questions are asked of."""
        return self._shelf

    def use(self, name: str) -> None:
        """Go to another shelf: a file, a folder, a kept shelf, or `demo`.

        Raises:
            CommandError: there is no such shelf.
            DataError: it cannot be read at all.
        """
        self._put(*find_shelf(name))

    def use_new(self, name: str) -> None:
        """Go to a new, empty shelf of the user's, written when a product comes.

        Raises:
            CommandError: there is one, or the name cannot be that of a file.
        """
        from abluent.shell.kept import KeptShelf

        kept = KeptShelf(name)
        if kept.path.exists():
            what = f'there is a shelf "{name}" already'
            raise CommandError(Problem(what, hint=f"`shelf {name}` goes to it"))
        self._put(kept.load(), kept)

    def add_label(
        self, product: str, kind: str, text: str, market: str = ""
    ) -> ShelfLabel:
        """Put a product on a shelf of the user's, and go to that shelf.

        That is the shelf the session is on if it is the user's own, else `mine`.

        Raises:
            CommandError: the name or the text is empty, or the kind is none.
            DataError: a product of that name is there, or the file is in use.
        """
        from abluent.shell.kept import KeptShelf

        label = _checked(product, kind, text, market)
        kept = self._kept or KeptShelf(OWN)
        kept.add(label)
        self._put(kept.load(), kept)
        return label

    def drop(self, product: str) -> None:
        """Take a product off the user's shelf.

        Raises:
            CommandError: it is not there, or the shelf is not the user's own.
            DataError: the file is in use.
        """
        kept = self._changeable()
        kept.drop(product)
        self._put(kept.load(), kept)

    def undo(self) -> int:
        """Take back the last change to the user's shelf; return how many are left.

        Raises:
            CommandError: there is none, or the shelf is not the user's own.
            DataError: the file is in use.
        """
        kept = self._changeable()
        left = kept.undo()
        self._put(kept.load(), kept)
        return left

    def set_water(self, water: str) -> None:
        """Say which water the shelf is washed in; a shelf of the user's keeps it.

        Raises:
            CommandError: the water is not `soft` or `hard`.
            DataError: the file is in use.
        """
        if water not in WATERS:
            what = f'water is "soft" or "hard", not "{water}"'
            raise CommandError(Problem(what))
        if self._kept is None:
            self._put(replace(self._shelf, water=water))
        else:
            self._kept.set_water(water)
            self._put(self._kept.load(), self._kept)

    def _changeable(self) -> KeptShelf:
        if self._kept is None:
            raise CommandError(
                Problem(
                    f'the shelf "{self._shelf.name}" is not one of yours to change',
                    hint="paste a label to start your own, or go to it with `shelf`",
                )
            )
        return self._kept

    def _put(self, shelf: Shelf, kept: KeptShelf | None = None) -> None:
        self._shelf, self._kept, self._world = shelf, kept, None


def _checked(product: str, kind: str, text: str, market: str) -> ShelfLabel:
    """Return a label that can be shelved; raises as `Session.add_label` says."""
    name = " ".join(product.split())
    if not name:
        raise CommandError(Problem("a product needs a name"))
    if not text.strip():
        raise CommandError(
            Problem(f'the label of "{name}" is empty', hint="paste its ingredient list")
        )
    known = kind_of(kind)
    if not known:
        raise CommandError(
            Problem(
                f'"{kind}" is no kind of product',
                hint=f"a kind is one of {', '.join([*KINDS, OTHER])}",
            )
        )
    return ShelfLabel(name, known, market, text)
