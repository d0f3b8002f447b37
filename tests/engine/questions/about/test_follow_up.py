"""Questions about an answer: what it rests on, where sources part, why not."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.proof.supports import supports
from abluent.engine.questions.about.dispute import partings
from abluent.engine.questions.about.follow_up import placed
from abluent.engine.questions.about.supports import ways
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.question import Unanswerable, ask
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query
from abluent.grammar.query.printer import print_query
from abluent.grammar.query.tree import Which
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    shelf = demo_shelf()
    return World(Base.load(), load_rulebook(), products(shelf))


def answer(text: str, last: Answer | None = None) -> Answer:
    return ask(parse_query(text), world(), last=last)


def of_kind(found: Answer, kind: str) -> list[Finding]:
    return [each for each in found.findings if each.kind == kind]


# --- in how many ways -----------------------------------------------------------------


@pytest.mark.slow
def test_every_way_is_told_in_words_and_all_are_said_to_be_there() -> None:
    """The olefin sulfonate is an anionic surfactant in two ways; either would do."""
    film = "Hydroxypropyltrimonium Hydrolyzed Wheat Protein"
    found = answer(f'in how many ways does "Tideline Wash" clear "{film}"')
    (head,) = of_kind(found, "ways")
    assert (
        head.head == f"Tideline Wash takes at least part of {film}: 8 ways (complete)"
    )
    assert head.complete
    ways = [set(way.items) for way in of_kind(found, "way")]
    assert len(ways) == 8
    kinds = ("full-strength anionic surfactant", "sulfonate surfactant")
    full, sulfonate = (f"Every olefin sulfonate is a {kind}." for kind in kinds)
    assert any(full in way and sulfonate not in way for way in ways)
    assert any(sulfonate in way and full not in way for way in ways)
    assert not any(one < other for one in ways for other in ways)
    (shared,) = of_kind(found, "shared")
    assert any("is a quaternised protein" in text for text in shared.items)


def test_no_part_of_a_way_is_enough() -> None:
    """What is told are smallest sets: each is a support, and none holds another."""
    row = answer('does "Dune Grass Wash" clear "Lime Soap"').rows[0]
    found = supports(row.case.prover, *row.goal)
    sets = [set(each) for each in found.sets]
    assert found.complete
    assert len(sets) == 4
    assert not any(one < other for one in sets for other in sets)


@pytest.mark.slow
def test_where_there_are_more_ways_the_cap_is_named() -> None:
    row = answer('does "Sandpiper Wash" clear "Polyquaternium-10"').rows[0]
    head, *_ = ways(row, most=2)
    assert head.head.endswith("2 ways (capped at 2)")
    assert head.complete is False


@pytest.mark.slow
def test_ways_of_the_last_answer_are_told_of_its_first_rows() -> None:
    last = answer('which washes at least partly clear "Dimethicone"')
    assert len(last.rows) == 4
    found = answer("in how many ways", last)
    assert len(of_kind(found, "ways")) == 3
    (more,) = of_kind(found, "more")
    assert more.head.startswith("Told of the first 3 of 4 rows")


def test_what_is_not_so_has_no_ways() -> None:
    found = answer('in how many ways is "Glycerin" a silicone')
    (none,) = of_kind(found, "ways")
    assert "rests on no fact" in none.head


# --- what must be so ------------------------------------------------------------------


@pytest.mark.slow
def test_what_every_way_needs() -> None:
    """The lines that do the work, of which each is enough; no definitions."""
    found = answer(
        'what must be so that "Lamp Room Clarifying Wash" clears "Dimethicone"'
    )
    (lines,) = of_kind(found, "lines")
    assert "Sodium Lauryl Sulfoacetate or Sodium Methyl Cocoyl Taurate" in str(lines)
    assert not of_kind(found, "needed")
    one = answer('what must be so that "Tideline Wash" clears "Amodimethicone"')
    (lines,) = of_kind(one, "lines")
    assert "Sodium C14-16 Olefin Sulfonate is on its label: without" in str(lines)


def test_who_says_it_is_told_apart_from_who_says_something_else() -> None:
    """That oil enters hair is not that a wash takes it."""
    found = answer('who says that "Breakwater Wash" clears "Cocos Nucifera Oil"')
    assert found.sentence.startswith("No work cited here says so itself: ")
    (works,) = of_kind(found, "works")
    assert "other things" in works.head


@pytest.mark.slow
@pytest.mark.parametrize(
    ("wash", "film", "in_words"),
    [
        ("Backwater Cream Cleanser", "Behentrimonium Chloride", "chain of 22 carbons"),
        ("Shingle Soap Wash", "PEG-12 Dimethicone", "grade) is water-soluble"),
    ],
)
def test_each_of_what_must_be_so_is_in_every_way(
    wash: str, film: str, in_words: str
) -> None:
    """Told of washes whose ways were all found: of others some are not shown."""
    found = answer(f'in how many ways does "{wash}" clear "{film}"')
    (head,) = of_kind(found, "ways")
    assert head.complete
    assert len(of_kind(found, "way")) >= 2
    (shared,) = of_kind(found, "shared")
    (needed,) = of_kind(
        answer(f'what must be so that "{wash}" clears "{film}"'), "needed"
    )
    assert set(needed.items) < set(shared.items)
    assert any(in_words in text for text in needed.items)


# --- where sources part ---------------------------------------------------------------


def test_both_chains_and_the_least_in_which_they_differ() -> None:
    """A book against a supplier's page, and what each is worth."""
    found = answer(
        'where do sources part over whether "Breakwater Wash" clears "Dimethicone"'
    )
    kinds = [each.kind for each in found.findings]
    assert kinds == ["side", "side", "crux", "alike"]
    one, other, crux, alike = found.findings
    assert "(inferred; Romanowski" in one.items[-1]
    assert "Supplier page" in other.items[-1]
    assert "in soft water" in alike.items[0]  # nobody said how hard the water is
    assert "Of the one side: An opinion" in crux.items[0]
    assert "said of silicone in the shampoo" in crux.items[1]
    assert crux.complete


@pytest.mark.slow
def test_the_crux_parts_the_sides_and_nothing_smaller_does() -> None:
    """Without what is the first side's own, only the second side follows."""
    row = answer('does "Breakwater Wash" clear "Dimethicone"').rows[0]
    assert isinstance(row, Verdict)
    for each in partings(row):
        first, second = each.sides
        model = row.case.model
        gone = [f for fact in first.apart for f in model.asserted(*fact)]
        left = model.revise(removed=gone)
        assert not left.holds(*first.chain.goal)
        assert left.holds(*second.chain.goal)


def test_where_sources_do_not_part_that_is_said() -> None:
    last = answer('does "Tideline Wash" clear "Dimethicone"')
    (none,) = answer("where do sources part", last).findings
    assert "No sources of equal rank disagree" in none.head


# --- why not ------------------------------------------------------------------------


def test_what_is_not_on_a_label_is_contradicted_by_it() -> None:
    found = answer('why does "Shallows Wash" not leave "Dimethicone"')
    (against,) = of_kind(found, "contradicted")
    assert against.items == ("Dimethicone is not on the label of Shallows Wash.",)
    (repairs,) = of_kind(found, "repairs")
    assert repairs.items[0].endswith("on the label of Shallows Wash (tried).")


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (
            'why does "Harbour Cream" not leave "Glycerin"',
            '"Harbour Cream" does not leave "Glycerin"; 25 names read.',
        ),
        (
            'why not does "Harbour Cream" leave "Glycerin"',
            '"Harbour Cream" does not leave "Glycerin"; 25 names read.',
        ),
        (
            'why is "Amodimethicone" a silicone',
            "Amodimethicone is a silicone.",
        ),
        (
            'why not is "Glycerin" a silicone',
            "Glycerin is a humectant; it does not count here as a silicone.",
        ),
    ],
)
def test_a_reason_is_given_for_a_sentence_and_not_for_a_yes(
    asked: str, told: str
) -> None:
    assert answer(asked).sentence == told


def test_what_no_claim_speaks_of_is_unknown() -> None:
    """Glycerin is on the label; whether such a thing stays on hair nobody says."""
    found = answer('why not does "Harbour Cream" leave "Glycerin"')
    assert any(
        "humectant" in t for each in of_kind(found, "unknown") for t in each.items
    )


def test_a_class_that_a_thing_does_not_belong_to() -> None:
    found = answer('why not is "Glycerin" a silicone')
    (unknown,) = of_kind(found, "unknown")
    assert "Glycerin is not listed as a silicone." in unknown.items


@pytest.mark.slow
def test_an_agent_in_traces_is_told_as_not_counted_on() -> None:
    found = answer('why not does "Sandpiper Wash" clear "Dimethicone"')
    assert any("among the traces" in t for f in found.findings for t in f.items)


@pytest.mark.slow
def test_why_not_of_what_is_so_says_so() -> None:
    (holds,) = answer('why not does water clear "Cyclopentasiloxane"').findings
    assert holds.head.startswith("It does")


def test_repairs_that_change_less_come_first() -> None:
    """Moving what is there stands before adding what is not."""
    (repairs,) = of_kind(
        answer('why not does "Sandpiper Wash" clear "Dimethicone"'), "repairs"
    )
    first, then, *_ = repairs.items  # the first is on the label, in traces
    assert first == (
        "Sandpiper Wash with Sodium Lauroyl Sarcosinate right behind the water "
        "takes part of Dimethicone (tried)."
    )
    assert "with Sodium Laureth Sulfate" in then  # as most labels here have it


# --- why a thing is in the last answer ------------------------------------------------


@pytest.mark.parametrize(
    ("last", "asked"),
    [
        ('which washes clear "Dimethicone"', 'do "A" clear "Dimethicone"'),
        ('how many washes clear "Dimethicone"', 'do "A" clear "Dimethicone"'),
        ('what does "Harbour Cream" leave', 'does "Harbour Cream" leave "A"'),
        (
            'which silicones does "Tideline Wash" not clear',
            'does "Tideline Wash" not clear "A"',
        ),
    ],
)
def test_a_thing_of_the_last_answer_is_asked_about_by_itself(
    last: str, asked: str
) -> None:
    term = parse_query('which "A"')
    assert isinstance(term, Which)
    question = placed(parse_query(last), term.subject)
    assert question is not None
    assert print_query(question).replace("does", "do", 1) == asked.replace(
        "does", "do", 1
    )


def test_why_not_of_a_thing_is_about_that_thing() -> None:
    last = answer('which washes clear "Dimethicone"')
    found = answer('why not "Shallows Wash"', last)
    assert found.sentence == (
        "Shallows Wash takes at most part of Dimethicone, if any, by common practice."
    )
    assert of_kind(found, "repairs")


def test_there_must_be_an_answer_to_ask_about() -> None:
    for asked in ("in how many ways", "what must be so", "where do sources part"):
        with pytest.raises(Unanswerable):
            answer(asked)


def test_what_would_change_is_asked_of_more_than_verdicts() -> None:
    """What a product leaves, what a thing is, and what it is not."""
    left = answer('what would change whether "Harbour Cream" leaves "Dimethicone"')
    assert [each.kind for each in left.findings] == ["needed", "sources"]
    lacking = answer('what would change whether "Glycerin" is a silicone')
    assert [each.kind for each in lacking.findings] == ["sources"]


@pytest.mark.slow
def test_a_repair_is_tried_with_all_that_bears_on_it() -> None:
    """The first look leaves amounts out; what is told holds with them."""
    asked = 'why not does "Fog Bank Wash" clear "Dimethicone"'
    (repairs,) = of_kind(answer(asked), "repairs")
    told = repairs.items[0]
    change, _, reached = told.partition(" right behind the water ")
    added = change.removeprefix("Fog Bank Wash with ")
    found = answer(
        f'suppose "Fog Bank Wash" had "{added}" at place 2: '
        'does "Fog Bank Wash" clear "Dimethicone"'
    )
    assert reached == "takes part of Dimethicone (tried)."
    assert found.sentence.startswith(
        "Yes, likely in part: Fog Bank Wash takes part of Dimethicone"
    )


@pytest.mark.slow
def test_what_refutes_a_claim_needs_no_mending() -> None:
    claim = "only sulfates at least partly clear silicones"
    found = answer(f"why is it not true that {claim}")
    assert found.claim == "refuted"
    assert not found.findings
