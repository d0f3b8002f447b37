"""The contract between the rules and the code: what the rule files declare of it."""

from abluent.engine.base import contract
from abluent.engine.base.contract import TERMS
from abluent.engine.base.rulebook import load_rulebook


def test_the_rules_keep_to_the_contract() -> None:
    """Each predicate of the contract has the terms there that the rules declare."""
    declared = load_rulebook().declarations
    known = {name: declared[name].columns for name in TERMS if name in declared}
    assert len(known) > 30
    assert known == {name: TERMS[name] for name in known}


def test_what_is_asked_for_follows_from_some_rule() -> None:
    """Whatever code asks for by name is concluded by at least one rule."""
    asked = (
        "ISA",
        "LISTED",
        "VERDICT",
        "LEAVES",
        "LOWER",
        "UPPER",
        "CONTESTED",
        "ACTS",
        "TRIED",
    )
    asked += (
        "SET_ASIDE",
        "LATE",
        "READING",
        "HAS_GRADES",
        "YIELDS",
        "RESISTS",
        "HOLDS_OUT",
        "MILDER",
    )
    asked += ("STRONG", "AT_MOST", "AT_LEAST", "NEVER_OFF", "NEVER_SURELY_OFF")
    asked += ("KEPT_OFF", "NOT_CLEARABLE", "LEFT_UNCONDITIONED")
    concluded = {rule.head.predicate for rule in load_rulebook().rules}
    assert {getattr(contract, name) for name in asked} <= concluded


def test_every_name_of_the_contract_has_its_terms() -> None:
    """No predicate is named without saying what its terms are."""
    tables = {"TERMS", "WORDS"}
    named = {v for k, v in vars(contract).items() if k.isupper() and k not in tables}
    assert named == set(TERMS)
