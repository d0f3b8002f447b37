"""Which base it is: its version, and a digest of all that it says.

The digest is over the rules with their sentences, the facts with their standings and
sources, the words of every symbol, and the version; so it is the same wherever the
same base is installed, and another as soon as somebody teaches it something.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from abluent.engine.base import cache

if TYPE_CHECKING:
    from abluent.engine.questions.world.world import World


def edition(world: World) -> dict[str, str]:
    """Return the name and version of a base, and its digest."""
    known = world.known
    if known.edition is None:
        known.edition = _kept(world)
    return known.edition


def _kept(world: World) -> dict[str, str]:
    base, program = world.base, world.known.program
    if base.cached is None or program.stamps is None:
        return _worked_out(world)
    stamps = [program.stamps, cache.code_stamp("engine"), _version()]
    place = base.cached.beside("edition", stamps)
    found = place.recall()
    if found is None:
        found = _worked_out(world)
        place.remember(found)
    return dict(found)


def _worked_out(world: World) -> dict[str, str]:
    from abluent.engine.proof.encode import canonical, digest, fact_json, rule_json

    base, program = world.base, world.program
    said = {
        "version": _version(),
        "standings": list(program.standings),
        "rules": sorted(canonical([r.id, rule_json(r)]) for r in program.rules),
        "predicates": {
            name: [each.says, each.absent]
            for name, each in program.declarations.items()
        },
        "facts": sorted(canonical(fact_json(fact)) for fact in base.facts),
        "words": {symbol: base.label(symbol) for symbol in sorted(base.symbols)},
    }
    return {"name": f"abluent {_version()}", "digest": digest(said)}


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("abluent")
    except PackageNotFoundError:
        return "unknown"
