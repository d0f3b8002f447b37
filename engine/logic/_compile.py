"""Syntax trees to rules: exceptions resolved, everything unsafe refused.

An exception `e to r` becomes a predicate of its own, `exception e`, over the
variables it shares with `r`; the body of `r` gets `not exception e(...)`. An
"unless" group of several conditions is treated the same way. Where such a group
does not bind its shared variables itself, the conditions of its rule are put
before it, so that "unless the level is above 1" can speak about a bound level.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from itertools import pairwise
from typing import TypeAlias

from abluent.engine.errors import Problem, ProgramError
from abluent.engine.logic._translate import (
    mentioned,
    place_of,
    translate,
    translate_atom,
)
from abluent.engine.logic.clauses import (
    Absence,
    Atom,
    Declaration,
    Literal,
    Place,
    Rule,
    Variable,
    literal_variables,
)
from abluent.engine.logic.safety import (
    Unbound,
    bound_variables,
    unbound_in_body,
    unbound_in_head,
)
from abluent.engine.logic.strata import Component, components, needs, unfinished
from abluent.grammar.common.errors import (
    GrammarError,
    GrammarProblems,
    Span,
    excerpt,
    line_and_column,
)
from abluent.grammar.rules import tree as ast
from abluent.grammar.rules.parse import parse_rules

# What to do about each kind of problem.
ADVICE = {
    "arity": "Give it the same terms everywhere, or use two names.",
    "exception-cycle": "Let one of them name the rule that it is an exception to.",
    "negative-cycle": "Split a predicate, so that what is denied is finished first.",
    "no-head": "Add `so` with what follows, or `stops` with a rule to be stopped.",
    "no-sentence": 'Head it with one "sentence" that a person can dispute.',
    "open-head": "Bind a variable there by a condition.",
    "same-id": "Give one of them another name.",
    "same-predicate": "Keep one of the two declarations.",
    "second-scale": "Declare the scale once for all files.",
    "unbound-absence": "Write `anything` for it, or bind it by another condition.",
    "unbound-arithmetic": "Bind it by a condition that says what is so.",
    "unbound-collection": "Bind it by a condition inside the collection.",
    "unbound-comparison": "Bind it by a condition that says what is so.",
    "unbound-head": "Bind it by a condition that says what is so.",
    "unknown-place": "Name what the conditions bind, or count from {1}.",
    "unknown-standing": "Write `standing` and a name of the declared scale, or `none`.",
    "unknown-target": "Name a rule or an exception of these files.",
}
_PLACE = re.compile(r"\{\?(\w+)\}")
# What a rule says that only tells how a base reads its own words.
_NO_STANDING = "none"
_NUMBERED = re.compile(r"\{(\d+)\}")


@dataclass(frozen=True, slots=True)
class Compiled:
    """What a program is made of."""

    rules: tuple[Rule, ...]
    declarations: tuple[Declaration, ...]
    standings: tuple[str, ...]
    components: tuple[Component, ...]


_Ruling: TypeAlias = ast.Rule | ast.Override


@dataclass(slots=True)
class _Draft:
    """A block on its way to becoming rules."""

    file: str
    text: str
    block: _Ruling
    own: tuple[Literal, ...] = ()
    full: tuple[Literal, ...] = ()
    visible: tuple[str, ...] = ()
    head: Atom | None = None
    stops: list[Absence] = field(default_factory=list)

    @property
    def place(self) -> Place:
        span = self.block.span
        line, _ = line_and_column(self.text, span.start)
        return Place(self.file, line, span.start, span.end)


def compile_files(sources: Iterable[tuple[str, str]]) -> Compiled:
    """Compile rule files, given as name and text.

    Raises:
        ProgramError: with every problem of every file.
    """
    return _Compiler(sources).run()


class _Compiler:
    def __init__(self, sources: Iterable[tuple[str, str]]) -> None:
        self._sources = tuple(sources)
        self._problems: list[Problem] = []
        self._standings: tuple[str, ...] = ()
        self._declared: dict[str, Declaration] = {}
        self._drafts: dict[str, _Draft] = {}
        self._rules: list[Rule] = []

    def run(self) -> Compiled:
        if not self._read():
            raise ProgramError(self._problems)
        self._draft_rules()
        self._draft_exceptions()
        for draft in self._drafts.values():
            self._finish(draft)
        self._check_arities()
        parts = components(self._rules)
        self._check_strata(parts)
        if self._problems:
            raise ProgramError(self._problems)
        return Compiled(
            tuple(self._rules), tuple(self._declared.values()), self._standings, parts
        )

    def _wrong(  # noqa: PLR0913, PLR0917 - one problem, described in full
        self,
        file: str,
        text: str,
        span: Span,
        code: str,
        rule: str,
        message: str,
        advice: str = "",
    ) -> None:
        line, _ = line_and_column(text, span.start)
        pointed, advice = excerpt(text, span), advice or ADVICE.get(code, "")
        problem = Problem(file, line, code, rule, message, pointed, advice)
        self._problems.append(problem)

    def _wrong_in(
        self, draft: _Draft, code: str, message: str, span: Span, advice: str = ""
    ) -> None:
        name, named = draft.block.name, f"rule `{draft.block.name}`: {message}"
        self._wrong(draft.file, draft.text, span, code, name, named, advice)

    # -- reading --------------------------------------------------------------

    def _read(self) -> bool:
        """Read all files; whether every one of them could be parsed."""
        parsed = True
        for name, text in self._sources:
            try:
                tree = parse_rules(text, name)
            except GrammarProblems as errors:
                self._problems += map(_syntax_problem, errors.problems)
                parsed = False
                continue
            for block in tree.blocks:
                self._take(name, text, block)
        return parsed

    def _take(self, file: str, text: str, block: ast.Block) -> None:
        if isinstance(block, ast.Standings):
            self._take_standings(file, text, block)
        elif isinstance(block, ast.Predicate):
            self._take_predicate(file, text, block)
        elif block.name in self._drafts:
            other = self._drafts[block.name].place
            message = f"rule `{block.name}` is already at {other}"
            span = _whole(block)
            self._wrong(file, text, span, "same-id", block.name, message)
        else:
            self._drafts[block.name] = _Draft(file, text, block)

    def _take_standings(self, file: str, text: str, block: ast.Standings) -> None:
        if self._standings and self._standings != block.names:
            message = "the scale of standings is already declared, and differs"
            self._wrong(file, text, block.span, "second-scale", "", message)
        if _NO_STANDING in block.names:
            message = "a scale has no standing `none`, which says that a rule has none"
            self._wrong(file, text, block.span, "unknown-standing", "", message)
        self._standings = block.names

    def _take_predicate(self, file: str, text: str, block: ast.Predicate) -> None:
        says, absent = block.says or "", block.absent or ""
        if block.name in self._declared:
            message = f"predicate `{block.name}` is already declared"
            self._wrong(file, text, block.span, "same-predicate", "", message)
        for number in _NUMBERED.findall(says + absent):
            if not 1 <= int(number) <= len(block.columns):
                message = f"predicate `{block.name}` has no place {{{number}}}"
                self._wrong(file, text, block.span, "unknown-place", "", message)
        self._declared[block.name] = Declaration(
            block.name, block.columns, says, absent
        )

    # -- drafting: bodies, shared variables -------------------------------------

    def _draft_rules(self) -> None:
        for draft in self._drafts.values():
            if isinstance(draft.block, ast.Rule):
                draft.own = draft.full = _body(draft.block)
                draft.visible = tuple(dict.fromkeys(_names(draft.own)))

    def _draft_exceptions(self) -> None:
        """Draft every exception after its target, and put it into the target."""
        waiting = [
            draft
            for draft in self._drafts.values()
            if isinstance(draft.block, ast.Override)
        ]
        done = {n for n, d in self._drafts.items() if isinstance(d.block, ast.Rule)}
        while waiting:
            ready = [draft for draft in waiting if _target(draft) in done]
            for draft in ready:
                self._draft_exception(draft, self._drafts[_target(draft)])
                waiting.remove(draft)
                done.add(draft.block.name)
            if not ready:
                self._refuse_targets(waiting)
                return

    def _refuse_targets(self, waiting: Sequence[_Draft]) -> None:
        known = set(self._drafts)
        for draft in waiting:
            target = _target(draft)
            if target in known:
                message = f"the exceptions to `{target}` lead back to each other"
                code = "exception-cycle"
            else:
                message = f"there is no rule `{target}` to be an exception to"
                code = "unknown-target"
            near = [] if target in known else get_close_matches(target, known, 1)
            advice = f"Did you mean `{near[0]}`?" if near else ""
            span = _word(draft.block, "stops")
            self._wrong_in(draft, code, message, span, advice)
            del self._drafts[draft.block.name]

    def _draft_exception(self, draft: _Draft, target: _Draft) -> None:
        draft.own = _body(draft.block, target.visible)
        draft.visible = tuple(dict.fromkeys([*target.visible, *_names(draft.own)]))
        used = mentioned(draft.block) | set(_PLACE.findall(draft.block.says or ""))
        shared = [name for name in target.visible if name in used]
        draft.full = self._completed(target.full, draft.own, shared)
        draft.head = _generated(f"exception {draft.block.name}", shared)
        target.stops.append(Absence(draft.head, "exception"))

    @staticmethod
    def _completed(
        outer: tuple[Literal, ...], own: tuple[Literal, ...], shared: Sequence[str]
    ) -> tuple[Literal, ...]:
        """The own conditions, after the outer ones where they need them."""
        bound = bound_variables(own)
        missing = not bound.issuperset(shared) or any(unbound_in_body(own))
        return (*outer, *own) if missing else own

    # -- finishing: rules, checks ----------------------------------------------

    def _finish(self, draft: _Draft) -> None:
        block = draft.block
        groups = [
            self._unless(draft, number, group)
            for number, group in enumerate(block.unless, 1)
        ]
        body = (*draft.full, *groups, *draft.stops)
        heads = [draft.head] if draft.head else []
        if isinstance(block, ast.Rule):
            heads = [translate_atom(head) for head in block.heads]
        if not heads:
            self._wrong_in(draft, "no-head", "nothing follows from it", _whole(block))
        self._check_block(draft, body)
        for head in heads:
            for unbound in unbound_in_head(head, body):
                self._refuse(draft, unbound)
            self._rules.append(self._rule(draft, head, body))

    def _unless(
        self, draft: _Draft, number: int, group: Sequence[ast.Condition]
    ) -> Absence:
        if len(group) == 1 and isinstance(group[0], ast.Atom):
            return Absence(translate_atom(group[0]), "unless")
        own = translate(group, draft.visible)
        shared = [name for name in draft.visible if name in mentioned(group)]
        body = self._completed(draft.full, own, shared)
        head = _generated(f"unless {draft.block.name} {number}", shared)
        for unbound in unbound_in_body(body):
            self._refuse(draft, unbound)
        self._rules.append(self._rule(draft, head, body, generated=True))
        return Absence(head, "unless")

    @staticmethod
    def _rule(
        draft: _Draft, head: Atom, body: tuple[Literal, ...], generated: bool = False
    ) -> Rule:
        block = draft.block
        return Rule(
            head.predicate if generated else block.name,
            head,
            body,
            "" if generated else block.says or "",
            block.sources,
            "" if block.standing in (None, _NO_STANDING) else block.standing,
            block.from_memory,
            draft.place,
            block.target if isinstance(block, ast.Override) else "",
            generated,
        )

    def _check_block(self, draft: _Draft, body: tuple[Literal, ...]) -> None:
        block = draft.block
        for unbound in unbound_in_body(body):
            self._refuse(draft, unbound)
        if not block.says:
            message = "it has no sentence"
            self._wrong_in(draft, "no-sentence", message, _whole(block))
        bound = bound_variables(body)
        for found in _PLACE.finditer(block.says or ""):
            if found[1] not in bound:
                message = f"its sentence names `{found[1]}`, which no condition binds"
                span = _in_sentence(block, found[1])
                self._wrong_in(draft, "unknown-place", message, span)
        self._check_standing(draft)

    def _check_standing(self, draft: _Draft) -> None:
        standing = draft.block.standing
        allowed = (*self._standings, _NO_STANDING)
        if not self._standings or standing in allowed:
            return
        if standing is None:
            message = "it has no standing"
            self._wrong_in(draft, "unknown-standing", message, _whole(draft.block))
            return
        near = get_close_matches(standing, allowed, 1)
        advice = f"Did you mean `{near[0]}`?" if near else ""
        scale = ", ".join(f"`{name}`" for name in self._standings)
        message = f"its standing `{standing}` is none of {scale}"
        span = _word(draft.block, "standing")
        self._wrong_in(draft, "unknown-standing", message, span, advice)

    def _refuse(self, draft: _Draft, unbound: Unbound) -> None:
        span = place_of(draft.block, unbound.name) or draft.block.span
        self._wrong_in(draft, unbound.code, unbound.message, span)

    def _check_arities(self) -> None:
        known = {name: len(each.columns) for name, each in self._declared.items()}
        for draft in self._drafts.values():
            for atom in ast.atoms(draft.block):
                arity = known.setdefault(atom.predicate, len(atom.args))
                if arity != len(atom.args):
                    message = (
                        f"`{atom.predicate}` has {len(atom.args)} terms here and "
                        f"{arity} elsewhere"
                    )
                    self._wrong_in(draft, "arity", message, atom.span)

    def _check_strata(self, parts: Sequence[Component]) -> None:
        for position, cycle in unfinished(self._rules, parts):
            rule = self._rules[position]
            way = " ← ".join(f"`{name}`" for name in cycle)
            owners = [each.id for each in self._rules if _closes(each, cycle)]
            message = (
                f"a negated or collected condition depends on its own conclusion: "
                f"{way} (rules {', '.join(dict.fromkeys(owners))})"
            )
            draft = self._owner(rule)
            self._wrong_in(draft, "negative-cycle", message, _whole(draft.block))

    def _owner(self, rule: Rule) -> _Draft:
        return next(
            draft
            for draft in self._drafts.values()
            if draft.place == rule.place and draft.file == rule.place.file
        )


def _syntax_problem(error: GrammarError) -> Problem:
    line, _ = line_and_column(error.text, error.span.start)
    pointed = excerpt(error.text, error.span)
    return Problem(error.name, line, "syntax", "", error.message, pointed, error.hint)


def _word(block: _Ruling, kind: str) -> Span:
    """The place of a word of a block, or that of the block."""
    return next((e.span for e in block.words if e.kind == kind), block.span)


def _whole(block: _Ruling) -> Span:
    """The place of the name of a block, which stands for all of it."""
    return _word(block, "name")


def _in_sentence(block: _Ruling, name: str) -> Span:
    """The place of a place of a sentence."""
    for each in block.words:
        found = re.search(rf"\{{({name})[:}}]", each.text)
        if each.kind == "sentence" and found:
            return Span(
                each.span.start + found.start(1), each.span.start + found.end(1)
            )
    return block.span


def _closes(rule: Rule, cycle: Sequence[str]) -> bool:
    """Whether a rule makes one of the steps of a cycle of predicates."""
    steps = set(pairwise(cycle))
    return any(
        (rule.head.predicate, need.predicate) in steps for need in needs(rule.body)
    )


def _target(draft: _Draft) -> str:
    return draft.block.target if isinstance(draft.block, ast.Override) else ""


def _generated(name: str, shared: Iterable[str]) -> Atom:
    # The space keeps such a name apart from every bare name of a rule file.
    return Atom(name, tuple(Variable(each) for each in shared))


def _names(body: Iterable[Literal]) -> Iterator[str]:
    for literal in body:
        yield from literal_variables(literal)


def _body(block: _Ruling, outer: Iterable[str] = ()) -> tuple[Literal, ...]:
    outside = set(outer)
    if isinstance(block, ast.Rule):
        outside |= mentioned(block.heads)
    return translate(block.conditions, outside)
