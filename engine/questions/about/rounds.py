"""How many rounds of a wash it takes: `how many rounds of W clear F`.

Hardly anybody has counted them, and how much is on hair differs. What one round does is
known, so that it is told where one is enough and where no number of them is.
"""

from __future__ import annotations

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.answers.wording import without_head
from abluent.grammar.common.record import replace

_ONE = "One round is enough"
_NEVER = "No number of rounds does"
_UNKNOWN = (
    "No number is known: it turns on how much is on the hair, and hardly anybody has "
    "counted"
)
_AGAIN = (
    "What one round takes of a film the next takes again, and of what is left in part "
    "it may take more; where one takes little or none, more of them help little."
)


def by_rounds(answer: Answer, *, sole: bool) -> Answer:
    """What one round does, as an answer to how many it takes.

    Args:
        answer: whether one wash clears it in one round, or which of several do.
        sole: whether it is one wash.
    """
    rows = [row for row in answer.rows if isinstance(row, Verdict)] if sole else []
    ends = [ENDS[row.role] for row in rows]
    head = _UNKNOWN
    if ends and all(low is Role.ALL_OF_IT for low, _ in ends):
        head = _ONE
    elif any(high is Role.NONE_OF_IT for _, high in ends):
        head = _NEVER
    told = f"{head}. By one round: {without_head(answer.sentence)}"
    notes = [*answer.notes, *([_AGAIN] if head is _UNKNOWN else [])]
    return replace(answer, sentence=told, notes=notes)
