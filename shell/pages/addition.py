"""What an addition would do, and what was taught, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from abluent.grammar.common.text import wrapped

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.teach.addition import Weighed
    from abluent.engine.teach.effects import Effect, Effects
    from abluent.engine.teach.layer import Taught
    from abluent.shell.shelf.shelf import Shelf

_SHOWN = 8
_AGAINST = 4
NO_SHAPES = (
    "The shapes were not asked, as pyshacl is not installed (in the folder of "
    "abluent: pip install '.[teach]'); the base's own checks found nothing wrong."
)
_PROVED = "HermiT proves that it can all be so."
_NOT_PROVED = (
    "HermiT was not asked, as it is no Turtle, or Java and owlready2 are not at hand "
    "(pip install 'abluent[teach]' brings both)."
)


def weighed_page(weighed: Weighed, shelf: Shelf, width: int) -> str:
    """Return what an addition adds, what speaks against it, and what it changes."""
    lines = [wrapped(_adds(weighed), width)]
    if weighed.shapes:
        lines.append("Missing: nothing.")
    else:
        lines.append(wrapped(NO_SHAPES, width))
    lines.append(wrapped(_PROVED if weighed.proved else _NOT_PROVED, width))
    lines += _against(weighed, width)
    lines += effect_lines(weighed.effects, shelf, width)
    return "\n".join(lines)


def _adds(weighed: Weighed) -> str:
    base = weighed.trial.base
    names = [base.label(symbol) for symbol in weighed.trial.symbols]
    names += [f"rule {rule.id}" for rule in weighed.trial.rules]
    return f"This adds: {'; '.join(name.rstrip('.') for name in names)}."


def _against(weighed: Weighed, width: int) -> Iterator[str]:
    found = weighed.against
    if not found:
        yield "Against it: no claim says otherwise."
        return
    yield f"Claims that say otherwise: {len(found)}"
    for each in found[:_AGAINST]:
        yield wrapped(each.says, width, "  - ")
        yield wrapped(each.bearing, width, "    ")
    if len(found) > _AGAINST:
        yield f"  … and {len(found) - _AGAINST} more"


def effect_lines(effects: Effects, shelf: Shelf, width: int) -> Iterator[str]:
    """Return what follows otherwise on a shelf, as lines of text."""
    judged, count = effects.judged
    of = f" (looked at {judged} of {count} products)" if judged < count else ""
    changes = [*effects.readings, *effects.answers]
    if not changes:
        yield wrapped(f'On the shelf "{shelf.name}" nothing changes{of}.', width)
        return
    head = f'On the shelf "{shelf.name}" {len(changes)} things change{of}:'
    yield wrapped(head, width)
    for each in changes[:_SHOWN]:
        yield from _effect(each, width)
    if len(changes) > _SHOWN:
        yield f"  … and {len(changes) - _SHOWN} more"


def _effect(effect: Effect, width: int) -> Iterator[str]:
    yield wrapped(effect.sentence, width, "  - ")
    if effect.reasons:
        yield wrapped(f"because: {'; '.join(effect.reasons)}", width, "    ")


def taught_page(additions: Sequence[Taught], base: Base, width: int) -> str:
    """Return what was taught, an addition a line, with the day it was."""
    if not additions:
        return "Nothing was taught yet. `teach` adds to what is known."
    files = {str(each.path): each for each in additions}
    told: dict[str, list[str]] = {path: [] for path in files}
    for symbol in base.symbols:
        for part in base.record(symbol).parts:
            if part.file in told:
                told[part.file].append(base.label(symbol))
    lines = []
    for path, each in files.items():
        day = date.fromtimestamp(each.path.stat().st_mtime).isoformat()
        what = "; ".join(told[path]) or each.path.suffix.lstrip(".")
        lines.append(
            wrapped(f"{each.name}: {what} ({day})", width, f"{each.number:>4} ")
        )
    return "\n".join(lines)


def kept_note(kept: Sequence[Taught]) -> str:
    """Return a line that says what is kept now."""
    names = ", ".join(f'"{each.name}"' for each in kept)
    return f"Kept: {names}. `untaught` takes it back, `taught` lists all."
