"""What a picture says of washes set side by side in sentences, not in a table."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import LEAVES
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.engine.questions.answers.wording import without_head
from abluent.engine.questions.world.world import World
from abluent.engine.routines.how_often import washed_for
from abluent.engine.routines.overview import family_among
from abluent.grammar.common.text import as_sentence
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Cell, Group, Ladder, Table
from abluent.shell.told.groups import COLUMNS, groups_of, side_by_side
from abluent.shell.told.headings import heading_of_table
from abluent.shell.told.in_order import ladder_of
from abluent.shell.told.labels import cleans_with
from abluent.shell.told.plain import claim_of
from abluent.shell.told.spoken_names import (
    aloud,
    few,
    in_letters,
    nth,
    spoken_alone,
    what_it_is,
)
from abluent.shell.told.told import Told
from abluent.shell.told.washes import bare_kind

_CLAIM = "Claim"
_Helps = tuple[str, int]
"""What helps against a film, and its place on a label."""
_LEFT = 2
"""So many films are named that a wash leaves itself."""
_DASHED = "Filled: what helps. In the dashed frame any order is allowed."
_SIDES = 2
"""So many lists of ingredients are drawn side by side."""
_NEITHER = "Of no film is either shown to take more."
"""What an answer says where nothing sets two apart."""
_ALIKE_ON = "They take the same of {} films here, as far as known."
_ONE_RUNG = "on one rung of mildness"
_NAMED = 4
"""So many of what helps in a wash are named, and of what it leaves."""


def compared(told: Told, answer: Answer, asking: Asking) -> Told:
    """Which of some washes takes more, what of each differs, and which is milder."""
    sides = [side.rows[0] for side in answer.compared if len(side.rows) == 1]
    found = [row for row in sides if isinstance(row, Verdict)]
    if len(found) == len(answer.compared) > 1:
        return _on_one_film(told, asking, found)
    if asking.world is not None and getattr(asking.query, "film", None) is None:
        return _in_all(told, answer, asking.world)
    judged = [row for row in answer.rows if isinstance(row, Verdict)]
    if not answer.compared and len(judged) == len(answer.rows) > 1:
        if len({film_key(row) for row in judged}) == 1:
            return _on_one_film(told, asking, judged)
        return _on_many_films(told, answer, asking, judged)
    first, *more = re.split(r"(?<=\.) ", answer.sentence)
    besides = [f for f in answer.findings if f.kind == "besides"]
    reasons = [c for text in reversed(more) for c in clauses(text, "")]
    reasons += [item for each in besides for item in each.items[:1]]
    return told._replace(claim=first).with_reasons(reasons)


def _on_many_films(
    told: Told, answer: Answer, asking: Asking, found: Sequence[Verdict]
) -> Told:
    """Some washes film by film: what one takes and another may not comes first."""
    claim = heading_of_table(asking, found)
    if claim.startswith(("Neither is", "None is")):
        # Where none is ahead everywhere, it is said where one is.
        claim = re.split(r"; |(?<=\.) ", answer.sentence)[0].rstrip(".") + "."
        claim = _takes_more_off(found) or claim
    table = side_by_side(found)
    if table is None:
        return told._replace(claim=claim, groups=tuple(groups_of(found, ())))
    alike = [film for film, cells in table.rows if len({*cells}) < 2]
    told = told._replace(
        claim=claim,
        table=with_what_is_in_it(table, found),
        advice=_for_whom(found),
        else_groups=tuple(groups_of(found, ())),
    )
    return told.with_reasons([f"No difference on {few(alike)}." if alike else ""])


def with_what_is_in_it(table: Table, found: Sequence[Verdict]) -> Table:
    """What each wash cleans with and leaves, around the films on which they differ."""
    world = found[0].case.world
    cleans = tuple(Cell(None, _kind_of(world, wash)) for wash in table.columns)
    leaves = tuple(Cell(None, _leaves(world, found, wash)) for wash in table.columns)
    differ = [row for row in table.rows if len({*row[1]}) > 1]
    kinds = [("cleans with", cleans)] if all(cell.word for cell in cleans) else []
    rows = (*kinds, *(differ or table.rows), ("leaves itself", leaves))
    return table._replace(rows=rows)


def _kind_of(world: World, wash: str) -> str:
    """What a wash cleans with first, by kind."""
    _, _, kind = cleans_with(world, wash).rstrip(".").partition(", ")
    return kind.removeprefix("a ").removeprefix("an ")


def _first_of(world: World, wash: str) -> str:
    """What a wash cleans with first, by name and by kind."""
    name, _, kind = cleans_with(world, wash).rstrip(".").partition(", ")
    name = name.removeprefix("It cleans first of all with ")
    return ", ".join(filter(None, [name, bare_kind(kind)]))


def _leaves(world: World, found: Sequence[Verdict], wash: str) -> str:
    """What a wash surely leaves itself."""
    films = [spoken_alone(aloud(world.base, film)) for film in _left_by(found, wash)]
    return few(films, _LEFT) if films else "nothing known"


def _ahead_on_most(found: Sequence[Verdict]) -> tuple[str, list[str]]:
    """The one of two washes that takes more films, with these; empty if neither."""
    washes = list(dict.fromkeys(row.wash for row in found))
    one, *rest = sorted(washes, key=lambda w: len(_takes_more(found, w)), reverse=True)
    mine = _takes_more(found, one)
    if len(rest) != 1 or len(mine) <= len(_takes_more(found, rest[0])):
        return "", []
    base = found[0].case.world.base
    return one, [spoken_alone(aloud(base, film)) for film in mine]


def _takes_more_off(found: Sequence[Verdict]) -> str:
    """Which of two washes takes more films off, and which ones; empty if neither."""
    best, films = _ahead_on_most(found)
    source = found[0].source
    after = f"After {source}, " if source else ""
    return f"{after}{best} takes more off: {few(films, 2)}." if best else ""


def _for_whom(found: Sequence[Verdict]) -> str:
    """For whom each of two washes is: one takes more, the other leaves less."""
    best, films = _ahead_on_most(found)
    washes = dict.fromkeys(row.wash for row in found)
    bare = [wash for wash in washes if not _left_by(found, wash)]
    if not best or not bare or best in bare:
        return ""
    return f"Where {films[0]} has built up, {best}; to leave little, {bare[0]}."


def _takes_more(found: Sequence[Verdict], wash: str) -> list[str]:
    """The films that one wash surely takes a part of and no other does."""
    taking: dict[str, set[str]] = {}
    for row in found:
        if ENDS[row.role][0] is not Role.NONE_OF_IT:
            taking.setdefault(row.film, set()).add(row.wash)
    mine = [film for film, washes in taking.items() if washes == {wash}]
    world, source = found[0].case.world, found[0].source
    readings = world.read(source).readings if source in world.products else ()
    places = {each.symbol: n for n, each in enumerate(readings)}

    def order(film: str) -> int:
        return places.get(film, len(places))

    return sorted(mine, key=lambda film: (_light(world.base, film), order(film)))


def _light(base: Base, film: str) -> bool:
    """Whether nobody washes harder for the sake of a film."""
    return not washed_for(base, family_among(base, film))


def _left_by(rows: Sequence[Verdict], wash: str) -> list[str]:
    """What a wash surely leaves itself."""
    row = next(each for each in rows if each.wash == wash)
    symbol = row.goal[1][0]
    found = row.case.model.match(LEAVES, (symbol, None))
    return sorted({str(film) for _, film in found})


def _in_all(told: Told, answer: Answer, world: World) -> Told:
    """Some washes in all: what each cleans with, and what it leaves itself."""
    leaves = {
        side.query: [
            spoken_alone(aloud(world.base, row.film))
            for row in side.rows
            if isinstance(row, Left)
        ]
        for side in answer.compared
    }
    leaving = [wash for wash, films in leaves.items() if films]
    bare = [wash for wash, films in leaves.items() if not films]
    first, *more = re.split(r"(?<=\.) ", answer.sentence)
    alike_on = re.search(r"the same of the other (\d+) films", answer.sentence)
    said = (
        [f"The same of {alike_on[1]} films here, as far as known."] if alike_on else []
    )
    if _NEITHER in more and len(leaves) == _SIDES:
        said = [_ALIKE_ON.format(alike_on[1])] if alike_on else []
    if _NEITHER in more and len(leaves) == _SIDES:
        said = [*said, first]
        first = "Neither of the two is shown to take more off."
    if leaving and bare:
        verb = "leave" if len(leaving) > 1 else "leaves"
        not_so = "do not" if len(bare) > 1 else "does not"
        first = (
            f"{few(leaving)} {verb} films on hair; "
            f"{few(bare)} {not_so}, as far as known."
        )
    elif leaving:
        every = "Both" if len(leaves) == _SIDES else f"All {in_letters(len(leaves))}"
        first = f"{every} leave something on hair themselves."
    kinds = {wash: _kind_of(world, wash) for wash in leaves}
    named = {wash: _first_of(world, wash) for wash in leaves}
    left = {
        wash: few(films, _LEFT) or "nothing known" for wash, films in leaves.items()
    }
    rows = [
        ("cleans with", tuple(Cell(None, each) for each in named.values())),
        ("leaves itself", tuple(Cell(None, each) for each in left.values())),
    ]
    alike = len(leaves) > 1 and len({*kinds.values()}) == 1
    rows = [row for row in rows if all(cell.word for cell in row[1])]
    none = len(rows) > alike + 1 and not leaving
    rows = rows[: len(rows) - none]
    groups = [
        Group(None, wash, (_in_brief(named[wash], films),), 1)
        for wash, films in leaves.items()
    ]
    told = told._replace(claim=first, else_groups=tuple(groups))
    if len(leaves) <= COLUMNS:
        told = told._replace(table=Table(tuple(leaves), tuple(rows[alike:])))
    else:
        told = told._replace(groups=tuple(groups), else_groups=())
    both = "Both" if len(leaves) == _SIDES else "All"
    of = f"{both} clean with the same: {next(iter(kinds.values()))}." if alike else ""
    bare_all = "No film is known that they leave." if none else ""
    return told.with_reasons([of, *said[:1], *_milder(answer), bare_all, *said[1:]])


def _in_brief(kind: str, films: Sequence[str]) -> str:
    """What a wash cleans with and leaves, in a few words."""
    rest = f" and {len(films) - 1} more" if len(films) > 1 else ""
    told = f"leaves {films[0]}{rest}" if films else "leaves nothing known"
    return f"{kind}; {told}" if kind else told


def _milder(answer: Answer) -> Iterator[str]:
    """Which of some washes is milder, as far as that is known."""
    for each in answer.findings:
        for item in each.items if each.kind == "besides" else ():
            if item.startswith("Nothing here decides"):
                yield "Which of them is milder to skin, no label tells."
            elif item.startswith("The order of the trade") and _ONE_RUNG in item:
                yield "To skin the trade counts them as alike; no test settles it."
            elif "milder" in item:
                yield item


def clauses(sentence: str, question: str) -> tuple[str, ...]:
    """A long sentence as the short ones that it is made of."""
    sentence = without_head(sentence)
    name, colon, rest = sentence.partition(": ")
    if colon and name in question:
        sentence = rest
    parts = re.split(r"; |(?<=\.) ", sentence)
    return tuple(as_sentence(part[:1].upper() + part[1:]) for part in parts if part)


def _on_one_film(told: Told, asking: Asking, found: Sequence[Verdict]) -> Told:
    """What some washes do to one film, told apart by what of each helps against it."""
    world, film = found[0].case.world, found[0].film
    helps = {row.wash: list(_helping(world, row.wash, film)) for row in found}
    what = aloud(world.base, film)
    alike = len({row.role for row in found}) == 1
    if not alike:
        claim = heading_of_table(asking, found)
        groups = [_listing(world, wash, each) for wash, each in _most_first(helps)]
        told = told._replace(
            claim=claim, groups=tuple(groups), ladders=_ladders(world, helps)
        )
        return _drawn(told).with_reasons([claim_of(row) for row in found])
    first = max(found, key=lambda row: _weight(helps[row.wash])).wash
    rest = [row.wash for row in found if row.wash != first]
    ahead = all(_ahead(helps[first], helps[other]) for other in rest)
    names = few([row.wash for row in found])
    claim = f"{names} do the same to {what}, as far as known."
    if ahead:
        claim = f"For {what}: {first} rather than {few(rest)}."
    least = ENDS[found[0].role][0]
    doubt = "Whether it is enough, no label tells." if least is Role.NONE_OF_IT else ""
    groups = [_listing(world, wash, each) for wash, each in _most_first(helps)]
    told = told._replace(
        claim=claim, groups=tuple(groups), ladders=_ladders(world, helps)
    )
    told = _drawn(told)
    works = [each for _, pairs in _most_first(helps) for each, _ in pairs]
    kind = what_it_is(world.base, works[0]) if works else ""
    reasons = [f"What helps is {kind}." if kind else "", doubt if works else ""]
    return told.with_reasons(reasons)


def _ladders(world: World, helps: Mapping[str, Sequence[_Helps]]) -> tuple[Ladder, ...]:
    """The lists of two washes side by side, with what helps marked in its place."""
    if len(helps) > _SIDES or not any(helps.values()):
        return ()
    found = [
        ladder
        for wash, each in _most_first(helps)
        if wash in world.products and (ladder := _ladder(world, wash, each))
    ]
    return tuple(found) if len(found) == len(helps) else ()


def _ladder(world: World, wash: str, helps: Sequence[_Helps]) -> Ladder | None:
    places = {place: "" for _, place in helps}
    return ladder_of(world, wash, places, title=wash)


def _drawn(told: Told) -> Told:
    """What the lists show is not listed once more beside them."""
    if not told.ladders:
        return told
    return told._replace(groups=(), else_groups=told.groups, note=_DASHED)


def _listing(world: World, wash: str, helps: Sequence[_Helps]) -> Group:
    """What helps in one wash, each with its place; how late, where all is late."""
    names = tuple(f"{world.base.label(each)} ({nth(n)})" for each, n in helps[:_NAMED])
    if len(helps) > _NAMED:
        names = (*names, f"{len(helps) - _NAMED} more")
    if not names:
        return Group(None, wash, ("nothing on its list helps",), 1)
    return Group(None, wash, names, len(helps))


def _helping(world: World, wash: str, film: str) -> Iterator[_Helps]:
    """What on a label some claim says takes part of a film, each with its place."""
    if wash not in world.products:
        return
    base = world.base
    wide = base.term(Role.FILM)
    kinds = {film, *base.classes_of(film)} - {wide, *base.ancestors(wide)}
    agents = {
        agent
        for claim in base.instances(_CLAIM)
        if kinds & {*base.record(claim).links("film")}
        and base.record(claim).link("atLeast")
        for agent in base.record(claim).links("agent")
    }
    water = world.known.water_symbol
    for place, reading in enumerate(world.read(wash).readings, 1):
        if reading.symbol and reading.symbol != water and agents & {*reading.classes}:
            yield reading.symbol, place


def _weight(helps: Sequence[_Helps]) -> tuple[int, int]:
    return (len(helps), -min((place for _, place in helps), default=0))


def _ahead(one: Sequence[_Helps], other: Sequence[_Helps]) -> bool:
    """Whether one lists at least as much of what helps, and that further up."""
    if not one or not other:
        return bool(one)
    places = [min(place for _, place in each) for each in (one, other)]
    return len(one) >= len(other) and places[0] < places[1]


def _most_first(
    helps: Mapping[str, Sequence[_Helps]],
) -> list[tuple[str, Sequence[_Helps]]]:
    """The washes by how much of what helps each lists, the most first."""
    return sorted(helps.items(), key=lambda each: _weight(each[1]), reverse=True)
