"""The same questions of a base of another domain: what brushes are cleaned with.

`paint_shop/` has classes, kinds, values and rules of its own; it shares with the
shipped base only how knowledge is written, the roles and the predicates of the
contract. No line of code knows of it.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.checking import checker
from abluent.engine.questions.answers.answer import PROVEN, REFUTED, Answer
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import Product, World
from abluent.engine.trace.answer import traces
from abluent.grammar.query.parse import parse_query

SHOP = Path(__file__).parent / "paint_shop"
SHELF = (
    Product("Gully Bath", "brush bath", "", "Turpentine, Tap Rinse"),
    Product("Ash Bath", "brush bath", "", "Tap Rinse, Pine Lye"),
    Product("Shore Gloss", "coat", "", "Linseed Gloss, Tung Gloss"),
    Product("Cove White", "coat", "", "Slaked Lime"),
)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> World:
    """The shelf of the paint shop."""
    folder = tmp_path_factory.mktemp("cache")
    base = Base.load(instead=SHOP, cache_folder=folder)
    return World(base, load_rulebook(instead=SHOP, cache_folder=folder), SHELF)


def asked(shop: World, question: str) -> Answer:
    return ask(parse_query(question), shop)


@pytest.mark.parametrize(
    ("question", "sentence"),
    [
        (
            'does "Gully Bath" clear "Linseed Gloss" from "Shore Gloss"',
            "Yes: Gully Bath strips Linseed Gloss from Shore Gloss, ",
        ),
        ('does "Ash Bath" clear "Tung Gloss"', "No: Ash Bath softens Tung Gloss"),
        ('does Turps clear "Tung Gloss"', "Yes: Turpentine alone strips Tung Gloss"),
        (
            'does "Ash Bath" clear everything from "Cove White"',
            "Slaked Lime from Cove White needs no wash",
        ),
        ('what does "Shore Gloss" leave', "Shore Gloss leaves Linseed Gloss and "),
        ('which brush baths clear "Tung Gloss"', "Gully Bath takes all of Tung"),
        (
            'which brush baths at least partly clear "Tung Gloss"',
            "Gully Bath takes all of Tung Gloss. Ash Bath takes some of ",
        ),
        ("which paints are greasy", "Linseed Gloss and Tung Gloss are greasy."),
        ('is "Tung Gloss" an oil paint', "Yes"),
        ("what contains Turps", "Gully Bath contains Turps."),
    ],
)
def test_answers(shop: World, question: str, sentence: str) -> None:
    """Questions in the same language, in the words of the other base."""
    assert asked(shop, question).sentence.startswith(sentence)


def test_reasons_are_those_of_its_own_rules(shop: World) -> None:
    """A proof is told by the sentences and the claims of that base."""
    found = asked(shop, 'why does "Gully Bath" clear "Linseed Gloss"')
    (row,) = found.rows
    assert row.reasons == (
        "Turpentine is number 1 on the tin of Gully Bath.",
        "Turpentine works in Gully Bath.",
        "Turpentine is a spirit.",
        "Linseed Gloss is an oil paint.",
        "Spirits strip oil paint.",
        "Turpentine in Gully Bath does to Linseed Gloss: strips.",
        "Gully Bath on Linseed Gloss from whatever was used: strips.",
    )
    assert row.sources == ("foreman",)
    assert row.standing == "tested"


def test_the_weakest_step_is_on_its_own_scale(shop: World) -> None:
    """A chain stands as low as its weakest step, on the scale of that base."""
    (row,) = asked(shop, 'does "Ash Bath" clear "Tung Gloss"').rows
    assert row.standing == "hearsay"


def test_every_answer_is_checked_by_the_checker(shop: World) -> None:
    """The proofs of that base pass the independent checker as any others do."""
    question = 'which brush baths clear "Tung Gloss"'
    for trace in traces(asked(shop, question), question):
        assert checker.check(trace).ok


def test_claims(shop: World) -> None:
    """General claims are proven, or refuted by a member, and names are scored."""
    only = asked(shop, "is it true that only spirits clear oil paints")
    assert (only.claim, only.witness) == (PROVEN, "Turpentine")
    every = asked(shop, "is it true that every thinner clears oil paints")
    assert (every.claim, every.witness) == (REFUTED, "Pine Lye")
    none = asked(shop, 'is it true that "Slaked Lime" needs no brush bath')
    assert none.claim == PROVEN
    named = asked(shop, 'is it true that every ingredient named "*Gloss" is greasy')
    assert named.score is not None
    assert named.score.missed == ("Turpentine",)


def test_what_would_mend_it(shop: World) -> None:
    """What stands in the way is told, and a change that was tried."""
    found = asked(shop, 'why not does "Ash Bath" clear "Linseed Gloss"')
    told = " ".join(map(str, found.findings))
    assert "Lye softens oil paint." in told
    assert "Turpentine" in told


def test_suppositions(shop: World) -> None:
    """A label that is supposed is judged by the rules of that base."""
    change = 'suppose "Ash Bath" had Turpentine: does "Ash Bath" clear "Tung Gloss"'
    assert asked(shop, change).sentence.startswith("Yes: Ash Bath strips Tung Gloss")
