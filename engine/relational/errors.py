"""What cannot be evaluated as a relational plan, and why.

EngineError
└── Untranslatable    a rule, or what facts say in a column that it uses
"""

from __future__ import annotations

from abluent.engine.errors import EngineError


class Untranslatable(EngineError):
    """A rule that no plan is made of, rather than one that answers otherwise.

    Args:
        rule: the id of the rule; empty if it is no rule but the facts.
        reason: what about it cannot be translated.
    """

    def __init__(self, rule: str, reason: str) -> None:
        where = f"rule `{rule}` " if rule else ""
        super().__init__(f"{where}cannot be evaluated in bulk: {reason}")
        self.rule, self.reason = rule, reason
