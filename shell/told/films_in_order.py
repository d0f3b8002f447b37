"""What a picture says of films by how easily they go: a numbered rung for each."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.nearest_advice import WASH_DAY, advice_on
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.mildness import Steps
from abluent.engine.questions.world.items import INGREDIENT
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.grammar.query import tree as q
from abluent.shell.ground.strand import strand_of
from abluent.shell.told.asking import Asking
from abluent.shell.told.cited import cited_of, works_of
from abluent.shell.told.group import Group
from abluent.shell.told.plain import in_a_word, sure_of
from abluent.shell.told.spoken_names import aloud, few, spoken_alone
from abluent.shell.told.told import Told

_EASE = {q.Order.HARDEST: q.Ease.HARDER, q.Order.EASIEST: q.Ease.EASIER}
_LEAST = 2
_WASHES = 2
"""So many washes are named that take as much of a film."""
_UNORDERED = "A likely order, not measured"
_ONE_NUMBER = "between films of one number nothing decides"
_Found = Mapping[str, Mapping[str, Verdict]]


def films_in_order(told: Told, answer: Answer, asking: Asking) -> Told | None:
    """Return films as rungs of an order; None where none is asked for, or of few."""
    query, world = asking.query, asking.world
    films = [item.key for item in answer.members if item.kind == INGREDIENT]
    way = _way(query)
    if world is None or way is None or len(films) < _LEAST or answer.compared:
        return None
    if len(films) < len(answer.members):
        return None
    contrasts = Judge(Nouns(world, {})).contrasts
    under = getattr(query, "under", None)
    found = contrasts.under_washes(films, under=under)
    films = [film for film in films if found.get(film)]
    if len(films) < _LEAST:
        return None
    steps = contrasts.ease_steps(films, way, under)
    rows = [row for film in films for row in found[film].values()]
    alike = any(len(step) > 1 for step in steps.steps)
    works = works_of(rows)
    sure = sure_of([row for row in rows if row.role is not Role.OPEN])
    return told._replace(
        claim=_claim(world, steps, way),
        groups=tuple(_rungs(world, steps, found)),
        else_groups=tuple(_short(world, steps, found)),
        sure=f"{sure[:1].upper()}{sure[1:]}." if sure else "",
        works=tuple(each.citation for each in works),
        cited=cited_of(works),
        note=f"{_UNORDERED}{f'; {_ONE_NUMBER}' if alike else ''}.",
    )


def _way(query: q.Query | None) -> q.Ease | None:
    """Which films come first: those that are asked for first, else the easy ones."""
    if isinstance(query, q.Compare):
        return None if query.film is not None or query.lines else q.Ease.EASIER
    order = query.order if isinstance(query, q.Which | q.What) else None
    return _EASE.get(order) if order is not None else None


def _claim(world: World, steps: Steps, way: q.Ease) -> str:
    """Which films are at the two ends of an order."""
    if len(steps.steps) < _LEAST:
        return "None of these is known to be harder to take off."
    first, last = (_named(world, steps.steps[end]) for end in (0, -1))
    if sum(map(len, steps.steps)) == _LEAST and not steps.apart:
        hard, easy = (first, last) if way is q.Ease.HARDER else (last, first)
        return f"{hard} is harder to take off than {easy}."
    if way is q.Ease.HARDER:
        return f"Likely hardest to take off: {first}; easiest: {last}."
    return f"Likely easiest to take off: {first}; hardest: {last}."


def _named(world: World, films: Sequence[str]) -> str:
    return few([spoken_alone(aloud(world.base, film)) for film in films], 2)


def _rungs(world: World, steps: Steps, found: _Found) -> Iterator[Group]:
    """A rung for each film, those of one step with one number."""
    laid = [*enumerate(steps.steps, 1)]
    for number, films in laid:
        for film in films:
            yield _rung(world, film, found[film], f"{number}. ")
    for film in steps.apart:
        yield _rung(world, film, found[film], "Not compared: ")


def _short(world: World, steps: Steps, found: _Found) -> Iterator[Group]:
    """A rung for each step, with what takes most of its films."""
    numbered = [(f"{n}. ", films) for n, films in enumerate(steps.steps, 1)]
    if steps.apart:
        numbered.append(("Not compared: ", steps.apart))
    for number, films in numbered:
        first = _rung(world, films[0], found[films[0]], number)
        names = few([spoken_alone(aloud(world.base, each)) for each in films], 3)
        yield first._replace(
            word=f"{number}{names}", names=first.names[:1], many=len(films), why=""
        )


def _rung(
    world: World, film: str, by_wash: Mapping[str, Verdict], number: str
) -> Group:
    rows = list(by_wash.values())
    best = max(rows, key=lambda row: _much(row.role))
    word = f"{number}{spoken_alone(aloud(world.base, film))}"
    advice = advice_on(world.base, WASH_DAY, film, side=Role.FILM)
    do = advice.text if advice and best.role is not Role.NO_WASH_NEEDED else ""
    said = tuple(_takers(world, rows))
    return Group(strand_of(best.role), word, said, 1, _first(do))


def _takers(world: World, rows: Sequence[Verdict]) -> Iterator[str]:
    """How much goes by which washes, the most first."""
    gone = [row for row in rows if row.role is Role.NO_WASH_NEEDED]
    if gone:
        how = world.base.record(gone[0].value).text("spokenAs")
        yield how or in_a_word(world.base, gone[0].value)
        return
    for role in sorted({row.role for row in rows}, key=_much, reverse=True):
        mine = [row for row in rows if row.role is role]
        word = in_a_word(world.base, mine[0].value)
        yield f"{word} by {_who([row.wash for row in mine], len(rows))}"


def _who(washes: Sequence[str], every: int) -> str:
    if len(washes) == every > _WASHES:
        return f"all {every} washes"
    if len(washes) > _WASHES:
        return f"{len(washes)} washes"
    return few(washes, _WASHES)


def _much(role: Role) -> int:
    """How much goes at a verdict, as a place in their order."""
    if role is Role.NO_WASH_NEEDED:
        return len(VERDICTS)
    return -1 if role is Role.OPEN else VERDICTS.index(role)


def _first(text: str) -> str:
    """The first sentence of what is advised, without its reason."""
    first = re.split(r"[.:] ", text, maxsplit=1)[0].rstrip(".")
    return f"{first}." if first else ""
