"""What a wash comes to in the end: what it lifts, less what it leaves and ties up.

One row for each effect; the labels are invented, the effects are those of the
evidence named beside each row. A row says which verdict follows, what a reader is
told, and which rule the proof goes through.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.proof.nodes import RuleNode
from abluent.engine.questions.answers.verdicts import Verdict, films_left, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import WATER, Product, World
from stoichiometry import (
    calcium_bound,
    chelant_millimoles,
    water_softened,
)

pytestmark = pytest.mark.slow

SULFATE = "Aqua, Sodium Laureth Sulfate"
SULFONATE = "Aqua, Sodium C14-16 Olefin Sulfonate"


@cache
def base() -> Base:
    return Base.load()


def symbol(name: str) -> str:
    found = base().lookup(name)
    assert found, f"{name} is not in the base"
    return found


def judged(
    wash: str, film: str, *stated: str, kind: str = "wash", left_by: str = ""
) -> Verdict:
    """The verdict on a wash of one label; `left_by` is a styler that left the film."""
    shelf = [Product("it", kind, "EU", wash), Product("gel", "styler", "EU", left_by)]
    world = World(base(), load_rulebook(), shelf, stated)
    named = WATER if wash == WATER else "it"
    films, sources = ([], ["gel"]) if left_by else ([symbol(film)], [])
    found = verdicts(Case.of(world, [named], films, sources))
    return next(each for each in found if each.film == symbol(film))


def told(row: Verdict) -> str:
    return " ".join([*row.reasons, *row.caveats])


def rules(row: Verdict) -> set[str]:
    """The rules that a verdict, or what is told beside it, goes through."""
    nodes = [node for proof in row.proofs for node in proof.nodes.values()]
    return {node.rule.id for node in nodes if isinstance(node, RuleNode)}


@pytest.mark.parametrize(
    ("wash", "film", "stated", "verdict", "says", "rule"),
    [
        # Silicone left by the wash itself (E03)
        (
            f"{SULFONATE}, Dimethicone",
            "Dimethicone",
            (),
            "atMostPartlyClears",
            "leaves silicone itself",
            "puts-back",
        ),
        # More of it with a coacervate of cationic polymer (E04 to E07)
        (
            f"{SULFONATE}, Dimethicone, Polyquaternium-10",
            "Dimethicone",
            (),
            "atMostPartlyClears",
            "can leave Dimethicone itself",
            "left-by-claim",
        ),
        # A cationic polymer left by the wash itself (E18)
        (
            f"{SULFATE}, Polyquaternium-7",
            "Polyquaternium-7",
            (),
            "atMostPartlyClears",
            "can leave Polyquaternium-7 itself",
            "puts-back",
        ),
        # Lime soap of soap in hard water (E31)
        (
            "Aqua, Potassium Cocoate",
            "lime soap",
            ("hard",),
            "doesNotClear",
            "lime soap",
            "upper-none",
        ),
        # A disperser keeps it from settling (E31)
        (
            "Aqua, Potassium Cocoate, Cocamidopropyl Betaine",
            "lime soap",
            ("hard",),
            "partlyClears",
            "at least part of Lime Soap",
            "surely-part",
        ),
        # What a cationic ties up (ISO 2271, E13)
        (
            "Aqua, Cetrimonium Chloride, Sodium Lauryl Sulfate",
            "Cetearyl Alcohol",
            (),
            "atMostPartlyClears",
            "ties up Sodium Lauryl Sulfate",
            "tied-up-by-cationic",
        ),
        # Minerals and a clarifying wash (E29)
        (
            SULFATE,
            "hard-water minerals",
            ("hard",),
            "doesNotClear",
            "less than part of Hard-Water Minerals",
            "upper-none",
        ),
        # Minerals and a chelant: the bound from the label (E30)
        (
            f"{SULFATE}, Phenoxyethanol, Disodium EDTA",
            "hard-water minerals",
            ("hard",),
            "doesNotClear",
            "mg of calcium",
            "chelant-binds",
        ),
        # Resins and crosspolymers come off in part (E32: common practice)
        (
            SULFONATE,
            "Trimethylsiloxysilicate",
            (),
            "partlyClears",
            "resin",
            "upper-part",
        ),
        # So does a gum (E03, E32)
        (
            SULFONATE,
            "Dimethicone (gum grade)",
            (),
            "atLeastPartlyClears",
            "no measurement of",
            "surely-part",
        ),
        # A natural gum rinses out by itself (handbook)
        (
            "water",
            "Xanthan Gum",
            (),
            "atLeastPartlyClears",
            "water-soluble",
            "surely-part",
        ),
        # Protein: soluble, sorption measured and removal not (E28)
        (
            SULFATE,
            "Hydrolyzed Keratin",
            (),
            "atLeastPartlyClears",
            "bound to hair",
            "surely-part",
        ),
        # A name of several grades, one an acid (E27): nothing bounds all of them
        (
            "Aqua, Citric Acid",
            "Acrylates Copolymer",
            (),
            "open",
            "thickener latex grade",
            "lower-none",
        ),
    ],
)
def test_the_net_effect(  # noqa: PLR0913, PLR0917 - one effect, told in full
    wash: str, film: str, stated: tuple[str, ...], verdict: str, says: str, rule: str
) -> None:
    """The verdict, the words that go with it and the rule that they come from."""
    row = judged(wash, film, *stated)
    assert row.value == verdict
    assert says in told(row)
    assert rule in rules(row)


# --- oil that enters the fibre (E26) ------------------------------------------------


def test_oil_inside_the_fibre_is_told_with_the_oil_that_enters_it() -> None:
    """Coconut oil enters, mineral oil does not: it is no surface film any more."""
    assert "enters the hair fibre" in told(judged(SULFATE, "Cocos Nucifera Oil"))
    assert "enters the hair fibre in part" in told(
        judged(SULFATE, "Helianthus Annuus Seed Oil")
    )
    assert "does not enter" in told(judged(SULFATE, "Paraffinum Liquidum"))
    assert "fibre" not in told(judged(SULFATE, "Dimethicone"))


# --- fixatives and neutralisation (E27) ---------------------------------------------


@pytest.mark.parametrize(
    ("gel", "verdict", "says"),
    [
        (
            "Aqua, Acrylates Copolymer, Aminomethyl Propanol",
            "partlyClears",
            "Aminomethyl Propanol neutralises",
        ),
        ("Aqua, Acrylates Copolymer, Glycerin", "doesNotClear", "left as the acid"),
        ("Aqua, Acrylates Copolymer, Arginine", "partlyClears", "Arginine neutralises"),
        ("Aqua, Sodium Acrylates Copolymer", "partlyClears", "neutralised fixative"),
        ("Aqua, Acrylates Copolymer, Zqxv", "open", "may be"),
    ],
    ids=[
        "neutralised",
        "left as the acid",
        "an amino acid",
        "a salt by its name",
        "a line not read",
    ],
)
def test_a_fixative_is_as_water_sensitive_as_it_is_neutralised(
    gel: str, verdict: str, says: str
) -> None:
    """What stands beside it on its label decides; an unread line might be an alkali."""
    film = "Sodium Acrylates Copolymer" if "Sodium" in gel else "Acrylates Copolymer"
    row = judged(WATER, film, left_by=gel)
    assert row.value == verdict
    assert says in told(row)


def test_a_wash_lifts_a_neutralised_fixative_and_is_open_on_the_acid() -> None:
    """Practice speaks of fixatives as sold; of the acid nothing was measured."""
    salt = "Aqua, Acrylates Copolymer, Aminomethyl Propanol"
    acid = "Aqua, Acrylates Copolymer, Glycerin"
    row = judged(SULFATE, "Acrylates Copolymer", left_by=salt)
    assert row.value == "atLeastPartlyClears"
    row = judged(SULFATE, "Acrylates Copolymer", left_by=acid)
    assert row.value == "open"
    assert row.standing == "inferred"


def test_a_claim_about_one_fixative_by_name_stands_above_its_form(
    tmp_path: Path,
) -> None:
    """Who taught what one polymer does is not overruled by what is on its label."""
    layer = tmp_path / "trial.ttl"
    layer.write_text(TRIAL, encoding="utf-8")
    taught = Base.load([layer], cache_folder=tmp_path)
    gel = Product("gel", "styler", "EU", "Aqua, Acrylates Copolymer, Glycerin")
    world = World(taught, load_rulebook(), [gel])
    (row,) = verdicts(Case.of(world, [WATER], sources=["gel"]))
    assert row.value in {"noWashNeeded", "clears"}


TRIAL = """
@prefix abl: <https://abluent.example/ns#> .
@prefix claim: <https://abluent.example/claim/> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .

claim:trial-fixative a abl:RemovalClaim ;
  abl:agent abl:WaterSolvent ; abl:film ing:acrylates-copolymer ;
  abl:atLeast abl:takesAll ; abl:caveat "Invented for a test." ;
  abl:statement "An invented trial." ;
  abl:source src:common-practice ; abl:standing abl:commonPractice .
"""


# --- an amidoamine and an acid ------------------------------------------------------


@pytest.mark.parametrize(
    ("acid", "verdict", "says"),
    [
        ("Lactic Acid", "atMostPartlyClears", "Lactic Acid gives"),
        ("Glutamic Acid", "atMostPartlyClears", "Glutamic Acid gives"),
        ("Stearic Acid", "atMostPartlyClears", "Stearic Acid gives"),
        ("Glycerin", "atMostPartlyClears", "without its charge"),
    ],
)
def test_an_amidoamine_ties_up_an_anionic_once_an_acid_charges_it(
    acid: str, verdict: str, says: str
) -> None:
    """With the acid it is a cation above the anionic; without, an emulsifier."""
    text = f"Aqua, Cetearyl Alcohol, Stearamidopropyl Dimethylamine, {acid}, "
    row = judged(text + "Sodium Cocoyl Isethionate", "Cetearyl Alcohol", kind="co-wash")
    assert row.value == verdict
    assert says in told(row)


@pytest.mark.parametrize(
    ("acid", "rule"), [("Lactic Acid", "left-by-claim"), ("Glycerin", "left-uncharged")]
)
def test_an_amidoamine_is_left_by_its_charge_or_as_a_fatty_amide(
    acid: str, rule: str
) -> None:
    """A conditioner leaves it either way, and how sure that is differs."""
    text = f"Aqua, Cetyl Alcohol, Stearamidopropyl Dimethylamine, {acid}"
    shelf = [Product("it", "conditioner", "EU", text)]
    case = Case.of(World(base(), load_rulebook(), shelf), sources=["it"])
    found = {left.film: left for left in films_left(case, "it")}
    left = found[symbol("Stearamidopropyl Dimethylamine")]
    names = {n.rule.id for n in left.proof.nodes.values() if isinstance(n, RuleNode)}
    assert rule in names
    assert (left.standing == "inferred") == (acid == "Glycerin")


# --- both regimes of a cationic polymer (E16) ---------------------------------------


@pytest.mark.parametrize(
    ("wash", "verdict", "says"),
    [
        (SULFATE, "atLeastPartlyClears", "Nothing cationic on the label"),
        (
            "Aqua, Cocamidopropyl Betaine, Phenoxyethanol, Sodium Lauroyl Sarcosinate",
            "atMostPartlyClears",
            "a little anionic makes Polyquaternium-7 cling",
        ),
        (
            "Aqua, Cetrimonium Chloride, Sodium Cocoyl Isethionate",
            "atMostPartlyClears",
            "tied up by cationic",
        ),
        (
            f"{SULFATE}, Guar Hydroxypropyltrimonium Chloride",
            "atMostPartlyClears",
            "is not counted",
        ),
    ],
    ids=["much", "little", "cationic in excess", "its own polymer not counted"],
)
def test_much_anionic_lifts_a_cationic_polymer_and_a_little_makes_it_cling(
    wash: str, verdict: str, says: str
) -> None:
    """Which regime a wash is in is told, by its label and its balance."""
    row = judged(wash, "Polyquaternium-7")
    assert row.value == verdict
    assert says in told(row)


def test_where_the_balance_is_not_known_the_verdict_is_open() -> None:
    """By law and label alone either charge may be in excess; by custom it is not."""
    text = f"{SULFATE}, Cetrimonium Chloride, Glycerin"
    usual, lawful = (
        World(base(), load_rulebook(), [Product("it", "wash", "EU", text)])
        for _ in range(2)
    )
    lawful.amounts.practice = False
    known, open_ = (
        verdicts(Case.of(each, ["it"], [symbol("Behentrimonium Chloride")]))[0]
        for each in (usual, lawful)
    )
    assert (known.value, open_.value) == ("atMostPartlyClears", "atMostPartlyClears")
    assert "leaves open whether its anionic surfactants are in excess" in told(open_)


# --- the bound of a chelant ----------------------------------------------------------


def test_the_calcium_bound_is_that_of_the_published_arithmetic() -> None:
    """10 g with 0.1 % of the dihydrate bind 1.08 mg, what is in 9.0 mL (E30).

    The rule comes to what the functions do that are held against that figure.
    """
    bound = chelant_millimoles(10, 0.1, 372.24)
    text = f"{SULFATE}, Disodium EDTA (0.1%)"
    row = judged(text, "hard-water minerals", "hard")
    assert f"{calcium_bound(bound):.4g} mg of calcium" in told(row)
    assert f"{water_softened(bound, 300):.4g} mL of water" in told(row)


def test_a_wide_level_gives_a_wide_bound() -> None:
    """What the label leaves open stays open in the figure."""
    row = judged(f"{SULFATE}, Tetrasodium EDTA", "hard-water minerals", "hard")
    assert any(
        "mg of calcium" in each and "above 0 and" in each for each in row.reasons
    )


def test_a_chelant_in_traces_falls_short_of_lime_soap() -> None:
    """Enough of it takes the calcium (E31); a trace takes about 1 mg (E30)."""
    much = judged("Aqua, Tetrasodium EDTA, Panthenol", "lime soap", "hard")
    trace = "Aqua, Cetearyl Alcohol, Phenoxyethanol, Disodium EDTA"
    little = judged(trace, "lime soap", "hard", kind="conditioner")
    assert much.value == "open"
    assert little.value == "open"
    assert "mg of calcium" in told(little)


def test_the_water_that_uses_up_a_soap_is_told() -> None:
    """5 % of potassium cocoate (238.4 g/mol) in 10 g: 2.1 mmol, half as much calcium.

    300 ppm of calcium carbonate are 2.997 mmol/L, so 350 mL hold that much.
    """
    text = "Aqua, Potassium Cocoate (5%), Glycerin"
    row = judged(text, "lime soap", "hard")
    assert "349.8 mL of water of 300 ppm" in told(row)
    assert "300 ppm" not in told(judged(text, "lime soap", "soft"))


def test_of_a_chelant_of_unknown_stoichiometry_no_figure_is_given() -> None:
    """Phytate binds several calcium ions; how many is not known here."""
    row = judged(f"{SULFATE}, Sodium Phytate", "hard-water minerals", "hard")
    assert row.value == "atMostPartlyClears"
    assert not any("mg of calcium" in each for each in row.reasons)
