"""HermiT proves a base, names the axioms that clash, and says what nobody wrote."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from abluent.engine.base.store import Base
from abluent.engine.owl.axioms import Axiom, Axioms, stated, triples_of
from abluent.engine.owl.clashes import fewest
from abluent.engine.owl.consistency import axioms_of, problems_of, proved
from abluent.engine.owl.hermit import prove
from abluent.engine.owl.plain import in_plain
from abluent.engine.teach.addition import weigh
from abluent.engine.teach.layer import TURTLE, Layer, Part
from abluent.engine.teach.trial import Refused
from abluent.shell.session.session import Session

BASE = Base.load()
PREFIXES = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix src: <https://abluent.example/source/> .
"""
TERMS = f"""{PREFIXES}
abl:Silicone a owl:Class .
abl:SiliconeGum a owl:Class ; rdfs:subClassOf abl:Silicone ;
  owl:disjointWith abl:SolubleSilicone .
abl:waterSolubility a owl:ObjectProperty .
abl:soluble a owl:NamedIndividual .
abl:SolubleSilicone a owl:Class ; owl:equivalentClass [
  a owl:Class ; owl:intersectionOf ( abl:Silicone
    [ a owl:Restriction ; owl:onProperty abl:waterSolubility ;
      owl:hasValue abl:soluble ] ) ] .
ing:dimethicone a abl:Silicone .
"""
GUM = "ing:x a abl:SiliconeGum ; abl:waterSolubility abl:soluble ."


def axioms(*more: str) -> Axioms:
    return Axioms(triples_of([TERMS + "\n".join(more)]))


def test_the_fewest_are_found_among_many() -> None:
    """Whatever else there is, only what the clash needs is left."""
    every = list(axioms(GUM).all)
    needed = {every[1], every[3], every[-1]}
    asked: list[int] = []

    def clashes(part: Sequence[Axiom]) -> bool:
        asked.append(len(part))
        return needed <= set(part)

    assert set(fewest(every, clashes)) == needed
    assert len(asked) < 3 * len(every)


def test_axioms_leave_out_words_and_notes() -> None:
    """A label, a source and a figure are none; what a node holds belongs to it."""
    text = f'{PREFIXES} ing:y a abl:Silicone ; rdfs:label "y" ; abl:share 1.5 .'
    (axiom,) = Axioms(triples_of([text])).all
    assert axiom.about.endswith("/y")
    (defined,) = [a for a in axioms().all if "equivalentClass" in str(a.main)]
    assert len(defined.triples) == 9


@pytest.mark.parametrize(
    ("start", "told"),
    [
        ("SiliconeGum subClassOf", "every silicone gum is of the kind silicone"),
        (
            "SolubleSilicone equivalentClass",
            "water-soluble silicone is exactly silicone whose water solubility is",
        ),
        ("SiliconeGum disjointWith", "nothing is both silicone gum and water-soluble"),
        ("x waterSolubility", "x: water solubility water-soluble"),
    ],
)
def test_axioms_are_told_in_plain_words(start: str, told: str) -> None:
    """With the labels of the base."""
    subject, predicate = start.split()
    found = [
        in_plain(axiom, BASE)
        for axiom in axioms(GUM).all
        if axiom.about.endswith(subject) and predicate in str(axiom.main.predicate)
    ]
    assert [each for each in found if each.startswith(told)]


@pytest.mark.slow
def test_hermit_tells_what_can_be_so() -> None:
    """Terms that agree are proved; a gum that dissolves is not."""
    good = prove([*axioms().declared, *stated(axioms().all)])
    assert good is not None
    assert good.empty == ()
    assert prove([*axioms().declared, *stated(axioms(GUM).all)]) is None


@pytest.mark.long
def test_what_cannot_be_so_is_told_by_its_axioms() -> None:
    """A gum that dissolves: exactly the five axioms that clash, and a fix."""
    (problem,) = problems_of(
        axioms(GUM.replace("ing:x", "ing:dimethicone")), BASE, ["dimethicone"]
    )
    assert problem.what == "these cannot all be so"
    told = problem.hint
    assert "Dimethicone is of the kind silicone gum" in told
    assert "nothing is both silicone gum and water-soluble silicone" in told
    assert "Dimethicone: water solubility water-soluble" in told
    assert told.count(";") == 4


@pytest.mark.long
def test_what_follows_is_told_with_its_axioms() -> None:
    """A silicone that dissolves is a water-soluble one, though nobody wrote it."""
    found = proved(axioms("ing:dimethicone abl:waterSolubility abl:soluble ."), BASE)
    assert not found.problems
    (inferred,) = found.inferred
    assert (inferred.kind, inferred.members) == ("SolubleSilicone", ("dimethicone",))
    assert "Dimethicone: water solubility water-soluble" in inferred.because


@pytest.mark.long
def test_the_whole_base_is_proved() -> None:
    """Vocabulary and every ingredient; nothing clashes, no class is empty."""
    found = proved(axioms_of(), BASE)
    assert found.problems == ()
    assert found.things > 2_000
    assert found.axioms > 20_000


@pytest.mark.long
def test_teaching_asks_it_before_anything_is_kept(tmp_path: Path) -> None:
    """A class that can have no member is refused, in plain words, and nothing kept."""
    text = f"""{PREFIXES}
abl:FoamGum a owl:Class ; rdfs:label "foam gum" ; rdfs:comment "Both." ;
  rdfs:subClassOf abl:SiliconeGum, abl:SolubleSilicone ;
  abl:plural "foam gums" .
"""
    layer = Layer(tmp_path)
    session = Session.open(taught=False)
    with pytest.raises(Refused, match="nothing can be of the kind foam gum") as caught:
        weigh(session.world, [Part("foam", TURTLE, text)], layer)
    assert "every foam gum is of the kind silicone gum" in str(caught.value)
    assert layer.additions() == []
