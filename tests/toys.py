"""Small programs that have nothing to do with hair, and short ways to write them."""

from __future__ import annotations

from collections.abc import Iterable

from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import load_program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.knowledge import Knowledge
from abluent.engine.proof.proofs import Proof

SCALE = "standings law above measured above handbook above practice\n"


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
"{1} is a parent of {2}"
  or else "{1} is not known to be a parent of {2}"
  written the parent parent the child

"{1} is an ancestor of {2}"
  or else "{1} is not known to be an ancestor of {2}"
  written the elder ancestor the younger

"{a} is a parent of {b}"
  because the a parent the b
  so      the a ancestor the b
  rule    parents-are, standing law

"{a} is a parent of {b}, an ancestor of {c}"
  because the a parent the b
      and the b ancestor the c
  so      the a ancestor the c
  rule    further-back, standing law

"{a} has no children"
  because the a person
      and nothing shows the a parent anything
  so      the a childless
  rule    childless, standing practice, source census
"""

FAMILY_FACTS = (
    fact("parent", "ann", "bea"),
    fact("parent", "bea", "cy"),
    fact("parent", "cy", "dot", standing="handbook", by="letters"),
    fact("person", "ann"),
    fact("person", "dot"),
)

REACH = """
"an edge leads from {a} to {b}"
  because the a edge the b
  so      the a path the b
  rule    edge, standing law

"from {a} by {b} to {c}"
  because the a edge the b
      and the b path the c
  so      the a path the c
  rule    further, standing law
"""

SAME = """
"{b} is the same as {a}, as {a} is as {b}"
  because the a same the b
  so      the b same the a
  rule    both-ways, standing law

"{a} is {b} is {c}"
  because the a same the b
      and the b same the c
  so      the a same the c
  rule    through, standing law

"{a} is called {n} like {b}"
  because the a same the b
      and the b name the n
  so      the a called the n
  rule    named, standing law
"""

BIRDS = """
"{1} is a {2}"
  or else "{1} is not a {2}"
  written the thing kind the kind

"{a} is a bird of {w} kg"
  because the a bird
      and the a weight the w
      and the w is below 20
  so      the a flies
  rule    flies, standing measured, source field-guide

"{a} is a penguin"
  because the a kind penguin
  stops   flies
  rule    penguins, standing measured, source polar-survey

"{a} carries the rocket {x}"
  because the a carries the x
      and the x rocket
  stops   penguins
  rule    rocket-packs, standing practice, source rumour

"{a} is a {k}, which is a bird"
  because the a kind the k
      and the k birdKind
  so      the a bird
  rule    bird-kinds, standing law
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
