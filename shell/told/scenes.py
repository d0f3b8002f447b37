"""What happens on a strand, stage by stage, where the base has it for what is asked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence, Set

from abluent.engine.base.contract import LEAVES
from abluent.engine.base.kinds import product_kind
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.grammar.query import tree as q
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Step
from abluent.shell.told.spoken_names import aloud, few, spoken_alone
from abluent.shell.told.told import Told

_SCENE = "Scene"
_OF, _OF_STAYING = "sceneOf", "sceneOfStaying"
_NAMES = "stageNames"
_NAMED = 3
_OnFilm = Verdict | Left
_LISTS = (q.Rank, q.HowMany, q.Argue)


def with_scene(
    told: Told, asking: Asking, rows: Sequence[Row], others: Sequence[Row]
) -> Told:
    """Return the same with the stages of what happens, if the base has some for it."""
    several = len({row.film for row in _films(rows)}) > 1
    side_by_side = isinstance(asking.query, q.Compare) and several
    if told.table or side_by_side or isinstance(asking.query, _LISTS):
        return told
    found, rest = _films(rows), _films(others)
    scene = _scene(asking, found or rest, rest) or _of_named(asking)
    if scene is None:
        return told
    base, symbol = scene
    films = [row.film for row in [*found, *rest]]
    takes_off = isinstance(asking.query, q.Which) or isinstance(asking.act, q.Clears)
    if takes_off and len({*films}) > 1 and not _alike(base, films):
        # What some of many films go by says nothing of the rest.
        return told
    advice = base.record(symbol).text("statement") or told.advice
    if told.ladders:
        return told._replace(advice=advice)
    steps = tuple(_stages(base, symbol, films))
    return told._replace(steps=steps, advice=advice, mark=None)


def _alike(base: Base, films: Sequence[str]) -> bool:
    """Whether some films have the same scenes."""
    return len({tuple(_scenes(base, film, _OF)) for film in films}) == 1


def _of_named(asking: Asking) -> tuple[Base, str] | None:
    """The scene of what a question names, where no film is judged."""
    if asking.world is None or not isinstance(asking.query, q.Define | q.Claim):
        return None
    base = asking.world.base
    matter = _OF_STAYING if isinstance(asking.act, q.Stays) else _OF
    for name in asking.names:
        symbol = base.find_class(name) or base.lookup(name)
        for scene in _scenes(base, symbol, matter) if symbol else ():
            own = not isinstance(asking.query, q.Define) or _is_of(base, scene, symbol)
            if own and not _needs(base, scene):
                return base, scene
    return None


def _stages(base: Base, scene: str, films: Sequence[str]) -> Iterator[Step]:
    def place(stage: str) -> int:
        return int(base.record(stage).number("stagePlace") or 0)

    stages = sorted(base.record(scene).links("sceneStage"), key=place)
    kinds = {kind for each in stages if (kind := base.record(each).link(_NAMES))}
    for stage in stages:
        record = base.record(stage)
        yield Step(
            tuple(record.texts("drawnWith")),
            record.text("plainly") or base.label(stage),
            _text(base, stage, films, kinds),
        )


def _text(base: Base, stage: str, films: Sequence[str], kinds: Set[str]) -> str:
    """The sentence of a stage, with what it is to name of some films.

    A film is named where the narrowest of the kinds is named that it is of.
    """
    record = base.record(stage)
    text, kind = record.text("statement") or "", record.link(_NAMES)
    if not kind:
        return text

    def narrowest(film: str) -> str:
        of = kinds & {*base.classes_of(film)}
        return max(of, key=lambda each: len(base.ancestors(each)), default="")

    of = [each for each in films if narrowest(each) == kind]
    names = few([spoken_alone(aloud(base, each)) for each in of], _NAMED)
    told = text.format(names)
    return f"{told[:1].upper()}{told[1:]}"


def _films(rows: Sequence[Row]) -> list[_OnFilm]:
    return [row for row in rows if isinstance(row, Verdict | Left)]


def _scene(
    asking: Asking, found: Sequence[_OnFilm], others: Sequence[_OnFilm]
) -> tuple[Base, str] | None:
    """The scene that most of the films of an answer have, one that needs more first."""
    if not found:
        return None
    base = found[0].case.world.base
    every = [*found, *others]
    matter = _OF_STAYING if isinstance(asking.act, q.Stays) else _OF
    films = {row.film for row in found}
    times = Counter(
        scene
        for film in {row.film for row in every}
        for scene in _scenes(base, film, matter)
        if film in films or _needs(base, scene)
    )
    fit = [
        (bool(_needs(base, scene)), often, scene)
        for scene, often in times.items()
        if _fits(asking, every, scene)
        and (_needs(base, scene) or 2 * often >= len(films))
    ]
    return (base, max(fit)[2]) if fit else None


def _is_of(base: Base, scene: str, symbol: str | None) -> bool:
    """Whether a scene is of a thing itself, and not of a kind of it."""
    return symbol in base.record(scene).links(_OF)


def _scenes(base: Base, film: str, matter: str) -> list[str]:
    """The scenes of a film: its own, else those of the nearest kinds."""
    of: dict[str, list[str]] = {}
    for scene in base.instances(_SCENE):
        for each in base.record(scene).links(matter):
            of.setdefault(each, []).append(scene)
    kinds = base.ancestors(film) if base.is_class(film) else base.classes_of(film)
    near = sorted(kinds, key=lambda kind: -len(base.ancestors(kind)))
    return next((of[each] for each in (film, *near) if each in of), [])


def _needs(base: Base, scene: str) -> bool:
    record = base.record(scene)
    return bool(record.links("sceneIn") or record.links("sceneWith"))


def _fits(asking: Asking, found: Sequence[_OnFilm], scene: str) -> bool:
    """Whether what a scene is drawn of is what was asked about."""
    world = found[0].case.world
    base, record = world.base, world.base.record(scene)
    kinds, beside = record.links("sceneIn"), record.links("sceneWith")
    if (kinds or beside) and len(asking.products) != 1:
        return False
    if kinds and not isinstance(asking.act, q.Leaves):
        return False
    if kinds and not any(_of_kind(found, name, kinds) for name in asking.products):
        return False
    if not beside:
        return True
    classes = {kind for row in found for kind in base.classes_of(row.film)}
    return bool(classes & set(beside))


def _of_kind(found: Sequence[_OnFilm], product: str, kinds: Sequence[str]) -> bool:
    """Whether a product is of a kind, and leaves one of the films itself."""
    case = found[0].case
    world = case.world
    if product not in world.products:
        return False
    if product_kind(world.products[product].kind, world.base) not in kinds:
        return False
    left = {str(f) for _, f in case.model.match(LEAVES, (world.symbol(product), None))}
    return any(row.film in left for row in found)
