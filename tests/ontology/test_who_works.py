"""Who does the work: what cleans in which product, and what a product leaves or not.

Each label is invented; a row says at least and at most (none, part, all) and why.
"""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.roles import EFFECTS
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.rows import LEFT_WORDS
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    films_left,
    not_left,
    verdicts,
)
from abluent.engine.questions.world.alone import alone
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World

NONE, PART, ALL = range(3)


@cache
def empty() -> World:
    return World(Base.load(), load_rulebook())


def ends(label: str, film: str, kind: str = "wash", *stated: str) -> tuple[int, int]:
    """What a product takes of a film at least and at most, as places in the scale."""
    symbol = empty().base.lookup(film)
    assert symbol, film
    world = empty().with_products([Product("it", kind, "EU", f"Aqua, {label}")])
    (row,) = verdicts(Case.of(world, ["it"], [symbol], stated=stated))
    least, most = ENDS[row.role]
    return EFFECTS.index(least), EFFECTS.index(most)


def left(label: str, kind: str, market: str = "EU") -> dict[str, str]:
    """Whether each ingredient is left: yes, may, no or not known."""
    world = empty().with_products([Product("it", kind, market, f"Aqua, {label}")])
    case = Case.of(world, sources=["it"])
    rows = [*films_left(case, "it"), *not_left(case, "it")]
    return {world.base.label(row.film): LEFT_WORDS[row.how] for row in rows}


@pytest.mark.parametrize(
    ("kind", "label"),
    [
        ("styler", "PEG-25 Hydrogenated Castor Oil, Ceteareth-25, Beeswax, Parfum"),
        ("rinse", "Acetic Acid, Polysorbate 20, Parfum"),
        ("leave-in", "Polysorbate 20, Panthenol, Parfum"),
        ("conditioner", "Cetearyl Alcohol, Ceteareth-20, Parfum"),
    ],
)
def test_what_is_not_sold_to_clean_cleans_nothing(kind: str, label: str) -> None:
    """A solubiliser, an emulsifier or a hold wax takes no oil and no silicone."""
    for film in ("Dimethiconol", "Petrolatum"):
        assert ends(label, film, kind)[0] == NONE
    assert ends(label, "Dimethiconol", kind)[1] < ALL


def test_a_polysorbate_adds_nothing_to_an_acid_rinse() -> None:
    """In a rinse it dissolves the perfume; in a wash of its own it may clean."""
    for film in ("Acrylates Copolymer", "Cocos Nucifera Oil"):
        bare = ends("Acetic Acid, Parfum", film, "rinse")
        assert ends("Acetic Acid, Polysorbate 20, Parfum", film, "rinse") == bare
    oil = "Cocos Nucifera Oil"
    washing = ends("Polysorbate 20, Decyl Glucoside, Parfum", oil)
    assert washing > ends("Polysorbate 20, Parfum", oil, "rinse")


def test_an_acid_counts_in_a_rinse_and_at_a_level() -> None:
    """Not where it sets the pH of a wash, and not among the traces of a rinse."""
    film, hard = "hard-water minerals", "in hard water"
    plain = ends("Sodium Laureth Sulfate, Cocamidopropyl Betaine", film, "wash", hard)
    label = "Sodium Laureth Sulfate, Cocamidopropyl Betaine, Citric Acid"
    assert ends(label, film, "wash", hard) == plain
    rinse = ends("Citric Acid, Parfum", film, "rinse", hard)
    trace = ends("Glycerin, Phenoxyethanol, Parfum, Citric Acid", film, "rinse", hard)
    assert rinse[1] > trace[1] == NONE


@pytest.mark.parametrize(
    ("name", "kind"),
    [("Acetum", "rinse"), ("Citric Acid", "rinse"), ("Decyl Glucoside", "wash")],
)
def test_an_acid_by_itself_is_a_rinse(name: str, kind: str) -> None:
    """What is asked of vinegar is asked of it in water, and not of a wash."""
    symbol = empty().base.lookup(name)
    assert symbol
    assert alone(empty(), symbol).kind == kind


def test_a_trace_of_edta_is_no_chelating_wash() -> None:
    """Calcium bound against calcium there is, and soap takes its share first."""
    film, hard = "hard-water minerals", "in hard water"
    sulfonate = "Sodium C14-16 Olefin Sulfonate"
    strong = ends(f"{sulfonate}, Tetrasodium EDTA 4%, Parfum", film, "wash", hard)
    trace = ends(f"{sulfonate}, Parfum, Tetrasodium EDTA", film, "wash", hard)
    soap = ends("Potassium Cocoate, Tetrasodium EDTA 2%, Parfum", film, "wash", hard)
    assert strong[0] == PART
    assert trace == (NONE, NONE)
    assert soap[0] == NONE


@pytest.mark.parametrize(
    ("label", "least", "most"),
    [
        # Ahead of a humectant or a cleanser: made to chelate.
        ("Sodium Laureth Sulfate, Tetrasodium EDTA, Glycerin, Parfum", PART, PART),
        ("Decyl Glucoside, Sodium Phytate, Lauryl Glucoside", PART, PART),
        # How much there is cannot be told.
        ("Sodium Laureth Sulfate, Tetrasodium EDTA, Parfum", NONE, PART),
        # A weak one, that is mostly a buffer.
        ("Sodium Laureth Sulfate, Sodium Gluconate, Glycerin, Parfum", NONE, PART),
        # Behind a perfume it guards the product.
        ("Sodium Laureth Sulfate, Parfum, Tetrasodium EDTA, Glycerin", NONE, NONE),
        ("Decyl Glucoside, Sodium Benzoate, Sodium Phytate", NONE, NONE),
        # Soap spends it.
        ("Sodium Palmate, Tetrasodium EDTA, Glycerin", NONE, PART),
    ],
)
def test_a_chelant_counts_by_where_it_stands(label: str, least: int, most: int) -> None:
    """High on the list it takes part of the minerals, as the trade counts on."""
    film, hard = "hard-water minerals", "in hard water"
    assert ends(label, film, "wash", hard) == (least, most)


OIL = "Argania Spinosa Kernel Oil"


@pytest.mark.parametrize(
    ("label", "least"),
    [
        ("Sodium Lauryl Sulfate, Cocamidopropyl Betaine, Glycerin, Parfum", PART),
        ("Sodium Lauryl Sulfate 3%, Cetrimonium Chloride 3%, Glycerin", NONE),
        ("Sodium Lauryl Sulfate 3%, Cetrimonium Chloride 3.3%, Glycerin", NONE),
        ("Sodium Lauryl Sulfate 12%, Cetrimonium Chloride 1%, Glycerin", PART),
        (
            "Sodium Cocoyl Isethionate 4%, Cetrimonium Chloride 4%, "
            "Cocamidopropyl Betaine 3%",
            NONE,
        ),
    ],
)
def test_near_balance_nothing_is_in_excess(label: str, least: int) -> None:
    """Nor is what keeps the complex of the two charges dispersed counted on."""
    assert ends(label, OIL)[0] == least


def test_a_wash_leaves_only_films_of_the_narrowest_family() -> None:
    """Its own cationic cellulose is no vinyl copolymer, nor its silicone a soluble."""
    bare = "Sodium Laureth Sulfate, Cocamidopropyl Betaine"
    cellulose = f"{bare}, Polyquaternium-10, Parfum"
    for film in ("Polyquaternium-11", "VP/VA Copolymer"):
        assert ends(cellulose, film)[0] == PART
        assert ends(cellulose, film)[1] == ends(f"{bare}, Parfum", film)[1]
    assert ends(cellulose, "Guar Hydroxypropyltrimonium Chloride")[1] == PART
    quat = f"{bare}, Silicone Quaternium-16, Parfum"
    assert ends(quat, "PEG-12 Dimethicone")[1] == ALL
    assert ends(quat, "Amodimethicone")[1] == PART


def test_a_wash_with_a_fatty_alcohol_leaves_some() -> None:
    """At work it does, among the traces it does not, in a list without order it may."""
    alcohol, bare = "Cetyl Alcohol", "Sodium Laureth Sulfate"
    assert ends(f"{bare}, {alcohol}, Parfum", alcohol) == (NONE, PART)
    assert ends(f"{bare}, Parfum, Phenoxyethanol, {alcohol}", alcohol)[1] == ALL
    assert left(f"{bare}, {alcohol}, Parfum", "wash")[alcohol] == "yes"
    assert left(f"{bare}, Parfum, {alcohol}", "wash")[alcohol] == "not known"


def test_what_a_carboxylate_takes_of_a_cationic_polymer_is_withdrawn() -> None:
    """Nobody measured a glutamate or a sarcosinate; a sulfosuccinate is by practice."""
    film = "Polyquaternium-10"
    assert ends("Sodium Cocoyl Glutamate, Glycerin", film)[0] == NONE
    assert ends("Sodium Lauroyl Sarcosinate, Glycerin", film)[0] == NONE
    assert ends("Disodium Laureth Sulfosuccinate, Glycerin", film)[0] == PART


def test_a_thickener_of_a_wash_mostly_goes_with_the_rinse() -> None:
    """Whether any stays is not known, in a wash and where it is not rinsed out."""
    label = "Decyl Glucoside, Carbomer, Acrylates Copolymer, Parfum"
    told = left(label, "wash")
    assert told["Carbomer"] == told["Acrylates Copolymer"] == "not known"
    assert left(label, "leave-in")["Carbomer"] == "not known"
    assert left(label, "leave-in")["Acrylates Copolymer"] == "yes"


def test_what_a_product_leaves_has_four_answers() -> None:
    """Volatiles are gone; of a dye that nobody spoke of nothing is known."""
    label = "Sodium Laureth Sulfate, Dimethicone, Zinc Pyrithione, Carbomer"
    told = left(f"{label}, Basic Blue 99, Cyclopentasiloxane, Parfum", "wash", "US")
    assert told["Dimethicone"] == told["Zinc Pyrithione"] == "yes"
    assert told["Cyclopentasiloxane"] == "no"
    assert told["Basic Blue 99"] == told["Carbomer"] == "not known"
    assert "Sodium Laureth Sulfate" not in told
    assert set(left("Dimethicone, Parfum", "other").values()) == {"may"}


def test_a_list_in_no_order_is_built_on_one_of_its_cleansers() -> None:
    """Which of two sulfates does the work is not known; each takes part of a wax."""
    head = "Drug Facts\nActive ingredient: Pyrithione zinc 1%\n\nInactive ingredients: "
    both = "ammonium laureth sulfate, ammonium lauryl sulfate, citric acid, menthol"
    mild = "ammonium lauryl sulfate, citric acid, menthol, sodium cocoyl glutamate"
    other = "ammonium lauryl sulfate, citric acid, decyl glucoside, menthol"
    for inactive, least in ((both, PART), (mild, NONE), (other, NONE)):
        world = empty().with_products(
            [Product("it", "wash", "US", f"{head}{inactive}, water")]
        )
        symbol = empty().base.lookup("Beeswax")
        assert symbol
        (row,) = verdicts(Case.of(world, ["it"], [symbol]))
        assert EFFECTS.index(ENDS[row.role][0]) == least, inactive


CATIONIC_BASE = "Cetearyl Alcohol, Behentrimonium Chloride, Cocamidopropyl Betaine"


@pytest.mark.parametrize(
    ("label", "film", "least", "most"),
    [
        (CATIONIC_BASE, "Acrylates Copolymer", NONE, PART),
        (CATIONIC_BASE, "PVP", PART, ALL),
        ("Coco-Glucoside, Cocamidopropyl Betaine", "Acrylates Copolymer", PART, ALL),
    ],
)
def test_cationics_bind_a_neutralised_acrylate(
    label: str, film: str, least: int, most: int
) -> None:
    """A betaine beside them does not free it; a film without charge goes as it did."""
    held = f"Aqua, {film}, Aminomethyl Propanol"
    symbol = empty().base.lookup(film)
    assert symbol
    shelf = [
        Product("it", "wash", "EU", f"Aqua, {label}"),
        Product("gel", "styler", "EU", held),
    ]
    case = Case.of(empty().with_products(shelf), ["it"], [symbol], ["gel"])
    (row,) = (row for row in verdicts(case) if row.source)
    assert tuple(map(EFFECTS.index, ENDS[row.role])) == (least, most)


@pytest.mark.parametrize(
    ("label", "late"),
    [
        ("Tetrasodium EDTA, Panthenol, Carbomer", True),
        ("Tetrasodium EDTA, Carbomer, Glycerin", False),
        ("Parfum, Tetrasodium EDTA, Carbomer, Glycerin", True),
        # Humectants too, and used at tenths of 1 %.
        ("Tetrasodium EDTA, Sodium Hyaluronate, Carbomer", True),
        ("Tetrasodium EDTA, Caprylyl Glycol, Carbomer", True),
    ],
)
def test_a_chelant_ahead_of_a_humectant_marks_no_line(label: str, late: bool) -> None:
    """It may be there to chelate; behind a perfume it is a trace like the rest."""
    text = f"Aqua, Sodium Laureth Sulfate, {label}"
    world = empty().with_products([Product("it", "wash", "EU", text)])
    model = Case.of(world, ["it"], [empty().base.lookup("Dimethicone") or ""]).model
    assert model.holds("late", ("product/it", "carbomer")) == late
