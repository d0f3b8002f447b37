"""Teaching: an addition is weighed, shown, and only then kept in the user's layer."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import DataError, Problem
from abluent.engine.teach.layer import RULES, TURTLE, Layer, Part, Taught, of_kind
from abluent.engine.teach.trial import Refused, Trial, tried

if TYPE_CHECKING:
    from abluent.engine.questions.world.world import World
    from abluent.engine.teach.clashes import Against
    from abluent.engine.teach.effects import Effects


@dataclass(frozen=True)
class Weighed:
    """An addition that can be kept, and what it would do.

    Args:
        trial: the addition, laid over the base.
        seen: the additions over which it was looked at.
        shapes: whether the shapes were asked; they are not without `pyshacl`.
        proved: whether HermiT was asked; it is not where no Java is at hand.
        against: the claims that it parts from, the nearest first.
        effects: what follows differently on the shelf.
    """

    trial: Trial
    seen: tuple[Path, ...]
    shapes: bool
    proved: bool
    against: Sequence[Against]
    effects: Effects


def weigh(
    world: World, parts: Sequence[Part], layer: Layer, knowledge: Sequence[Path] = ()
) -> Weighed:
    """Look at an addition before it is kept.

    Args:
        world: the base, the rules and the shelf as they are.
        parts: the texts of the addition.
        layer: what was taught before.
        knowledge: further files that lie over the base.

    Raises:
        Refused: it is inconsistent or unsafe, or something is missing in it; it
            holds every reason.
    """
    from abluent.engine.errors import EngineError
    from abluent.engine.questions.world.world import World
    from abluent.engine.teach.clashes import against, clashes
    from abluent.engine.teach.effects import effects
    from abluent.engine.teach.shapes import missing

    seen = tuple(layer.paths())
    trial = tried([_tidy(part) for part in parts], [*seen, *knowledge])
    products = world.products.values()
    after = World(trial.base, trial.program, products, world.stated)
    try:
        problems = list(clashes(after, trial.symbols))
        lacking = missing(trial.base, trial.symbols)
        problems += lacking or []
        if problems:
            raise Refused(problems)
        proved = _proved(trial, [*seen, *knowledge])
        found = effects(world, after, trial.symbols)
    except EngineError as error:
        what = f"the reasoner cannot work with it: {error}"
        raise Refused(Problem(what)) from error
    parting = against(trial.base, trial.symbols)
    return Weighed(trial, seen, lacking is not None, proved, parting, found)


def _proved(trial: Trial, over: Sequence[Path]) -> bool:
    """Have HermiT prove that what an addition says can be so; say whether it was asked.

    Raises:
        Refused: it cannot; it holds the axioms that clash, in plain words.
    """
    from abluent.engine.owl.consistency import axioms_of, problems_of
    from abluent.engine.owl.hermit import NoReasoner, java

    texts = [part.text for part in trial.parts if part.ending == TURTLE]
    if not texts:
        return False
    try:
        java()  # Without one, the base need not be read for it.
        axioms = axioms_of(of_kind(over, TURTLE), more=texts)
        problems = problems_of(axioms, trial.base, trial.symbols)
    except NoReasoner:
        return False
    if problems:
        raise Refused(problems)
    return True


def _tidy(part: Part) -> Part:
    """Return a Turtle text in its canonical layout; one that is none, as it is."""
    from abluent.engine.base.turtle import TurtleError, canonical

    if part.ending != TURTLE:
        return part
    try:
        return part._replace(text=canonical(part.text))
    except TurtleError:
        return part  # The base says what is wrong with it, and where.


def still_stands(layer: Layer, gone: Taught, knowledge: Sequence[Path] = ()) -> None:
    """Make sure that what was taught holds together without one addition.

    Where it does not even with it, nothing is asked of the rest.

    Raises:
        DataError: something else that was taught rests on the addition.
    """
    from abluent.engine.errors import EngineError

    try:
        _load([*layer.paths(but=[gone]), *knowledge])
    except EngineError as error:
        try:
            _load([*layer.paths(), *knowledge])
        except EngineError:
            return
        what = f'other things that were taught rest on "{gone.name}"'
        hint = "take those back first; `taught` lists them"
        raise DataError([Problem(what, hint=hint), Problem(str(error))]) from error


def _load(layers: Sequence[Path]) -> None:
    from abluent.engine.base.rulebook import load_rulebook, require_known
    from abluent.engine.base.store import Base

    base = Base.load(of_kind(layers, TURTLE))
    require_known(load_rulebook(of_kind(layers, RULES)), base)


def blamed(error: Exception, layer: Layer) -> Exception:
    """Return the error to report where the base cannot be loaded.

    If a file that was taught is at fault, as may be after a change of the shipped
    base, the error says how to take it out.
    """
    from abluent.grammar.rules.parse import CONVERT

    guilty = [e for e in layer.additions() if e.path.name in str(error)]
    if not guilty:
        return error
    listed = ", ".join(f'"{each.name}"' for each in guilty)
    what = f"what you taught as {listed} does not fit the base as it is now"
    hint = f"`abluent untaught {guilty[0].number}` sets it aside and keeps its text"
    former = [each.path for each in guilty if _is_former(each.path)]
    if former:
        what = f"what you taught as {listed} is written in the former shape of rules"
        places = " ".join(map(shlex.quote, map(str, former)))
        hint = f"`{CONVERT} {places}` writes it anew, with the same meaning"
    return DataError([Problem(str(error)), Problem(what, hint=hint)])


def _is_former(path: Path) -> bool:
    from abluent.grammar.rules.parse import is_former

    return path.suffix == RULES and is_former(path.read_text("utf-8", "replace"))
