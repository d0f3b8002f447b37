"""`why does A clear F unlike B`, on a small shelf of its own."""

from __future__ import annotations

from functools import cache
from itertools import permutations

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.sides.better import By, better
from abluent.engine.questions.verbs.contrasts import ends
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.labels import Product
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import parse_query

_LABELS = {
    "Strong": "Aqua, Sodium C14-16 Olefin Sulfonate, Glycerin, Parfum",
    "Mild": "Aqua, Coco-Glucoside, Cocamidopropyl Betaine, Glycerin, Parfum",
    "Chelating": (
        "Aqua, Sodium Lauroyl Methyl Isethionate, Tetrasodium EDTA, Glycerin, "
        "Phenoxyethanol, Parfum"
    ),
    "Trace": (
        "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, "
        "Phenoxyethanol, Parfum, Disodium EDTA"
    ),
    "Guar": (
        "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, "
        "Guar Hydroxypropyltrimonium Chloride, Phenoxyethanol, Parfum"
    ),
}
_FILMS = ("Amodimethicone", "Dimethicone", "Cera Alba", "Hard-Water Minerals")


@cache
def world() -> World:
    made = [Product("Balm", "leave-in", "EU", "Aqua, Cocos Nucifera Oil, PVP")]
    made += [Product(name, "wash", "EU", text) for name, text in _LABELS.items()]
    return World(Base.load(), load_rulebook(), made)


@cache
def answer(text: str) -> Answer:
    return ask(parse_query(text), world())


def under(told: Answer, head: str) -> str:
    """What is told under a heading."""
    return " ".join(" ".join(f.items) for f in told.findings if f.head == head)


def test_what_does_it_and_what_the_other_lacks() -> None:
    """The cleanser with its place, the rule, and that the other has none such."""
    told = answer('why does "Strong" clear "Amodimethicone" unlike "Mild"')
    assert told.sentence.startswith("Strong takes part of Amodimethicone")
    assert "Sodium C14-16 Olefin Sulfonate (number 2 of 4)" in under(told, "In Strong")
    assert "It lists no anionic surfactant (5 names read)." in under(told, "In Mild")
    assert any(f.kind == "takes" and "Mild does take" in f.head for f in told.findings)
    assert any(f.kind == "advice" for f in told.findings)


def test_the_evidence_ends_where_nothing_is_shown() -> None:
    """At most part is not none, and the answer says that it may be some."""
    told = answer('why does "Strong" clear "Amodimethicone" unlike "Mild"')
    (gap,) = [f.head for f in told.findings if f.kind == "gap"]
    assert gap.startswith("Where the evidence stops: Mild may take some")


def test_the_other_way_about() -> None:
    """What is asked may be the wrong way round, or not be so at all."""
    told = answer('why does "Mild" clear "Amodimethicone" unlike "Strong"')
    assert told.sentence.startswith("It is the other way about: Strong takes part")
    same = answer('why does "Guar" clear "Dimethicone" unlike "Trace"')
    assert same.sentence.startswith("It is not shown to be so: nothing here sets")


def test_a_chelant_high_on_the_list_is_the_better_chance() -> None:
    """It is told of each where what binds minerals stands."""
    told = answer('why does "Chelating" clear "Hard-Water Minerals" unlike "Trace"')
    assert told.sentence.startswith("Chelating ")
    assert "Tetrasodium EDTA (number 3 of 6)" in under(told, "In Chelating")
    assert "Disodium EDTA is number 7 of Trace, where" in under(told, "In Trace")
    late = answer('why does "Trace" clear "Hard-Water Minerals" unlike "Strong"')
    assert late.sentence.startswith("Trace has the better chance at Hard-Water ")
    assert "Strong nothing of the kind" in late.sentence


def test_what_the_wash_leaves_itself_is_the_reason() -> None:
    """Then it lacks nothing, and there is no gap in the evidence."""
    told = answer('why does "Trace" clear "Polyquaternium-10" unlike "Guar"')
    assert "Guar Hydroxypropyltrimonium Chloride" in under(told, "In Guar")
    assert "lists no" not in under(told, "In Guar")
    assert not any(f.kind == "gap" for f in told.findings)


def test_two_films_under_one_wash() -> None:
    """What is asked beside the one film may be another."""
    told = answer('why does "Mild" clear "PVP" unlike "Amodimethicone"')
    assert "of PVP" in told.sentence
    assert "of Amodimethicone" in told.sentence
    assert "charge" in under(told, "Amodimethicone")


def test_what_is_no_removal_is_told_of_each() -> None:
    told = answer('why does "Guar" contain "Glycerin" unlike "Strong"')
    assert told.sentence.count("Glycerin") == 2


@pytest.mark.parametrize("film", _FILMS)
def test_the_one_that_does_more_is_never_below(film: str) -> None:
    """By the bounds, whichever is asked about first."""
    judge = Judge(Nouns(world(), {}))
    found = judge.removal.verdicts(list(_LABELS), q.Clears(q.Name(film)))
    rows: list[Verdict] = [row for name in _LABELS for row in found[name]]
    assert len(rows) == len(_LABELS)
    for one, other in permutations(rows, 2):
        told, back = better(one, other), better(other, one)
        assert told.by is back.by
        if told.by is not By.NOTHING:
            assert (told.more, told.less) == (back.more, back.less)
        assert ends(told.more)[0] >= ends(told.less)[0]
        if told.by is By.SHOWN:
            assert ends(told.more)[0] > ends(told.less)[1]


def test_what_hard_water_changes_is_told_by_wash_with_its_reason() -> None:
    """The soap does less there, and of the other washes the same is known of both."""
    made = [Product("Bar", "wash", "EU", "Sodium Olivate, Aqua, Sodium Cocoate")]
    made += [Product("Strong", "wash", "EU", _LABELS["Strong"])]
    shelf = World(Base.load(), load_rulebook(), made)
    asked = 'is "Dimethicone" harder to clear in hard water than in soft water'
    told = ask(parse_query(asked), shelf).sentence
    assert told.startswith("With Bar ")
    assert "with the other 1 the same is known of both" in told
    assert "soap is spent on calcium" in told
    turned = 'is "Dimethicone" harder to clear in soft water than in hard water'
    told = ask(parse_query(turned), shelf).sentence
    assert told.startswith("Rather the other way: with Bar ")
    assert "is easier to clear in soft water than in hard water, as far as" in told


def test_what_a_product_needs_is_told_film_by_film() -> None:
    """Every wash that lists no sulfate counts, and no film is left out."""
    told = answer('does "Balm" need sulfate surfactants')
    assert told.sentence.startswith(
        "No: all of what Balm leaves goes, at least in part, without sulfate"
    )
    lines = [text for f in told.findings if f.kind == "films" for text in f.items]
    assert sum("Cocos Nucifera Oil" in each for each in lines) == 1
    assert sum("PVP" in each for each in lines) == 1
    assert not any("Trace" in each or "Guar" in each for each in lines)


def test_only_washes_of_a_kind_is_answered_of_the_films_too() -> None:
    asked = "is it true that only washes with sulfates clear everything from"
    told = answer(f'{asked} "Balm"')
    assert told.claim
    assert told.sentence.startswith("False: all of what Balm leaves goes")


def test_that_washes_do_not_is_that_none_of_them_does() -> None:
    """A wash of the kind that takes some belies it, though it takes not all."""
    asked = "is it true that washes without sulfates"
    told = answer(f'{asked} do not clear "Amodimethicone"')
    assert told.sentence.startswith("Not so as said: Strong takes some")
    none = answer('is it true that no washes without sulfates clear "Amodimethicone"')
    assert told.sentence == none.sentence


def test_films_that_differ_alike_are_told_in_one_sentence() -> None:
    """What the label lists first leads, and none is left to be asked apart."""
    made = [Product("Gloss", "leave-in", "EU", _GLOSS)]
    made += [Product(name, "wash", "EU", _LABELS[name]) for name in ("Strong", "Mild")]
    shelf = World(Base.load(), load_rulebook(), made)
    asked = 'why does "Strong" clear everything from "Gloss" unlike "Mild"'
    told = ask(parse_query(asked), shelf)
    first = told.sentence.split("; that Mild")[0]
    assert "silicones" in first or "Dimethiconol" in first
    assert "Amodimethicone" in first or "silicones" in first
    assert "more" not in told.sentence.replace("takes more", "")
    assert not any(f.kind == "takes" for f in told.findings)


_GLOSS = "Aqua, Dimethiconol, Amodimethicone, Cocos Nucifera Oil, PVP, Parfum"


def test_not_clearing_is_never_told_with_a_yes_that_it_does() -> None:
    """It is asked whether none goes, and some does."""
    told = answer('does "Strong" not clear "Cocos Nucifera Oil"')
    assert told.sentence.startswith("It does in part: ")


def test_why_a_film_is_harder_begins_with_what_the_films_are() -> None:
    """Charge and solubility come before the washes that tell it."""
    told = answer('why is "Amodimethicone" harder to clear than "Dimethicone"')
    first, then, *_ = told.sentence.split(". ")
    assert first.startswith("Amodimethicone is ")
    assert "charge" in then
    assert [f.head for f in told.findings][:2] == ["Amodimethicone", "Dimethicone"]
    of = 'why is "Balm" easier to clear than "Amodimethicone"'
    assert "Of what Balm leaves, " in answer(of).sentence


def test_what_two_washes_leave_leads_under_a_stated_condition() -> None:
    """Where it differs; else it stands below."""
    asked = 'compare "Guar" and "Mild"'
    leaving = "Guar can leave Guar Hydroxypropyltrimonium Chloride"
    assert answer(f"{asked} in hard water").sentence.startswith(leaving)
    assert leaving not in answer(asked).sentence


def test_what_a_product_leaves_names_it_once() -> None:
    told = answer('does "Balm" leave anything').sentence
    assert told.startswith("Yes: Balm ")
    assert told.count("Balm") == 1
