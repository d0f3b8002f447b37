"""An edited copy of the base comes back as what was changed in it, and nothing else."""

from pathlib import Path

import owlready2
import pyoxigraph as ox
import pytest
import rdflib
from abluent.engine.base.files import BaseFile
from abluent.engine.base.store import Base
from abluent.engine.faults import CommandError, DataError
from abluent.engine.owl.comparison import (
    Difference,
    difference,
    edited_folder,
    read_ontology,
    triples_in,
)
from abluent.engine.owl.ontology_file import base_files, ontology_file
from abluent.engine.owl.plain import told_of

PREFIXES = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
"""
TEXT = f"""{PREFIXES}
<https://abluent.example/ns/try> a owl:Ontology .
abl:Silicone a owl:Class ; rdfs:label "silicone" ; owl:disjointWith abl:Wax .
abl:Wax a owl:Class .
abl:share a owl:DatatypeProperty .
abl:soluble a owl:NamedIndividual .
abl:waterSolubility a owl:ObjectProperty .
abl:SolubleSilicone a owl:Class ; owl:equivalentClass [
  a owl:Class ; owl:intersectionOf ( abl:Silicone
    [ a owl:Restriction ; owl:onProperty abl:waterSolubility ;
      owl:hasValue abl:soluble ] ) ] .
ing:dimethicone a abl:Silicone ; abl:share 1.50 .
"""


def written(folder: Path, text: str = TEXT) -> BaseFile:
    path = folder / "try.ttl"
    path.write_text(text, encoding="utf-8")
    return BaseFile("try.ttl", str(path))


def told(found: Difference) -> list[str]:
    base = Base.load()
    rows = [*found.added, *found.removed, *(new for _, new in found.changed)]
    return [told_of(each.triples, base) for each in rows]


def saved(text: str, folder: Path) -> Path:
    """A text as an editor would save it: RDF/XML, in an order of its own."""
    path = folder / "edited.owl"
    rdflib.Graph().parse(data=text, format="turtle").serialize(path, format="xml")
    return path


def test_a_copy_saved_anew_says_the_same(tmp_path: Path) -> None:
    """Another order, other forms of numbers and other nodes are no difference."""
    file = written(tmp_path)
    copy = saved(TEXT.replace("1.50", "1.5"), tmp_path)
    assert not any(difference(triples_in([file]), read_ontology(copy)))


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ("1.50", "2.5", (0, 0, 1)),
        ("1.50", "1.50 ; abl:waterSolubility abl:soluble", (1, 0, 0)),
        (" ; owl:disjointWith abl:Wax", "", (0, 1, 0)),
        ('rdfs:label "silicone"', 'rdfs:comment "silicone"', (1, 1, 0)),
        ("owl:hasValue abl:soluble", "owl:hasValue abl:insoluble", (0, 0, 1)),
    ],
)
def test_each_edit_is_one_difference(
    was: str, now: str, said: tuple[int, int, int], tmp_path: Path
) -> None:
    """Added, taken out, or of another value; what hangs on a node counts."""
    assert was in TEXT
    file = written(tmp_path)
    copy = saved(TEXT.replace(was, now), tmp_path)
    found = difference(triples_in([file]), read_ontology(copy))
    assert tuple(map(len, found)) == said


def test_disjointness_said_the_other_way_round_is_the_same(tmp_path: Path) -> None:
    """It holds both ways, and editors turn it about."""
    file = written(tmp_path)
    turned = TEXT.replace(" ; owl:disjointWith abl:Wax", "").replace(
        "abl:Wax a owl:Class", "abl:Wax a owl:Class ; owl:disjointWith abl:Silicone"
    )
    copy = saved(turned, tmp_path)
    assert not any(difference(triples_in([file]), read_ontology(copy)))


def test_a_file_is_opened_as_one_ontology(tmp_path: Path) -> None:
    """rdflib and owlready2 read it: one header, and every thing declared."""
    path = tmp_path / "base.owl"
    path.write_bytes(ontology_file([written(tmp_path)], "1"))
    graph = rdflib.Graph().parse(path, format="xml")
    (head,) = graph.subjects(rdflib.RDF.type, rdflib.OWL.Ontology)
    assert str(graph.value(head, rdflib.OWL.versionInfo)) == "1"
    world = owlready2.World()
    world.get_ontology(path.as_uri()).load()
    assert {c.name for c in world.classes()} == {"Silicone", "SolubleSilicone", "Wax"}
    assert "dimethicone" in {each.name for each in world.individuals()}


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("a.owl", "<rdf:RDF", "this is no ontology"),
        ("a.ttl", "@prefix x: <urn:x#> . x:a x:b x:c .", "no edited copy of the base"),
    ],
)
def test_a_broken_copy_is_refused(
    name: str, text: str, told: str, tmp_path: Path
) -> None:
    """With the file named, and what to do."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    with pytest.raises(DataError, match=told) as caught:
        read_ontology(path)
    assert name in str(caught.value)


@pytest.mark.parametrize("name", ["a.docx", "nowhere.owl"])
def test_what_is_no_ontology_file_is_refused(name: str, tmp_path: Path) -> None:
    """An ending that none has, and a file that is not there."""
    with pytest.raises(CommandError, match=name):
        read_ontology(tmp_path / name)


@pytest.mark.long
def test_the_whole_base_goes_out_and_an_edit_comes_back(tmp_path: Path) -> None:
    """Through owlready2, as an editor would: one value is changed, one is told.

    The edited base loads, with the new value in it.
    """
    every, path = base_files(), tmp_path / "base.owl"
    path.write_bytes(ontology_file(every, "1"))
    world = owlready2.World()
    opened = world.get_ontology(path.as_uri()).load()
    thing = world["https://abluent.example/ingredient/dimethicone-fluid"]
    thing.waterSolubility = world["https://abluent.example/ns#dispersible"]
    copy = tmp_path / "edited.owl"
    opened.save(str(copy), format="rdfxml")
    found = difference(triples_in(every), read_ontology(copy))
    assert tuple(map(len, found)) == (0, 0, 1)
    assert "water solubility" in told(found)[0]
    edited_folder(every, found, tmp_path / "base")
    after = Base.load(instead=tmp_path / "base", cache_folder=tmp_path)
    record = after.record("dimethicone-fluid")
    assert record.links("waterSolubility") == ["dispersible"]


def test_an_edit_is_laid_out_where_its_subject_is(tmp_path: Path) -> None:
    """What is new of something that no file describes gets a file of its own."""
    more = f"{PREFIXES} ing:sea-wax a abl:Wax ."
    old = triples_in([written(tmp_path)])
    new = old + [q.triple for q in ox.parse(more, format=ox.RdfFormat.TURTLE)]
    found = difference(old, new)
    assert [each.about for each in found.added] == [
        "https://abluent.example/ingredient/sea-wax"
    ]
    edited_folder([], found, tmp_path / "base")
    text = (tmp_path / "base" / "edited.ttl").read_text(encoding="utf-8")
    assert "ing:sea-wax" in text
