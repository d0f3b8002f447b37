"""Check an exported trace without the reasoner that made it.

This file and those beside it need the standard library only, and can be run by
themselves:

    python checker.py TRACE.json [--base BASE.json]

`kernel` checks the steps; here is what they are held together by: the goals, the rows
of the verdict, the sentences, the labels, the sources, and the base. `TRACE.md` beside
this file describes the format.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

try:
    from abluent.engine.checking import foldings, follows, quantities, replay, reword
    from abluent.engine.checking.against import Against
    from abluent.engine.checking.kernel import (
        STATEMENT,
        Bad,
        Kernel,
        atom,
        below,
        canonical,
        digest,
        keys,
        need,
    )
except ImportError:  # run as a file by itself
    import foldings  # type: ignore[import-not-found, no-redef]
    import follows  # type: ignore[import-not-found, no-redef]
    import quantities  # type: ignore[import-not-found, no-redef]
    import replay  # type: ignore[import-not-found, no-redef]
    import reword  # type: ignore[import-not-found, no-redef]
    from against import Against  # type: ignore[import-not-found, no-redef]
    from kernel import (  # type: ignore[import-not-found, no-redef]
        STATEMENT,
        Bad,
        Kernel,
        atom,
        below,
        canonical,
        digest,
        keys,
        need,
    )

FORMAT = "abluent-trace/3"
FAMILY = "abluent-trace/"
TRACE_KEYS = (
    "format base question canonical verdict cautions goals program facts supposed "
    "foldings labels bounds sources names terms nodes digest"
)
GOAL_KEYS = "atom holds root standing memory weakest row part"
RULE_KEYS = "head body says exception standing memory sources"
NO_BASIS = {"standing": "", "memory": False, "sources": []}
MALFORMED = (
    *(AttributeError, LookupError, TypeError, ValueError),
    *(ArithmeticError, RecursionError, replay.Refused),
)
HOLDS = f"""\
What `holds` means
{STATEMENT}
Every row of the answer says what its goals show, and nothing else; every folding means
just the rows it names, and no row is in none; every sentence says what its step does;
every product named is there with its whole label; every interval follows from the
list, the law and the figures in the trace.
By its own rules and facts: whether these are right is not looked at, nor the question,
the cautions, nor how a label was read.
By the base: rules, facts, readings, sources and words are those of the base, what is
absent is so by all its facts, and the question asked again gives the same rows."""


class Result(NamedTuple):
    """Whether a trace holds; each problem is a place and a sentence about it.

    `supposed` has what it openly takes to be otherwise than it is, and `base` what it
    was compared with, empty for nothing.
    """

    ok: bool
    problems: tuple[tuple[str, str], ...] = ()
    supposed: tuple[str, ...] = ()
    base: str = ""

    def __str__(self) -> str:
        """The outcome in one line."""
        if not self.ok:
            return "does not hold"
        if not self.base:
            said = "holds by its own rules and facts; not compared with a base"
        else:
            said = f"holds, by the base {self.base}"
        under = "; ".join(self.supposed)
        return f"{said}; supposing {under}" if under else said


class _Check:
    def __init__(self, trace: Any, base: Any) -> None:
        form = trace.get("format") if isinstance(trace, dict) else None
        if isinstance(form, str) and form.startswith(FAMILY) and form != FORMAT:
            again = "ask its question again, and the trace is written anew"
            need(
                False, "format", f"is {form}, of another version than {FORMAT}; {again}"
            )
        keys(trace, TRACE_KEYS, "trace")
        need(form == FORMAT, "format", f"is not {FORMAT}")
        self.trace, self.nodes, self.program = trace, trace["nodes"], trace["program"]
        keys(trace["base"], "name digest", "base")
        keys(self.program, "standings rules predicates", "program")
        rules: dict[str, Any] = {}
        for name, rule in self.program["rules"].items():
            keys(rule, RULE_KEYS, name)
            rules[name] = atom(rule["head"]), replay.conditions(rule["body"])
        facts = {canonical(each): atom(each["atom"]) for each in trace["facts"]}
        self._alike(rules)
        self.words = reword.Words(trace["names"], self.program)
        self._supposed(set(facts.values()))
        self.base = base and Against(trace, base, rules)
        self.model = self.base.model() if base else _model(rules, facts)
        self.kernel = Kernel(rules, facts, self.model)

    def run(self) -> None:
        trace, goals = self.trace, self.trace["goals"]
        if self.base:
            self.base.answer()
        for name in below(self.nodes, [goal["root"] for goal in goals]):
            self._node(name, self.nodes[name])
        odd = set(self.nodes) - set(self.kernel.done)
        need(not odd, min(odd, default=""), "shows nothing that a goal rests on")
        for goal in goals:
            self._goal(goal)
        self._verdict()
        for test in reword.labels(trace):
            need(*test)
        for test in quantities.tests(trace, self.model):
            need(*test)
        for test in foldings.tests(trace, self.model):
            need(*test)
        self._sources()
        rest = {key: part for key, part in trace.items() if key != "digest"}
        need(trace["digest"] == digest(rest), "digest", "is that of another trace")

    def _alike(self, rules: dict[str, Any]) -> None:
        """That predicates have one width each, and no fact leaves anything open."""
        widths = {head[0]: len(head) for head, _ in rules.values()}
        for _, body in rules.values():
            for each in replay.atoms(body):
                same = widths.setdefault(each[0], len(each)) == len(each)
                need(same, each[0], "has another number of terms elsewhere")
        trace = self.trace
        parts = (*trace["facts"], *trace["goals"], *self.nodes.values())
        for part in parts:
            if "atom" in part:
                name, *terms = part["atom"]
                same = widths.setdefault(name, len(terms) + 1) == len(terms) + 1
                need(same, name, "has another number of terms elsewhere")
        for part in (*parts[: len(trace["facts"])], *trace["supposed"]["added"]):
            made = atom(part["atom"] if isinstance(part, dict) else part)
            need(all(map(replay.plain, made)), made[0], "leaves something open")

    def _supposed(self, facts: set[Any]) -> None:
        supposed = self.trace["supposed"]
        keys(supposed, "added removed", "supposed")
        added, removed = (set(map(atom, supposed[key])) for key in ("added", "removed"))
        need(added <= facts and not removed & facts, "supposed", "is not so")

    def _node(self, name: str, node: Any) -> None:
        try:
            self.kernel.node(name, node)
            self.words.sentence(node)
        except MALFORMED as error:
            raise Bad(name, f"is malformed: {error!r}") from None

    # -- goals and rows

    def _part(self, name: str) -> Any:
        """What gives a node its standing and sources: a fact or a rule."""
        node = self.nodes[name]
        if node["kind"] == "rule":
            return self.program["rules"][node["rule"]]
        return node if node["kind"] == "fact" else NO_BASIS

    def _rank(self, name: str) -> int:
        part, scale = self._part(name), self.program["standings"]
        if part["standing"] in scale:
            return int(2 * scale.index(part["standing"]) + part["memory"])
        return 2 * len(scale) if part["standing"] else -1

    def _goal(self, goal: Any) -> None:
        """Check that a goal is what its root shows, and stands as its weakest step."""
        keys(goal, GOAL_KEYS, "goals")
        root = goal["root"]
        made, holds = self.kernel.done[root], self.nodes[root]["kind"] != "absent"
        answers = hasattr(made, "atom") and made.atom == atom(goal["atom"])
        need(answers and goal["holds"] is holds, root, "does not answer its goal")
        names = below(self.nodes, [root])
        lowest = max(map(self._rank, names))
        weakest = sorted(n for n in names if self._rank(n) == lowest >= 0)
        basis = self._part(weakest[0]) if weakest else NO_BASIS
        wanted = {"standing": basis["standing"], "memory": basis["memory"]}
        for key, want in {**wanted, "weakest": weakest}.items():
            same = canonical(goal[key]) == canonical(want)
            need(same, root, f"{key} is {want}")

    def _verdict(self) -> None:
        """Make the rows anew from the goals, and compare."""
        rows: list[dict[str, Any]] = []
        for goal in self.trace["goals"]:
            said = {key: goal[key] for key in ("holds", "standing", "memory")}
            said = {**self._terms(goal), **said, "proof": goal["root"]}
            if goal["row"] is None:
                need(goal["part"] is False, goal["root"], "is a part of no row")
                continue
            need(type(goal["row"]) is int, goal["root"], "has no number for its row")
            if goal["part"] is True:
                need(goal["row"] == len(rows) - 1, goal["root"], "is not of this row")
                self._shares(goal, said, rows[-1])
                rows[-1].setdefault(goal["atom"][0], []).append(_beside(said, rows[-1]))
            else:
                first = goal["part"] is False and goal["row"] == len(rows)
                need(first, goal["root"], "is not of the next row")
                rows.append(said)
        same = canonical(self.trace["verdict"]) == canonical({"answers": rows})
        need(same, "verdict", self._off(rows))

    def _shares(self, goal: Any, said: Any, row: Any) -> None:
        """That a part of a row is about something that the row is about."""
        called = self.trace["terms"].get(goal["atom"][0], ())
        shared = [name for name in called if name in said and name in row]
        need(shared, goal["root"], "is about nothing that its row is about")

    def _off(self, rows: Any) -> str:
        said = self.trace["verdict"].get("answers", ())
        for number, (one, row) in enumerate(zip(said, rows, strict=False), 1):
            for key in {*one, *row}:
                if one.get(key) != row.get(key):
                    return f"row {number}: {key} is not what its goal shows"
        return f"nothing in the trace shows it: its goals show {len(rows)} rows"

    def _terms(self, goal: Any) -> dict[str, str]:
        """The terms of a goal in words, by what they are called."""
        predicate, *terms = goal["atom"]
        numbered = [f"term {place}" for place in range(1, len(terms) + 1)]
        called = self.trace["terms"].get(predicate, numbered)
        need(len(set(called)) == len(terms), predicate, "its terms are not named apart")
        return {
            name: self.words.name(term)
            for name, term in zip(called, terms, strict=True)
            if term is not None
        }

    def _sources(self) -> None:
        listed = self.trace["sources"]
        rules = self.program["rules"].values()
        cited = {s for part in (*self.trace["facts"], *rules) for s in part["sources"]}
        for name in sorted(cited ^ set(listed)):
            need(name in listed, name, "is cited and not listed")
            need(name in cited, name, "is listed and not cited")
        for name, citation in listed.items():
            need(citation.strip(), name, "has no citation")


def _model(rules: Any, facts: Any) -> follows.Follows:
    """What follows from the rules and facts of a trace alone."""
    told = follows.filed(facts.values())
    return follows.Follows(rules.values(), told)


def _beside(part: dict[str, Any], row: dict[str, Any]) -> dict[str, Any]:
    """A part of a row without what it shares with the row, which must agree."""
    own = {"holds", "standing", "memory", "proof"}
    for key in part.keys() & row.keys() - own:
        need(part[key] == row[key], part["proof"], f"is about another {key}")
    return {key: each for key, each in part.items() if key in own or key not in row}


def check(trace: Any, base: Any = None) -> Result:
    """Check a trace, and against a base if one is given.

    Args:
        trace: the data of a trace.
        base: a whole base; `TRACE.md` says what it holds.

    Returns:
        Whether the trace holds, and if not the first place where it does not.
    """
    try:
        made = _Check(trace, base)
        made.run()
    except Bad as bad:
        return Result(False, ((bad.args[0], bad.args[1]),))
    except MALFORMED as error:
        return Result(False, (("trace", f"is malformed: {error!r}"),))
    supposed = tuple(_supposing(trace["supposed"]))
    if not base:
        return Result(True, (), supposed)
    return Result(True, (), supposed + made.base.trusted, str(made.base))


def _supposing(supposed: Any) -> Iterator[str]:
    for key, word in (("added", "that"), ("removed", "not that")):
        for predicate, *terms in supposed[key]:
            said = ", ".join(map(_shown, terms))
            yield f"{word} {predicate}({said})"


def _shown(term: Any) -> str:
    return str(term["n"]) if isinstance(term, dict) and "n" in term else str(term)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(found := dict(pairs)) != len(pairs):
        raise ValueError("a key is given twice")
    return found


def read(text: str) -> Any:
    """Read a trace from JSON text; raises ValueError for a key given twice."""
    return json.loads(text, object_pairs_hook=_once)


def main(arguments: list[str]) -> int:
    """Check the file named.

    Returns 0 if it holds, 1 if not, 2 for wrong use, 3 if it holds under suppositions.
    """
    if arguments == ["--statement"]:
        print(HOLDS)
        return 0
    if len(arguments) not in (1, 3) or arguments[1:2] not in ([], ["--base"]):
        print("usage: checker.py TRACE.json [--base BASE.json]", file=sys.stderr)
        print("       checker.py --statement", file=sys.stderr)
        return 2
    try:
        data = [read(Path(name).read_text("utf-8")) for name in arguments[::2]]
    except (OSError, ValueError) as error:
        print(f"cannot read: {error}", file=sys.stderr)
        return 1
    result = check(*data)
    for place, problem in result.problems:
        print(f"{place}: {problem}")
    print(result)
    return (3 if result.supposed else 0) if result.ok else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
