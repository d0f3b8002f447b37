"""The shipped base as the ontology tests read it."""

from pathlib import Path

import abluent.ontology
import pytest
import rdflib
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.logic.program import Program

ONTOLOGY = Path(abluent.ontology.__path__[0])


@pytest.fixture(scope="session")
def ontology_files() -> list[Path]:
    """Every Turtle file of the shipped base, its shapes left out."""
    return [p for p in sorted(ONTOLOGY.rglob("*.ttl")) if p.parent.name != "shapes"]


@pytest.fixture(scope="session")
def base(tmp_path_factory: pytest.TempPathFactory) -> Base:
    """The shipped base, read afresh."""
    return Base.load(cache_folder=tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def base_graph(ontology_files: list[Path]) -> rdflib.Graph:
    """All triples of the shipped base."""
    graph = rdflib.Graph()
    for path in ontology_files:
        graph.parse(path)
    return graph


@pytest.fixture(scope="session")
def shapes_graph() -> rdflib.Graph:
    """All triples of the shapes."""
    graph = rdflib.Graph()
    for path in sorted((ONTOLOGY / "shapes").glob("*.ttl")):
        graph.parse(path)
    return graph


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Program:
    """All rules of the base, read afresh."""
    return load_rulebook(cache_folder=tmp_path_factory.mktemp("rules"))
