"""Small programs that have nothing to do with hair, and short ways to write them."""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import load_program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.proofs import Proof

SCALE = "standings law > measured > handbook > practice\n"


def fact(
    predicate: str,
    *args: Term,
    by: str | tuple[str, ...] = "survey",
    standing: str = "measured",
    memory: bool = False,
    origin: str = "notes",
) -> Fact:
    """An assertion; `by` is its source, or several."""
    sources = (by,) if isinstance(by, str) else by
    return Fact(predicate, args, Basis(standing, sources, memory, origin))


def known(rules: str, *facts: Fact | Iterable[Fact]) -> Knowledge:
    """A program under the scale of these tests, with facts."""
    every: list[Fact] = []
    for each in facts:
        every.extend([each] if isinstance(each, Fact) else each)
    return Knowledge(load_program([("toy.rules", SCALE + rules)]), every)


def used(proof: Proof) -> set[tuple[str, tuple[Term, ...]]]:
    """The asserted facts of a proof, without their bases."""
    return {(each.predicate, each.args) for each in proof.facts}


FAMILY = """
predicate parent(parent, child)
  says "{1} is a parent of {2}"
  absent "{1} is not known to be a parent of {2}"
end
predicate ancestor(elder, younger)
  says "{1} is an ancestor of {2}"
  absent "{1} is not known to be an ancestor of {2}"
end
rule parents-are
  if parent(?a, ?b) then ancestor(?a, ?b)
  says "{?a} is a parent of {?b}" standing law
end
rule further-back
  if parent(?a, ?b), ancestor(?b, ?c) then ancestor(?a, ?c)
  says "{?a} is a parent of {?b}, an ancestor of {?c}" standing law
end
rule childless
  if person(?a), not parent(?a, _) then childless(?a)
  says "{?a} has no children" standing practice source census
end
"""

FAMILY_FACTS = (
    fact("parent", "ann", "bea"),
    fact("parent", "bea", "cy"),
    fact("parent", "cy", "dot", standing="handbook", by="letters"),
    fact("person", "ann"),
    fact("person", "dot"),
)

REACH = """
rule edge if edge(?a, ?b) then path(?a, ?b)
  says "an edge leads from {?a} to {?b}" standing law
end
rule further if edge(?a, ?b), path(?b, ?c) then path(?a, ?c)
  says "from {?a} by {?b} to {?c}" standing law
end
"""

SAME = """
rule both-ways if same(?a, ?b) then same(?b, ?a)
  says "{?b} is the same as {?a}, as {?a} is as {?b}" standing law
end
rule through if same(?a, ?b), same(?b, ?c) then same(?a, ?c)
  says "{?a} is {?b} is {?c}" standing law
end
rule named if same(?a, ?b), name(?b, ?n) then called(?a, ?n)
  says "{?a} is called {?n} like {?b}" standing law
end
"""

BIRDS = """
predicate kind(thing, kind) says "{1} is a {2}" absent "{1} is not a {2}" end
rule flies
  if bird(?a), weight(?a, ?w), ?w < 20
  then flies(?a)
  says "{?a} is a bird of {?w} kg" standing measured source field-guide
end
exception penguins to flies
  if kind(?a, penguin)
  says "{?a} is a penguin" standing measured source polar-survey
end
exception rocket-packs to penguins
  if carries(?a, ?x), rocket(?x)
  says "{?a} carries the rocket {?x}" standing practice source rumour
end
rule bird-kinds if kind(?a, ?k), birdKind(?k) then bird(?a)
  says "{?a} is a {?k}, which is a bird" standing law
end
"""

BIRD_FACTS = (
    fact("kind", "tux", "penguin", by="zoo"),
    fact("kind", "tom", "cat", by="zoo"),
    fact("kind", "ike", "sparrow", by="zoo"),
    fact("birdKind", "penguin", by="atlas"),
    fact("birdKind", "sparrow", by="atlas"),
    fact("weight", "tux", 5, by="scales"),
    fact("weight", "tom", 4, by="scales"),
    fact("weight", "ike", 1, by="scales"),
)
