"""Claims about names: one counterexample refutes, and all names are counted."""

import json
from fractions import Fraction

import pytest
from abluent.engine.questions.answers.answer import PROVEN, REFUTED, Answer
from abluent.shell.pages.answer_data import answer_json
from abluent.shell.session.session import Session

ATE = 'is it true that every ingredient named "*ate" is an anionic surfactant'


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open(taught=False)


@pytest.fixture(scope="module")
def ate(session: Session) -> Answer:
    return session.ask(ATE)


# That most anionic surfactants end in -ate, and by far not all names in -ate are such,
# is a rule of thumb of the trade; preservatives, esters and salts end so as well.
@pytest.mark.slow
def test_a_claim_about_names_is_scored_over_the_whole_base(ate: Answer) -> None:
    """The ending is no safe sign, though most of the kind have it."""
    assert ate.claim == REFUTED
    score = ate.score
    assert score is not None
    assert score.precision is not None
    assert score.recall is not None
    assert score.precision < Fraction(1, 2) < Fraction(3, 4) < score.recall


def test_every_name_is_counted_once(session: Session, ate: Answer) -> None:
    """Right, wrong, missed and the rest are all the ingredients that labels list."""
    score = ate.score
    assert score is not None
    counted = len(score.right) + len(score.wrong) + len(score.missed) + score.others
    known = session.world.base.names.values()
    assert counted == len({symbol for symbol, _ in known})
    assert ate.witness in score.wrong
    assert {"Sodium Laureth Sulfate", "Sodium Lauryl Sulfate"} <= set(score.right)
    assert "Behentrimonium Methosulfate" in score.wrong


def test_the_exceptions_are_told_by_name(ate: Answer) -> None:
    """A reader sees both counts, both shares and the names on either side."""
    score = ate.score
    assert score is not None
    fit, right = len(score.right) + len(score.wrong), len(score.right)
    first, second, wrong, missed = ate.notes
    assert first == (
        f"Of {fit} names that fit “*ate”, {right} are anionic surfactants "
        f"({100 * right / fit:.1f} %)."
    )
    assert second.startswith(f"Of {right + len(score.missed)} that are anionic")
    assert score.wrong[0] in wrong
    assert score.missed[0] in missed


def test_the_score_is_in_the_machine_readable_face(ate: Answer) -> None:
    """Names and shares come as data, the shares as plain numbers."""
    shown = json.loads(json.dumps(answer_json(ate, ATE)))["score"]
    assert ate.score is not None
    assert shown["wrong"] == list(ate.score.wrong)
    assert shown["precision"] == pytest.approx(float(ate.score.precision or 0))


def test_the_converse_has_the_same_table(session: Session, ate: Answer) -> None:
    """`every … is named …` asks for the recall of the same rule."""
    said = 'is it true that every anionic surfactant is named "*ate"'
    converse = session.ask(said)
    assert converse.claim == REFUTED
    assert converse.score is not None
    assert ate.score is not None
    assert set(converse.score.right) == set(ate.score.right)
    assert converse.witness in converse.score.missed


def test_a_rule_within_a_class(session: Session) -> None:
    """Names are counted among the members of the class that the claim speaks of."""
    said = 'is it true that every silicone named "PEG-*" is water-soluble'
    score = session.ask(said).score
    assert score is not None
    base = session.world.base
    counted = len(score.right) + len(score.wrong) + len(score.missed) + score.others
    assert 0 < counted <= len(base.instances("Silicone"))


def test_several_patterns_at_once(session: Session) -> None:
    """Patterns parted by a bar are tried one for the other."""
    said = 'is it true that some ingredient named "*sulfate|*sulfonate" is a silicone'
    score = session.ask(said).score
    assert score is not None
    assert score.right == ()
    assert {"Sodium Lauryl Sulfate", "Sodium C14-16 Olefin Sulfonate"} <= set(
        score.wrong
    )


def test_a_rule_without_exceptions(session: Session) -> None:
    """Where every name that fits is one, there is no exception to tell."""
    said = 'is it true that every ingredient named "Sodium Laureth Sulf*" is anionic'
    answer = session.ask(said)
    assert answer.claim == PROVEN
    assert answer.score is not None
    assert answer.score.wrong == ()
    assert answer.notes[0].endswith("(100.0 %).")
    assert not any(note.startswith("Fit and are none") for note in answer.notes)


def test_other_claims_have_no_score(session: Session) -> None:
    """A claim that is not about names is not counted."""
    assert session.ask("is it true that every sulfate is anionic").score is None


def test_claims_about_products_have_no_score(session: Session) -> None:
    """What products are called says nothing of the names of ingredients."""
    assert session.ask('is it true that every wash is named "*Wash"').score is None
