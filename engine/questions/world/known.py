"""What is known whatever stands on the shelf: a base, its rules, and words for both."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from abluent.engine.base.contract import ASKS_ABOUT, ON_NO_LABEL
from abluent.engine.base.phrases import Phrases, product_name, product_symbol
from abluent.engine.base.roles import EFFECTS, VERDICTS, Role
from abluent.engine.base.store import Base
from abluent.engine.logic.clauses import Declaration
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.origins import QUESTION
from abluent.engine.proof.sentences import Sentences
from abluent.engine.questions.world.groundwork import Common

ASKED = Basis(origin=QUESTION)
WATER = "water"
"""What plain water is called where a wash or a product is named."""


class Known:
    """A base and its rules, with what is worked out about them once.

    Args:
        base: the base.
        program: its rules.
    """

    def __init__(self, base: Base, program: Program) -> None:
        self.base = base
        self.program = _with_sentences(program, base)
        self.phrases = Phrases(base)
        self.edition: dict[str, str] | None = None
        """Which base it is, once somebody worked that out."""

    # -- what names and symbols stand for ----------------------------------------

    def symbol(self, name: str) -> str:
        """The symbol of a product, or of water, by its name."""
        return self.water_symbol if name == WATER else product_symbol(name)

    def name(self, symbol: Term) -> str:
        """The name of a product, or of water, by its symbol; empty for any product."""
        if symbol == self.any_product:
            return ""
        return WATER if symbol == self.water_symbol else product_name(symbol)

    @cached_property
    def water_symbol(self) -> str:
        """The ingredient that plain water is."""
        return self.base.term(Role.WATER)

    @cached_property
    def any_product(self) -> str:
        """What stands for whatever left a film that is asked about by itself."""
        return self.base.term(Role.ANY_PRODUCT)

    @cached_property
    def verdict_roles(self) -> Mapping[str, Role]:
        """What each verdict of the base says, by symbol."""
        return {self.base.term(role): role for role in VERDICTS}

    @cached_property
    def effect_roles(self) -> Mapping[str, Role]:
        """What each effect of the base says, by symbol."""
        return {self.base.term(role): role for role in EFFECTS}

    @cached_property
    def sentences(self) -> Sentences:
        """The words for every step of a proof."""
        return Sentences(self.program, self.phrases)

    # -- what follows whatever is asked ------------------------------------------

    @property
    def common(self) -> tuple[Fact, ...]:
        """The facts that every question needs: all but those about ingredients."""
        return self.shared.facts

    @cached_property
    def shared(self) -> Common:
        """These facts, and what follows from them alone."""
        return Common(self.base, self.program, self.ingredients)

    def marked(self, predicate: str) -> list[str]:
        """What a property of the base is stated of, in order."""
        if predicate not in self.program.arities:
            return []
        rows = self.shared.model.match(predicate)
        return sorted({str(row[0]) for row in rows})

    @staticmethod
    def about(symbols: Iterable[str]) -> list[Fact]:
        """Facts that bring some ingredients into a case without a product."""
        return [Fact(ASKS_ABOUT, (symbol,), ASKED) for symbol in symbols]

    # -- kinds of things ---------------------------------------------------------

    @cached_property
    def asides(self) -> frozenset[str]:
        """Sources and properties whose steps are left out of short explanations."""
        base = self.base
        properties = [name for name in self.program.arities if name in base]
        known = [*base.instances("Source"), *properties]
        return frozenset(s for s in known if base.record(s).truth("aside"))

    @cached_property
    def conventions(self) -> frozenset[str]:
        """Sources that are no work: bookkeeping, conventions, the label itself."""
        return self.asides | self._of_kind(Role.PRACTICE)

    @cached_property
    def searches(self) -> frozenset[str]:
        """Sources that tell only that nothing was found."""
        return self._of_kind(Role.SEARCH)

    def _of_kind(self, role: Role) -> frozenset[str]:
        """The sources of the kinds that play a role."""
        base = self.base
        kinds = base.terms(role)
        found = base.instances("Source")
        return frozenset(s for s in found if base.record(s).link("sourceKind") in kinds)

    @cached_property
    def ingredients(self) -> frozenset[str]:
        """Every ingredient and every grade of one, by symbol."""
        return frozenset(self.base.instances(self.base.term(Role.INGREDIENT)))

    @cached_property
    def unlisted_films(self) -> list[str]:
        """Films that stand on no label, such as what hard water leaves."""
        kinds = self.marked(ON_NO_LABEL)
        return [film for kind in kinds for film in self.base.instances(kind)]


def _with_sentences(program: Program, base: Base) -> Program:
    """The program with the base's own sentences for the properties it mentions."""
    said = {name: base.sentence(name) for name in program.arities}
    added = [
        Declaration(name, (), text, "")
        for name, text in said.items()
        if text and name not in program.declarations
    ]
    return program.with_declarations(added) if added else program
