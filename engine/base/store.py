"""The base of knowledge: its facts, its names, and what is recorded of each thing.

Everything comes from the Turtle files of `abluent.ontology`, and from a user's own
files laid over them. Facts follow from the triples mechanically; the words that
people read or type (labels, plurals, phrases, statements, caveats) stay here and
never reach the reasoner.

    x a abl:C                      type(x, C)
    abl:C rdfs:subClassOf abl:D    subclass(C, D)
    x abl:p y                      p(x, y)          y a node
    x abl:p 1.5                    p(x, 3/2)        an exact number
    x abl:p true                   p(x)
    abl:C is exactly the abl:D     definedByValue(C, D, p, v)
      whose abl:p is v             definedByTrait(C, D, p)   where v is true
"""

from __future__ import annotations

import marshal
import os
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar, cast

from abluent.engine.base import cache
from abluent.engine.base import files as _files
from abluent.engine.base._problems import BaseError, BaseProblem
from abluent.engine.base.fold import fold, singulars
from abluent.engine.base.record import Record, RecordPart
from abluent.engine.base.roles import BY_ALL, MissingRoles, Role, RoleError
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.terms import Term, number

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["NAME", "Base", "BaseError", "BaseProblem"]

_Made = TypeVar("_Made")

NAME = "name/"
"""What the symbol of an ingredient name starts with that was read from its parts."""


class Base:
    """One base, ready to be asked; make one with `Base.load()`."""

    def __init__(self, plain: Mapping[str, Any]) -> None:
        self._packed = memoryview(plain["records"])
        self._starts: Mapping[str, int] = plain["starts"]
        self._by_name: Mapping[str, str] = plain["called"]
        self._packed_names: bytes = plain["names"]
        self._phrases: Mapping[str, list[str]] = plain["phrases"]
        self._labels: Mapping[str, str] = plain["labels"]
        self._plurals: Mapping[str, str] = plain["plurals"]
        self._sentences: Mapping[str, str] = plain["sentences"]
        self._parents: Mapping[str, list[str]] = plain["parents"]
        self._types: Mapping[str, list[str]] = plain["types"]
        self._members: Mapping[str, list[str]] = plain["members"]
        self._definitions: Sequence[tuple[str, str, str, Any]] = plain["definitions"]
        self._roles: Mapping[str, list[str]] = plain["roles"]
        self._records: dict[str, Record] = {}
        self._above: dict[str, frozenset[str]] = {}
        self.cached: cache.Cached | None = None
        """Where it is kept, and so may be what is worked out from it alone."""
        self._made: dict[Callable[[Base], Any], Any] = {}

    @classmethod
    def load(
        cls,
        extra: Sequence[Path] = (),
        *,
        cache_folder: Path | None = None,
        instead: Path | None = None,
    ) -> Base:
        """The shipped base, with the files or folders of `extra` laid over it.

        Args:
            extra: a user's own Turtle files; they may add to any subject.
            cache_folder: where the packed base is kept; the user's own cache
                folder if not given.
            instead: a folder that holds another version of the shipped base.

        Raises:
            BaseError: a file cannot be read or says something that the base
                refuses; it holds every problem with its place and its fix.
        """
        folder = None if cache_folder is None else str(cache_folder)
        with _files.shipped_folder(instead) as shipped:
            files = [*_files.below(shipped), *_files.layers(extra)]
            cached = cache.Cached.of(files, folder)
            plain = cached.recall()
            if plain is None:
                # Reading Turtle is left out of a start that does not need it.
                from abluent.engine.base import _compile  # noqa: PLC0415

                plain = _compile.compile_base(files)
                cached.remember(plain)
        base = cls(plain)
        base.cached = cached
        return base

    def once(self, make: Callable[[Base], _Made]) -> _Made:
        """What is made of the base, made once and kept as long as the base is."""
        if make not in self._made:
            self._made[make] = make(self)
        return cast("_Made", self._made[make])

    # -- facts ----------------------------------------------------------------

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """Every fact of the base."""
        return tuple(self.facts_about(self._starts))

    def facts_about(
        self, symbols: Iterable[str], predicates: Collection[str] | None = None
    ) -> list[Fact]:
        """The facts whose first term is one of `symbols`.

        Args:
            symbols: what is in question; a symbol the base does not know has none,
                and neither has one that only serves to read names.
            predicates: the only predicates wanted, if not all.
        """
        return [
            fact
            for symbol in dict.fromkeys(symbols)
            if symbol in self._starts
            for part in self._stating(symbol)
            for fact in _facts(symbol, part, predicates)
        ]

    # -- records and words ----------------------------------------------------

    def __contains__(self, symbol: object) -> bool:
        return symbol in self._starts

    @property
    def symbols(self) -> Collection[str]:
        """Every subject of the base, by its local name."""
        return self._starts.keys()

    def record(self, symbol: str) -> Record:
        """All that the base says of a subject.

        Raises:
            KeyError: the base does not describe it.
        """
        if symbol not in self._records:
            space, parts = self._unpack(symbol)
            unpacked = tuple(_part(symbol, part) for part in parts)
            self._records[symbol] = Record(symbol, space, unpacked)
        return self._records[symbol]

    def source(self, symbol: str) -> Record:
        """The record of a cited work.

        Raises:
            KeyError: the base lists no such work.
        """
        record = self.record(symbol)
        if record.space != "src":
            raise KeyError(symbol)
        return record

    def label(self, symbol: str) -> str:
        """What a reader is shown: the INCI name, label, citation or statement.

        A name that was read from its parts is shown as it was printed.
        """
        return self._labels.get(symbol) or symbol.removeprefix(NAME)

    def plural(self, symbol: str) -> str:
        """The label for more than one."""
        return self._plurals.get(symbol, self.label(symbol))

    def sentence(self, predicate: str) -> str | None:
        """The English sentence that shows a fact of a property, if it has one."""
        return self._sentences.get(predicate)

    # -- names ----------------------------------------------------------------

    @cached_property
    def names(self) -> Mapping[str, tuple[str, str]]:
        """Every ingredient name, folded, with its ingredient and how it names it.

        The second is `listed` for an INCI name and `synonym` for any other.
        """
        names: dict[str, tuple[str, str]] = marshal.loads(self._packed_names)
        return names

    def lookup(self, printed: str) -> str | None:
        """The ingredient that goes by exactly this name, whatever its case."""
        return self._by_name.get(fold(printed))

    def ingredient(self, name: str) -> Record | None:
        """The record of an ingredient, by any of its names or its symbol."""
        symbol = self.lookup(name) or name
        if symbol not in self or self.record(symbol).space != "ing":
            return None
        return self.record(symbol)

    # -- roles ----------------------------------------------------------------

    def term(self, role: Role) -> str:
        """The term that plays a role, such as the class of all films.

        Raises:
            RoleError: nothing plays it.
        """
        for term in self._roles.get(role, ()):
            return term
        raise RoleError(role)

    def check_roles(self) -> None:
        """Make sure that something plays every part that each base needs.

        Raises:
            MissingRoles: it names all that nothing plays.
        """
        missing = [role for role in BY_ALL if not self._roles.get(role)]
        if missing:
            raise MissingRoles(missing)

    def terms(self, role: Role) -> Sequence[str]:
        """Every term that plays a role that several may play, or none."""
        return self._roles.get(role, ())

    # -- classes and values ---------------------------------------------------

    def is_class(self, symbol: str) -> bool:
        """Whether a symbol is a kind of thing and not a thing."""
        return symbol in self._classes

    def find_class(self, phrase: str) -> str | None:
        """The class that people call by this phrase, in the singular or plural."""
        return next((s for s in self._called(phrase) if s in self._classes), None)

    def find_value(self, phrase: str, kind: str) -> str | None:
        """The value of a kind, such as `ProductKind`, that goes by this phrase."""
        called = self._called(phrase)
        return next((s for s in called if kind in self._types.get(s, ())), None)

    @property
    def phrases(self) -> Mapping[str, Sequence[str]]:
        """Every phrase for a class or value, folded, with what it may mean."""
        return self._phrases

    def ancestors(self, kind: str) -> frozenset[str]:
        """A class and every class above it."""
        if kind not in self._above:
            reached = [kind]
            for each in reached:
                reached += set(self._parents.get(each, ())).difference(reached)
            self._above[kind] = frozenset(reached)
        return self._above[kind]

    def classes_of(self, symbol: str) -> list[str]:
        """Every class of a thing, the most specific first.

        Classes defined by a property count, and so do the classes above any.
        """
        found = set(self._types.get(symbol, ()))
        kinds: set[str] = set()
        while found:
            kinds = kinds.union(*map(self.ancestors, found))
            found = set(self._defined(symbol, kinds)) - kinds
        return sorted(kinds, key=lambda kind: (-len(self.ancestors(kind)), kind))

    def types(self, symbol: str) -> Sequence[str]:
        """The classes that a thing is listed as; none of a class or a property."""
        return self._types.get(symbol, ())

    def instances(self, kind: str) -> list[str]:
        """Every thing listed as of a class or of one below it, in order of name."""
        return list(self._members.get(kind, ()))

    def implied(self, kind: str, name: str) -> str | bool | None:
        """The value of a property that every member of a class has by definition.

        Args:
            kind: a class, such as `Betaine`.
            name: a property, such as `charge`.
        """
        above = self.ancestors(kind)
        values = (v for c, _, p, v in self._definitions if c in above and p == name)
        return next(values, None)

    @cached_property
    def _classes(self) -> frozenset[str]:
        above = {up for kinds in self._parents.values() for up in kinds}
        listed = {kind for kinds in self._types.values() for kind in kinds}
        return frozenset(self._parents) | above | listed

    def _called(self, phrase: str) -> Iterator[str]:
        for form in singulars(fold(phrase)):
            yield from self._phrases.get(form, ())

    def _defined(self, symbol: str, kinds: Collection[str]) -> Iterator[str]:
        for defined, wider, name, value in self._definitions:
            if wider in kinds:
                record = self.record(symbol)
                if value is True:
                    holds = record.truth(name)
                else:
                    holds = value in record.links(name)
                if holds:
                    yield defined

    def _stating(self, symbol: str) -> list[Any]:
        space, parts = self._unpack(symbol)
        return parts if space not in _FOR_READING else []

    def _unpack(self, symbol: str) -> tuple[str, list[Any]]:
        # What follows the record in the run of bytes is not looked at.
        space, parts = marshal.loads(self._packed[self._starts[symbol] :])
        return space, parts


# Parts of names are for the reader of labels.
_FOR_READING = {"stem"}
# What these say is for the store and the description-logic reasoner.
_SCHEMA = {"subproperty", "domain", "range", "disjoint"}


def _basis(symbol: str, packed: Any) -> Basis:
    file, (standing, sources, from_memory) = packed[:2]
    return Basis(standing, sources, from_memory, f"{_shown(file)}: {symbol}")


def _grounds(symbol: str, packed: Any) -> dict[tuple[str, str], Basis]:
    """The basis of each fact that does not rest on what the whole part does."""
    return {
        (name, value): _basis(symbol, (file, rest))
        for name, value, file, *rest in packed[7]
    }


def _shown(file: str) -> str:
    """A file as others may see it: where a user keeps their own is nobody's affair."""
    away = os.path.isabs(file) or file.startswith(os.pardir)
    return os.path.basename(file) if away else file


def _part(symbol: str, packed: Any) -> RecordPart:
    file, _, links, texts, numbers, truths, _, _ = packed
    return RecordPart(
        file,
        _basis(symbol, packed),
        tuple(links),
        tuple(texts),
        tuple((name, number(Fraction(n, d))) for name, n, d in numbers),
        tuple(truths),
        _grounds(symbol, packed),
    )


def _facts(symbol: str, packed: Any, wanted: Collection[str] | None) -> Iterator[Fact]:
    _, _, links, _, numbers, truths, defined, _ = packed
    # Each fact with the key of its ground.
    rows: list[tuple[str, tuple[Term, ...], str]] = [
        (p, (symbol, v), v) for p, v in links if p not in _SCHEMA
    ]
    rows += [(p, (symbol, number(Fraction(n, d))), "") for p, n, d in numbers]
    rows += [(p, (symbol,), "") for p in truths]
    for wider, name, value in defined:
        if value is True:
            rows.append(("definedByTrait", (symbol, wider, name), ""))
        else:
            rows.append(("definedByValue", (symbol, wider, name, value), ""))
    basis, grounds = _basis(symbol, packed), _grounds(symbol, packed)
    for predicate, arguments, key in rows:
        if wanted is None or predicate in wanted:
            yield Fact(predicate, arguments, grounds.get((predicate, key), basis))
