"""The main job on the built-in shelf, said as an educator would say it.

The products are invented; what is expected of them follows from the published
removal evidence and from common practice of the trade, as each test says.
"""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.proof.nodes import AbsenceNode, FactNode
from abluent.engine.proof.origins import label_origin
from abluent.engine.questions.answers.verdicts import Verdict, films_left, verdicts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.world import Product
from demo_world import answer, world


def only(text: str) -> Verdict:
    (row,) = answer(text).rows
    assert isinstance(row, Verdict)
    return row


# --- the cases of the main job ----------------------------------------------------


@pytest.mark.slow
def test_a_sulfate_free_anionic_wash_lifts_a_water_insoluble_silicone() -> None:
    """Common practice, no source; and why tells that no measurement is known."""
    row = only('does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"')
    assert row.value == "atLeastPartlyClears"
    assert row.standing == "commonPractice"
    assert any("no measurement of" in caveat for caveat in row.caveats)


def test_a_co_wash_with_only_cationics_takes_part_of_it_at_most() -> None:
    """Cationic surfactants condition and hardly clean: common practice, no source."""
    row = only('does "Backwater Cream Cleanser" clear "Dimethicone"')
    assert row.value in {"atMostPartlyClears", "doesNotClear"}
    assert row.standing == "commonPractice"


@pytest.mark.slow
def test_a_wash_with_silicone_and_cationic_polymer_leaves_silicone_itself() -> None:
    """Yahagi 1992 and Hoessel 2000: two-in-one shampoos deposit both."""
    left = answer('what does "Gullwing Silk Wash" leave')
    films = [world().base.label(row.film) for row in left.rows]  # type: ignore[union-attr]
    assert {"Dimethicone", "Guar Hydroxypropyltrimonium Chloride"} <= {*films[:3]}
    row = only('does "Gullwing Silk Wash" clear "Dimethicone"')
    assert row.value == "atMostPartlyClears"
    assert any("itself" in reason for reason in row.reasons)


@pytest.mark.parametrize(
    ("wash", "verdict"), [("Tideline Wash", "atLeastPartlyClears"), ("water", "open")]
)
def test_a_soluble_silicone_is_judged_by_each_grade_of_its_name(
    wash: str, verdict: str
) -> None:
    """Yahagi 1992, table II: the name does not show the chain that decides it."""
    assert only(f'does "{wash}" clear "PEG-12 Dimethicone"').value == verdict


def test_a_volatile_silicone_needs_no_wash_and_says_the_time_is_disputed() -> None:
    """O'Lenick, Cosmetics & Toiletries: D5 lost 4.5 % in 7.5 h; a supplier: minutes."""
    row = only('does water clear "Cyclopentasiloxane"')
    assert row.value == "noWashNeeded"
    assert any("disputed" in caveat for caveat in row.caveats)


def test_an_amphoteric_only_wash_takes_part_of_dimethicone_at_most() -> None:
    """No measurement was found of such a wash; unknown is not no."""
    row = only('does "Shallows Wash" clear "Dimethicone"')
    assert row.value == "atMostPartlyClears"
    assert row.at_most is not None
    assert row.at_most.standing == "commonPractice"


def test_sulfates_take_part_of_dimethiconol_as_measured() -> None:
    """The 2006 TRI conference paper bounds it from above; practice from below."""
    row = only('does "Breakwater Wash" clear "Dimethiconol" in soft water')
    assert row.at_least is not None
    assert row.at_most is not None
    assert row.value in {"partlyClears", "atLeastPartlyClears"}


def test_an_anionic_below_the_preservative_is_not_counted_on() -> None:
    """EU 1223/2009, Annex V 29 caps phenoxyethanol at 1 %; what follows is no more."""
    row = only('does "Sandpiper Wash" clear "Dimethicone"')
    assert row.value == "atMostPartlyClears"
    told = " ".join(row.reasons)
    assert "Sodium Lauroyl Sarcosinate" in told
    assert "stands among the traces" in told


def test_a_cationic_above_the_anionic_ties_it_up() -> None:
    """ISO 2271 counts anionic by the cationic that takes it up, one to one."""
    row = only('does "Fog Bank Wash" clear "Dimethicone"')
    assert row.value == "atMostPartlyClears"
    assert any("tie" in reason for reason in row.reasons)


# --- claims ------------------------------------------------------------------------


@pytest.mark.slow
def test_not_only_sulfates_clear_water_insoluble_silicones() -> None:
    """Common practice: some that are not sulfates are strong enough."""
    found = answer("is it true that only sulfates clear water-insoluble silicones")
    assert found.claim in {"refuted", "unsupported"}
    lifted = answer("is it true that only sulfates partly clear dimethicone")
    assert lifted.claim in {"refuted", "unsupported"}


@pytest.mark.slow
def test_not_every_name_in_ate_is_an_anionic_surfactant() -> None:
    """The rule of thumb has a precision of 0.39 on a published list of traps."""
    claim = 'is it true that every ingredient named "*ate" is an anionic surfactant'
    found = answer(claim)
    assert found.claim == "refuted"
    assert found.witness.endswith("ate")


# --- every answer is grounded --------------------------------------------------------


@cache
def all_verdicts() -> list[Verdict]:
    """Every wash of the shelf on everything that every other product leaves."""
    names = list(world().products)
    kinds = {name: world().products[name].kind for name in names}
    washes = [name for name in names if kinds[name] in {"wash", "co-wash"}]
    return [*verdicts(Case.of(world(), washes, sources=names))]


SOME = 7
"""The proof of one verdict in so many is looked at in every run."""


@pytest.mark.slow
@pytest.mark.parametrize("every", [SOME, pytest.param(1, marks=pytest.mark.long)])
def test_the_verdicts_of_the_shelf_rest_on_lines_facts_and_sources(every: int) -> None:
    """No leaf but a label line, a fact with a source, the shelf or an absence."""
    seen = {verdict.value for verdict in all_verdicts()}
    for verdict in all_verdicts()[::every]:
        assert verdict.standing
        for node in verdict.proof.nodes.values():
            if isinstance(node, FactNode):
                basis = node.fact.basis
                assert basis.sources or basis.origin, node
            else:
                assert isinstance(node, AbsenceNode) or node.premises or _axiom(node)
    assert {"partlyClears", "atLeastPartlyClears", "atMostPartlyClears"} <= seen
    assert {"doesNotClear", "open"} <= seen


def _axiom(node: object) -> bool:
    """A rule without conditions, or arithmetic: nothing to rest on."""
    return not getattr(node, "premises", ())


@pytest.mark.slow
def test_no_proof_of_the_shelf_rests_on_itself() -> None:
    """Premises come before what rests on them, in every proof."""
    for verdict in all_verdicts()[::SOME]:
        done: set[str] = set()
        for key, node in verdict.proof.nodes.items():
            assert set(node.premises) <= done
            done.add(key)


def deciding_lines(verdict: Verdict) -> set[tuple[int, int]]:
    """The spans of the lines of the wash's own label that the proof rests on."""
    own = f"product/{verdict.wash}"
    return {
        (place.start, place.end)
        for fact, place in verdict.lines
        if fact.predicate == "line" and place.product == own
    }


@pytest.mark.long
def test_without_its_deciding_lines_a_wash_gets_another_verdict_or_reason() -> None:
    """For every wash and film of the shelf, whichever deciding line is struck out."""
    by_line: dict[tuple[str, int, int], list[Verdict]] = {}
    for verdict in all_verdicts():
        for start, end in deciding_lines(verdict):
            by_line.setdefault((verdict.wash, start, end), []).append(verdict)
    assert len(by_line) > 30
    for (wash, start, end), decided in by_line.items():
        old = world().products[wash]
        struck = old._replace(text=old.text[:start] + old.text[end:])
        case = Case.of(
            world().with_products([struck]), [wash], sources=world().products
        )
        now = {(v.film, v.source): v for v in verdicts(case)}
        for verdict in decided:
            other = now.get((verdict.film, verdict.source))
            same = other is not None and other.value == verdict.value
            assert not same or other.reasons != verdict.reasons, (verdict.goal, struck)


def test_a_label_line_of_a_proof_is_where_the_label_has_it() -> None:
    """The span of every line cuts its printed name out of the label."""
    row = only('does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"')
    assert {place.product for _, place in row.lines} == {
        "product/Harbour Cream",
        "product/Tideline Wash",
    }
    for fact, place in row.lines:
        origin = label_origin(fact.basis.origin)
        assert origin == place
        product = world().products[place.product.removeprefix("product/")]
        printed = product.text[place.start : place.end]
        assert world().base.lookup(printed) == fact.args[2]


def test_what_a_product_leaves_is_told_in_the_order_of_its_label() -> None:
    """Films follow the places of their lines."""
    case = Case.of(world(), sources=["Harbour Cream"])
    rows = films_left(case, "Harbour Cream")
    places = [place.start for row in rows for _, place in row.lines[:1]]
    assert len(places) > 2
    assert places == sorted(places)


def test_a_product_the_label_of_which_is_empty_leaves_nothing_known() -> None:
    """An empty label is no error here and asserts nothing."""
    bare = world().with_products([Product("Blank", "conditioner", "EU", "")])
    assert films_left(Case.of(bare, sources=["Blank"]), "Blank") == []
