"""The world a question is asked in: a base, its rules and a shelf of products.

A question does not evaluate the whole world. `World.judge` takes the products and
films in question, gathers the facts about them and everything they consist of, and
hands these to the reasoner as one `Case`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from abluent.engine.base import conditions
from abluent.engine.base.contract import (
    ASKS_ABOUT,
    ASKS_FILM,
    ASKS_FROM,
    ASKS_WASH,
    CIRCUMSTANCE,
    LINE,
    ON_NO_LABEL,
)
from abluent.engine.base.phrases import Phrases, product_name, product_symbol
from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.base.store import Base
from abluent.engine.logic.clauses import Declaration
from abluent.engine.logic.facts import Basis, Fact
from abluent.engine.logic.program import Program
from abluent.engine.logic.terms import Term
from abluent.engine.proof.sentences import Sentences
from abluent.engine.questions.answers.explained import QUESTION
from abluent.engine.questions.world.amounts import amounts
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.groundwork import Common
from abluent.engine.reading.kept import KeptLabels
from abluent.engine.reading.readings import ReadLabel

if TYPE_CHECKING:
    from abluent.engine.amounts.bounded import Bounded
    from abluent.engine.amounts.label_levels import LabelFacts

__all__ = ["WATER", "Case", "Product", "World"]

_ASKED = Basis(origin=QUESTION)
WATER = "water"
"""What plain water is called where a wash or a product is named."""


class Product(NamedTuple):
    """One product of a shelf, with its label word for word."""

    name: str
    kind: str
    market: str
    text: str


class World:
    """A base, its rules and a shelf; labels are read when they are first needed.

    Args:
        base: the base.
        program: its rules.
        products: the shelf, in its own order; of two of one name the last counts.
        stated: what the shelf says of how hair is washed, in words of the base
            such as `hard`, or `on damaged hair`.

    Attributes:
        practice: whether what the trade usually puts in may narrow how much a label
            can mean; set it before the first question.
        weighs: whether how much a label can mean is worked out at all; without that
            a first look at many labels is quick.

    Raises:
        ConditionError: a word states no condition, or two exclude one another.
    """

    def __init__(
        self,
        base: Base,
        program: Program,
        products: Iterable[Product] = (),
        stated: str | Iterable[str] = (),
    ) -> None:
        self.base = base
        self.program = _with_sentences(program, base)
        words = (stated,) if isinstance(stated, str) else stated
        self._said = dict.fromkeys(conditions.stated(base, words), "the shelf")
        self.phrases = Phrases(base)
        self.products: Mapping[str, Product] = {each.name: each for each in products}
        self.retyped: Mapping[str, Fact] = {}
        self._read: dict[str, ReadLabel] = {}
        self._cases: dict[tuple[Fact, ...], Case] | None = None
        self._bounds: dict[tuple[str, str], tuple[Bounded, ...]] = {}
        self.practice = True
        self.weighs = True

    def read(self, name: str) -> ReadLabel:
        """The label of a product, read.

        Raises:
            KeyError: no product of the shelf is called that.
        """
        if name not in self._read:
            product = self.products[name]
            self._read[name] = KeptLabels.of(self.base).read(
                product_symbol(name), product.kind, product.market, product.text
            )
        return self._read[name]

    # -- amounts -----------------------------------------------------------------

    def balance(self, name: str) -> Sequence[Fact]:
        """What a label holds of one charge beyond the other, if both stand on it."""
        if (name, "") not in self._bounds:
            both = self._has_both_charges(name)
            self._bounds[name, ""] = self._excess(name) if both else ()
        return [each.fact for each in self._bounds[name, ""]]

    def levels(self, name: str, symbols: Iterable[str]) -> Sequence[Fact]:
        """How much the label of a product can mean of some ingredients on it."""
        asked = list(dict.fromkeys(symbols))
        new = [symbol for symbol in asked if (name, symbol) not in self._bounds]
        if new:
            # Levels are solved for few labels; most questions need none.
            from abluent.engine.amounts.bounded import level_bounds  # noqa: PLC0415

            label = self.amounts(name)
            for symbol in new:
                found = level_bounds(label, [symbol], practice=self.practice)
                self._bounds[name, symbol] = tuple(found)
        return [each.fact for symbol in asked for each in self._bounds[name, symbol]]

    def bounded(self, name: str) -> list[Bounded]:
        """Every quantity worked out for a label, with the proof of its bounds."""
        return [e for (of, _), each in self._bounds.items() if of == name for e in each]

    def _excess(self, name: str) -> tuple[Bounded, ...]:
        from abluent.engine.amounts.charge_balance import (  # noqa: PLC0415
            excess_bounds,
        )

        return tuple(excess_bounds(self.amounts(name), practice=self.practice))

    def amounts(self, name: str) -> LabelFacts:
        """What is asserted of a label, as levels need it."""
        from abluent.engine.amounts.label_levels import LabelFacts  # noqa: PLC0415

        return LabelFacts([*self.read(name).facts, *self.retyped.values()], self.base)

    def _has_both_charges(self, name: str) -> bool:
        base, facts = self.base, self.read(name).facts
        listed = [str(f.args[2]) for f in facts if f.predicate == LINE]
        if not self.retyped.keys().isdisjoint(listed):
            return True
        opposed = {*base.terms(Role.NEGATIVE), *base.terms(Role.POSITIVE)}
        charge = "".join(base.terms(Role.CHARGE))
        signs = {base.record(each).link(charge) for each in listed if each in base}
        signs |= {str(f.args[1]) for f in facts if f.predicate == charge}
        return len(opposed) > 1 and signs >= opposed

    def with_products(self, more: Iterable[Product]) -> World:
        """This world with more products on its shelf, or others of the same names."""
        world = World.__new__(World)
        # What was worked out about the base and its rules holds for any shelf.
        world.__dict__.update(self.__dict__)
        world.__dict__.pop("_by_name", None)
        added = {each.name: each for each in more}
        world.products = {**self.products, **added}
        world._read = {n: r for n, r in self._read.items() if n not in added}
        world._bounds = {at: b for at, b in self._bounds.items() if at[0] not in added}
        return world

    @property
    def stated(self) -> Sequence[str]:
        """The conditions that hold unless a question says otherwise, by symbol."""
        return tuple(self._said)

    def under(self, words: Iterable[str], origin: str) -> World:
        """This world under conditions that stand above those of the shelf.

        Args:
            words: the conditions, in words of the base.
            origin: who says so, as a proof is to tell it.

        Raises:
            ConditionError: a word states no condition, or two exclude one another.
        """
        asked = conditions.stated(self.base, words)
        world = self.with_products([])
        kept = conditions.laid_over(self.base, self._said, asked)
        world._said = {each: self._said.get(each, origin) for each in kept}
        world._said |= dict.fromkeys(asked, origin)
        return world

    def with_facts(
        self, name: str, facts: Sequence[Fact], read: ReadLabel | None = None
    ) -> World:
        """This world with other facts read off the label of one product.

        `read` is the label as it was read, where that is known already.
        """
        world = self.with_products([])
        world._read[name] = (read or self.read(name)).with_facts(tuple(facts))
        world._bounds = {at: b for at, b in self._bounds.items() if at[0] != name}
        return world

    def with_type(self, symbol: str, fact: Fact) -> World:
        """This world with an ingredient of another class."""
        world = self.with_products([])
        world.retyped = {**self.retyped, symbol: fact}
        world._bounds = {}
        return world

    def remembering(self) -> World:
        """This world, whose cases those of worlds made from it begin with.

        Whoever asks one question of a world and of a few like it saves work by that;
        a world that lives long would keep too much.
        """
        world = self.with_products([])
        world._read, world._bounds = self._read, self._bounds  # it is the same shelf
        world._cases = {}
        return world

    def find_product(self, name: str) -> str | None:
        """The product that goes by this name, whatever its case and spacing."""
        return self._by_name.get(_plain(name))

    @cached_property
    def _by_name(self) -> dict[str, str]:
        return {_plain(name): name for name in self.products}

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

    # -- questions ---------------------------------------------------------------

    def judge(
        self,
        washes: Iterable[str] = (),
        films: Iterable[str] = (),
        sources: Iterable[str] = (),
        *,
        stated: Iterable[str] = (),
        more: Iterable[Fact] = (),
    ) -> Case:
        """Bring together all that bears on some washes and films.

        Args:
            washes: names of products used to wash; `water` is water alone.
            films: symbols of film-formers, whatever left them.
            sources: names of products whose films are in question.
            stated: under what conditions, in words of the base; they stand above
                those of the shelf.
            more: further facts, such as those of a supposition.

        Raises:
            KeyError: no product of the shelf is called that.
            ConditionError: a word states no condition, or two exclude one another.
        """
        washes, films, sources = list(washes), list(films), list(sources)
        facts = [
            *(Fact(ASKS_WASH, (self.symbol(name),), _ASKED) for name in washes),
            *(Fact(ASKS_FILM, (film,), _ASKED) for film in films),
            *(Fact(ASKS_FROM, (product_symbol(name),), _ASKED) for name in sources),
            *self._circumstances(stated),
            *more,
        ]
        asked = tuple(facts)
        for name in dict.fromkeys([*washes, *sources]):
            if name != WATER:
                facts += self.read(name).facts
        weighed = [name for name in washes if name != WATER] if self.weighs else []
        for name in weighed:
            facts += self.balance(name)
        facts += amounts(self, weighed, films)
        if self._cases is None:
            return Case(self, facts)
        case = Case(self, facts, self._cases.get(asked))
        self._cases.setdefault(asked, case)
        return case

    def _circumstances(self, words: Iterable[str]) -> Iterator[Fact]:
        """What is stated of how hair is washed: by the question, then by the shelf."""
        asked = conditions.stated(self.base, words)
        for each in conditions.laid_over(self.base, self._said, asked):
            basis = _ASKED if each in asked else Basis(origin=self._said[each])
            yield Fact(CIRCUMSTANCE, (each,), basis)

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

    def about(self, symbols: Iterable[str]) -> list[Fact]:
        """Facts that bring some ingredients into a case without a product."""
        return [Fact(ASKS_ABOUT, (symbol,), _ASKED) for symbol in symbols]

    @cached_property
    def sentences(self) -> Sentences:
        """The words for every step of a proof."""
        return Sentences(self.program, self.phrases)

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
        base = self.base
        sources = base.instances("Source")
        kinds = {s: base.record(s).link("sourceKind") for s in sources}
        practice = base.term(Role.PRACTICE)
        return self.asides | {s for s, kind in kinds.items() if kind == practice}

    @cached_property
    def ingredients(self) -> frozenset[str]:
        """Every ingredient and every grade of one, by symbol."""
        return frozenset(self.base.instances(self.base.term(Role.INGREDIENT)))

    @cached_property
    def unlisted_films(self) -> list[str]:
        """Films that stand on no label, such as what hard water leaves."""
        kinds = self.marked(ON_NO_LABEL)
        return [film for kind in kinds for film in self.base.instances(kind)]


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def _with_sentences(program: Program, base: Base) -> Program:
    """The program with the base's own sentences for the properties it mentions."""
    said = {name: base.sentence(name) for name in program.arities}
    added = [
        Declaration(name, (), text, "")
        for name, text in said.items()
        if text and name not in program.declarations
    ]
    return program.with_declarations(added) if added else program
