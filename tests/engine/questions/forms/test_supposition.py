"""What if: answered as a difference, and worked out from what was known before."""

from __future__ import annotations

from functools import cache

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.forms.supposition import supposed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.engine.reading.label_order import lines
from abluent.grammar.query import tree as q
from abluent.grammar.query.parse import parse_query
from abluent.shell.session.loading import products
from abluent.shell.shelf.demo import demo_shelf


@cache
def world() -> World:
    shelf = demo_shelf()
    return World(Base.load(), load_rulebook(), products(shelf))


def answer(text: str) -> Answer:
    return ask(parse_query(text), world())


def of_kind(found: Answer, kind: str) -> list[Finding]:
    return [each for each in found.findings if each.kind == kind]


@pytest.mark.slow
def test_a_verdict_that_changes_is_told_with_what_changes_it() -> None:
    """A cationic above the anionics ties them up (common practice)."""
    found = answer(
        'suppose "Tideline Wash" had "Cetrimonium Chloride" at place 2: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    (changed,) = of_kind(found, "changed")
    assert changed.head == (
        "Changed: Tideline Wash takes at most part of Dimethicone; "
        "as it is now: Tideline Wash takes at least part of Dimethicone"
    )
    ties = "Then: Cetrimonium Chloride stands above every anionic surfactant"
    assert any(text.startswith(ties) for text in changed.items)
    assert not any("is number 4" in text for text in changed.items)  # only moved down


def test_what_is_gained_and_what_is_lost() -> None:
    found = answer(
        'suppose "Harbour Cream" had no dimethicone and had "Amodimethicone" '
        'at place 3: what does "Harbour Cream" leave'
    )
    (gained,) = of_kind(found, "gained")
    (lost,) = of_kind(found, "lost")
    assert gained.head == "Gained: Harbour Cream can leave Amodimethicone"
    assert any(text.startswith("Then: Amodimethicone is") for text in gained.items)
    assert lost.head == "Lost: Harbour Cream can leave Dimethicone"
    assert found.sentence.startswith(
        "Harbour Cream no longer leaves Dimethicone; "
        "Harbour Cream then leaves Amodimethicone. In all then: "
    )
    assert (
        "As it is now: Dimethicone is number 3 on the label of Harbour Cream."
        in lost.items
    )


@pytest.mark.slow
def test_what_is_only_looked_at_is_told_too() -> None:
    """No wash clears all of it either way; what there was to clear is another."""
    found = answer(
        'suppose "Harbour Cream" had no silicones: '
        'which washes clear everything from "Harbour Cream"'
    )
    (lost,) = of_kind(found, "lost")
    assert lost.items
    assert all("Dimethicone" in text for text in lost.items)


@pytest.mark.slow
def test_a_change_that_changes_nothing_says_so() -> None:
    found = answer(
        'suppose "Tideline Wash" had no gums: does "Tideline Wash" clear "Dimethicone"'
    )
    same, still = found.findings
    assert same.kind == "same"
    assert any("olefin sulfonate" in text for text in still.items)
    assert found.sentence.endswith("(The same as it is now)")


def _places(changes: str) -> dict[int, str]:
    """What stands where on the label of Tideline Wash with some changes."""
    question = parse_query(
        f'suppose "Tideline Wash" {changes}: which washes clear gums'
    )
    assert isinstance(question, q.Suppose)
    then = supposed(Judge(Nouns(world(), {})), question.changes)
    return dict(lines(then.read("Tideline Wash").facts))


def test_places_close_up_where_something_is_taken_off() -> None:
    """The lines after it move up, and nothing else is lost."""
    now = dict(lines(world().read("Tideline Wash").facts))
    gone = "cocamidopropyl-betaine"
    then = _places('had no "Cocamidopropyl Betaine"')
    assert sorted(then) == list(range(1, len(now)))
    assert list(then.values()) == [each for each in now.values() if each != gone]


@pytest.mark.slow
def test_a_level_that_cannot_stand_at_its_place_moves_the_line() -> None:
    """60 % of perfume is no trace; the answer says where it is taken to stand."""
    assert _places('had "Parfum" at 60 %')[1] == "parfum"
    found = answer(
        'suppose "Tideline Wash" had "Parfum" at 60 %: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    (note,) = (each for each in found.notes if "cannot stand" in each)
    assert "supposed to be number 1" in note
    held = answer(
        'suppose "Tideline Wash" had "Parfum" at 0.3 %: '
        'does "Tideline Wash" clear "Dimethicone"'
    )
    assert not any("cannot stand" in each for each in held.notes)


def test_a_level_that_cannot_stand_at_a_named_place_is_refused() -> None:
    """Nor can more than all of a product be one thing."""
    for change in ('had "Parfum" at 90 % at place 8', 'had "Parfum" at 120 %'):
        with pytest.raises(Unanswerable, match="cannot make so much"):
            answer(
                f'suppose "Tideline Wash" {change}: '
                'does "Tideline Wash" clear "Dimethicone"'
            )
