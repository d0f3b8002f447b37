"""How mild and how strong washes are, and their order, on the demo shelf."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.checking import checker
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.forms.question import Unanswerable, ask
from abluent.engine.questions.world.world import Product, World
from abluent.engine.trace.answer import traces
from abluent.grammar.query.parse import parse_query
from abluent.shell.pages.answer_data import answer_json
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    return World(Base.load(), load_rulebook(), products(demo_shelf()))


def answer(text: str, of: World | None = None) -> Answer:
    return ask(parse_query(text), of or world())


def shelf(*labels: str) -> World:
    """A shelf of washes `A`, `B` and so on."""
    made = [
        Product(n, "wash", "EU", each) for n, each in zip("ABCD", labels, strict=False)
    ]
    return World(Base.load(), load_rulebook(), made)


def found(answer: Answer, kind: str) -> list[str]:
    return [text for f in answer.findings if f.kind == kind for text in f.items]


# --- how mild ---


def test_the_first_sentence_tells_how_it_stands() -> None:
    """What leads it, and to how many of the others it is milder, harsher, neither."""
    said = answer('how mild is "Breakwater Wash"').sentence
    assert said == (
        "Breakwater Wash is among the harshest to skin of the 11 other washes at "
        "hand: it is built on Sodium Laureth Sulfate, an alkyl ether sulfate. The "
        "trade counts a wash on a conditioner base as milder than one of sulfate, "
        "olefin sulfonate or soap."
    )


def test_each_test_has_a_figure_of_its_own() -> None:
    """An interval by each test, with what decides it; nothing sums them up."""
    figures = found(answer('how mild is "Breakwater Wash"'), "figure")
    assert figures == [
        "swelling of a collagen film in mL/g: 0 to 7.4 (Sodium Laureth Sulfate alone "
        "4.3 to 4.5, Sodium Lauryl Sulfate alone 10.1 to 10.3).",
        "swelling of guinea pig corneum in %: 0 to 13.05 (Sodium Laureth Sulfate alone "
        "0.1 to 9.5, Sodium Lauryl Sulfate alone 9.6 to 16.6).",
        "swelling of human corneum in %: 0 to 30 (Sodium Laureth Sulfate alone 11 to "
        "17, Sodium Lauryl Sulfate alone 21 to 43).",
        "the zein test of a supplier in mg N per 100 mL: 0 to 475 (Sodium Laureth "
        "Sulfate alone 400, Sodium Lauryl Sulfate alone 550).",
    ]


def test_what_softens_it_and_who_found_it() -> None:
    """The softeners by name; each method with its work."""
    told = answer('how mild is "Breakwater Wash"')
    heads = [f.head for f in told.findings]
    assert "Made milder by: Cocamide MEA and Cocamidopropyl Betaine" in heads
    assert any("Rhein L. D." in text for text in found(told, "method"))


def test_a_wash_without_figures_says_what_is_lacking() -> None:
    """No figure is made up; the order of the trade and patch tests stand in."""
    told = answer('how mild is "Dune Grass Wash"')
    assert found(told, "figure") == []
    (lacking,) = (f.head for f in told.findings if f.kind == "lacking")
    assert lacking.startswith("No figure of its mildness by a test: ")
    assert "Decyl Glucoside" in lacking
    assert any("patched at 5 %" in text for text in found(told, "found"))
    assert "The trade counts glucosides" in told.sentence


def test_several_washes_are_told_each_by_its_name() -> None:
    told = answer('how mild are "Dune Grass Wash" and "Shallows Wash"')
    heads = {f.head.partition(":")[0] for f in told.findings}
    assert heads == {"Dune Grass Wash", "Shallows Wash"}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("label", "said"),
    [
        ("Aqua, Glycerin", "A holds no cleanser, as far as its label shows."),
        (
            "Aqua, Merrowex Tidal Complex, Decyl Glucoside",
            "A: it is built on Decyl Glucoside, an alkyl glucoside, but something at "
            "work on its label was not understood.",
        ),
    ],
)
def test_what_cannot_be_told(label: str, said: str) -> None:
    assert answer('how mild is "A"', shelf(label)).sentence == said


@pytest.mark.slow
def test_the_answer_can_be_traced() -> None:
    """Every row has a proof, figures and their arithmetic included."""
    query = 'how mild is "Breakwater Wash"'
    found = traces(answer(query), query)
    assert "shows" in str(found)
    for trace in found:
        assert checker.check(trace).problems == ()


def test_the_machine_readable_face_has_numbers() -> None:
    """A figure stands as numbers with its test; a pair as a sentence."""
    rows = answer_json(answer('how mild is "Breakwater Wash"'), "")["answers"]
    by_test = {row["test"]: (row["low"], row["high"]) for row in rows if "test" in row}
    assert by_test["swelling of human corneum in %"] == (0.0, 30.0)
    says = [row["says"] for row in rows]
    assert "Dune Grass Wash is milder to skin than Breakwater Wash" in says


# --- rank ---


def test_washes_are_ranked_by_steps() -> None:
    """Each stands as far to the harsh end as what compares allows."""
    told = answer("rank washes")
    assert told.sentence == (
        "The mildest first, as far as they compare: Dune Grass Wash; then "
        "Shallows Wash and Sandpiper Wash; then Backwater Cream Cleanser, Fog Bank "
        "Wash, Lamp Room Clarifying Wash and Plover Mild Wash; then Tideline Wash, "
        "Breakwater Wash, Gullwing Silk Wash, Shingle Soap Wash and Ferryman "
        "Dandruff Wash."
    )
    assert told.notes[0].startswith("39 of 66 pairs compare.")


def test_my_shelf_is_ranked_by_its_washes() -> None:
    """What is no wash is left out; a product named by itself is not."""
    assert answer("rank my shelf").members == answer("rank washes").members


@pytest.mark.slow
def test_a_ranking_shows_the_figures_and_how_they_were_found() -> None:
    """Of each wash what leads it, its intervals by test, and what was not read."""
    labels = ("Aqua, Sodium Lauryl Sulfate", "Aqua, Coco-Glucoside, Quillowax Base")
    told = answer("rank my washes", shelf(*labels))
    first, second = found(told, "figure")
    assert first.startswith("A: Sodium Lauryl Sulfate; ")
    assert "swelling of human corneum in % 21 to 43" in first
    assert second.endswith("a line at work on its label was not understood.")
    assert any("Rhein L. D." in each for each in found(told, "method"))


def test_what_nothing_compares_stands_apart() -> None:
    labels = (
        "Aqua, Sodium Lauryl Sulfate",
        "Aqua, Decyl Glucoside",
        "Aqua, Diethylhexyl Sodium Sulfosuccinate",
    )
    told = answer("rank washes", shelf(*labels))
    assert told.sentence.endswith(
        "compare: B; then A. Nothing compares C with any of them."
    )


def test_nothing_to_rank() -> None:
    told = answer("rank washes", shelf("Aqua, Sodium Lauryl Sulfate"))
    assert told.sentence == "Nothing compares these washes by mildness."


@pytest.mark.parametrize("question", ["rank conditioners", "how mild is dimethicone"])
def test_what_is_no_wash_is_not_ranked(question: str) -> None:
    with pytest.raises(Unanswerable, match="no wash is named"):
        answer(question)


# --- milder than, mildest first ---


@pytest.mark.parametrize(
    ("other", "said"),
    [
        (
            "Tideline Wash",
            "Yes: Plover Mild Wash is milder to skin than Tideline Wash.",
        ),
        (
            "Dune Grass Wash",
            "No: Dune Grass Wash is milder to skin than Plover Mild Wash.",
        ),
        (
            "Lamp Room Clarifying Wash",
            "Cannot tell them apart: the order of the trade sets Plover Mild Wash and "
            "Lamp Room Clarifying Wash on one rung of mildness to skin, and no test "
            "known here settles which is milder.",
        ),
        (
            "Fog Bank Wash",
            "Cannot tell: nothing compares Plover Mild Wash with Fog Bank Wash by "
            "mildness to skin.",
        ),
    ],
)
def test_whether_one_is_milder(other: str, said: str) -> None:
    """Yes, no by the reverse, or open; never bare."""
    told = answer(f'is "Plover Mild Wash" milder than "{other}"').sentence
    assert told.startswith(said.rstrip("."))
    assert said[:11] != "Cannot tell" or " is built on " in told


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (
            'which of "Tideline Wash" and "Plover Mild Wash" mildest first',
            "Plover Mild Wash is milder to skin than Tideline Wash.",
        ),
        (
            'which of "Tideline Wash" and "Breakwater Wash" first 1 mildest first',
            "Cannot tell them apart: the order of the trade sets Tideline Wash and "
            "Breakwater Wash on one rung",
        ),
        (
            'rank "Sodium Lauryl Sulfate" and "Sodium Laureth Sulfate"',
            "Sodium Laureth Sulfate alone is milder to skin than Sodium Lauryl Sulfate",
        ),
        (
            'which of "Tideline Wash" and "Plover Mild Wash" strongest first',
            "Tideline Wash is set above Plover Mild Wash on ",
        ),
        (
            "which washes first 1 mildest first",
            "Dune Grass Wash is the mildest to skin of these, as far as they compare: "
            "it is built on ",
        ),
    ],
)
def test_which_of_some_comes_first(question: str, said: str) -> None:
    """A pair is set side by side, and the first of several has its reason."""
    assert answer(question).sentence.startswith(said)


def test_an_order_without_a_condition_is_kept() -> None:
    """`which washes mildest first` is in that order too."""
    told = answer("which washes mildest first")
    assert told.members == answer("rank washes").members


def test_the_mildest_is_not_called_so_where_nothing_compares() -> None:
    """Two that stand on one rung are not told apart."""
    told = answer("what is the mildest wash that contains a taurate")
    assert [item.key for item in told.members] == ["Lamp Room Clarifying Wash"]
    assert told.sentence.startswith("Cannot tell them apart: ")


# --- how strong, stronger than, strongest first ---


@pytest.mark.slow
def test_strength_is_told_by_family() -> None:
    """Those that the wash takes as much as, on each family; no sum over them."""
    told = answer('how strong is "Plover Mild Wash" for silicones')
    assert told.sentence == (
        "Plover Mild Wash stands in the middle by strength among the 11 other washes "
        "at hand, on silicones: it is built on Sodium Methyl Cocoyl Taurate, a "
        "taurate. That is a milder cleanser with a sulfonate head, no sulfate, which "
        "works in hard water and leaves no lime soap. "
        "Of the films here it takes at least part of Dimethicone, "
        "Dimethiconol, PEG-10 Dimethicone, PEG-12 Dimethicone and some others. It "
        "takes at most part of Amodimethicone. Volatile silicones need no "
        "wash."
    )
    items = found(told, "family")
    assert items[0] == (
        "Silicones: above Backwater Cream Cleanser, Dune Grass Wash, Sandpiper Wash "
        "and Shallows Wash; below Breakwater Wash, Gullwing Silk Wash, Lamp Room "
        "Clarifying Wash and Tideline Wash."
    )
    (apart,) = (f.head for f in told.findings if f.kind == "apart")
    assert apart == (
        "Nothing compares it with Ferryman Dandruff Wash, Fog Bank Wash and Shingle "
        "Soap Wash"
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("wash", "said"),
    [
        ("Tideline Wash", "is one of the strong cleansers among"),
        ("Lamp Room Clarifying Wash", "stands in the middle by strength among"),
        ("Dune Grass Wash", "is among the weaker cleansers of"),
        ("Ferryman Dandruff Wash", "is not compared with any of"),
        ("Shingle Soap Wash", "is weaker than Breakwater Wash and Gullwing Silk Wash,"),
    ],
)
def test_the_first_words_say_how_strong(wash: str, said: str) -> None:
    """By those it is set above and below; of few that compare, which they are."""
    assert answer(f'how strong is "{wash}"').sentence.startswith(f"{wash} {said}")


def test_families_that_come_out_alike_are_one() -> None:
    """An order of all oily films is told once, and the charged ones apart."""
    told = answer('how strong is "Tideline Wash"')
    heads = [text.partition(":")[0] for text in found(told, "family")]
    assert heads[:2] == [
        "Cationic polymers and cationic surfactants",
        "Oily films and silicones",
    ]


def test_what_was_measured_of_its_cleansers() -> None:
    """A share removed is told with its load and its work."""
    measured = found(answer('how strong is "Breakwater Wash"'), "measured")
    assert any(
        text.startswith("Sodium Laureth Sulfate: 90 % of model sebum")
        and "Selective removal of sebum" in text
        for text in measured
    )


def test_a_film_means_its_narrowest_family() -> None:
    one = answer('how strong is "Plover Mild Wash" for dimethicone')
    assert found(one, "family")[0].startswith("Silicones: above")


def test_films_without_an_order_are_not_ranked() -> None:
    with pytest.raises(Unanswerable, match="no order of strength"):
        answer("rank washes for hard-water minerals")


def test_the_strongest_first_for_some_films() -> None:
    """Ether sulfate before soap on oils; the mildest of the mild stand last."""
    told = answer("rank washes for oils")
    order = [item.key for item in told.members]
    assert order.index("Breakwater Wash") < order.index("Shingle Soap Wash")
    assert order.index("Tideline Wash") < order.index("Plover Mild Wash")
    assert order.index("Plover Mild Wash") < order.index("Shallows Wash")
    assert told.sentence.startswith("The strongest first on oils and butters")


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (
            'is "Tideline Wash" stronger than "Plover Mild Wash"',
            "Yes: Tideline Wash is set above Plover Mild Wash on cationic polymers, "
            "cationic surfactants, oily films and silicones, at the same strength of "
            "the two.",
        ),
        (
            'is "Plover Mild Wash" stronger than "Tideline Wash"',
            "No: it is the other way: Tideline Wash is set above Plover Mild Wash on "
            "cationic polymers, cationic surfactants, oily films and silicones, at the "
            "same strength of the two.",
        ),
        (
            'is "Tideline Wash" stronger than "Breakwater Wash"',
            "Cannot tell: nothing compares Tideline Wash with Breakwater Wash by "
            "strength.",
        ),
        (
            'is "Tideline Wash" harsher than "Plover Mild Wash"',
            "Yes: Plover Mild Wash is milder to skin than Tideline Wash.",
        ),
    ],
)
def test_whether_one_is_stronger_or_harsher(question: str, said: str) -> None:
    """Strength is by films, harshness to skin; the two are not one scale."""
    assert answer(question).sentence == said


def test_the_order_turns_with_the_film() -> None:
    """A short ether sulfate takes more of a quat, and less of silicone and oil."""
    two = shelf("Aqua, Sodium Octeth-1/Deceth-1 Sulfate", "Aqua, Sodium Lauryl Sulfate")
    said = answer('is "A" stronger than "B"', two).sentence
    assert said.startswith("Cannot tell over all films: ")
    assert "A is set above B on cationic surfactants and B is set above A on" in said
    assert "silicones" in said.partition("B is set above A on")[2]
