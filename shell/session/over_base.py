"""A shelf over a base: what is known, what was taught, and both brought together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from abluent.shell.shelf.current import CurrentShelf

if TYPE_CHECKING:
    from pathlib import Path

    from abluent.engine.base.store import Base
    from abluent.engine.questions.world.world import World
    from abluent.engine.teach.addition import Weighed
    from abluent.engine.teach.layer import Layer, Part, Taught
    from abluent.shell.shelf.own import OwnShelf
    from abluent.shell.shelf.shelf import Shelf


class OverBase(CurrentShelf):
    """Loads the base when first needed, and keeps it while the shelf changes."""

    def __init__(
        self, shelf: Shelf, knowledge: Sequence[str], *, taught: bool, base: str | None
    ) -> None:
        """See `Session`."""
        super().__init__(shelf)
        self._with_taught = taught and base is None
        self._instead = _paths([base])[0] if base is not None else None
        self._knowledge = _paths(knowledge) if knowledge else ()
        self.practice = True
        """Whether what the trade usually puts in may narrow how much labels can mean;
        say otherwise before the first question."""
        self.watch: Callable[[], None] | None = None
        """Called for each label that is about to be read, once it is set."""
        self._base: Base | None = None
        self._world: World | None = None

    @property
    def layer(self) -> Layer:
        """What the user taught; see `engine/teach/layer.py`."""
        from abluent.engine.teach.layer import Layer

        return Layer()

    def weigh(self, parts: Sequence[Part]) -> Weighed:
        """Look at an addition to what is known, before it is kept.

        Args:
            parts: Turtle and rule texts; `hand_over.parts_in` reads them from a file.

        Raises:
            Refused: it is inconsistent or unsafe, or something is missing in it.
        """
        from abluent.engine.teach.addition import weigh

        return weigh(self.world, parts, self.layer, self._knowledge)

    def teach(self, weighed: Weighed) -> list[Taught]:
        """Keep an addition that was weighed, and count on it from now on.

        Raises:
            DataError: the layer was changed since, or cannot be written.
        """
        kept = self.layer.keep(weighed.trial.parts, weighed.seen)
        self._world = self._base = None
        return kept

    def untaught(self, word: str = "") -> tuple[Taught, Path]:
        """Take an addition back, the last if none is named; return where it lies.

        Raises:
            CommandError: there is none of that name or number.
            DataError: something else rests on it, or the folder is in use.
        """
        from abluent.engine.teach.addition import still_stands

        layer = self.layer
        addition = layer.find(word)
        still_stands(layer, addition, self._knowledge)
        aside = layer.take_back(addition)
        self._world = self._base = None
        return addition, aside

    @property
    def world(self) -> World:
        """The base, its rules and the shelf, brought together when first needed.

        Raises:
            EngineError: the base, its rules or the user's own are refused.
            DataError: so is what was taught.
        """
        if self._world is None:
            from abluent.engine.errors import EngineError
            from abluent.shell.session.loading import load_world

            base, layers = self.base, self.layers()
            try:
                self._world = load_world(
                    self._shelf, layers, self.watch, base, self._instead
                )
            except EngineError as error:
                raise self._blamed(error) from error
            self._world.amounts.practice = self.practice
        return self._world

    @property
    def base(self) -> Base:
        """What is known, read when first needed: the base and what lies over it.

        Raises:
            EngineError: the base or the user's own is refused.
            DataError: so is what was taught.
        """
        if self._base is None:
            from abluent.engine.errors import EngineError
            from abluent.shell.session.grounds import load_base

            try:
                self._base = load_base(self.layers(), self._instead)
            except EngineError as error:
                raise self._blamed(error) from error
        return self._base

    def words_base(self) -> Base:
        """Return the base whose words shelves are read in.

        That is the one that is installed where what lies over it is refused: who asks
        something will be told why.
        """
        if self._instead is not None:
            return self.base
        from abluent.engine.errors import EngineError
        from abluent.engine.faults import ShellError
        from abluent.shell.shelf.words import installed

        try:
            return self.base
        except (EngineError, ShellError):
            return installed()

    def _blamed(self, error: Exception) -> Exception:
        from abluent.engine.teach.addition import blamed

        return blamed(error, self.layer)

    def grounds(self) -> tuple[Path | None, Sequence[Path]]:
        """Return the folder the base stands on, if not the shipped one, and its layers.

        Raises:
            CommandError: there is no such folder.
        """
        from abluent.shell.session.grounds import grounds

        return grounds(self.layers(), self._instead)

    def layers(self) -> list[Path]:
        """Return the files and folders that lie over the base: taught, then given."""
        taught = self.layer.paths() if self._with_taught else []
        return [*taught, *self._knowledge]

    def _put(self, shelf: Shelf, own: OwnShelf | None = None) -> None:
        if self._world is not None:
            from abluent.shell.session.loading import moved

            # What the base and its rules came to is kept; only the shelf is new.
            self._world = moved(self._world, shelf)
        super()._put(shelf, own)


def _paths(names: Sequence[str]) -> tuple[Path, ...]:
    # Most questions name no file at all.
    from pathlib import Path

    return tuple(map(Path, names))
