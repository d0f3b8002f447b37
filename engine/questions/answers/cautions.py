"""What a careful adviser says beside an answer, as the base has it.

A caution of the base names what calls for it (`abl:appliesTo`): a verdict, a class,
a kind of product, a condition. It is no conclusion and is proven by nothing; it is
shown with the answers that it belongs to.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from abluent.engine.base.contract import ACTS, ISA, LEAVES, MAY_LEAVE, PRESENT
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.rows import ABOUT_DEGREES, all_rows
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.engine.questions.world.items import PRODUCT

_STAYS = frozenset({LEAVES, MAY_LEAVE})
"""How something is left that may be on hair."""


def cautions(rows: Iterable[Row]) -> tuple[str, ...]:
    """The cautions that belong to some rows of an answer, each once.

    What the things asked about call for comes first, then what is at work calls for,
    then what the verdict does, and last what holds of every verdict; among these, what
    the narrowest class calls for.
    """
    found = list(rows)
    if not found:
        return ()
    base = found[0].case.world.base
    verdicts = found[0].case.world.known.verdict_roles.keys()
    asked = set().union(*map(_asked_about, found))
    at_work = set().union(*map(_at_work, found))
    met = {*asked, *at_work, *(r.value for r in found if isinstance(r, Verdict))}

    def order(caution: str) -> tuple[bool, bool, bool, int]:
        callers = _callers(base, caution)
        called = callers & met
        general = callers >= verdicts
        return (
            general,
            not callers & asked,
            not callers & at_work,
            _narrowness(base, called),
        )

    called = [c for c in base.instances("Caution") if met & _callers(base, c)]
    called.sort(key=order)
    return tuple(base.record(c).text("statement") or base.label(c) for c in called)


def cautions_beside(answer: Answer) -> tuple[str, ...]:
    """The cautions to be shown with an answer where there is room for few.

    A claim is about what its witness shows: what other things call for is none of its
    business, nor what a thing calls for of which it is only told what it is.
    """
    if answer.aside:
        return ()
    # What an answer is set against is not what is told.
    rows = list(answer.rows) or list(all_rows(answer))
    if answer.compared:
        rows = [r for r in rows if not isinstance(r, Left) or r.how in _STAYS]
    if answer.claim:
        # Of a film that needs no wash there is nothing to mind in washing.
        rows = [r for r in rows if not (isinstance(r, Verdict) and r.gone)]
        rows = [row for row in rows[:1] if isinstance(row, Verdict | Left)]
    return nearest_cautions(rows)


def nearest_cautions(rows: Iterable[Row]) -> tuple[str, ...]:
    """The one or two cautions to be shown where there is room for no more.

    Two that what is asked about calls for, or else one that what is at work does,
    each with what calls for it. What every cleanser calls for is left to a trace, and
    a list of what things are calls for nothing. What is at work calls for one only
    where it surely takes something.
    """
    found = list(rows)
    if not found or _is_list(found):
        return ()
    base = found[0].case.world.base
    asked = _of_most(found)
    at_work = set().union(*map(_at_work, filter(_does_its_work, found)))
    cleansers = {base.term(Role.CLEANSER)}
    called = {
        base.record(c).text("statement") or base.label(c): _callers(base, c) - cleansers
        for c in base.instances("Caution")
    }
    ordered = cautions(found)
    near = [text for text in ordered if called[text] & asked][:2]
    degrees = any(row.goal[0] in ABOUT_DEGREES for row in found)
    aside = set() if degrees else _marked(base, "ofDegrees")
    if any(isinstance(row, Verdict | Left) for row in found):
        # What is in an ingredient is no matter of what a wash takes or leaves.
        own = _marked(base, "ofIngredient")
        near, aside = [text for text in near if text not in own], aside | own
    far = [text for text in ordered if called[text] & at_work][:1]
    far = [text for text in far if text not in aside]
    return tuple(
        f"{text} ({_why(base, called[text] & (asked if near else at_work))})"
        for text in near or far
    )


def _marked(base: Base, name: str) -> set[str]:
    """The cautions that are marked to be of one matter, and of nothing else."""
    records = map(base.record, base.instances("Caution"))
    return {r.text("statement") or "" for r in records if r.truth(name)}


def plain_caution(answer: Answer) -> str:
    """The one caution that belongs to all of an answer, in everyday words; or none.

    It is called for by what every row is about, or by what acts in the wash of each
    and does not stay on hair itself. Only a caution that the base tells plainly is
    short enough to stand on a picture.
    """
    found = list(all_rows(answer))
    if answer.claim:
        found = [row for row in found[:1] if isinstance(row, Verdict | Left)]
    if not found:
        return ""
    base = found[0].case.world.base
    told = {
        record.text("statement") or "": plain
        for record in map(base.record, base.instances("Caution"))
        if (plain := record.text("plainly"))
    }
    called = {
        base.record(c).text("statement") or "": _callers(base, c)
        for c in base.instances("Caution")
    }
    ordered = [text for text in cautions(found) if text in told]
    for classes in (_asked_about, _cleaning):
        shared = set.intersection(*(set(classes(row)) for row in found))
        for text in ordered:
            if called[text] & shared:
                return told[text]
    return ""


def _cleaning(row: Row) -> Iterator[str]:
    """The classes of what acts in the wash of a row and is no film itself."""
    base = row.case.world.base
    if isinstance(row, Verdict):
        symbol = row.case.world.symbol(row.wash)
        for _, agent in row.case.model.match(ACTS, (symbol, None)):
            classes = base.classes_of(str(agent))
            if base.term(Role.FILM) not in classes:
                yield from classes


def _does_its_work(row: Row) -> bool:
    """Whether what is at work surely takes something, if it is asked how much."""
    return not isinstance(row, Verdict) or ENDS[row.role][0] is not Role.NONE_OF_IT


def _of_most(rows: list[Row]) -> set[str]:
    """What half or more of the films or things are that some rows are about.

    What a single one of many films calls for is no matter of the answer.
    """
    films: dict[str, set[str]] = {}
    for row in rows:
        about = row.film if isinstance(row, Verdict | Left) else row.item.key
        films.setdefault(about, set()).update(_asked_about(row))
    times = Counter(kind for kinds in films.values() for kind in kinds)
    return {kind for kind, count in times.items() if 2 * count >= len(films)}


def _is_list(rows: list[Row]) -> bool:
    """Whether rows only say what things are, which calls for no care."""
    return all(row.goal[0] == ISA for row in rows)


def _why(base: Base, called_by: set[str]) -> str:
    """What calls for a caution, in words: the narrowest of it."""
    first = min(called_by, key=lambda each: (_narrowness(base, {each}), each))
    return base.plural(first) if base.is_class(first) else base.label(first)


def _asked_about(row: Row) -> Iterator[str]:
    """The classes of the film or thing that a row is about, and how it is washed."""
    base = row.case.world.base
    yield from (str(each) for (each,) in row.case.model.match(PRESENT, (None,)))
    if isinstance(row, Verdict | Left):
        yield from base.classes_of(row.film)
    elif row.item.key in base:
        yield from base.classes_of(row.item.key)


def _at_work(row: Row) -> Iterator[str]:
    """The classes of what acts in the wash that a row tells of."""
    wash = ""
    if isinstance(row, Verdict):
        wash = row.wash
    elif not isinstance(row, Left) and row.goal[0] in ABOUT_DEGREES:
        wash = row.item.key if row.item.kind == PRODUCT else ""
    if wash:
        symbol = row.case.world.symbol(wash)
        for _, agent in row.case.model.match(ACTS, (symbol, None)):
            yield from row.case.world.base.classes_of(str(agent))


def _callers(base: Base, caution: str) -> set[str]:
    return set(base.record(caution).links("appliesTo"))


def _narrowness(base: Base, called_by: set[str]) -> int:
    """Lower for what is to be said sooner."""
    return -max(len(base.ancestors(each)) for each in called_by)
