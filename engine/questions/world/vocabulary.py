"""The names that free speech can mean: products, ingredients, classes, conditions.

What a name can be taken for is looked up in the base; slips are mended a letter at a
time, by the words of all these names.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, cached_property
from itertools import combinations

from abluent.engine.base import conditions, files
from abluent.engine.base.fold import fold, singulars
from abluent.engine.base.roles import Role
from abluent.engine.base.sayings import sayings
from abluent.engine.base.store import Base
from abluent.engine.questions.world import pack_claims
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.only_one import the_only
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import single_topics, single_words, spoken_words
from abluent.grammar.phrase.pieces import HeardSaying, Sense

_TRADE_WORDS = "names/trade_words.toml"
_SHORTEST_SLIP = 5
_SHORTEST_START = 4
_SHORTEST_WORD = 3
_SHORTEST_BEGUN = 12
_MOST_WORDS = 5
"""How many words of a name after its first one are told apart."""
_IN_BRACKETS = re.compile(r"[(«“]([^()«»“”]+)[)»”]")
_PRODUCTS = frozenset({"product", "products"})


@cache
def trade_words() -> Mapping[str, dict[str, str]]:
    """What people of the trade write for names, as the ontology lists it."""
    return files.shipped_table(_TRADE_WORDS)


class Vocabulary:
    """The lexicon of one world, for `abluent.grammar.speech`.

    Args:
        nouns: the nouns of the world.
    """

    def __init__(self, nouns: Nouns) -> None:
        self.nouns = nouns
        self._base = nouns.world.base
        self._found: dict[str, Sense | None] = {}

    def find(self, words: tuple[str, ...]) -> Sense | None:
        """What a name stands for, by its words in lower case."""
        name = fold(" ".join(self._instead.get(word, word) for word in words))
        first, _, rest = name.partition(" ")
        if rest.isdigit() and first in self._series:
            name = f"{self._series[first]} {rest}"
        if name not in self._found:
            found = self._look(name) if name else None
            self._found[name] = found or self._owner(words)
        return self._found[name]

    def _owner(self, words: tuple[str, ...]) -> Sense | None:
        """`plum's`: the product whose oil or label is spoken of."""
        *first, last = words or ("",)
        if not last.endswith("'s"):
            return None
        sense = self.find((*first, last.removesuffix("'s")))
        return sense if sense is not None and "product" in sense.kinds else None

    def repair(self, word: str) -> str:
        """The word of a name that a word is a slip of; empty if there is none."""
        words, slips = self._base.once(_of_base)
        if len(word) < _SHORTEST_SLIP or word in words or word in self._own_words:
            return ""
        found: set[str] = set()
        for key in _shortened(word):
            found |= slips.get(key, set()) | self._own_slips.get(key, set())
        near = sorted(found, key=lambda each: _far(word, each))
        return near[0] if near else ""

    def sayings(self) -> Sequence[HeardSaying]:
        """What people say, how each is heard, and what can be asked after it."""
        return self._sayings

    @cached_property
    def _sayings(self) -> Sequence[HeardSaying]:
        return [
            HeardSaying(e.said, e.heard, e.asks, f"{e.answer} {e.why}")
            for e in sayings(self._base)
        ]

    # -- looking up -----------------------------------------------------------------

    def _look(self, name: str) -> Sense | None:
        if name in self._sorts:
            kinds = {"sort", "promise"} if pack_claims.meant(name) else {"sort"}
            return Sense(self._sorts[name], frozenset(kinds))
        if name in self._wider:
            wider = self._look(self._wider[name])
            return None if wider is None else replace(wider, loose=True)
        meant = fold(self._names.get(name, name))
        if name in self._never:
            return None
        return (
            self._product(meant)
            or self._condition(meant)
            or self._kind(meant)
            or self._of_sort(meant)
            or self._ingredient(meant)
            or self._class(meant)
            or self._begun(meant)
            or self._told_apart(meant)
            or self._the_one(meant)
            or self._several(meant)
        )

    def _several(self, name: str) -> Sense | None:
        """`the dimethicones`: an ingredient by its name in the plural."""
        one = self._ingredient(name[:-1]) if name.endswith("s") else None
        return None if one is None else replace(one, loose=True)

    def _the_one(self, name: str) -> Sense | None:
        """`the mask`: the one product of its sort that is at hand."""
        before, _, sort = name.partition(" ")
        own = self._single_words.get(before, "")
        if own and self._kind(sort) and self._is_own(before):
            # `honey mask`, of the mask that has the word in its name.
            sense = self._product(fold(own))
            return None if sense is None else replace(sense, loose=True)
        if not sort or before not in trade_words()["one"]:
            return None
        named = "" if self._kind(sort) else self._single_words.get(sort, "")
        product = named or the_only(sort, self.nouns)
        sense = self._product(fold(product)) if product else None
        return None if sense is None else replace(sense, loose=True)

    def _is_own(self, word: str) -> bool:
        """Whether a word of a product's name tells no sort of product by itself."""
        if word in self._sorts or word in self._strengths or self._kind(word):
            return False
        return word not in spoken_words() or self._ingredient(word) is not None

    def _told_apart(self, name: str) -> Sense | None:
        """The one product with a word in its name that means nothing else."""
        tells = self._tells(name) and name not in spoken_words()
        product = self._single_words.get(name) if tells else None
        if product is None and tells and name.endswith("s"):
            # `on plums list`: of the one product called so.
            product = self._single_words.get(name[:-1])
        sense = None if product is None else self._product(fold(product))
        return None if sense is None else replace(sense, loose=True)

    @cached_property
    def _single_words(self) -> dict[str, str]:
        """Every product by a later word of its name that is of it alone."""
        found: dict[str, list[str]] = {}
        for name in self.nouns.world.products:
            for word in fold(name).split()[1 : _MOST_WORDS + 1]:
                found.setdefault(word, []).append(name)
        return {
            word: fits[0]
            for word, fits in found.items()
            if len(fits) == 1 and word.isalpha()
        }

    def _tells(self, word: str) -> bool:
        return len(word) >= _SHORTEST_WORD

    def _begun(self, name: str) -> Sense | None:
        """The one ingredient whose name begins with these words, the last cut off."""
        if " " not in name or len(name) < _SHORTEST_BEGUN:
            return None
        names, ordered = self._base.names, self._base.once(_in_order)
        first = bisect_left(ordered, name)
        last = bisect_left(ordered, name + "\uffff")
        found = {names[each][0] for each in ordered[first:last]}
        if len(found) != 1:
            # `va crotonates`: the one with a word more.
            words = name.count(" ") + 1
            near = (e for e in ordered[first:last] if e.count(" ") == words)
            found = {names[each][0] for each in near}
        if len(found) != 1:
            return None
        sense = self._ingredient(fold(self._base.label(found.pop())))
        return None if sense is None else replace(sense, loose=True)

    @cached_property
    def _instead(self) -> dict[str, str]:
        return trade_words()["words"]

    @cached_property
    def _series(self) -> dict[str, str]:
        return trade_words()["series"]

    @cached_property
    def _names(self) -> dict[str, str]:
        return {fold(each): name for each, name in trade_words()["names"].items()}

    @cached_property
    def _wider(self) -> dict[str, str]:
        return {fold(each): fold(name) for each, name in trade_words()["wider"].items()}

    @cached_property
    def _sorts(self) -> dict[str, str]:
        return {fold(each): text for each, text in trade_words()["sorts"].items()}

    @cached_property
    def _strengths(self) -> dict[str, str]:
        return trade_words()["strengths"]

    @cached_property
    def _never(self) -> frozenset[str]:
        return frozenset(map(fold, trade_words()["never"]))

    @cached_property
    def _idle(self) -> frozenset[str]:
        return frozenset(map(fold, trade_words()["idle"]))

    def _product(self, name: str) -> Sense | None:
        if name == WATER:
            return Sense(WATER, frozenset({"water", "agent"}))
        if name in _PRODUCTS:
            return Sense("products", frozenset({"kind"}), "product")
        product = self._products.get(name)
        if product is None:
            return None
        noun = self.nouns.as_products(product)
        cleans = noun is not None and self.nouns.cleans(noun.items[0])
        kinds = {"product", "wash", "agent"} if cleans else {"product"}
        if noun is not None and self._rinsed(self.nouns.kind_of(noun.items[0])):
            kinds.add("agent")
        return Sense(product, frozenset(kinds))

    def _rinsed(self, kind: str) -> bool:
        """Whether products of a kind are put on and rinsed out."""
        return kind in self._base and self._base.record(kind).truth("rinsedOff")

    @cached_property
    def _products(self) -> dict[str, str]:
        """Every product by its name, and by some words of it that fit it alone.

        The first word is always one of them, and the others stand in their order; what
        stands in brackets is such a name too.
        """
        found: dict[str, list[str]] = {}
        names = {fold(name): name for name in self.nouns.world.products}
        for folded, name in names.items():
            words = folded.split()
            for start in (*_shortened_names(words), *_bracketed(name)):
                if len(start) >= _SHORTEST_START:
                    found.setdefault(start, []).append(name)
        single = {
            start: fits[0]
            for start, fits in found.items()
            if len(fits) == 1 and not self._is_known(start)
        }
        return {**single, **names}

    def _is_known(self, name: str) -> bool:
        base = self._base
        if name in single_topics():
            # `copper` alone is the metal, and no product called so.
            return True
        return base.lookup(name) is not None or name in base.phrases

    def _condition(self, name: str) -> Sense | None:
        condition = self._conditions.get(name)
        if condition is None:
            return None
        other = next(iter(self._base.record(condition).links("opposite")), None)
        against = self._base.label(other) if other else ""
        return Sense(self._base.label(condition), frozenset({"condition"}), against)

    @cached_property
    def _conditions(self) -> dict[str, str]:
        """Every way to state a condition: its phrases, with and without `in`."""
        base, found = self._base, {}
        for condition in conditions.every(base):
            aspect, _ = conditions.aspect_of(base, condition)
            for phrase in self._phrases_of(condition):
                first, _, rest = phrase.partition(" ")
                if not rest:
                    nouns = base.record(condition).texts("saidOf")
                    for each in nouns or (aspect,):
                        found[f"{phrase} {each}"] = condition
                        found[f"{each} is {phrase}"] = condition
                        found[f"{each} are {phrase}"] = condition
                        found[fold(f"{each}'s {phrase}")] = condition
                    continue
                found[phrase] = condition
                if first in {"in", "on", "over"} and " " in rest:
                    found.setdefault(rest, condition)
        return found

    def _phrases_of(self, symbol: str) -> Iterator[str]:
        yield fold(self._base.label(symbol))
        for text in self._base.record(symbol).texts("alias"):
            yield fold(text)

    def _kind(self, name: str) -> Sense | None:
        base = self._base
        for form in singulars(name):
            kind = base.find_value(form, base.term(Role.PRODUCT_KIND))
            if kind is None:
                continue
            first, _, rest = form.partition(" ")
            if rest and self._kind_of(rest) == kind and first not in self._idle:
                # `clarifying` and `deep` say something that the kind does not.
                return None
            kinds = {"kind"}
            cleaning = kind == base.term(Role.WASH)
            if kind == base.term(Role.WASH):
                kinds |= {"wash", "agent"}
            elif kind in self.nouns.cleaning:
                kinds |= {"wash", "agent"}
            elif self._rinsed(kind):
                kinds |= {"agent"}
            own = {fold(base.label(kind)), fold(base.plural(kind))}
            known = own.union(*(singulars(each) for each in own))
            loose = not cleaning and form not in known
            ingredient = self._ingredient(name) or self._class(name)
            if ingredient is not None and kind != base.term(Role.WASH):
                # `oil` is a kind of product and a class of ingredients too.
                return replace(ingredient, kinds=ingredient.kinds | {"kind"})
            return Sense(base.plural(kind), frozenset(kinds), base.label(kind), loose)
        return None

    def _of_sort(self, name: str) -> Sense | None:
        """Washes told apart by how they clean: `gentle shampoos`."""
        first, _, rest = name.rpartition(" ")
        kind = self._kind(rest) if first else None
        wash = self._base.term(Role.WASH)
        if kind is None or kind.text != self._base.plural(wash):
            return None
        sort = self.nouns.sort(f"{self._strengths.get(first, first)} {kind.text}")
        if sort is None:
            return None
        one, many = self._base.label(sort.symbol), self._base.plural(sort.symbol)
        return replace(kind, text=many, one=one)

    def _kind_of(self, name: str) -> str | None:
        kind = self._base.term(Role.PRODUCT_KIND)
        found = (self._base.find_value(each, kind) for each in singulars(name))
        return next(filter(None, found), None)

    def _ingredient(self, name: str) -> Sense | None:
        symbol = self._base.lookup(name)
        if symbol is None:
            return None
        kinds = {"ingredient", *self._uses([symbol])}
        return Sense(self._base.label(symbol), frozenset(kinds))

    def _class(self, name: str) -> Sense | None:
        kind = self.nouns.class_or_value(name)
        if kind is None:
            return None
        base = self._base
        if base.is_class(kind):
            kinds = {"class", *self._uses_of_class(kind)}
            return Sense(base.plural(kind), frozenset(kinds), base.label(kind))
        return Sense(name, frozenset({"value", "class", "film", "agent"}))

    def _uses_of_class(self, kind: str) -> Iterator[str]:
        above = self._base.ancestors(kind)
        yield from self._roles(above)
        if self._base.term(Role.INGREDIENT) == kind:
            yield "film"

    def _uses(self, symbols: Iterable[str]) -> Iterator[str]:
        for symbol in symbols:
            yield from self._roles(self._base.classes_of(symbol))

    def _roles(self, kinds: Iterable[str]) -> Iterator[str]:
        held = set(kinds)
        if self._base.term(Role.FILM) in held:
            yield "film"
        else:
            yield "agent"
        if self._base.term(Role.CLEANSER) in held:
            yield from ("agent", "cleanser")

    # -- slips ------------------------------------------------------------------------

    @cached_property
    def _own_words(self) -> frozenset[str]:
        """The words of the products' names."""
        return frozenset(word for name in self._products for word in name.split())

    @cached_property
    def _own_slips(self) -> dict[str, set[str]]:
        return _by_letters(self._own_words)


def _shortened_names(words: Sequence[str]) -> Iterator[str]:
    """The first word of a name with any of the others, and not all of them."""
    first, rest = words[0], words[1 : _MOST_WORDS + 1]
    for size in range(len(rest) + 1):
        for kept in combinations(rest, size):
            if len(kept) + 1 < len(words):
                yield " ".join((first, *kept))


def _bracketed(name: str) -> Iterator[str]:
    """What stands in brackets in a name, such as how another script is read."""
    yield from map(fold, _IN_BRACKETS.findall(name))


def _in_order(base: Base) -> list[str]:
    """The names of all ingredients in order."""
    return sorted(base.names)


def _of_base(base: Base) -> tuple[frozenset[str], dict[str, set[str]]]:
    """The words of all names of a base, and the slips of them and of speech."""
    names = (*base.names, *base.phrases, *map(fold, trade_words()["names"]))
    names = (*names, *map(fold, trade_words()["wider"]))
    words = frozenset(word for name in names for word in name.split())
    return words, _by_letters({*words, *single_words()})


def _by_letters(words: Iterable[str]) -> dict[str, set[str]]:
    """Words by what is left of them with one letter out."""
    found: dict[str, set[str]] = {}
    for word in words:
        if len(word) >= _SHORTEST_SLIP and word.isalpha():
            for key in _shortened(word):
                found.setdefault(key, set()).add(word)
    return found


def _far(word: str, meant: str) -> tuple[int, int, str]:
    """How far a slip is from a word: a letter too few or too many is nearest."""
    short, long = sorted((word, meant), key=len)
    left_out = short in set(_shortened(long))
    changed = sum(a != b for a, b in zip(word, meant, strict=False))
    single = len(word) == len(meant) and changed == 1
    return 2 - 2 * left_out - single, abs(len(meant) - len(word)), meant


def _shortened(word: str) -> Iterator[str]:
    """A word, and what is left of it with one letter out."""
    yield word
    for at in range(len(word)):
        yield word[:at] + word[at + 1 :]
