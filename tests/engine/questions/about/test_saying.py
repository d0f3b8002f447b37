"""What is known of a saying, and how it is heard in free speech."""

from __future__ import annotations

import pytest
from abluent.engine.base.sayings import sayings
from abluent.engine.base.store import Base
from abluent.engine.faults import CommandError
from abluent.grammar.query.parse import parse_query
from abluent.grammar.speech.sayings import groups
from abluent.shell.session.session import Session
from abluent.shell.told.telling import told_of

WAX = 'what of the saying "hot water takes wax off hair"'


@pytest.fixture(scope="module")
def session() -> Session:
    """The base alone."""
    return Session.open()


def test_what_is_so_comes_first_and_rests_on_claims(session: Session) -> None:
    """The statement, why, the claims that bear it out, and what to ask next."""
    answer = session.ask(WAX)
    assert answer.sentence.startswith("Hot water alone does not take")
    (row,) = answer.rows
    assert any("Beeswax melts" in each for each in row.reasons)
    assert any("Oil worked in first" in each for each in row.reasons)
    assert "wax-oil-first" in {c for proof in row.proofs for c in _claims(proof)}
    assert [*answer.notes] == [
        "It can be asked: `which washes clear waxes over oil worked in first`."
    ]


def _claims(proof: object) -> list[str]:
    nodes = getattr(proof, "nodes", {}).values()
    facts = [node.fact for node in nodes if hasattr(node, "fact")]
    return [str(arg) for fact in facts for arg in fact.args]


def test_an_unknown_saying_is_told_with_near_ones(session: Session) -> None:
    """Three at most, by their wording."""
    with pytest.raises(CommandError, match="hot water takes wax off hair"):
        session.ask('what of the saying "hot water takes was off hair"')


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("does a hot rinse melt beeswax out", "hot water takes wax off hair"),
        ("my hair squeaks so its clean", "hair that squeaks is free of film"),
        ("chlorine makes hair green??", "chlorine turns hair green"),
        ("mineral oil suffocates hair", "a film suffocates hair"),
    ],
)
def test_it_is_heard_as_people_put_it(session: Session, text: str, said: str) -> None:
    """And answered at once, where nothing else is named."""
    assert session.ask(text).query == f'what of the saying "{said}"'


def test_every_saying_of_the_base_can_be_heard_and_asked_on() -> None:
    """Its patterns have words in every group, and its questions are questions."""
    known = sayings(Base.load())
    assert len(known) >= 90
    for each in known:
        assert each.heard
        assert all(group.ways or group.kinds for h in each.heard for group in groups(h))
        assert all(parse_query(ask) for ask in each.asks)


def test_a_picture_says_what_is_so_and_why(session: Session) -> None:
    """The saying itself, which need not be so, stands above it as what is said."""
    answer = session.ask(WAX)
    told = told_of(answer, WAX)
    assert told.claim == answer.sentence
    assert told.reasons[0].startswith("Beeswax melts")
    assert told.above == "It is said: “hot water takes wax off hair”"


def test_what_no_work_says_is_told_as_what_it_stands_as(session: Session) -> None:
    """It is not said to be read off a label."""
    session.ask('what of the saying "hair that squeaks is free of film"')
    assert "it stands as common practice" in session.ask("who says so").sentence
