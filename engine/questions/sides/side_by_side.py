"""Films side by side, by what washes take of them; products, by what they leave."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import film_step
from abluent.engine.questions.answers.advised import HEADS
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.folded_words import by_class
from abluent.engine.questions.answers.group import deciding_claim
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import WASH_DAY, advice_on
from abluent.engine.questions.answers.rows import how_sure
from abluent.engine.questions.answers.verdicts import (
    ENDS,
    TAKES,
    Left,
    Verdict,
    films_left,
)
from abluent.engine.questions.verbs.contrasts import ends
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.staying import at_hand
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.common.record import replace
from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.grammar.query import tree as q

Found: TypeAlias = Mapping[str, Mapping[str, Verdict]]
_NAMED = 6
"""So many washes are named of which the same is so."""
_REASONS = 3
"""For so many ways of going it is told why."""


def compare_films(
    judge: Judge, items: Sequence[Item], text: str, under: q.Term | None = None
) -> Answer:
    """How far the washes of a shelf, or some of them, take films side by side."""
    films = [item.key for item in items]
    found = judge.contrasts.under_washes(films, under=under)
    films = [item.key for item in items if item.key in found]
    rows = [row for film in films for row in found[film].values()]
    if len(films) < 2 or not rows:
        none = "There is no wash at hand by which to compare them."
        return Answer(text, none, members=items)
    told = [_harder(judge, found, films)]
    told += [film_step(next(iter(found[film].values()))).text for film in films]
    return Answer(
        text,
        " ".join(filter(None, told)),
        rows,
        members=items,
        findings=[*_by_wash(judge, found, films)],
    )


def compare_hardest(
    judge: Judge, items: Sequence[Item], text: str, under: q.Term | None = None
) -> Answer:
    """Some products by the film of each that the fewest washes take."""
    own = {item: films_of(judge, item) for item in items}
    every = list(dict.fromkeys(film for some in own.values() for film in some))
    found = judge.contrasts.under_washes(every, under=under)
    left = [item for item in items if any(found.get(film) for film in own[item])]
    if not left:
        none = "None of these is known to leave a film that a wash here is judged on."
        return Answer(text, none, members=items)
    label = judge.world.base.label
    first = {item: hardest_of(own[item], found) for item in left}
    told = [
        f"Of what {item.key} leaves, {label(film)} is the hardest to clear."
        for item, film in first.items()
    ]
    told += [
        f"{item.key} is not known to leave any." for item in items if item not in left
    ]
    films = list(dict.fromkeys(first.values()))
    rows = [row for film in films for row in found[film].values()]
    findings = [*_by_wash(judge, found, films)]
    if len(films) > 1:
        told.insert(0, _harder(judge, found, films))
    return Answer(text, " ".join(told), rows, members=items, findings=findings)


def films_of(judge: Judge, item: Item) -> list[str]:
    """The films that are meant by a thing: what a product leaves, or itself."""
    if item.kind != PRODUCT:
        return [item.key]
    case = Case.of(judge.world, sources=[item.key])
    return [left.film for left in films_left(case, item.key)]


def hardest_of(films: Sequence[str], found: Found) -> str:
    """The film that the fewest washes take some of; of a tie the first."""
    judged = [film for film in films if found.get(film)]
    return min(judged, key=lambda film: sum(map(_takes, found[film].values())))


def _takes(row: Verdict) -> bool:
    return ENDS[row.role][0] is not Role.NONE_OF_IT


def _harder(judge: Judge, found: Found, films: Sequence[str]) -> str:
    """Which of some films goes less, in a sentence."""
    label = judge.world.base.label
    washes = list(found[films[0]])
    less = {
        film: [w for w in washes if _least(found, films, film, w)] for film in films
    }
    most = [film for film in films if less[film]]
    every = f"the {len(washes)} washes at hand"
    if len(washes) == 1:
        every = washes[0]
    names = listed([label(film) for film in films])
    unknown = [
        film
        for film in films
        if all(row.role is Role.OPEN for row in found[film].values())
    ]
    if not most and unknown:
        names = listed([label(film) for film in unknown])
        return (
            f"Cannot tell which is harder to take off: what goes of {names} is unknown."
        )
    if not most:
        take = "takes" if len(washes) == 1 else "take"
        alike = f"by what is shown {every} {take} as much of each"
        return f"None is known to be harder to take off: {alike}."
    if len(most) == 1:
        (film,) = most
        rest = listed([label(each) for each in films if each != film])
        some = less[film]
        who = listed(some, _NAMED)
        told = f"{label(film)} is the harder to take off: with {who} less of it goes"
        told += f" than of {rest}, as far as is known"
        others = len(washes) - len(some)
        if len(some) > _NAMED:
            who = f"{len(some)} of {every}"
            told = f"{label(film)} is the harder to take off: with {who} less of it "
            told += f"goes than of {rest}, as far as is known"
        rest = f"; with the other {others} the same is known of each"
        return f"{told}{rest if others else ''}."
    told_of = [
        f"{label(film)} is the harder for {listed(less[film], _NAMED)}" for film in most
    ]
    return f"Which of {names} is harder to take off depends: {in_a_row(told_of)}."


def _least(found: Found, films: Sequence[str], film: str, wash: str) -> bool:
    """Whether a wash counts for less of one film than of the others, or than of one
    and for no more than of any.
    """
    if any(found[each][wash].role is Role.OPEN for each in films):
        return False
    mine = ends(found[film][wash])
    others = [ends(found[each][wash]) for each in films if each != film]
    return all(mine[0] <= low and mine[1] <= high for low, high in others) and any(
        mine != each for each in others
    )


def _by_wash(judge: Judge, found: Found, films: Sequence[str]) -> Iterator[Finding]:
    """What each wash takes of each, those alike together, and why."""
    label = judge.world.base.label
    alike: dict[tuple[str, ...], list[str]] = {}
    for wash in found[films[0]]:
        takes = tuple(taken(found[film][wash]) for film in films)
        alike.setdefault(takes, []).append(wash)
    said: set[str] = set()
    items = []
    for takes, washes in alike.items():
        parts = [
            f"{amount}{',' * (',' in amount)} of {label(film)}"
            for amount, film in zip(takes, films, strict=True)
        ]
        verb = "take" if len(washes) > 1 else "takes"
        line = as_sentence(f"{listed(washes, _NAMED)} {verb} {in_a_row(parts)}")
        rows = [found[film][washes[0]] for film in films]
        held = len({ends(row)[1] for row in rows}) > 1
        least = min(rows, key=lambda row: ends(row)[::-1])
        why = deciding_claim([least], upper=True if held else None)
        why = why if len(said) < _REASONS else ""
        items.append(f"{line} {why}" if why and why not in said else line)
        said.add(why)
    yield Finding("washes", "Wash by wash", tuple(items))


def taken(row: Verdict) -> str:
    """How much of a film a wash takes, beside what others do."""
    return TAKES[row.role]


_APIECE = 3
"""Of so few products it is told what takes what they leave."""
_BY_NAME = 8
"""So many films are told by name; more, by their classes."""


def compare_left(
    judge: Judge, items: Sequence[Item], parts: Sequence[Answer], text: str
) -> Answer:
    """What some products leave in common, and each by itself.

    Args:
        judge: names the things.
        items: the products.
        parts: what each leaves, as an answer of its own.
        text: the question in the language's own wording.
    """
    base, title = judge.world.base, judge.nouns.title
    left = {
        item: {row.film for row in part.rows if isinstance(row, Left)}
        for item, part in zip(items, parts, strict=True)
    }
    every = list(
        dict.fromkeys(
            row.film for part in parts for row in part.rows if isinstance(row, Left)
        )
    )
    made = Answer(text, "", members=items, compared=parts)
    if not every:
        none = "Neither is" if len(items) == 2 else "None of them is"
        bare = f"{none} known to leave a film of its own."
        return replace(made, sentence=bare, compared=())
    shared = set.intersection(*left.values()) if len(items) > 1 else set()

    def said(films: set[str]) -> str:
        some = [each for each in every if each in films]
        if len(some) > _BY_NAME:
            return by_class(base, some, every)
        return listed([base.label(each) for each in some])

    told = []
    if shared:
        both = "Both leave" if len(items) == 2 else "All leave"
        told.append(f"{both} {said(shared)}.")
    for item, films in left.items():
        others = set[str]().union(*(left[each] for each in items if each != item))
        if own := films - others - shared:
            told.append(f"Only {title(item)} leaves {said(own)}.")
    some = set(every) - shared
    alone = {f for f in some if sum(f in films for films in left.values()) == 1}
    if between := [f for f in every if f in some - alone]:
        told.append(f"Some of them leave {listed([base.label(f) for f in between])}.")
    if not shared and len(items) == 2 and all(left.values()):
        told.insert(0, "They leave nothing in common.")
    rows = [row for part in parts for row in part.rows if isinstance(row, Left)]
    unsure = [row for row in rows if not row.sure]
    if unsure:
        perhaps = listed([f"{base.label(r.film)} ({r.source})" for r in unsure])
        told.append(f"Not sure is {perhaps}.")
    findings = [*_against(judge, items, parts)]
    findings.append(Finding("sure", how_sure(rows).rstrip(".")))
    return replace(made, sentence=" ".join(told), findings=findings)


def _against(
    judge: Judge, items: Sequence[Item], parts: Sequence[Answer]
) -> Iterator[Finding]:
    """Of each of a few products, which washes at hand take what it leaves, and what
    to do on wash day about what of it holds most.
    """
    if len(items) > _APIECE:
        return
    base = judge.world.base
    advised: dict[str, None] = {}
    for item, part in zip(items, parts, strict=True):
        rows = [row for row in part.rows if isinstance(row, Left)]
        told = [*at_hand(judge, item.key, [row for row in rows if row.sure])]
        for row in rows:
            kinds = judge.world.labels.kinds_of(row.film)
            found = advice_on(base, WASH_DAY, row.film, side=Role.FILM, kinds=kinds)
            if found is not None and found.text not in advised:
                advised[found.text] = None
                told.append(f"{HEADS[WASH_DAY]} ({base.label(row.film)}): {found.text}")
                break
        if told:
            yield Finding("against", judge.nouns.title(item), tuple(told))
