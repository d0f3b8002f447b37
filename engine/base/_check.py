"""What makes a base refused at load, each problem with its place and its fix.

The same things are said by the shapes and by a description-logic reasoner in the
tests; here they are checked in passing whenever the files have changed, so that a
user's own file gets a plain answer without either of them installed.
"""

from __future__ import annotations

from collections.abc import Iterator

from abluent.engine.base._parse import Parsed, Part
from abluent.engine.base._problems import BaseProblem
from abluent.engine.base.fold import fold
from abluent.engine.base.near import offered
from abluent.engine.base.roles import MANY, Role

NAME_PROPERTIES = ("inci", "synonym", "nativeName")
_ROLES = frozenset(map(str, Role))
# Links whose targets are classes or properties as often as individuals.
_FREE_OF_RANGE = {"type", "subclass", "subproperty", "domain", "range", "disjoint"}


class Checker:
    """Checks all parts of a base against one another."""

    def __init__(self, files: list[Parsed], parts: dict[str, list[Part]]) -> None:
        self._files = {parsed.file: parsed for parsed in files}
        self._parts = parts
        self._roles = {s: {r for p in ps for r in p.roles} for s, ps in parts.items()}
        self._names = self._below(set(NAME_PROPERTIES))

    def problems(self) -> list[BaseProblem]:
        """Every problem, in no order."""
        for parts in self._parts.values():
            for part in parts:
                self._check_properties(part)
                self._check_links(part)
                self._check_basis(part)
            self._check_space(parts)
            self._check_functional(parts)
            self._check_disjoint(parts)
            self._check_inci(parts)
            self._check_source(parts)
        self._check_names()
        self._check_played()
        return [problem for each in self._files.values() for problem in each.problems]

    @property
    def name_properties(self) -> frozenset[str]:
        """The properties whose texts are names of an ingredient."""
        return self._names

    def _complain(self, part: Part, message: str, fix: str) -> None:
        self._files[part.file].complain(f"{part.space}:{part.symbol}", message, fix)

    def _below(self, names: set[str]) -> frozenset[str]:
        below = {
            symbol
            for symbol, parts in self._parts.items()
            if any(names & set(part.linked("subproperty")) for part in parts)
        }
        return frozenset(names | below)

    # -- one part -------------------------------------------------------------

    def _check_properties(self, part: Part) -> None:
        used = {name for name, _ in [*part.links, *part.texts, *part.numbers]}
        own = {"label", "comment", *_FREE_OF_RANGE}
        for name in sorted((used | set(part.truths)) - own):
            if "Property" not in self._roles.get(name, ()):
                properties = (s for s, r in self._roles.items() if "Property" in r)
                fix = offered(name, properties, shown="abl:{}".format)
                self._complain(part, f"`abl:{name}` is no property of the base", fix)

    def _check_links(self, part: Part) -> None:
        for name, target in part.links:
            if target not in self._parts:
                fix = self._offered(name, target)
                self._complain(part, f"nothing describes `{target}`", fix)
            elif name in {"type", "subclass"} and "Class" not in self._roles[target]:
                fix = "Name a class of the vocabulary."
                self._complain(part, f"`abl:{target}` is not a class", fix)
            elif name not in _FREE_OF_RANGE:
                self._check_range(part, name, target)

    def _check_range(self, part: Part, name: str, target: str) -> None:
        for declared in self._parts.get(name, []):
            for wanted in declared.linked("range"):
                if wanted in self._parts and not self._is(target, wanted):
                    self._complain(
                        part,
                        f"`{target}` is no value of `abl:{name}`",
                        self._offered(name, target),
                    )

    def _offered(self, name: str, target: str) -> str:
        """What may be the value of a property, the nearest to what was written."""
        kinds = [
            kind
            for declared in self._parts.get(name, ())
            for kind in declared.linked("range")
        ]
        if name in {"type", "subclass"}:
            could = [s for s, roles in self._roles.items() if "Class" in roles]
        else:
            could = [s for s in self._parts if any(self._is(s, k) for k in kinds)]
        return offered(target, could or self._parts, self._label, self._curie)

    def _label(self, symbol: str) -> str:
        texts = (text for part in self._parts[symbol] for text in part.texts)
        return next((text for key, text in texts if key == "label"), symbol)

    def _curie(self, symbol: str) -> str:
        return f"{self._parts[symbol][0].space}:{symbol}"

    def _check_basis(self, part: Part) -> None:
        standings = part.linked("standing")
        if len(standings) > 1:
            fix = "Keep the one that holds, or split the claim."
            self._complain(part, "it has more than one standing", fix)
        if part.space not in {"ing", "claim"}:
            return
        if not (part.links or part.numbers or part.truths):
            return
        header = self._files[part.file].header
        for name in ("source", "standing"):
            if not part.linked(name) and not header.linked(name):
                self._complain(
                    part,
                    f"it states facts without a {name}",
                    f"Add `abl:{name}`; for a fact of the trade without a text use "
                    "`src:common-practice` and `abl:commonPractice`.",
                )

    # -- one subject ----------------------------------------------------------

    def _check_space(self, parts: list[Part]) -> None:
        first = parts[0]
        for part in parts[1:]:
            if part.space != first.space:
                self._complain(
                    part,
                    f"`{first.space}:{first.symbol}` in {first.file} has the same "
                    "local name",
                    "Rename one of them: local names are the symbols of the rules.",
                )

    def _check_functional(self, parts: list[Part]) -> None:
        values: dict[str, set[object]] = {}
        for part in parts:
            for name, value in [*part.links, *part.numbers]:
                if "Functional" in self._roles.get(name, ()):
                    values.setdefault(name, set()).add(value)
        for name, found in values.items():
            if len(found) > 1:
                listed = " and ".join(sorted(map(str, found)))
                fix = "Keep one of them."
                self._complain(parts[-1], f"its `abl:{name}` is both {listed}", fix)

    def _check_disjoint(self, parts: list[Part]) -> None:
        types = {t for part in parts for t in part.linked("type")}
        kinds = sorted({up for t in types for up in self.ancestors(t)})
        for kind in kinds:
            for apart in self._linked(kind, "disjoint"):
                if apart in kinds:
                    self._complain(
                        parts[-1],
                        f"it is both `abl:{kind}` and `abl:{apart}`, which share "
                        "no member",
                        "Take one of the two kinds away.",
                    )

    def _check_inci(self, parts: list[Part]) -> None:
        if parts[0].space != "ing":
            return
        if not any(name == "inci" for part in parts for name, _ in part.texts):
            fix = "Add `abl:inci` with the name as labels print it."
            self._complain(parts[0], "this ingredient has no INCI name", fix)

    def _check_source(self, parts: list[Part]) -> None:
        """A reader can find a cited work: by its title, and by what its kind wants."""
        if parts[0].space != "src":
            return
        told = {name for p in parts for name, _ in [*p.texts, *p.numbers, *p.links]}
        if "citation" not in told:
            fix = "Add `abl:citation` with what a reader would look for."
            self._complain(parts[0], "this source cannot be found: no citation", fix)
        kinds = [kind for part in parts for kind in part.linked("sourceKind")]
        wanted = {each for kind in kinds for each in self._texts(kind, "foundBy")}
        if wanted and not wanted & told:
            listed = ", ".join(f"`abl:{name}`" for name in sorted(wanted))
            message = "this source cannot be found: nothing says whose it is or where"
            self._complain(parts[0], message, f"Add at least one of {listed}.")

    def _texts(self, symbol: str, name: str) -> list[str]:
        texts = [text for part in self._parts.get(symbol, []) for text in part.texts]
        return [text for key, text in texts if key == name]

    # -- all subjects ---------------------------------------------------------

    def _check_names(self) -> None:
        owners: dict[str, Part] = {}
        for parts in self._parts.values():
            for part in parts:
                for name in self.names_of(part):
                    owner = owners.setdefault(fold(name), part)
                    if owner.symbol != part.symbol:
                        self._complain(
                            part,
                            f"the name `{name}` is claimed by "
                            f"`{owner.space}:{owner.symbol}` in {owner.file} too",
                            "Leave it to the one it names, or make both more exact.",
                        )

    def _check_played(self) -> None:
        """Each role is asked for by the code, and one term plays it unless more may."""
        players: dict[str, Part] = {}
        for part in (part for parts in self._parts.values() for part in parts):
            for role in roles_of(part):
                owner = players.setdefault(role, part)
                if role not in _ROLES:
                    message = f"nothing asks for the role `{role}`"
                    self._complain(part, message, offered(role, _ROLES))
                elif owner.symbol != part.symbol and role not in MANY:
                    self._complain(
                        part,
                        f"`{owner.space}:{owner.symbol}` plays the role `{role}` too",
                        "Leave it to one of them.",
                    )

    def names_of(self, part: Part) -> Iterator[str]:
        """Every name that a part gives its ingredient."""
        if part.space == "ing":
            yield from (text for key, text in part.texts if key in self._names)

    def ancestors(self, kind: str) -> set[str]:
        """A class and every class above it."""
        seen = {kind}
        pending = [kind]
        while pending:
            for wider in self._linked(pending.pop(), "subclass"):
                if wider not in seen:
                    seen.add(wider)
                    pending.append(wider)
        return seen

    def _is(self, symbol: str, kind: str) -> bool:
        types = self._linked(symbol, "type")
        return any(kind in self.ancestors(each) for each in types)

    def _linked(self, symbol: str, name: str) -> list[str]:
        return [v for part in self._parts.get(symbol, []) for v in part.linked(name)]


def roles_of(part: Part) -> Iterator[str]:
    """Every role that a part gives its subject."""
    return (text for key, text in part.texts if key == "role")
