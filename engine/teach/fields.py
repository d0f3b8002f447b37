"""What an addition needs, field by field, as the shapes of the base say it.

The shapes say which properties a thing of a class must have, which values they take,
and why. What else is worth asking is listed here; the words of every question are
those of the properties themselves.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from abluent.engine.base.store import Base

_SH = "http://www.w3.org/ns/shacl#"
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"

ORDER = (
    "inci",
    "agent",
    "atLeast",
    "atMost",
    "film",
    "stronger",
    "weaker",
    "inFamily",
    "easier",
    "harder",
    "fromKind",
    "when",
    "citation",
    "title",
    "sourceKind",
    "charge",
    "waterSolubility",
    "statement",
    "synonym",
    "caveat",
    "author",
    "year",
    "source",
    "standing",
)
"""The order of the questions; what a shape asks for besides comes last."""


@dataclass(frozen=True)
class Field:
    """One thing to ask.

    Args:
        name: the property, by its local name.
        asks: the property in words.
        about: what it means, and why it is needed.
        needed: whether there is no thing of this class without it.
        choices: the symbols it may be; empty for free text.
        truth: whether it is either so or not.
        offered: the choice that every thing of the class takes, if there is one.
    """

    name: str
    asks: str
    about: str
    needed: bool
    choices: tuple[str, ...] = ()
    truth: bool = False
    offered: str = ""


def fields_of(base: Base, kind: str) -> list[Field]:
    """Return what to ask of a thing of a class, in order."""
    above = base.ancestors(kind)
    asked: dict[str, _Need] = {}
    for name, rows in _required().items():
        for target, why, values in rows:
            if target in above:
                before = asked[name].values if name in asked else ()
                asked[name] = _Need(True, why, values or before)
    for name in _optional(base, above):
        asked.setdefault(name, _Need(False, "", ()))
    order = [n for n in ORDER if n in asked] + [n for n in asked if n not in ORDER]
    return [_field(base, kind, name, asked[name]) for name in order]


def _optional(base: Base, kinds: Collection[str]) -> Iterator[str]:
    """Find what may be told of things of some classes besides what shapes ask for."""
    for symbol in base.symbols:
        if not set(base.record(symbol).links("askedOf")).isdisjoint(kinds):
            yield symbol


class _Need(NamedTuple):
    needed: bool
    why: str
    values: tuple[str, ...]


def _field(base: Base, kind: str, name: str, need: _Need) -> Field:
    needed, why, values = need
    record = base.record(name)
    ranges = record.links("range")
    if not values:
        values = tuple(s for r in ranges if base.is_class(r) for s in base.instances(r))
    comment = record.text("comment") or ""
    truth = comment.startswith("True of")
    about = f"{comment} {why}".strip()
    implied = base.implied(kind, name)
    offered = implied if isinstance(implied, str) else ""
    return Field(name, base.label(name), about, needed, values, truth, offered)


@cache
def _required() -> Mapping[str, Sequence[tuple[str, str, tuple[str, ...]]]]:
    """Return, for each property, the classes that need it, why, and its values."""
    import abluent.ontology

    found: dict[str, list[tuple[str, str, tuple[str, ...]]]] = {}
    folder = Path(next(iter(abluent.ontology.__path__))) / "shapes"
    for path in sorted(folder.glob("*.ttl")):
        shapes = _Shapes(path.read_text(encoding="utf-8"))
        for target, name, why, values in shapes.needs():
            found.setdefault(name, []).append((target, why, values))
    return found


class _Shapes:
    """One file of shapes, by subject and property."""

    def __init__(self, text: str) -> None:
        import pyoxigraph as ox

        self._about: dict[Any, dict[str, list[Any]]] = {}
        for quad in ox.parse(text, format=ox.RdfFormat.TURTLE):
            row = self._about.setdefault(quad.subject, {})
            row.setdefault(quad.predicate.value, []).append(quad.object)

    def needs(self) -> Iterator[tuple[str, str, str, tuple[str, ...]]]:
        for row in list(self._about.values()):
            for target in row.get(f"{_SH}targetClass", ()):
                for node in row.get(f"{_SH}property", ()):
                    need = self._about[node]
                    if self._least(need) > 0:
                        name = _local(need[f"{_SH}path"][0])
                        why = _why(need.get(f"{_SH}message", ()))
                        yield _local(target), name, why, tuple(self._values(need))

    @staticmethod
    def _least(need: Mapping[str, Sequence[Any]]) -> int:
        return int(next((n.value for n in need.get(f"{_SH}minCount", ())), "0"))

    def _values(self, need: Mapping[str, Sequence[Any]]) -> Iterator[str]:
        row = self._about.get(next(iter(need.get(f"{_SH}in", ())), None), {})
        while row:
            yield _local(row[f"{_RDF}first"][0])
            row = self._about.get(row[f"{_RDF}rest"][0], {})


def _local(node: Any) -> str:
    return str(node.value).rpartition("/")[2].rpartition("#")[2]


def _why(messages: Iterable[Any]) -> str:
    for message in messages:
        _, mark, rest = str(message.value).partition("Why: ")
        return rest.partition(" Fix:")[0] if mark else ""
    return ""
