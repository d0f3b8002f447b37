"""What a picture says of what products leave: one of them, or each with its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from abluent.engine.base.contract import LEAVES_NONE, LEAVING_UNKNOWN
from abluent.engine.base.kinds import rinsed_off
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.verdicts import Left
from abluent.engine.questions.answers.wording import leave_verb
from abluent.engine.questions.verbs.staying import loosens
from abluent.engine.questions.world.world import World
from abluent.engine.routines.overview import called, family_among
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, strand_of
from abluent.shell.told.asking import (
    Asking,
    looked_at,
    unread_in_brief,
    unread_line,
    unread_names,
)
from abluent.shell.told.group import Group
from abluent.shell.told.groups import groups_of
from abluent.shell.told.headings import headline
from abluent.shell.told.labels import deposit_of
from abluent.shell.told.spoken_names import aloud, few, in_letters, spoken_alone
from abluent.shell.told.told import Told

_PRODUCTS = 9
"""So many products are listed with what each of them leaves."""
_IN_HEADING = 3
"""So many names of what is left a heading tells."""
_TOGETHER = 16
"""So many products are told together, each with what it leaves."""
_EACH = 4
"""So many names are told of what each of several products leaves."""


# -- what one product leaves -------------------------------------------------------


def left(told: Told, asking: Asking, answer: Answer, rows: Sequence[Row]) -> Told:
    """Return what one product leaves: what stays, what rinses, what goes by itself."""
    (product,) = asking.products
    found = [row for row in rows if isinstance(row, Left)]
    gone = [r for r in answer.others if isinstance(r, Left) and r.how == LEAVES_NONE]
    sure = [row for row in found if row.sure]
    rinses = [row for row in sure if loosens(row)]
    stays = [row for row in sure if row not in rinses]
    otherwise = {row.film: word for row in stays if (word := _stays_as(row))}
    stays = [row for row in stays if row.film not in otherwise] or stays
    otherwise = {} if stays[:1] and stays[0].film in otherwise else otherwise
    may = [row for row in found if not row.sure]
    world = found[0].case.world if found else asking.world
    unread = unread_line(world, product, alone=True) if world is not None else ""
    claim = _leaves(product, stays or rinses, may, gone, more=bool(unread))
    told = told._replace(
        claim=f"{_when(asking)}{claim}",
        beneath=(unread,) if unread else (),
    )
    if len(found) == 1 and sure and not gone:
        told = told._replace(mark=LEFT, caption="stays on hair")
        return told.with_reasons([*found[0].reasons, _not_known(answer)])
    groups = [
        *_stays(stays),
        *_others(sure, otherwise),
        *_one(rinses, Group(None, "Rinses out, in part or whole", (), 0)),
        *_one(may, Group(MAY_BE_LEFT, "May stay", (), 0)),
        *_by_itself(gone),
    ]
    if len(groups) == 1 and stays and len(stays) <= _IN_HEADING and not unread:
        # The heading has named all of it.
        told = told._replace(mark=LEFT, caption="stays on hair")
        return told.with_reasons([*_why_left(stays), _not_known(answer)])
    told = told._replace(groups=tuple(groups))
    told = told._replace(note=_not_known(answer))
    return told.with_reasons(_why_left(stays or found))


def _stays_as(row: Left) -> str:
    """What a film is told under that stays otherwise than most; else empty."""
    base = row.case.world.base
    kinds = base.classes_of(row.film) if row.film in base else ()
    told = (base.record(kind).text("staysAs") for kind in kinds)
    return next(filter(None, told), "")


def _others(sure: Sequence[Left], words: Mapping[str, str]) -> Iterator[Group]:
    for word in dict.fromkeys(words.values()):
        found = [row for row in sure if words.get(row.film) == word]
        yield from _one(found, Group(None, word, (), 0))


def _leaves(
    product: str,
    stays: Sequence[Left],
    may: Sequence[Left],
    gone: Sequence[Left],
    *,
    more: bool,
) -> str:
    """What a product leaves, by name, in one sentence."""
    found = stays or may
    if not found:
        return f"{product} leaves nothing on hair that we know of."
    verb = leave_verb(found[0].case.world, product) if stays else "{} may leave"
    ending = "; what we cannot read may add more" if more else ""
    if gone and not more:
        names = _short(gone)
        stay = "does" if len(set(names)) == 1 else "do"
        ending = f"; {few(names, 2)} {stay} not stay"
    return f"{verb.format(product)} {_much(found)} on hair{ending}."


def _much(found: Sequence[Left]) -> str:
    """What is left: by name where it is little, else how much of the main family."""
    if len(found) <= _IN_HEADING:
        return few(_short(found), _IN_HEADING)
    base = found[0].case.world.base
    of = [family_among(base, row.film) for row in found]
    ((family, many),) = Counter(of).most_common(1)
    rest = len(found) - many
    if many == 1:
        return f"{in_letters(len(found))} films"
    told = f"{in_letters(many)} {called(base, family)}"
    if not rest:
        return told
    return f"{told} and {in_letters(rest)} other film{'s' * (rest > 1)}"


def _when(asking: Asking) -> str:
    """Under which conditions that was asked, before a sentence; else empty."""
    act = asking.act
    when = " ".join(act.circumstances) if isinstance(act, q.Leaves) else ""
    return f"{when[:1].upper()}{when[1:]} " if when else ""


def _short(found: Sequence[Left]) -> list[str]:
    return [spoken_alone(aloud(row.case.world.base, row.film)) for row in found]


def _stays(stays: Sequence[Left]) -> Iterator[Group]:
    """What stays: by family where it is much, under one mark."""
    if not stays:
        return
    for group in groups_of(stays, ()):
        if group.word and group.mark is None:
            yield group
        else:
            yield group._replace(mark=LEFT, word="Stays until it is washed out")


def _one(found: Sequence[Left], like: Group) -> Iterator[Group]:
    if found:
        names = tuple(aloud(row.case.world.base, row.film) for row in found)
        yield like._replace(names=names, many=len(names))


def _by_itself(gone: Sequence[Left]) -> Iterator[Group]:
    """What does not stay at all."""
    mark = strand_of(Role.NO_WASH_NEEDED)
    yield from _one(gone, Group(mark, "Does not stay: dries off or rinses out", (), 0))


def _why_left(found: Sequence[Left]) -> list[str]:
    """Why most of it stays, as the claims on what a product leaves say."""
    times = Counter(deposit_of(row) for row in found)
    if not found or times[""] > len(found) / 2:
        return []
    return [text for text, _ in times.most_common(3) if text][:2]


def _not_known(answer: Answer) -> str:
    """Of what nobody knows whether it stays."""
    doubted = [
        aloud(row.case.world.base, row.film)
        for row in answer.others
        if isinstance(row, Left) and row.how == LEAVING_UNKNOWN
    ]
    stay = "stays" if len(set(doubted)) == 1 else "stay"
    return f"Nobody has shown whether {few(doubted)} {stay}." if doubted else ""


# -- what each of several leaves ---------------------------------------------------


def each_leaves(
    told: Told, asking: Asking, answer: Answer, rows: Sequence[Row]
) -> Told | None:
    """Return each of several products once, with what it leaves."""
    world, found = asking.world, [row for row in rows if isinstance(row, Left)]
    if world is None:
        return None
    every, kind = looked_at(asking, world)
    names = [n for n in every if n in asking.products or not asking.products]
    if not 1 < len(names) <= _TOGETHER:
        return None
    leaves: dict[str, list[str]] = {name: [] for name in names}
    for row in sorted(found, key=lambda row: not row.sure):
        film = spoken_alone(aloud(world.base, row.film))
        leaves.setdefault(row.source, []).append(film if row.sure else f"maybe {film}")
    nothing = [n for n, left in leaves.items() if not left]
    dark = [n for n in nothing if unread_names(world, n)]
    groups = [
        Group(None, name, (few(left, _EACH),), 1)
        for name, left in leaves.items()
        if left
    ]
    none = tuple(n for n in nothing if n not in dark)
    if none:
        groups.append(
            Group(None, "Nothing on the list is known to stay", none, len(none))
        )
    if dark:
        groups.append(Group(None, "We cannot tell", tuple(dark), len(dark)))
    count = sum(map(bool, leaves.values()))
    kinds = {world.products[name].kind for name, left in leaves.items() if left}
    can = "can " if all(rinsed_off(each, world.base) for each in kinds) else ""
    claim = f"{count} of {len(names)} {kind} {can}leave something on hair themselves."
    if none and len(none) <= _IN_HEADING:
        claim = f"All {kind} but {few(none)} {can}leave something on hair themselves."
    counted = [row for row in answer.others if isinstance(row, Left)]
    doubt = [r for r in counted if r.how == LEAVING_UNKNOWN]
    note = ""
    if doubt:
        note = f"Of {few(_short(doubt), 3)} nobody has shown whether they stay."
    named = none and none[0] in claim
    briefly = [*_by_family(found), *(groups[len(leaves) - len(nothing) :])]
    return told._replace(
        claim=claim,
        groups=tuple(groups),
        note=note,
        else_groups=tuple(g for g in briefly if not (named and g.names == none)),
    )


def _by_family(found: Sequence[Left]) -> Iterator[Group]:
    """Each product with the families of what it leaves."""
    families: dict[str, dict[str, bool]] = {}
    for row in found:
        base = row.case.world.base
        family = called(base, family_among(base, row.film))
        mine = families.setdefault(row.source, {})
        mine[family] = mine.get(family, False) or row.sure
    for name, mine in families.items():
        told = [f if sure else f"maybe {f}" for f, sure in mine.items()]
        yield Group(None, name, tuple(told), len(told))


def products(told: Told, asking: Asking, answer: Answer, rows: Sequence[Row]) -> Told:
    """Return which products leave something, each with what it leaves."""
    found = [row for row in [*rows] if isinstance(row, Left)]
    if not found or not isinstance(asking.act, q.Leaves):
        return told._replace(claim=headline(answer.sentence, answer.query))
    world = found[0].case.world
    what = print_term(asking.act.object).replace('"', "")
    groups = [*_by_product(found, True), *_by_product(found, False)]
    sure = len({row.source for row in found if row.sure})
    s = "s" * (sure == 1)
    looked, kind = looked_at(asking, world)
    claim = f"{sure} of {len(looked)} {kind} leave{s} {what} on hair."
    if not sure:
        claim = f"These products may leave {what} on hair."
    met = {row.source for row in found}
    rest = [name for name in looked if name not in met]
    open_ = _open(world, rest)
    none = [name for name in rest if not unread_names(world, name)]
    if none:
        groups.append(Group(None, f"No {what} known", tuple(none), len(none)))
    return told._replace(
        claim=claim,
        groups=tuple(groups),
        mark=LEFT if all(row.sure for row in found) else None,
        beneath=(f"We cannot tell for {open_}.",) if open_ else (),
        else_groups=(
            *_by_product(found, True, apart=False),
            *_by_product(found, False, apart=False),
            *groups[len(groups) - bool(none) :],
        ),
    )


def _by_product(
    found: Sequence[Left], sure: bool, *, apart: bool = True
) -> list[Group]:
    mine = [row for row in found if row.sure is sure]
    films: dict[str, list[str]] = {}
    for row in mine:
        films.setdefault(row.source, []).append(aloud(row.case.world.base, row.film))
    word = "Leaves" if sure else "May leave"
    mark = MAY_BE_LEFT if not sure else LEFT
    if films and (not apart or len(films) > _PRODUCTS):
        return [Group(mark, word, tuple(films), len(films))]
    may = "" if sure else "perhaps "
    return [
        Group(None, name, (f"{may}{few(left, 3)}",), 1) for name, left in films.items()
    ]


def _open(world: World, rest: Sequence[str]) -> str:
    """Those of some products of which nobody can tell, each with what is not known."""
    names = [name for name in rest if unread_names(world, name)]
    return few([unread_in_brief(world, name) for name in names], 2)
