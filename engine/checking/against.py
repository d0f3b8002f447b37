"""Hold a trace against a base, for the checker: the standard library only.

The base is data of the same forms as a trace: all its rules, its facts by predicate,
its sources, words and labels, and what the question came to when it was asked again.
"""

from __future__ import annotations

from typing import Any

try:
    from abluent.engine.checking.follows import Follows, needs
    from abluent.engine.checking.kernel import atom, canonical, need
    from abluent.engine.checking.replay import conditions
except ImportError:  # beside a checker that was run as a file by itself
    from follows import Follows, needs  # type: ignore[import-not-found, no-redef]
    from kernel import atom, canonical, need  # type: ignore[import-not-found, no-redef]
    from replay import conditions  # type: ignore[import-not-found, no-redef]

REBUILT = ("canonical", "verdict", "supposed", "cautions")


class Against:
    """A trace beside a base.

    Args:
        trace: the trace.
        base: the base.
        rules: the rules of the trace, read.

    Raises:
        kernel.Bad: a rule, fact, label, source or word is not that of the base.
    """

    def __init__(self, trace: Any, base: Any, rules: Any) -> None:
        self.trace, self.base = trace, base
        self.rules = {
            name: rules.get(name) or (atom(rule["head"]), conditions(rule["body"]))
            for name, rule in base["program"]["rules"].items()
        }
        self.again = self._again()
        self._program()
        for part in ("sources", "names", "terms"):
            for name, said in trace[part].items():
                need(base[part].get(name) == said, name, f"differs in the {part}")
        self._facts()
        self._labels()

    def _again(self) -> Any:
        """What the question came to when it was asked again: this trace, or the first.

        None if nobody asked, or it cannot be asked by itself.
        """
        asked = self.base["asked"]
        if asked is None:
            return None
        trace = self.trace
        same = (a for a in asked if all(a[part] == trace[part] for part in REBUILT))
        return next(same, asked[0]) if asked else None

    def _program(self) -> None:
        ours, theirs = self.trace["program"], self.base["program"]
        need(ours["standings"] == theirs["standings"], "standings", "are others")
        for name, said in ours["predicates"].items():
            same = theirs["predicates"].get(name) == said
            need(same, name, "has other sentences in the base")
        for name, rule in ours["rules"].items():
            same = theirs["rules"].get(name) == rule
            need(same, name, "is not the rule of the base")

    def _facts(self) -> None:
        """That every fact of the trace is of the base, supposed, or of the question."""
        added = set(map(canonical, self.trace["supposed"]["added"]))
        facts = self.base["facts"]
        named = {tuple(map(str, part["atom"][:2])) for part in self.trace["facts"]}
        known = {
            canonical(each)
            for name in {name for name, *_ in named}
            for each in facts.get(name, ())
            if tuple(map(str, each["atom"][:2])) in named
        }
        known.update(map(canonical, self.again["facts"] if self.again else ()))
        asked = {name for _, body in self.rules.values() for name, _ in needs(body)}
        asked -= {head[0] for head, _ in self.rules.values()} | facts.keys()
        for part in self.trace["facts"]:
            text = canonical(part)
            there = text in known or canonical(part["atom"]) in added
            if self.again is None and part["atom"][0] in asked:
                # Nobody asked again, so that what the question states is taken as told.
                there = not (part["sources"] or part["standing"])
            need(there, text, "is not in the base")

    def _labels(self) -> None:
        """That labels are read as the base reads them, with all that they say."""
        there = {canonical(part["atom"]) for part in self.trace["facts"]}
        gone = set(map(canonical, self.trace["supposed"]["removed"]))
        for label in self.trace["labels"]:
            known = self.base["labels"].get(label["product"], {})
            same = all(known.get(key) == label[key] for key in label)
            need(same, label["product"], "has another label, or is read otherwise")
            for each in known["facts"]:
                text = canonical(each)
                need(text in there | gone, text, "is on the label, not in the trace")

    def model(self) -> Follows:
        """What follows from the rules and facts of the base, as they are supposed."""
        facts = self.base["facts"]
        own: dict[str, list[Any]] = {}
        more = self.again["facts"] if self.again else ()
        for part in (*self.trace["facts"], *more):
            own.setdefault(part["atom"][0], []).append(atom(part["atom"]))
        removed = set(map(atom, self.trace["supposed"]["removed"]))

        def of(name: str) -> list[Any]:
            known = [atom(each["atom"]) for each in facts.get(name, ())]
            return [
                *own.get(name, ()),
                *(each for each in known if each not in removed),
            ]

        return Follows(self.rules.values(), of)

    def answer(self) -> None:
        """That the question, asked again, comes to the same."""
        for part in REBUILT if self.again else ():
            same = self.again[part] == self.trace[part]
            need(same, part, "is not what the question comes to, asked again")

    @property
    def trusted(self) -> tuple[str, ...]:
        """What had to be taken on trust."""
        if self.base["asked"] != []:
            return ()
        return ("that the question, which cannot be asked by itself, comes to this",)

    def __str__(self) -> str:
        """The name of the base, and whether the shelf is that of the trace alone."""
        edition = self.base["edition"]
        own = self.again and self.again["ownShelf"]
        said = f"{edition['name']} (digest {edition['digest']})"
        if self.trace["base"] != edition:
            said += f", not {self.trace['base']['name'] or 'the one'} it was made with"
        return f"{said}, on the shelf of the trace" if own else said
