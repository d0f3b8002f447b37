"""The shipped files: in canonical layout, each work once, every word accounted for."""

import re
from collections import Counter
from pathlib import Path

import pytest
from abluent.engine.base.fold import fold
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.base.turtle import canonical

ONTOLOGY = Path(__file__).parents[2] / "ontology"
FILES = sorted(str(path.relative_to(ONTOLOGY)) for path in ONTOLOGY.rglob("*.ttl"))

RULES = sorted((ONTOLOGY / "rules").glob("*.rules"))


@pytest.mark.slow
@pytest.mark.parametrize("name", FILES)
def test_canonical_layout(name: str) -> None:
    """Each file equals its re-written self, as `engine.base.turtle` makes it."""
    text = (ONTOLOGY / name).read_text(encoding="utf-8")
    assert canonical(text) == text


def test_layout_gate_can_fail() -> None:
    """A file with its lines in another order is not its re-written self."""
    text = (ONTOLOGY / "vocab.ttl").read_text(encoding="utf-8")
    blocks = text.split("\n\n")
    shuffled = "\n\n".join([*blocks[:2], *reversed(blocks[2:])])
    assert shuffled != text
    assert canonical(shuffled) == text


@pytest.mark.slow
def test_the_base_loads(base: Base) -> None:
    """The shipped base is free of problems and has something of every kind."""
    assert len(base.names) > 1000
    for kind in ("Ingredient", "Claim", "Source", "Limit", "Caution"):
        assert base.instances(kind), kind


def test_every_fact_has_a_basis(base: Base) -> None:
    """No fact about an ingredient or claim is without source and standing."""
    bare = [
        fact
        for fact in base.facts
        if base.record(str(fact.args[0])).space in {"ing", "claim"}
        and not (fact.basis.sources and fact.basis.standing)
    ]
    assert bare == []


def test_each_work_once(base: Base) -> None:
    """No two sources have the same citation, title and pages."""
    works = Counter(
        (fold(base.label(work)), base.source(work).text("pages"))
        for work in base.instances("Source")
    )
    assert [work for work, times in works.items() if times > 1] == []


def test_each_work_is_used(base: Base) -> None:
    """Every listed work is cited by some fact or rule of the base, or is shipped."""
    cited = {source for fact in base.facts for source in fact.basis.sources}
    cited.update(base.terms(Role.INVENTORY))
    for path in RULES:
        cited.update(path.read_text(encoding="utf-8").replace(",", " ").split())
    assert [w for w in base.instances("Source") if w not in cited] == []


def test_a_class_has_members_or_subclasses(base: Base) -> None:
    """No kind of ingredient is there for nothing; a rule may fill one."""
    kinds = [s for s in base.symbols if "Ingredient" in base.ancestors(s)]
    rules = [path.read_text(encoding="utf-8") for path in RULES]
    concluded = set(re.findall(r"so +the \w+ isa (\w+)", "".join(rules)))
    formed = {kind for s in base.symbols for kind in base.record(s).links("formOf")}
    empty = {kind for kind in kinds if not base.instances(kind)} - formed
    assert empty <= concluded


@pytest.mark.parametrize(
    ("phrase", "kind"),
    [
        ("sulfates", "SulfateSurfactant"),
        ("silicones", "Silicone"),
        ("water-insoluble silicones", "InsolubleSilicone"),
        ("water-soluble silicone", "SolubleSilicone"),
        ("quats", "CationicSurfactant"),
        ("polyquats", "CationicPolymer"),
        ("anionic surfactants", "AnionicSurfactant"),
        ("sulfate-free surfactants", "SulfateFreeAnionic"),
        ("hard-water minerals", "HardWaterMineral"),
        ("film-formers", "FilmFormer"),
        ("waxes", "Wax"),
        ("amino acid surfactants", "AcylAminoAcid"),
        ("protein", "Protein"),
        ("lime soap deposit", "LimeSoap"),
    ],
)
def test_everyday_phrases(base: Base, phrase: str, kind: str) -> None:
    """People's words for classes find them."""
    assert base.find_class(phrase) == kind


@pytest.mark.parametrize(
    ("phrase", "value"),
    [
        ("shampoo", "wash"),
        ("washes", "wash"),
        ("co-washes", "coWash"),
        ("leave-in", "leaveIn"),
        ("conditioners", "conditioner"),
        ("gel", "styler"),
        ("hair oils", "oil"),
    ],
)
def test_everyday_product_kinds(base: Base, phrase: str, value: str) -> None:
    """People's words for kinds of product find them."""
    assert base.find_value(phrase, "ProductKind") == value
