"""The line of advice below an answer, where that says what a thing is or is not."""

from __future__ import annotations

import pytest
from abluent.engine.base.rulebook import load_rulebook
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.advised import advised
from abluent.engine.questions.answers.nearest_advice import LABEL_CUE
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.world.world import World
from abluent.grammar.query.parse import parse_query

WORLD = World(Base.load(), load_rulebook())


@pytest.mark.parametrize(
    ("question", "about"),
    [
        ('is "Behentrimonium Methosulfate" a sulfate surfactant', "MonoalkylQuat"),
        ('is "Behentrimonium Methosulfate" a cationic surfactant', "MonoalkylQuat"),
        ('is "Cocamidopropyl Betaine" an anionic surfactant', "Betaine"),
    ],
)
def test_how_a_label_tells(question: str, about: str) -> None:
    """Whether it is or is not, the cue is that of what it is."""
    line = advised(ask(parse_query(question), WORLD))
    assert line is not None
    assert (line.matter, line.advice.about) == (LABEL_CUE, about)
