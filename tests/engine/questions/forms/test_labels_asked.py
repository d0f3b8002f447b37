"""Questions about labels: packs, near formulas, two lists, law, conflicts, rounds."""

from __future__ import annotations

import json

import pytest
from abluent.engine.faults import CommandError
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.world.world import Product
from abluent.shell.session.session import Session

_WASH = "Water, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Sodium Chloride"
LABELS = (
    Product("Gannet Wash", "wash", "EU", f"{_WASH}, Citric Acid"),
    Product("Gannet Wash New", "wash", "EU", f"{_WASH}, Dimethicone, Citric Acid"),
    Product(
        "Tern Cream",
        "leave-in",
        "EU",
        "Water, Cetearyl Alcohol, Behentrimonium Methosulfate, Glycerin, Parfum",
    ),
    Product(
        "Skua Cream",
        "leave-in",
        "EU",
        "Water, Glycerin, Zzyxwol Quux, Panthenol, Parfum",
    ),
    Product(
        "Petrel Leave-in",
        "leave-in",
        "EU",
        "Water, Glycerin, Methylisothiazolinone, Polyquaternium-10",
    ),
    Product("Auk Gel", "styler", "", "Water, Carbomer, PVP, Sodium Polyacrylate"),
)


@pytest.fixture(scope="module")
def session() -> Session:
    """A shelf of a few invented products."""
    made = Session.open()
    world = made.world
    made._world = world.with_products(LABELS)
    return made


def told(answer: Answer, kind: str) -> str:
    """What an answer found of one kind, as one text."""
    return " ".join(" ".join(f.items) for f in answer.findings if f.kind == kind)


def test_a_pack_may_be_right_wrong_or_open(session: Session) -> None:
    """Wrong by a line that shows it; open where a line was not understood."""
    ask = session.ask
    assert ask('does "Tern Cream" rightly say "silicone-free"').sentence.startswith(
        "Yes"
    )
    wrong = ask('does "Gannet Wash New" rightly say "free of silicones"')
    assert wrong.sentence.startswith("No: Dimethicone")
    assert wrong.rows
    unread = ask('does "Skua Cream" rightly say "silicone-free"')
    assert unread.sentence.startswith("Cannot tell")
    assert any("Zzyxwol" in note for note in unread.notes)


@pytest.mark.parametrize(
    ("question", "judged"),
    [
        ('does "{}" contain a silicone', "No"),
        ('does "{}" contain no silicones', "Yes"),
        ('does "{}" not contain a silicone', "Yes"),
        ('is it true that "{}" contains a silicone', "False"),
        ('is it true that "{}" does not contain a silicone', "True"),
    ],
)
def test_what_was_not_read_may_be_what_is_asked_about(
    session: Session, question: str, judged: str
) -> None:
    """A label read to its last line answers; one with a line unread does not."""
    unread = session.ask(question.format("Skua Cream")).sentence
    assert unread.startswith("Cannot tell")
    assert session.ask(question.format("Tern Cream")).sentence.startswith(f"{judged}: ")
    assert session.ask('does "Skua Cream" contain "Glycerin"').sentence.startswith(
        "Yes"
    )
    kept = session.ask("which leave-ins contain no silicones").sentence
    assert "Tern Cream" in kept.partition("Cannot tell")[0]
    assert "Skua Cream" in kept.partition("Cannot tell")[2]


def test_what_only_looks_like_it_is_told(session: Session) -> None:
    """A methosulfate is no sulfate, and a fatty alcohol no ethanol; the rule too."""
    notes = " ".join(session.ask('does "Tern Cream" rightly say "sulfate-free"').notes)
    assert "Behentrimonium Methosulfate only looks like" in notes
    assert "be truthful" in notes
    free = session.ask('does "Tern Cream" rightly say "free of ethanol"')
    assert free.sentence.startswith("Yes")
    assert any("Cetearyl Alcohol only looks like" in note for note in free.notes)


def test_a_claim_that_nobody_knows_is_said_to_be_one(session: Session) -> None:
    """With what can be said in its place."""
    with pytest.raises(CommandError, match="what a pack means by “moon-charged”"):
        session.ask('does "Tern Cream" rightly say "moon-charged"')


def test_near_formulas_are_found(session: Session) -> None:
    """Five of six lines and their order are nearly the same; a cream is none."""
    ask = session.ask
    assert ask('does "Gannet Wash" resemble "Gannet Wash New"').sentence.startswith(
        "Yes"
    )
    assert ask('does "Tern Cream" resemble "Gannet Wash"').sentence.startswith("No")
    found = ask('which products resemble "Gannet Wash"')
    assert [item.key for item in found.members] == ["Gannet Wash New"]


@pytest.mark.slow
def test_two_lists_line_by_line(session: Session) -> None:
    """What only the new one has, what it leaves more, and which verdicts turn."""
    answer = session.ask('compare "Gannet Wash" and "Gannet Wash New" line by line')
    assert told(answer, "gained") == "Dimethicone."
    assert "Gannet Wash New leaves Dimethicone" in told(answer, "left")
    assert not told(answer, "lost")
    assert answer.rows
    with pytest.raises(CommandError, match="name two"):
        session.ask('compare "Gannet Wash", "Tern Cream" and "Auk Gel" line by line')


def test_what_law_forbids(session: Session) -> None:
    """A line, its rule and its source; nothing where no market is named."""
    answer = session.ask('what may not stand in "Petrel Leave-in"')
    assert "Methylisothiazolinone" in answer.sentence
    assert "(place 3) is forbidden" in told(answer, "unlawful")
    assert "[" in told(answer, "unlawful")
    assert answer.rows
    assert "names no market" in session.ask('what may not stand in "Auk Gel"').sentence


def test_conflicts_and_the_least_to_buy(session: Session) -> None:
    """A polymer of positive charge beside one of negative; a wash that leaves."""
    answer = session.ask(
        'what conflicts among "Petrel Leave-in", "Auk Gel", "Gannet Wash" and '
        '"Gannet Wash New"'
    )
    assert "Petrel Leave-in (Polyquaternium-10, positive) beside Auk Gel" in told(
        answer, "charged"
    )
    assert "Gannet Wash New leaves Dimethicone; Gannet Wash takes it" in told(
        answer, "undone"
    )
    none = session.ask('what conflicts among "Gannet Wash"')
    assert none.sentence.startswith("Nothing that is known here")


def test_a_second_round_may_take_what_the_first_left_in_part(session: Session) -> None:
    """What is part at most after one is open after two, and what is none stays so."""
    claim = 'is it true that "Plover Mild Wash" clears beeswax'
    assert session.ask(claim).claim == "refuted"
    assert session.ask(f"{claim} after 2 rounds").claim == "unsupported"


@pytest.mark.slow
def test_films_in_the_order_of_ease(session: Session) -> None:
    """What water takes is easier than a wax; and how many compare is told."""
    answer = session.ask('which of "Cera Alba" and "Glycerin" hardest first')
    assert answer.members
    assert any("compare" in note for note in answer.notes)
    shifted = session.ask(
        'is "Cera Alba" harder to clear in cold water than in warm water'
    )
    assert shifted.sentence.startswith("No wash here shows that ")


@pytest.mark.parametrize(
    "question",
    [
        'does "Gannet Wash New" rightly say "silicone-free"',
        'does "Gannet Wash" resemble "Gannet Wash New"',
        'compare "Tern Cream" and "Skua Cream" line by line',
        'what may not stand in "Petrel Leave-in"',
    ],
)
def test_each_has_a_trace_and_plain_data(session: Session, question: str) -> None:
    """Whoever doubts it can check it."""
    answer = session.ask(question)
    trace = json.loads(session.export_trace(answer, "json").splitlines()[0])
    assert trace
