"""What an edited ontology says that the base does not, and the other way round.

Editors write a file anew in an order of their own, so that facts are compared and not
text: a fact is a subject, a property and a value, and a value without a name counts by
what hangs on it. What editors add or leave out of themselves is no difference.
"""

from __future__ import annotations

import shutil
from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from abluent.engine.base.files import BaseFile, shipped_folder
from abluent.engine.base.spaces import SPACES
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.owl import names as n
from abluent.engine.owl.ontology_file import STATED_IN, headers

if TYPE_CHECKING:
    import pyoxigraph as ox

FORMS = {
    ".owl": "RDF_XML",
    ".rdf": "RDF_XML",
    ".xml": "RDF_XML",
    ".ttl": "TURTLE",
    ".nt": "N_TRIPLES",
}
"""What an edited ontology can be written as, by the ending of its file."""
ADDED = "edited.ttl"
"""The file of what is said of something that the base did not describe."""
_NUMBERS = {n.XSD + kind for kind in ("integer", "decimal", "double", "int", "float")}
_ASIDE = {n.NAMED_INDIVIDUAL, n.OWL + "Ontology"}


class Stated(NamedTuple):
    """One fact; `key` is what it counts by, `triples` are how it was written."""

    key: tuple[str, str, Hashable]
    triples: tuple[ox.Triple, ...]

    @property
    def about(self) -> str:
        """The IRI of its subject; empty for none."""
        return self.key[0]

    @property
    def main(self) -> ox.Triple:
        """The triple itself, without what hangs on its value."""
        return self.triples[0]


class Difference(NamedTuple):
    """Facts that were added, taken out, or got another value."""

    added: tuple[Stated, ...]
    removed: tuple[Stated, ...]
    changed: tuple[tuple[Stated, Stated], ...]

    @property
    def subjects(self) -> tuple[str, ...]:
        """What it is about, by symbol."""
        both = [each for pair in self.changed for each in pair]
        told = (*self.added, *self.removed, *both)
        return tuple(dict.fromkeys(n.local(each.about) for each in told if each.about))


def read_ontology(path: Path) -> list[ox.Triple]:
    """Read an ontology that somebody edited.

    Raises:
        CommandError: there is no such file, or it ends like none.
        DataError: it cannot be read; the place is named.
    """
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    form = FORMS.get(path.suffix.casefold())
    if form is None:
        what = f'"{path}" does not end like an ontology'
        raise CommandError(Problem(what, hint=f"save it as one of {', '.join(FORMS)}"))
    try:
        data = path.read_bytes()
    except OSError as error:
        what = f'"{path}" cannot be read: {error.strerror}'
        raise CommandError(Problem(what)) from None
    try:
        found = [q.triple for q in ox.parse(data, format=getattr(ox.RdfFormat, form))]
    except (SyntaxError, ValueError) as error:
        what, hint = f"this is no ontology: {error}", "save it again from the editor"
        raise DataError(Problem(what, str(path), hint)) from None
    subjects = (getattr(t.subject, "value", "") for t in found)
    if not any(each.startswith(SPACES["abl"]) for each in subjects):
        hint = "edit a file that `abluent owl --to base.owl` wrote"
        raise DataError(Problem("this is no edited copy of the base", str(path), hint))
    return found


def triples_in(every: Iterable[BaseFile]) -> list[ox.Triple]:
    """Return the triples of Turtle files."""
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    turtle = ox.RdfFormat.TURTLE
    return [q.triple for file in every for q in ox.parse(file.text(), format=turtle)]


def facts_of(triples: Sequence[ox.Triple]) -> dict[tuple[str, str, Hashable], Stated]:
    """Return the facts of some triples, by what they count by."""
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    heads = headers(triples) | {ox.NamedNode(STATED_IN)}
    inside: dict[Any, list[ox.Triple]] = defaultdict(list)
    held = {t.object for t in triples if isinstance(t.object, ox.BlankNode)}
    for triple in triples:
        if isinstance(triple.subject, ox.BlankNode):
            inside[triple.subject].append(triple)
    shapes = _Shapes(inside, ox)
    found: dict[tuple[str, str, Hashable], Stated] = {}
    for triple in triples:
        if triple.subject in heads or triple.predicate.value == STATED_IN:
            continue
        if getattr(triple.object, "value", "") in _ASIDE:
            continue
        stated = shapes.stated(triple, nested=triple.subject in held)
        if stated is not None:
            found.setdefault(stated.key, stated)
    return found


class _Shapes:
    """What counts of a value: its IRI, its figure, or all that hangs on it."""

    def __init__(self, inside: dict[Any, list[ox.Triple]], library: Any) -> None:
        self._inside, self._ox = inside, library
        self._known: dict[Any, Hashable] = {}

    def stated(self, triple: ox.Triple, *, nested: bool) -> Stated | None:
        subject, predicate = triple.subject, triple.predicate.value
        if isinstance(subject, self._ox.BlankNode):
            if nested or predicate != n.TYPE:
                return None  # It belongs to what it hangs on.
            others = [t for t in self._inside[subject] if t != triple]
            below = [t for o in others for t in (o, *self._below(o.object))]
            return Stated(("", "", self.of(subject)), (triple, *below))
        key = (str(getattr(subject, "value", "")), predicate, self.of(triple.object))
        if predicate == n.OWL + "disjointWith" and isinstance(key[2], str):
            one, other = sorted([key[0], key[2]])
            key = (one, predicate, other)
        return Stated(key, (triple, *self._below(triple.object)))

    def of(self, node: Any) -> Hashable:
        if isinstance(node, self._ox.NamedNode):
            return str(node.value)
        if isinstance(node, self._ox.Literal):
            return self._literal(node)
        if node not in self._known:
            self._known[node] = None  # A circle ends here.
            self._known[node] = frozenset(
                (t.predicate.value, self.of(t.object))
                for t in self._inside[node]
                if getattr(t.object, "value", "") != n.OWL + "Class"
            )
        return self._known[node]

    @staticmethod
    def _literal(node: Any) -> Hashable:
        kind = node.datatype.value
        if kind in _NUMBERS:
            try:
                return ("number", Fraction(node.value))
            except ValueError:
                return ("text", node.value, "")
        if kind == n.XSD + "boolean":
            return ("truth", node.value in {"true", "1"})
        return ("text", node.value, node.language or "")

    def _below(self, node: Any) -> Iterator[ox.Triple]:
        pending, seen = [node], set()
        while pending:
            here = pending.pop()
            if here not in seen:
                seen.add(here)
                for triple in self._inside.get(here, ()):
                    yield triple
                    pending.append(triple.object)


def difference(before: Sequence[ox.Triple], after: Sequence[ox.Triple]) -> Difference:
    """Return what an edited ontology says otherwise.

    A fact that is gone and one of the same subject and property that came, where each
    is the only one, are one change of value.
    """
    old, new = facts_of(before), facts_of(after)
    gone = [old[key] for key in old if key not in new]
    come = [new[key] for key in new if key not in old]
    by_place: dict[tuple[str, str], tuple[list[Stated], list[Stated]]] = {}
    for at, each in [*((0, e) for e in gone), *((1, e) for e in come)]:
        by_place.setdefault(each.key[:2], ([], []))[at].append(each)
    pairs = [(g[0], c[0]) for g, c in by_place.values() if len(g) == len(c) == 1]
    paired = {id(each) for pair in pairs for each in pair}
    return Difference(
        tuple(each for each in come if id(each) not in paired),
        tuple(each for each in gone if id(each) not in paired),
        tuple(pairs),
    )


def edited_folder(
    every: Iterable[BaseFile],
    found: Difference,
    folder: Path,
    instead: Path | None = None,
) -> None:
    """Lay out a copy of the base with a difference in it.

    What is taken out goes from every file that says it; what is added goes to the
    first file that describes its subject, or to one of its own.

    Args:
        every: the Turtle files of the base, and those laid over it.
        found: the difference.
        folder: where to lay it out.
        instead: the folder that the base stands on, if it is not the shipped one.
    """
    kept_out = shutil.ignore_patterns("__pycache__")
    with shipped_folder(instead) as stands_on:
        shutil.copytree(stands_on, folder, dirs_exist_ok=True, ignore=kept_out)
    gone = {each.key for each in found.removed} | {old.key for old, _ in found.changed}
    left = [*found.added, *(new for _, new in found.changed)]
    about = {each.about for each in left} | {key[0] for key in gone}
    for number, file in enumerate(every):
        own = Path(file.name).is_absolute()
        path = folder / (f"own/{number:04}.ttl" if own else file.name)
        triples = triples_in([file])
        here = {getattr(t.subject, "value", "") for t in triples}
        if not (own or "" in about or about.intersection(here)):
            continue
        mine = [each for each in left if each.about in here]
        left = [each for each in left if each.about not in here]
        _write(path, triples, gone, mine)
    if left:
        _write(folder / ADDED, [], set(), left)


def _write(
    path: Path,
    triples: Sequence[ox.Triple],
    gone: set[tuple[str, str, Hashable]],
    come: Sequence[Stated],
) -> None:
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    facts = facts_of(triples)
    out = {t for key in gone if key in facts for t in facts[key].triples}
    kept = [t for t in triples if t not in out]
    kept += [t for each in come for t in each.triples]
    path.parent.mkdir(parents=True, exist_ok=True)
    turtle = ox.RdfFormat.TURTLE
    ox.serialize(kept, str(path), format=turtle, prefixes=n.PREFIXES)
