"""What follows from some rules and facts, as far as it is asked for.

A second evaluator, for the checker: it shares nothing with the reasoner and needs the
standard library only. Each question that comes up, a predicate with values in some
places, gets a table of its answers. A rule waits at the tables of its conditions and
goes on with every answer they get. What is denied or collected is of a lower level,
and is finished first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

try:
    from abluent.engine.checking import replay
except ImportError:  # beside a checker that was run as a file by itself
    import replay  # type: ignore[import-not-found, no-redef]

OPEN = 1000.0  # answers expected of a rule's predicate of which no value is known
is_a, match, put = replay.Is, replay.match, replay.put


def needs(body: Any, up: int = 0) -> Iterator[tuple[str, int]]:
    """The predicates a body looks at, and by how many levels they come before."""
    for part in body:
        if isinstance(part, replay.Collect):
            yield from needs(part.body, up + 1)
        elif isinstance(part, is_a | replay.Not):
            yield part.atom[0], up + isinstance(part, replay.Not)


def levels(rules: Iterable[Any]) -> dict[str, int]:
    """When each predicate that is concluded is finished: after what it denies."""
    uses = {head[0]: set[tuple[str, int]]() for head, _ in rules}
    for head, body in rules:
        uses[head[0]].update(needs(body))
    level, rising = dict.fromkeys(uses, 0), True
    most = max((up for some in uses.values() for _, up in some), default=0) * len(uses)
    while rising:
        rising = False
        for name, below in uses.items():
            high = max((level.get(each, 0) + up for each, up in below), default=0)
            if high > most:
                raise replay.Refused(f"{name} depends on its own absence")
            rising, level[name] = rising or high > level[name], max(high, level[name])
    return level


class Facts:
    """Facts, filed under every value that they have in every place.

    Args:
        of: gives all facts of a predicate; asked once for each that is looked at.
    """

    def __init__(self, of: Callable[[str], Iterable[Any]]) -> None:
        self._of = of
        self._files: dict[str, dict[Any, list[Any]]] = {}
        self._widths: dict[Any, int] = {}

    def of(self, predicate: str) -> dict[Any, list[Any]]:
        """The facts of a predicate, by place and value."""
        if predicate not in self._files:
            files = self._files[predicate] = {(0, predicate): []}
            for fact in dict.fromkeys(self._of(predicate)):
                for place in enumerate(fact):
                    files.setdefault(place, []).append(fact)
            for place, _ in files:
                self._widths[predicate, place] = (
                    self._widths.get((predicate, place), 0) + 1
                )
        return self._files[predicate]

    def rows(self, call: tuple[Any, ...]) -> list[Any]:
        """The facts that agree with a call, in which null agrees with all."""
        files = self.of(call[0])
        known = [place for place in enumerate(call) if place[1] is not None]
        found = min((files.get(place, []) for place in known), key=len)
        return [fact for fact in found if match(call, fact, {}) is not None]

    def expected(self, atom: tuple[Any, ...], known: Any) -> float:
        """About how many facts agree with an atom, given values for some variables."""
        files = self.of(atom[0])
        rows = len(files[0, atom[0]])
        sizes: list[float] = [rows]
        for place, each in enumerate(atom[1:], 1):
            if isinstance(each, replay.Var) and each.name in known:
                sizes.append(rows / self._widths.get((atom[0], place), 1))
            elif each is not None and not isinstance(each, replay.Var):
                sizes.append(len(files.get((place, each), ())))
        return min(sizes)


def filed(facts: Iterable[Any]) -> Callable[[str], list[Any]]:
    """Some facts, to be had by predicate."""
    found: dict[str, list[Any]] = {}
    for fact in facts:
        found.setdefault(fact[0], []).append(fact)
    return lambda name: found.get(name, [])


class Follows:
    """What follows from rules and facts.

    Args:
        rules: pairs of a head and a body.
        of: gives all facts of a predicate.

    Attributes:
        tables: the answers to each call so far.
        why: for each answer, what it was first concluded from, last first; empty for
            a fact. A denial or collection stands there with the values it was met by.
        asked: the atoms that were asked for, with the answers found.
        met: the `id` of the head of each rule of which the facts were there, whether
            or not what it denies or compares let it conclude anything.

    Raises:
        replay.Refused: something depends on its own absence, or cannot be asked.
    """

    def __init__(
        self, rules: Iterable[Any], of: Callable[[str], Iterable[Any]]
    ) -> None:
        self.rules: dict[str, list[Any]] = {}
        for head, body in rules:
            self.rules.setdefault(head[0], []).append((head, body))
        self.level = levels([each for some in self.rules.values() for each in some])
        self.facts = Facts(of)
        self.tables: dict[Any, tuple[dict[Any, None], list[Any]]] = {}
        self.why: dict[Any, Any] = {}
        self.asked: dict[Any, list[Any]] = {}
        self.met: set[int] = set()
        self._todo: dict[int, list[Any]] = {}
        self._plans: dict[Any, Any] = {}

    def ask(self, want: tuple[Any, ...]) -> list[Any]:
        """All that agrees with an atom; null and variables agree with everything."""
        self.asked[want] = found = self._finished(want)
        return found

    def about(self, predicate: str, subject: str) -> list[Any]:
        """All that holds of a predicate and its first term."""
        heads = [head for head, _ in self.rules.get(predicate, ())]
        like = (*heads, *self.facts.of(predicate)[0, predicate])[:1]
        places = (None for each in like for _ in each[2:])
        return self.ask((predicate, subject, *places)) if like else []

    def members(self, part: Any) -> set[Any]:
        """The distinct values that a collection is over."""
        return {answer[1:] for answer in self.collected(part)}

    def assumed(self, answers: Iterable[Any]) -> Iterator[tuple[Any, Any]]:
        """The denials and collections under some answers, and the values they have."""
        seen, waiting = set(), list(answers)
        while waiting:
            if (each := waiting.pop()) in seen:
                continue
            seen.add(each)
            trail = self.why[each]
            while trail:
                trail, premise = trail
                if isinstance(premise[0], str):
                    waiting.append(premise)
                else:
                    yield premise
                    if isinstance(premise[0], replay.Collect):
                        waiting.extend(self.collected(put(*premise)))

    # -- tables

    def _finished(self, want: tuple[Any, ...]) -> list[Any]:
        call = _call(want)
        if call[0] not in self.rules:
            found = self.facts.rows(call)
            self.why |= dict.fromkeys(found, ())
        else:
            found = list(self._table(call)[0])
            self._finish(self.level.get(call[0], 0))
            found = list(self.tables[call][0])
        return [each for each in found if match(want, each, {}) is not None]

    def collected(self, part: Any) -> list[Any]:
        """The members of a collection, each after the name of the collection."""
        part = part._replace(var=None)
        call, head = (name := repr(part),), (repr(part), *part.terms)
        if call not in self.tables:
            self.level[name] = max(
                (self.level.get(each, 0) + up for each, up in needs(part.body)),
                default=0,
            )
            self.tables[call] = {}, []
            self._later(call, head, part.body, {}, ())
        self._finish(self.level[name])
        return list(self.tables[call][0])

    def _table(self, call: tuple[Any, ...]) -> tuple[dict[Any, None], list[Any]]:
        if call not in self.tables:
            self.tables[call] = {}, []
            for fact in self.facts.rows(call):
                self._found(call, fact, ())
            for head, body in self.rules[call[0]]:
                bind = _meets(head, call)
                if bind is not None:
                    self._later(call, head, body, bind, ())
        return self.tables[call]

    def _found(self, call: Any, answer: Any, trail: Any) -> None:
        answers, waiting = self.tables[call]
        if answer not in answers:
            answers[answer] = None
            self.why.setdefault(answer, trail)
            for each in waiting:
                self._resume(each, answer)

    def _resume(self, waiting: Any, answer: Any) -> None:
        call, head, rest, bind, trail, want = waiting
        found = match(want, answer, bind)
        if found is not None:
            self._later(call, head, rest, found, (trail, answer))

    def _later(self, *task: Any) -> None:
        self._todo.setdefault(self.level[task[0][0]], []).append(task)

    def _finish(self, level: int) -> None:
        """Do all that is left to do up to a level, lowest first."""
        while True:
            left = [n for n, tasks in self._todo.items() if tasks and n <= level]
            if not left:
                return
            self._advance(*self._todo[min(left)].pop())

    # -- rules

    def _advance(self, call: Any, head: Any, body: Any, bind: Any, trail: Any) -> None:
        """Go on with a rule: try its next condition, or conclude."""
        if not any(isinstance(part, is_a) for part in body):
            self.met.add(id(head))
        if not body:
            self._found(call, put(head, bind), trail)
            return
        part, rest = self._next(body, bind)
        if not isinstance(part, is_a):
            for found in self._step(part, bind):
                if not isinstance(part, replay.Compare | replay.Let):
                    trail = trail, (part, found)
                self._later(call, head, rest, found, trail)
            return
        want = put(part.atom, bind)
        waiting = (call, head, rest, bind, trail, want)
        if want[0] in self.rules:
            answers, queue = self._table(_call(want))
            queue.append(waiting)
        else:
            answers = dict.fromkeys(self.facts.rows(_call(want)))
            for each in answers:
                self.why.setdefault(each, ())
        for each in list(answers):
            self._resume(waiting, each)

    def _step(self, part: Any, bind: dict[str, Any]) -> Any:
        """The ways to meet a condition that is no atom."""
        if isinstance(part, replay.Not):
            return () if self._finished(put(part.atom, bind)) else (bind,)
        worth = replay.worth
        try:
            if isinstance(part, replay.Compare):
                sides = worth(part.left, bind), worth(part.right, bind)
                held = replay.truth(part.op, *sides)
                return (bind,) if held or (held is None and part.perhaps) else ()
            if isinstance(part, replay.Let):
                got = worth(part.expr, bind)
            else:
                got = replay.fold(part.function, self.members(put(part, bind)))
        except ValueError:
            return ()  # values meet here that the whole base keeps apart
        found = None if got is None else match((part.var,), (got,), bind)
        return () if found is None else (found,)

    def _next(self, body: Any, bind: dict[str, Any]) -> Any:
        """The condition to try first, and the others."""
        key = id(body), frozenset(bind)
        if key not in self._plans:
            part = min(body, key=lambda each: self._dear(each, bind))
            if self._dear(part, bind) == replay.INF:
                raise replay.Refused(f"{part} has a variable without a value")
            at = body.index(part)
            # The body is kept, so that nothing else gets its id.
            self._plans[key] = part, body[:at] + body[at + 1 :], body
        return self._plans[key][:2]

    def _dear(self, part: Any, known: Any) -> float:
        """How much there is to try for a condition, given some variables."""
        if not isinstance(part, is_a):
            if replay.demands(part) - known.keys():
                return replay.INF
            if isinstance(part, replay.Not) and part.atom[0] not in self.rules:
                return 0.5
            return {replay.Not: 5 * OPEN, replay.Collect: 9 * OPEN}.get(type(part), 0)
        if part.atom[0] not in self.rules:
            return self.facts.expected(part.atom, known)
        terms = part.atom[1:]
        free = [each for each in terms if _free(each, known)]
        if not free:
            return 1
        return OPEN if len(free) == len(terms) else 20.0 * len(free)


def _free(term: Any, known: Any) -> bool:
    if isinstance(term, replay.Var):
        return term.name not in known
    return term is None


def _call(atom: tuple[Any, ...]) -> tuple[Any, ...]:
    call = tuple([None if isinstance(each, replay.Var) else each for each in atom])
    if len(call) > 2 and None not in call:
        keep = 1 + len(call) // 2
        return (*call[:keep], *(None for _ in call[keep:]))
    return call


def _meets(head: tuple[Any, ...], call: tuple[Any, ...]) -> dict[str, Any] | None:
    """What a call gives to the variables of a head, or None if they do not agree."""
    found: dict[str, Any] = {}
    for one, two in zip(head, call, strict=True):
        if two is None:
            continue
        if isinstance(one, replay.Var):
            if found.setdefault(one.name, two) != two:
                return None
        elif one != two:
            return None
    return found
