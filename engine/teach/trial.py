"""An addition to what is known, tried out before it is kept.

It is laid over the base and over what was taught before, in a folder that is gone
afterwards. What the base, the rules or the shapes refuse never gets further.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from abluent.engine.faults import DataError, Problem
from abluent.engine.teach.layer import RULES, TURTLE, Part, of_kind

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.errors import EngineError
    from abluent.engine.logic.clauses import Rule
    from abluent.engine.logic.program import Program


class Refused(DataError):
    """An addition that cannot be kept; `problems` says what is wrong with it."""


@dataclass(frozen=True)
class Trial:
    """An addition that nothing refuses.

    Args:
        parts: its texts.
        base: the base with it.
        program: the rules with it.
        symbols: what it describes, by local name.
        rules: the rules that it adds.
    """

    parts: tuple[Part, ...]
    base: Base
    program: Program
    symbols: tuple[str, ...]
    rules: tuple[Rule, ...]


def tried(parts: Sequence[Part], over: Sequence[Path] = ()) -> Trial:
    """Lay an addition over the base.

    Args:
        parts: its texts.
        over: files and folders of knowledge that lie over the base already.

    Raises:
        Refused: something in it is wrong; it holds every reason.
        EngineError: what lies over the base already is refused by itself.
    """
    from abluent.engine.errors import EngineError

    with _laid_out(parts) as (folder, paths):
        try:
            base, program = _loaded([*over, *paths], folder)
        except EngineError as error:
            _loaded(over, folder)
            raise Refused(_told(error, folder, parts)) from error
        names = {str(path) for path in paths}
        symbols = tuple(s for s in base.symbols if _files(base, s) & names)
        rules = _rules(program, over) if any(p.ending == RULES for p in parts) else ()
        trial = Trial(tuple(parts), base, program, symbols, rules)
    problems = [*_empty(trial), *_unsourced(trial)]
    if problems:
        raise Refused(problems)
    return trial


def refused(parts: Sequence[Part], over: Sequence[Path] = ()) -> tuple[Problem, ...]:
    """Return why an addition would be refused; nothing if it would not."""
    try:
        tried(parts, over)
    except Refused as error:
        return error.problems
    return ()


@contextmanager
def _laid_out(parts: Sequence[Part]) -> Iterator[tuple[Path, list[Path]]]:
    with TemporaryDirectory(prefix="abluent-") as folder:
        paths = []
        for number, part in enumerate(parts, 1):
            place = Path(folder) / str(number)
            place.mkdir()
            paths.append(place / f"{part.name}{part.ending}")
            text = part.text.encode("utf-8", "backslashreplace")
            paths[-1].write_bytes(text)
        yield Path(folder), paths


def _loaded(layers: Sequence[Path], cache: Path) -> tuple[Base, Program]:
    from abluent.engine.base.rulebook import load_rulebook, require_known
    from abluent.engine.base.store import Base

    base = Base.load(of_kind(layers, TURTLE), cache_folder=cache)
    rules = of_kind(layers, RULES)
    tried_out = any(cache in path.parents for path in rules)
    # Rules that are tried out are not remembered; the others are, as ever.
    program = load_rulebook(rules, cache_folder=cache if tried_out else None)
    require_known(program, base)
    return base, program


def _files(base: Base, symbol: str) -> set[str]:
    return {part.file for part in base.record(symbol).parts}


def _rules(program: Program, over: Sequence[Path]) -> tuple[Rule, ...]:
    """Return the rules that no layer below has; an id is never used twice."""
    from abluent.engine.base.rulebook import load_rulebook

    known = {rule.id for rule in load_rulebook(of_kind(over, RULES)).rules}
    new = (r for r in program.rules if r.id not in known and not r.generated)
    return tuple(new)


# -- what is wrong, in words -----------------------------------------------------


def _told(error: EngineError, folder: Path, parts: Sequence[Part]) -> list[Problem]:
    from abluent.engine.base.store import BaseError
    from abluent.engine.errors import ProgramError

    if isinstance(error, BaseError):
        return [_told_of_base(each, folder, parts) for each in error.problems]
    if isinstance(error, ProgramError):
        return [Problem(str(each)) for each in error.problems]
    return [Problem(str(error))]


def _told_of_base(problem: object, folder: Path, parts: Sequence[Part]) -> Problem:
    from abluent.engine.base.store import BaseProblem

    assert isinstance(problem, BaseProblem)
    about = f"`{problem.subject}`: " if problem.subject else ""
    file, excerpt = problem.file, ""
    if file.startswith(str(folder)):
        path = Path(file)
        lines = parts[int(path.parent.name) - 1].text.splitlines()
        file = path.name
        excerpt = lines[problem.line - 1] if 0 < problem.line <= len(lines) else ""
    place = f"{file}:{problem.line}" if problem.line else file
    what = f"{about}{problem.message}".replace(f"{folder}/", "")
    return Problem(what, place, problem.fix, excerpt, (0, len(excerpt)))


def _empty(trial: Trial) -> Iterator[Problem]:
    if not trial.symbols and not trial.rules:
        what = "this says nothing: it describes no thing and has no rule"
        yield Problem(what, hint="`teach` asks for all that an addition needs")


def _unsourced(trial: Trial) -> Iterator[Problem]:
    """Find rules that stand on nothing."""
    for rule in trial.rules:
        if not rule.sources or not rule.standing:
            place = f"{rule.place.file}:{rule.place.line}"
            what = f"rule `{rule.id}` has no source or no standing"
            hint = "a rule of the trade: standing commonPractice, source "
            yield Problem(what, place, f"{hint}common-practice")
