"""Foldings in words: `partly clears: anionic surfactants except soaps`."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.described import Describer, Term
from abluent.engine.questions.answers.folding import (
    Folding,
    Likeness,
    classes_among,
    film_key,
    film_of,
    folded,
    kinds_by,
    same_verdict,
    wash_key,
)
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import in_a_row

MANY = 12
"""So many verdicts and more are told by what they are folded to."""
_BY_NAME = 6
"""So many things that no class makes up are named."""
_EXCEPT = "except"
_LEFT_OUT = 1
"""So many exceptions are told aloud."""
_Namer = Callable[[str], str]


def many(rows: Sequence[Row]) -> bool:
    """Whether rows are so many that their classes say more than they do."""
    return len(rows) > MANY and all(isinstance(row, Verdict) for row in rows)


def foldings(rows: Iterable[Row], like: Likeness = same_verdict) -> tuple[Folding, ...]:
    """The verdicts among some rows, folded."""
    return folded([row for row in rows if isinstance(row, Verdict)], like)


def told(rows: Sequence[Row]) -> list[tuple[str, Verdict]]:
    """What many rows come to, a line for each folding with one row that it stands for.

    Every face that has no room for the rows shows these; nothing where rows are few.
    """
    if not many(rows):
        return []
    found = foldings(rows)
    return [(says, f.first) for says, f in zip(phrases(found), found, strict=True)]


def groups(rows: Sequence[Row]) -> dict[tuple[str, str], str]:
    """The line that stands for each of some verdicts, by its wash and film.

    The keys are those of `folding`; a line that is shared by several is the first.
    """
    found = foldings(rows)
    lines: dict[tuple[str, str], str] = {}
    for says, each in zip(phrases(found), found, strict=True):
        for row in each.members:
            lines.setdefault((wash_key(row), film_key(row)), says)
    return lines


def alike(rows: Sequence[Verdict], side: int) -> list[tuple[str, str]]:
    """The washes, or the films, of which all is the same, and one of each group.

    Args:
        rows: the verdicts, at least one.
        side: 0 for washes, 1 for films.
    """
    base = rows[0].case.world.base
    like: dict[str, dict[str, object]] = {}
    for row in rows:
        pair = wash_key(row), film_key(row)
        like.setdefault(pair[side], {})[pair[1 - side]] = same_verdict(row)
    groups: dict[frozenset[tuple[str, object]], list[str]] = {}
    for key, verdicts in like.items():
        groups.setdefault(frozenset(verdicts.items()), []).append(key)
    classes = classes_among(base, list(like), kinds_by(rows), parts=side == 1)
    describer = Describer(list(like), classes)

    def name(key: str) -> str:
        film, source = film_of(key)
        shown = base.label(film) if film in base else film
        return f"{shown} from {source}" if source else shown

    return [
        (described(base, describer.described(describer.mask(keys)), name), keys[0])
        for keys in groups.values()
    ]


def phrases(
    found: Sequence[Folding], among: Sequence[Folding] | None = None
) -> list[str]:
    """What each of some foldings says, the verdict first.

    What all that was asked about shares is left out: the one film, or the one wash.

    Args:
        found: the foldings.
        among: all that was found, if these are not all.
    """
    if not found:
        return []
    whole = among or found
    base = found[0].first.case.world.base
    washes = {key for each in whole for key in each.washes.keys}
    films = {key for each in whole for key in each.films.keys}
    sources = {film_of(key)[1] for key in films}

    def name(key: str) -> str:
        film, source = film_of(key)
        told = base.label(film) if film in base else film
        return f"{told} from {source}" if source and len(sources) > 1 else told

    return [_phrase(base, each, name, len(washes), len(films)) for each in found]


def _phrase(base: Base, each: Folding, name: _Namer, washes: int, films: int) -> str:
    sides = []
    if washes > 1 or films == 1:
        sides.append(_whole(base, each.washes.terms, name, each.washes.every, washes))
    if films > 1:
        sides.append(_whole(base, each.films.terms, name, each.films.every, films))
    count = len(each.members)
    told = f" ({count})" if count > 1 else ""
    says = verdict_words(each.first)
    if washes == 1 and films > 1 and each.first.wash == WATER and not each.first.gone:
        says = f"{WATER} {says}"
    return f"{says}: {' on '.join(sides)}{told}"


def verdict_words(row: Verdict) -> str:
    """A verdict, and which of its questions is disputed."""
    base = row.case.world.base
    words = base.label(row.value)
    if not row.contested:
        return words
    effects = [base.label(base.term(effect)) for effect in row.contested]
    return f"{words}, and whether {' and '.join(effects)} is disputed"


def _whole(
    base: Base, terms: Sequence[Term], name: _Namer, every: bool, count: int
) -> str:
    if every and len(terms) > 1:
        return f"all {count}"
    return described(base, terms, name)


def said_films(base: Base, each: Folding) -> str:
    """The films of a folding: by name where they are few, else by their classes."""
    films = list(each.films.keys)

    def name(key: str) -> str:
        return base.label(film_of(key)[0])

    terms = each.films.terms
    length = sum(term.length for term in terms)
    if len(films) <= max(length, 2):
        return listed([name(film) for film in films])
    if len(terms) == 1 or any(term.but for term in terms):
        return described(base, terms, name)
    return listed([_outer(base, term, name) for term in terms], _BY_NAME)


def described(base: Base, terms: Sequence[Term], name: _Namer) -> str:
    """A description in words: the classes by their plurals, things by their names."""
    if len(terms) == 1 and terms[0].but:
        (term,) = terms
        left_out = _cut(term.but, lambda each: _inner(base, each, name))
        return f"{base.plural(term.symbol)} except {left_out}"
    return _cut(terms, lambda each: _outer(base, each, name))


def _cut(terms: Sequence[Term], told: Callable[[Term], str]) -> str:
    """Terms in words: all classes, and of what no class makes up as much as is read."""
    things = [term for term in terms if not term.whole]
    left = set(things[_BY_NAME:]) if len(things) > _BY_NAME + 1 else set()
    names = ", ".join(told(each) for each in terms if each not in left)
    return f"{names} and {len(left)} more by name" if left else names


def by_class(
    base: Base, keys: Sequence[str], among: Sequence[str], *, parts: bool = False
) -> str:
    """Some ingredients by the fewest classes that say exactly these, of all given.

    With `parts` a class may mean what of it is among all given.
    """
    every = list(dict.fromkeys(among))
    describer = Describer(every, classes_among(base, every, parts=parts))
    return described(base, describer.described(describer.mask(keys)), base.label)


def in_brief(base: Base, keys: Sequence[str], among: Sequence[str], most: int) -> str:
    """Some films by the classes that most of them belong to, as is said aloud.

    Of a class with many exceptions it is said that most of it is meant, where it is.

    Args:
        base: names the classes.
        keys: the films.
        among: all that were looked at; a class means what of it is among these.
        most: how many classes or names are told; of the rest, that there are some.
    """
    every = list(dict.fromkeys(among))
    if len(every) == len(set(keys)) > most:
        return "every film looked at"
    kinds = classes_among(base, every, parts=True)
    parts = {kind: own for kind, own in kinds.items() if len(own) < len(every)}
    describer = Describer(every, parts)
    told: list[str] = []
    covered = 0
    for term in describer.described(describer.mask(keys)):
        mask = describer.meant([term])
        once = not any(_EXCEPT in each for each in told)
        said = _briefly(base, term, describer, but=once)
        if len(told) == most or not said:
            continue
        told.append(said)
        covered |= mask
    rest = len(set(keys)) - covered.bit_count()
    others = ["some others" if told else "some"]
    return in_a_row([*told, *others] if rest else told)


def _briefly(base: Base, term: Term, describer: Describer, *, but: bool) -> str:
    """A term in words; a class of which much is left out as most of it, if it is.

    So is one of which anything is left out, where that is not to be told.
    """
    if not term.but or (but and len(term.but) <= _LEFT_OUT):
        return _outer(base, term, base.label)
    whole = describer.meant([Term(term.symbol, True)]).bit_count()
    meant = describer.meant([term]).bit_count()
    return f"most {base.plural(term.symbol)}" if 2 * meant > whole else ""


def _outer(base: Base, term: Term, name: _Namer) -> str:
    if not term.but:
        return base.plural(term.symbol) if term.whole else name(term.symbol)
    left_out = _cut(term.but, lambda each: _inner(base, each, name, "[", "]"))
    return f"{base.plural(term.symbol)} ({_EXCEPT} {left_out})"


def _inner(
    base: Base, term: Term, name: _Namer, opening: str = "(", closing: str = ")"
) -> str:
    told = base.plural(term.symbol) if term.whole else name(term.symbol)
    if not term.but:
        return told
    kept = _cut(term.but, lambda each: _inner(base, each, name, "(", ")"))
    return f"{told} {opening}but not {kept}{closing}"


def in_data(base: Base, terms: Sequence[Term]) -> list[dict[str, object]]:
    """A description as plain data."""
    told: list[dict[str, object]] = []
    for term in terms:
        film, source = film_of(term.symbol)
        name = base.label(film) if film in base else film
        shown: dict[str, object] = (
            {"class": base.plural(term.symbol), "symbol": term.symbol}
            if term.whole
            else {"name": name, "from": source or None}
        )
        told.append({**shown, "except": in_data(base, term.but)} if term.but else shown)
    return told
