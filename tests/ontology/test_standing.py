"""Law and standards stand as such; conventions of the base lend no standing."""

from abluent.engine.base.store import Base
from abluent.engine.logic.clauses import Rule
from abluent.engine.logic.program import Program

# What the rules of logic rest on is a standard and says nothing of hair.
LOGIC = {"owl-2"}


def kind_of(base: Base, source: str) -> str | None:
    """The kind of a source; logic counts as a convention."""
    return "convention" if source in LOGIC else base.source(source).link("sourceKind")


def stated(rules: Program) -> list[Rule]:
    """The rules as they are written, without those made of parts of one."""
    return [rule for rule in rules.rules if not rule.generated]


def test_conventions_lend_no_standing(base: Base, rules: Program) -> None:
    """A rule that cites conventions alone has no standing, or is a mere inference."""
    some = [
        rule
        for rule in stated(rules)
        if {kind_of(base, s) for s in rule.sources} == {"convention"}
    ]
    assert len(some) > 50
    assert {r.standing for r in some} <= {"", "inferred"}


def test_works_have_a_standing(base: Base, rules: Program) -> None:
    """A rule that cites a work, or the practice of the trade, says how it stands."""
    own = {"convention", "calculation"}
    some = [
        rule
        for rule in stated(rules)
        if not {kind_of(base, s) for s in rule.sources} <= own
    ]
    assert len(some) > 20
    assert [rule.id for rule in some if not rule.standing] == []


def test_law_is_of_laws_and_standards(base: Base, rules: Program) -> None:
    """Only what cites a law or a standard stands as one, facts and rules alike."""
    wrong = set()
    for part in [*(f.basis for f in base.facts), *stated(rules)]:
        if part.standing == "lawOrStandard":
            kinds = {kind_of(base, s) for s in part.sources}
            if not kinds & {"law", "standard"}:
                wrong.add((str(part[0]), part.sources))
    assert wrong == set()


def test_words_of_the_vocabulary(base: Base) -> None:
    """That one kind is under another is a convention of the base, and no law."""
    (fact,) = [
        f
        for f in base.facts_about(["AlkylSulfate"], {"subclass"})
        if f.args[1] == "SulfateSurfactant"
    ]
    assert fact.basis.standing == ""
    assert fact.basis.sources == ("vocabulary",)
