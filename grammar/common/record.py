"""Small immutable records, for the trees of the query language.

They behave as frozen dataclasses do, which a reader and a type checker take them
for; but no code is generated for them. Fifty dataclasses would take a quarter of
the time in which a question asked from the command line is to be answered.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar, TypeVar, cast, dataclass_transform

_T = TypeVar("_T")


class _Aside:
    """The default of a field that is given by name and does not count."""

    def __init__(self, default: Any) -> None:
        self.default = default


def aside(*, default: _T, kw_only: bool) -> _T:
    """A field for place or wording: by keyword only, and left out of equality."""
    assert kw_only
    return cast(_T, _Aside(default))


@dataclass_transform(frozen_default=True, field_specifiers=(aside,))
class Record:
    """A record with the fields that its class names, in that order.

    A class whose fields must fit each other says so in `check`.
    """

    _fields: ClassVar[tuple[str, ...]] = ()
    _asides: ClassVar[frozenset[str]] = frozenset()

    def __init_subclass__(cls) -> None:
        own = [name for name in cls.__annotations__ if not name.startswith("_")]
        apart = {name for name in own if isinstance(cls.__dict__.get(name), _Aside)}
        for name in apart:
            setattr(cls, name, cls.__dict__[name].default)
        cls._asides = cls._asides | apart
        cls._fields += tuple(name for name in own if name not in apart)

    def __init__(self, *values: Any, **named: Any) -> None:
        fields = self._fields
        given = {**dict(zip(fields, values, strict=False)), **named}
        lacking = [
            name for name in fields if name not in given and not hasattr(self, name)
        ]
        unknown = given.keys() - self._asides - set(fields)
        if lacking or unknown or len(values) > len(fields):
            raise TypeError(f"{type(self).__name__} has the fields {', '.join(fields)}")
        self.__dict__.update(given)
        self.check()

    def check(self) -> None:
        """Raise ValueError if the fields do not fit each other."""

    def _values(self) -> tuple[Any, ...]:
        return tuple(getattr(self, name) for name in self._fields)

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError(f"{type(self).__name__} is not changed once made")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} is not changed once made")

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        return self._values() == other._values()

    def __hash__(self) -> int:
        return hash((type(self), self._values()))

    def __repr__(self) -> str:
        held = (f"{name}={getattr(self, name)!r}" for name in self._fields)
        return f"{type(self).__name__}({', '.join(held)})"


_R = TypeVar("_R", bound=Record)


def replace(record: _R, **changes: Any) -> _R:
    """The same record with other values in some fields."""
    return type(record)(**{**record.__dict__, **changes})


def records(node: Any) -> Iterator[Record]:
    """Every record of a tree, the tree itself if it is one."""
    waiting = [node]
    while waiting:
        each = waiting.pop()
        if isinstance(each, tuple):
            waiting += each
        elif isinstance(each, Record):
            yield each
            waiting += each._values()
