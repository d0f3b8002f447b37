"""Mildness: figures by test, the order of the trade, and washes that compare."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import permutations

import pytest
from abluent.engine.base.contract import MILD, MILDER, STRONG
from abluent.engine.base.phrases import product_symbol
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product, World
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf

SLS, SLES = "Sodium Lauryl Sulfate", "Sodium Laureth Sulfate"

Interval = tuple[Fraction | int, Fraction | int]


@cache
def base() -> Base:
    return Base.load()


def judged(*labels: str, market: str = "EU") -> Case:
    """A case of washes `0`, `1` and so on with these labels."""
    made = [Product(str(n), "wash", market, each) for n, each in enumerate(labels)]
    world = World(base(), load_rulebook(), made)
    return Case.of(world, [each.name for each in made])


def milder(case: Case) -> set[tuple[str, str]]:
    """The pairs of washes of which the first is milder, by name."""
    rows = case.model.match(MILDER, (None, None))
    return {(case.world.name(a), case.world.name(b)) for a, b in rows}


def shown(label: str, test: str) -> Interval | None:
    """What a wash of a label shows by a test."""
    rows = judged(label).model.match("shows", (product_symbol("0"), test, None, None))
    return next(((row[2], row[3]) for row in rows), None)  # type: ignore[return-value]


def found(case: Case) -> set[tuple[str, str, str]]:
    """What tests found of two agents."""
    rows = case.model.match("found", (None, None, None))
    return {(str(a), str(b), str(test)) for a, b, test in rows}


# --- the demo shelf ---


@cache
def demo() -> Case:
    """The washes of the demo shelf."""
    world = World(base(), load_rulebook(), products(demo_shelf()))
    kinds = {"wash", "co-wash"}
    washes = [p.name for p in world.products.values() if p.kind in kinds]
    return Case.of(world, washes)


@pytest.mark.parametrize(
    ("mild", "harsh"),
    [
        ("Dune Grass Wash", "Sandpiper Wash"),
        ("Dune Grass Wash", "Shallows Wash"),
        ("Shallows Wash", "Plover Mild Wash"),
        ("Sandpiper Wash", "Lamp Room Clarifying Wash"),
        ("Plover Mild Wash", "Tideline Wash"),
        ("Plover Mild Wash", "Breakwater Wash"),
        ("Plover Mild Wash", "Shingle Soap Wash"),
        ("Lamp Room Clarifying Wash", "Gullwing Silk Wash"),
        ("Backwater Cream Cleanser", "Tideline Wash"),
    ],
)
def test_the_order_of_the_trade(mild: str, harsh: str) -> None:
    """Glucosides, amphoterics, mild anionics and strong ones compare, one way only."""
    assert (mild, harsh) in milder(demo())
    assert (harsh, mild) not in milder(demo())


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Tideline Wash", "Breakwater Wash"),
        ("Tideline Wash", "Shingle Soap Wash"),
        ("Plover Mild Wash", "Lamp Room Clarifying Wash"),
        ("Shallows Wash", "Sandpiper Wash"),
        ("Backwater Cream Cleanser", "Dune Grass Wash"),
    ],
)
def test_what_nothing_compares(one: str, other: str) -> None:
    """Two washes of one tier are not thereby equal, nor is either the milder."""
    assert {(one, other), (other, one)}.isdisjoint(milder(demo()))


def test_most_pairs_compare() -> None:
    """More than half of the pairs of washes of the demo shelf compare."""
    pairs = {frozenset(pair) for pair in milder(demo())}
    assert len(pairs) >= 35


# --- what decides, and what keeps it open ---


def test_a_test_decides_within_a_tier() -> None:
    """Ether sulfate and alkyl sulfate are of one tier; tests found the first milder."""
    case = judged("Aqua, Sodium Laureth Sulfate", "Aqua, Sodium Lauryl Sulfate")
    assert milder(case) == {("0", "1")}
    tests = {test for _, _, test in found(case)}
    assert tests >= {"guineaPigCorneumSwelling", "humanCorneumSwelling"}


def test_a_test_against_the_trade_leaves_it_open() -> None:
    """In cultured skin a glutamate did more than an ether sulfate: no order of them."""
    case = judged("Aqua, Sodium Lauroyl Glutamate", "Aqua, Sodium Laureth Sulfate")
    one, other = "sodium-laureth-sulfate", "sodium-lauroyl-glutamate"
    assert (one, other, "culturedSkin") in found(case)
    assert milder(case) == set()


def test_figures_that_a_study_did_not_tell_apart_give_no_order() -> None:
    """Ends that part are not enough where a study says that it found no difference."""
    one, other = "Sodium Lauryl Sulfate", "Sodium Dodecylbenzenesulfonate"
    case = judged(f"Aqua, {one}", f"Aqua, {other}")
    assert milder(case) == set()


@pytest.mark.slow
@pytest.mark.parametrize(
    "label",
    [
        "Aqua, Merrowex Tidal Complex, Sodium Cocoyl Glutamate, Glycerin",
        "Aqua, Sodium Cocoyl Glutamate, Merrowex Tidal Complex, Glycerin",
    ],
)
def test_a_line_that_was_not_read_leaves_it_open(label: str) -> None:
    """What was not understood at a working level may be harsh, or may be the main."""
    case = judged(label, "Aqua, Sodium Lauryl Sulfate", "Aqua, Decyl Glucoside")
    assert milder(case) == {("2", "1")}


@pytest.mark.slow
def test_a_line_not_read_among_traces_does_not_count() -> None:
    """Below the 1 % line it changes nothing."""
    label = "Aqua, Sodium Cocoyl Glutamate, Phenoxyethanol, Merrowex Tidal Complex"
    case = judged(label, "Aqua, Sodium Lauryl Sulfate")
    assert milder(case) == {("0", "1")}


def test_the_main_cleanser_decides_for_the_harsher_side() -> None:
    """A little sulfate below a taurate makes no wash of sulfate out of it."""
    case = judged(
        "Aqua, Sodium Laureth Sulfate",
        "Aqua, Sodium Methyl Cocoyl Taurate, Sodium Lauryl Sulfate",
    )
    assert milder(case) == set()


def test_every_cleanser_decides_for_the_milder_side() -> None:
    """A wash with a sulfate somewhere at work is not milder than one of sulfate."""
    case = judged(
        "Aqua, Decyl Glucoside, Sodium Laureth Sulfate",
        "Aqua, Sodium Laureth Sulfate, Glycerin",
    )
    assert milder(case) == set()


def test_without_an_order_any_cleanser_may_be_the_main_one() -> None:
    """A list by alphabet does not tell which cleanser leads."""
    drug = (
        "Drug Facts\nActive ingredient: Pyrithione zinc 1%\nPurpose: Anti-dandruff\n\n"
        "Inactive ingredients: sodium cocoyl isethionate, sodium lauryl sulfate, water"
    )
    mild = "Water, Sodium Cocoyl Glutamate", "Water, Decyl Glucoside"
    case = judged(drug, *mild, market="US")
    assert ("2", "0") in milder(case)
    assert ("1", "0") not in milder(case)


def test_nothing_that_cleans_is_placed_nowhere() -> None:
    """A label without anything that washes is neither milder nor harsher."""
    case = judged("Aqua, Glycerin, Parfum", "Aqua, Sodium Lauryl Sulfate", "Aqua")
    assert milder(case) == set()


def test_water_is_milder_than_what_cleans() -> None:
    """Water alone is milder than any wash that holds something that cleans."""
    world = World(
        base(), load_rulebook(), [Product("0", "wash", "EU", "Aqua, Decyl Glucoside")]
    )
    assert ("water", "0") in milder(Case.of(world, ["0", "water"]))


# --- intervals by test ---


@pytest.mark.slow
@pytest.mark.parametrize(
    ("label", "test", "interval"),
    [
        # mean less and plus one standard deviation, as the tables have them
        ("Sodium Lauryl Sulfate", "humanCorneumSwelling", (21, 43)),
        ("Sodium Lauryl Sulfate", "collagenSwelling", ("10.1", "10.3")),
        # one mole and three moles of ethylene oxide: both may be meant
        ("Sodium Laureth Sulfate", "guineaPigCorneumSwelling", ("0.1", "9.5")),
        # a betaine was seen to lower it by 45 % at most
        (
            "Sodium Laureth Sulfate, Cocamidopropyl Betaine",
            "zeinOfSupplier",
            (220, 400),
        ),
        # of two in descending order the second is half at most
        (f"{SLES}, {SLS}", "zeinOfSupplier", (400, 475)),
        (f"{SLS}, {SLES}", "zeinOfSupplier", (400, 550)),
        # more betaine than was tried, and a glucoside: nothing bounds it from below
        ("Cocamidopropyl Betaine, Sodium Lauryl Sulfate", "zeinOfSupplier", (0, 550)),
        ("Sodium Lauryl Sulfate, Coco-Glucoside", "zeinOfSupplier", (0, 550)),
    ],
)
def test_what_a_wash_shows(
    label: str, test: str, interval: tuple[int | str, int | str]
) -> None:
    """A wash shows what its figures, their order and what softens them allow."""
    low, high = (Fraction(each) for each in interval)
    assert shown(f"Aqua, {label}", test) == (low, high)


@pytest.mark.parametrize(
    "label",
    [
        "Aqua, Sodium Cocoyl Glutamate",
        "Aqua, Sodium Lauryl Sulfate, Sodium Cocoyl Glutamate",
        "Aqua, Merrowex Tidal Complex, Sodium Lauryl Sulfate",
    ],
)
def test_a_wash_without_an_interval(label: str) -> None:
    """Without a figure of all that decides, or of all that is there, none is given."""
    assert shown(label, "zeinOfSupplier") is None


@pytest.mark.slow
def test_intervals_that_part_are_an_order_by_that_test() -> None:
    """Alone, the ether sulfate shows less than the alkyl sulfate by three tests."""
    case = judged("Aqua, Sodium Laureth Sulfate", "Aqua, Sodium Lauryl Sulfate")
    rows = case.model.match("milderBy", (None, None, None))
    assert {(case.world.name(a), case.world.name(b), test) for a, b, test in rows} == {
        ("0", "1", "collagenSwelling"),
        ("0", "1", "guineaPigCorneumSwelling"),
        ("0", "1", "humanCorneumSwelling"),
        ("0", "1", "zeinOfSupplier"),
    }


@pytest.mark.parametrize(
    ("one", "other", "pairs"),
    [
        (f"{SLES}, Cocamidopropyl Betaine", SLES, {("0", "1")}),
        (f"{SLES}, Coco-Glucoside, Glycerin", f"{SLES}, Glycerin", {("0", "1")}),
        # both softened, by how much nobody can tell
        (f"{SLES}, Cocamidopropyl Betaine", f"{SLES}, Coco-Glucoside", set()),
        # not the same cleansers
        (f"{SLES}, {SLS}, Cocamidopropyl Betaine", SLES, set()),
        # the betaine stands among the traces
        (f"{SLES}, Phenoxyethanol, Cocamidopropyl Betaine", SLES, set()),
    ],
)
def test_the_same_cleansers_softened_are_milder(
    one: str, other: str, pairs: set[tuple[str, str]]
) -> None:
    """An anionic with a betaine is milder than alone."""
    assert milder(judged(f"Aqua, {one}", f"Aqua, {other}")) == pairs


# --- the whole base ---


def test_the_order_of_all_surfactants_is_an_order() -> None:
    """No surfactant comes round to itself, and the order carries on."""
    kinds: dict[tuple[str, ...], str] = {}
    figured = {m for f in base().instances("Measurement") for m in measured(f)}
    for symbol in base().instances("Surfactant"):
        kinds.setdefault(tuple(base().classes_of(symbol)), symbol)
    chosen = sorted({*kinds.values(), *figured} - {"water"})
    labels = [f"Aqua, {base().label(symbol)}" for symbol in chosen]
    order = milder(judged(*labels))
    assert len(order) > 500
    assert not [pair for pair in order if pair[::-1] in order]
    after: dict[str, set[str]] = {}
    for one, other in order:
        after.setdefault(one, set()).add(other)
    broken = [
        (chosen[int(a)], chosen[int(b)], chosen[int(c)])
        for a, b in order
        for c in after.get(b, set()) - after[a]
    ]
    assert broken == []


def measured(figure: str) -> list[str]:
    """What a figure of mildness is of; nothing for any other figure."""
    record = base().record(figure)
    return list(record.links("measures")) if record.links("byTest") else []


def test_no_figure_is_compared_across_tests() -> None:
    """Of two things figured by different tests alone, neither is found gentler."""
    model = demo().world.known.shared.model
    rows = list(model.match("gentler", (None, None, None)))
    assert rows
    by_test: dict[object, set[object]] = {}
    for figure in base().instances("Measurement"):
        record = base().record(figure)
        for test in record.links("byTest"):
            by_test.setdefault(test, set()).update(record.links("measures"))
    assert all({one, other} <= by_test[test] for one, other, test in rows)


def test_every_test_has_something_to_say() -> None:
    """No test of mildness is without a figure or an order."""
    used = {
        test
        for kind in ("Measurement", "MildnessClaim")
        for each in base().instances(kind)
        for test in base().record(each).links("byTest")
    }
    assert used == set(base().instances("MildnessTest"))
    assert all(a != b for a, b in permutations(sorted(used), 2))


# --- mild, or strong, taken by itself ---


@pytest.mark.parametrize(
    ("label", "sort"),
    [
        ("Aqua, Decyl Glucoside", MILD),
        ("Aqua, Sodium Cocoyl Isethionate, Cocamidopropyl Betaine", MILD),
        ("Aqua, Cetearyl Alcohol, Behentrimonium Chloride", MILD),
        ("Aqua, Decyl Glucoside, Sodium Laureth Sulfate", STRONG),
        ("Aqua, Sodium Cocoate, Glycerin", STRONG),
        # A name that nobody knows, and no cleanser.
        ("Aqua, Decyl Glucoside, Ignotum Nemini", ""),
        ("Aqua, Glycerin", ""),
    ],
)
def test_a_wash_is_mild_or_strong_or_neither(label: str, sort: str) -> None:
    """By the order of the trade; what was not placed or not read is never mild."""
    case, wash = judged(label), product_symbol("0")
    assert [s for s in (MILD, STRONG) if case.model.holds(s, (wash,))] == [sort] * bool(
        sort
    )


def test_a_mild_wash_is_milder_than_each_strong_one() -> None:
    """On the demo shelf the sorts keep to the order of washes."""
    case = demo()
    sorts = {
        s: {case.world.name(w) for (w,) in case.model.match(s, (None,))}
        for s in (MILD, STRONG)
    }
    assert all(sorts.values())
    assert not sorts[MILD] & sorts[STRONG]
    pairs = milder(case)
    assert not {(a, b) for a, b in pairs if a in sorts[STRONG] and b in sorts[MILD]}
    assert {b for a, b in pairs if a in sorts[MILD]} >= sorts[STRONG]
