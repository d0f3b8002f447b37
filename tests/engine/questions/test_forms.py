"""The later forms of questions: what they come to on the demo shelf."""

from __future__ import annotations

import pytest
from abluent.engine.questions.answers.answer import PROVEN, REFUTED
from abluent.shell.session.session import Session


@pytest.fixture(scope="module")
def session() -> Session:
    """The demo shelf."""
    return Session.open()


CLAIMS = [
    ("is it true that beeswax builds up", PROVEN),
    ("is it true that cyclopentasiloxane builds up", REFUTED),
    ("is it true that cyclopentasiloxane evaporates", PROVEN),
    ('is it true that "Harbour Cream" builds up', PROVEN),
    ("is it true that coconut oil does not build up", REFUTED),
    ('is it true that any wash clears "Dimethicone"', REFUTED),
    ("is it true that every ingredient ending in -ate is a sulfate", REFUTED),
    ("is it true that every ingredient that ends in -cone needs sulfates", REFUTED),
]


@pytest.mark.slow
@pytest.mark.parametrize(("claim", "judged"), CLAIMS)
def test_claim(session: Session, claim: str, judged: str) -> None:
    """A claim in one of the later forms is judged."""
    assert session.ask(claim).claim == judged


PLACES = [
    ('does "Tideline Wash" contain "Cocamidopropyl Betaine" at place 3', "Yes."),
    ('does "Tideline Wash" contain "Cocamidopropyl Betaine" at place 2', "No."),
    ('does "Tideline Wash" contain "Cocamidopropyl Betaine" before glycerin', "Yes."),
    ('does "Tideline Wash" contain glycerin before "Cocamidopropyl Betaine"', "No."),
    # A drug label lists by the alphabet.
    (
        'does "Ferryman Dandruff Wash" contain dimethicone before fragrance',
        "Cannot tell.",
    ),
    ('does "Tideline Wash" contain "*cone"', "No."),
]


@pytest.mark.parametrize(("question", "told"), PLACES)
def test_place(session: Session, question: str, told: str) -> None:
    """The order of a label answers, where it has one."""
    sentence = session.ask(question).sentence
    word, _, more = sentence.partition(": ")
    assert f"{word}." == told
    assert more


def test_a_short_name_is_the_product(session: Session) -> None:
    """The first words of a name do where they fit one product alone."""
    short = session.ask("what does Harbour leave")
    assert short.members == session.ask('what does "Harbour Cream" leave').members


@pytest.mark.slow
def test_a_step_is_judged_apart(session: Session) -> None:
    """Both ends may hold and the step not, and its counterexample is named."""
    answer = session.ask(
        "is it true that cyclopentasiloxane is a silicone, "
        "so that cyclopentasiloxane does not build up"
    )
    assert [part.claim for part in answer.compared] == [PROVEN, PROVEN]
    assert answer.findings[0].kind == "broken step"
    assert answer.claim == REFUTED


def test_parts_are_judged_apart(session: Session) -> None:
    """Two statements, one of which does not hold."""
    answer = session.ask(
        "is it true that beeswax builds up, and also that cyclomethicone builds up"
    )
    assert [part.claim for part in answer.compared] == [PROVEN, REFUTED]
    assert answer.claim == REFUTED


def test_an_ingredient_is_on_the_shelf_where_a_label_lists_it(session: Session) -> None:
    """`silicones on my shelf` are those that a label here lists, and no others."""
    here = {item.key for item in session.ask("which silicones on my shelf").members}
    words = [line for name in session.world.products for line in _lines(session, name)]
    listed = {item.key for item in session.ask("which silicones").members}
    assert here == listed & {*words}
    assert len(here) > 3


def _lines(session: Session, product: str) -> list[str]:
    """The ingredients that a label lists."""
    facts = session.world.read(product).facts
    return [str(fact.args[2]) for fact in facts if fact.predicate == "line"]


def test_does_any_asks_which(session: Session) -> None:
    """One that is so is enough: it is named, and is no `no` because of the others."""
    answer = session.ask("does any conditioner contain a silicone")
    assert answer.sentence == (
        "Harbour Cream, Mooring Mask and Old Chart Conditioner contain a silicone."
    )
    assert session.ask("does every conditioner contain a silicone").sentence == (
        "No: Cockle Protein Mask does not contain a silicone."
    )


def test_how_far_each_goes_tells_not_which_is_harder(session: Session) -> None:
    """That both go at least in part does not make one of them harder."""
    told = session.ask('is "Phenyl Trimethicone" harder to clear than "Dimethicone"')
    assert told.sentence.startswith("Not as far as is known: ")
    assert "less is known to go of Dimethicone" in told.sentence
