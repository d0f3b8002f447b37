"""Where things stand in rules, and where one of them may stand for others.

A variable that speaks of things stands in predicates of what is known of each thing,
the leaves, and in predicates that bring different things together. All places of the
latter kind that rules join are one role.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from abluent.engine.logic import clauses as c


class Leaf(NamedTuple):
    """A predicate of the first part as a role of the second looks at it.

    Args:
        predicate: the predicate.
        place: where the thing stands.
        partner: where that stands which it is spoken of together with; `None` where
            it is a fact of the thing whatever its partner.
        name: what the facts are called that are kept for the role.
    """

    predicate: str
    place: int
    partner: int | None
    name: str


class Role(NamedTuple):
    """Where things stand in the second part.

    Args:
        number: tells it from others.
        leaves: what the role looks at.
        paired: whether things are alike together with a partner each.
        places: the places of predicates of the second part: the predicate, where the
            thing stands, and where its partner does, if it is paired.
    """

    number: int
    leaves: tuple[Leaf, ...]
    paired: bool
    places: tuple[tuple[str, int, int | None], ...]


def _weighs(rule: c.Rule, name: str) -> bool:
    """Whether a rule looks at what a variable is, and not only what is so of it."""
    for literal in _literals(rule.body):
        if isinstance(literal, c.Comparison | c.Assignment):
            if name in set(c.literal_variables(literal)):
                return True
        elif isinstance(literal, c.Collection):
            terms = {t.name for t in literal.terms if isinstance(t, c.Variable)}
            if name in {*terms, literal.variable.name}:
                return True
    return False


def _literals(body: Iterable[c.Literal]) -> Iterator[c.Literal]:
    for literal in body:
        yield literal
        if isinstance(literal, c.Collection):
            yield from _literals(literal.body)


_Column = tuple[str, int]


class _Use(NamedTuple):
    """An atom that speaks of a thing: its rule, and the place of the thing.

    `binds` says that it is a condition that must hold.
    """

    rule: int
    atom: c.Atom
    place: int
    variable: str
    binds: bool

    @property
    def column(self) -> _Column:
        """The predicate and the place."""
        return self.atom.predicate, self.place


class Roles:
    """The roles of the second part."""

    def __init__(  # noqa: PLR0913, PLR0917 - all that tells who is spoken of where
        self,
        rules: Sequence[c.Rule],
        own: Collection[str],
        places: dict[str, list[int]],
        apart: Collection[str],
        goals: Sequence[str],
        start: int,
        whole: Sequence[tuple[str, int, int | None]],
    ) -> None:
        self._rules, self._own, self._places = rules, own, places
        self._apart, self._start = apart, start
        # Where things are alike whole, though they could be so with a partner.
        self._whole = {(name, at) for name, at, _ in whole}
        self._parent: dict[Hashable, Hashable] = {}
        self._fixed: set[Hashable] = set()
        self._uses: list[_Use] = []
        for at, rule in enumerate(rules):
            for atom in (rule.head, *c.body_atoms(rule.body)):
                self._take(at, rule, atom)
            self._fix_head(at, rule)
        self._put_together([name for name in goals if name not in own])
        self._of: dict[Hashable, Role] = {}
        self.roles = self._found()
        """Every role in which one thing may stand for others."""

    def _found(self) -> tuple[Role, ...]:
        groups: dict[Hashable, list[_Use]] = {}
        for use in self._uses:
            groups.setdefault(self._root((use.rule, use.variable)), []).append(use)
        fixed = {self._root(node) for node in self._fixed}
        free = {root: uses for root, uses in groups.items() if root not in fixed}
        self._of = {
            root: self._role(number, uses)
            for number, (root, uses) in enumerate(free.items(), self._start)
        }
        return tuple(self._of.values())

    def renamed(self) -> list[c.Rule]:
        """The rules, each looking at what is kept for its roles."""
        names = {
            (root, leaf.predicate): leaf.name
            for root, role in self._of.items()
            for leaf in role.leaves
        }

        def atom(at: int, each: c.Atom) -> c.Atom:
            for place in self._places[each.predicate]:
                thing = each.args[place]
                if each.predicate in self._own and isinstance(thing, c.Variable):
                    key = (self._root((at, thing.name)), each.predicate)
                    return each._replace(predicate=names.get(key, each.predicate))
            return each

        return [
            rule._replace(body=_mapped(rule.body, partial(atom, at)))
            for at, rule in enumerate(self._rules)
        ]

    # -- where things meet ------------------------------------------------------------

    def _take(self, at: int, rule: c.Rule, atom: c.Atom) -> None:
        leaf = atom.predicate in self._own
        for place in self._places[atom.predicate]:
            thing = atom.args[place]
            column = ("column", atom.predicate, place)
            if isinstance(thing, c.Variable):
                node = (at, thing.name)
                binds = any(atom is each for each in rule.body)
                self._uses.append(_Use(at, atom, place, thing.name, binds))
                if not leaf:
                    self._parent[self._root(node)] = self._root(column)
                if _weighs(rule, thing.name) or atom.predicate in self._apart:
                    self._fixed.add(node)
            elif not isinstance(thing, c.Anything) and not leaf:
                self._fixed.add(column)

    def _fix_head(self, at: int, rule: c.Rule) -> None:
        """A head that names one thing twice says that two things are one."""
        often = Counter(
            each.name
            for place in self._places[rule.head.predicate]
            for each in [rule.head.args[place]]
            if isinstance(each, c.Variable)
        )
        self._fixed.update((at, name) for name, times in often.items() if times > 1)

    def _put_together(self, goals: Sequence[str]) -> None:
        """Let goals of the same form be asked of the same things."""
        first: dict[tuple[int, ...], str] = {}
        for name in goals:
            other = first.setdefault(tuple(self._places[name]), name)
            for place in self._places[name]:
                one, two = ("column", name, place), ("column", other, place)
                self._parent[self._root(one)] = self._root(two)

    def _root(self, node: Hashable) -> Hashable:
        while self._parent.get(node, node) != node:
            node = self._parent[node]
        return node

    # -- roles ------------------------------------------------------------------------

    def _role(self, number: int, uses: list[_Use]) -> Role:
        columns = dict.fromkeys(use.column for use in uses)
        whole = not self._whole.isdisjoint(columns)
        partners = None if whole else _Partners(uses, self._own).found()
        paired = partners is not None
        joint = [each for each in columns if each[0] not in self._own]
        leaves = [each for each in columns if each[0] in self._own]
        of = partners or {}
        return Role(
            number,
            tuple(
                Leaf(name, place, of.get((name, place)), f"{name} in role {number}")
                for name, place in leaves
            ),
            paired,
            tuple((name, place, of.get((name, place))) for name, place in joint),
        )


class _Partners:
    """What the things of one role are always spoken of together with.

    It is found by following one variable through the rules: wherever the thing stands
    in a predicate of the second part, its partner stands in one place beside it.
    """

    def __init__(self, uses: Sequence[_Use], own: Collection[str]) -> None:
        self._own = own
        self._rules: dict[tuple[int, str], list[_Use]] = {}
        for use in uses:
            self._rules.setdefault((use.rule, use.variable), []).append(use)
        columns = dict.fromkeys(use.column for use in uses)
        self._joint = [each for each in columns if each[0] not in own]
        self._first = next((u for u in uses if u.column in self._joint), None)

    def found(self) -> dict[_Column, int | None] | None:
        """The place of the partner, for each place of the thing; `None` if none."""
        use = self._first
        if use is None:
            return None
        for partner in range(len(use.atom.args)):
            if partner != use.place:
                found = self._followed({use.column: partner})
                if found is not None:
                    return found
        return None

    def _followed(
        self, start: dict[_Column, int | None]
    ) -> dict[_Column, int | None] | None:
        found = dict(start)
        grown = True
        while grown:
            size = len(found)
            for uses in self._rules.values():
                partner = self._partner(uses, found)
                if partner is None:
                    continue
                if not self._spread(uses, partner, found):
                    return None
            grown = len(found) > size
        whole = all(column in found for column in self._joint)
        # Pairs that no fact tells of cannot be told apart by their facts.
        told = any(
            place is not None for (name, _), place in found.items() if name in self._own
        )
        return found if whole and told and self._is_sound(found) else None

    def _partner(
        self, uses: Sequence[_Use], found: dict[_Column, int | None]
    ) -> str | None:
        """The variable that stands for the partner in a rule.

        What the second part concludes tells it better than what it begins with.
        """
        told: str | None = None
        for use in uses:
            place = found.get(use.column)
            if place is not None:
                term = use.atom.args[place]
                name = term.name if isinstance(term, c.Variable) else ""
                if use.atom.predicate not in self._own:
                    return name
                told = told or name
        return told

    def _spread(
        self, uses: Sequence[_Use], partner: str, found: dict[_Column, int | None]
    ) -> bool:
        """Take over where the partner stands in a rule; whether it is where it must."""
        for use in uses:
            column = use.column
            stands = [
                place
                for place, term in enumerate(use.atom.args)
                if isinstance(term, c.Variable) and term.name == partner
            ]
            if column[0] in self._own:
                # What it is not beside in every use is a fact of the thing alone.
                kept = found.setdefault(column, stands[0] if stands else None)
                if kept not in stands:
                    found[column] = None
            elif column not in found:
                if not stands:
                    return False
                found[column] = stands[0]
            elif found[column] not in stands:
                return False
        return True

    def _is_sound(self, found: dict[_Column, int | None]) -> bool:
        """Whether every rule that speaks of a pair rests on some fact of it."""
        for uses in self._rules.values():
            paired = [use for use in uses if found.get(use.column) is not None]
            if paired and not any(use.binds for use in paired):
                return False
        return True


def _mapped(
    body: Iterable[c.Literal], change: Callable[[c.Atom], c.Atom]
) -> tuple[c.Literal, ...]:
    """A body in which every atom is changed."""
    found: list[c.Literal] = []
    for literal in body:
        if isinstance(literal, c.Atom):
            found.append(change(literal))
        elif isinstance(literal, c.Absence):
            found.append(literal._replace(atom=change(literal.atom)))
        elif isinstance(literal, c.Collection):
            found.append(literal._replace(body=_mapped(literal.body, change)))
        else:
            found.append(literal)
    return tuple(found)
