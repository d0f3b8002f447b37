"""Whether what a product leaves needs some kind of cleanser, film by film.

It is looked which of its films go at least in part with the washes at hand that list
none of that kind, and which do not; a film that goes with these alone needs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.folded_words import in_brief
from abluent.engine.questions.answers.group import parted
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.sides.better import reach
from abluent.engine.questions.sides.contrasted import on_wash_day, sure_of
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q

_FILMS = 4
"""So many groups of films are named in a sentence."""
_WASHES = 4
"""So many washes are named of which the same is so."""
_REASONS = 3
"""For so many groups of films it is told why."""


class _Asked(NamedTuple):
    """What is asked: the product, and the kind that is said to be needed."""

    product: q.Term
    kind: q.Term


def asked_of(judge: Judge, said: q.Statement) -> _Asked | None:
    """The product and the kind of cleanser that a statement is about, if it is.

    That is `P needs K`, and `only washes with K clear what P leaves`.
    """
    match said:
        case q.Statement(subject=product, predicate=q.Needs(object=kind)):
            asked = _Asked(product, kind)
        case q.Statement(
            subject=q.Quantified(
                quantity=q.Quantity.ONLY,
                term=q.Such(conditions=(q.Contains(object=kind, level=None),)),
            ),
            predicate=q.Clears(
                object=q.Quantified(term=q.Thing()), source=q.Name() as product
            ),
        ):
            asked = _Asked(product, kind)
        case _:
            return None
    items = judge.terms.items(asked.product, PRODUCT)
    one = len(items) == 1 and items[0].key in judge.world.products
    cleaning = one and not judge.nouns.cleans(items[0])
    return asked if cleaning and not isinstance(asked.kind, q.Quantified) else None


def film_by_film(judge: Judge, asked: _Asked, answer: Answer) -> Answer:
    """An answer told by the films that the product leaves, where it leaves some.

    Args:
        judge: of the world it is asked in.
        asked: the product and the kind.
        answer: what the statement comes to as a claim.
    """
    keys = {item.key for item in judge.terms.items(asked.kind, PRODUCT)}
    bare = [w for w in judge.nouns.washes if _lists_none(judge, w, keys)]
    others = [w for w in judge.nouns.washes if w not in bare]
    every = q.Clears(q.Quantified(q.Quantity.EVERY, q.Thing()), asked.product)
    names = [wash.key for wash in (*bare, *others)]
    if not bare:
        return answer
    rows = judge.removal.verdicts(names, every)
    films: dict[str, list[Verdict]] = {}
    for wash in bare:
        for row in rows[wash.key]:
            films.setdefault(row.film, []).append(row)
    if not films:
        return answer
    (product,) = judge.terms.items(asked.product, PRODUCT)
    found = _Found(judge, product, asked.kind, films)
    inside = [row for wash in others for row in rows[wash.key]]
    shown = [row for mine in films.values() for row in mine]
    findings = [*found.groups(), *sure_of(shown), *on_wash_day(found.best())]
    return replace(answer, sentence=found.sentence(inside), findings=findings)


def _lists_none(judge: Judge, wash: Item, keys: set[str]) -> bool:
    """Whether a label surely lists none of some ingredients."""
    readings = judge.world.read(wash.key).readings
    read = all(each.symbol is not None for each in readings)
    return read and not keys & judge.nouns.on_label(wash)


class _Found:
    """What goes of each film with washes without the kind."""

    def __init__(
        self,
        judge: Judge,
        product: Item,
        kind: q.Term,
        films: Mapping[str, Sequence[Verdict]],
    ) -> None:
        self.base = judge.world.base
        self.product, self.films = product.key, films
        self.kind = self._said(judge, kind)
        self.takers = {
            film: [r for r in rows if ENDS[r.role][0] is not Role.NONE_OF_IT]
            for film, rows in films.items()
        }

    def _said(self, judge: Judge, kind: q.Term) -> str:
        from abluent.grammar.query.printer import print_term  # noqa: PLC0415

        if isinstance(kind, q.Name):
            symbol = judge.terms.noun(kind, PRODUCT).kind or ""
            if self.base.is_class(symbol):
                return self.base.plural(symbol)
        return print_term(kind)

    def sentence(self, inside: Sequence[Verdict]) -> str:
        """Whether it is needed, and for which films."""
        count = len(self.films)
        rest = [film for film, rows in self.takers.items() if not rows]
        if not rest:
            return self._not_needed(count)
        films = in_brief(self.base, rest, [*self.films], _FILMS)
        helps = {r.wash: None for r in inside if r.film in rest and reach(r)[0] > 0}
        which = f"{listed([*helps], _WASHES)} with {self.kind} do" if helps else ""
        if len(rest) == count:
            none = "is shown to take any of what"
            if which:
                head = f"As far as is shown, yes: no wash here without {self.kind}"
                return f"{head} {none} {self.product} leaves; {which}."
            return f"Cannot tell: no wash here {none} {self.product} leaves."
        none = f"no wash here without {self.kind} is shown to take any"
        told = f"For {films} as far as is shown, yes: {none}"
        more = count - len(rest)
        go = "The other film goes" if more == 1 else f"The other {more} films go"
        without = f"{go}, at least in part, without them."
        return f"{told}{f', and {which}' if which else ''}. {without}"

    def _not_needed(self, count: int) -> str:
        goes = f"what {self.product} leaves goes, at least in part, without"
        told = f"No: {'all of ' * (count > 1)}{goes} {self.kind}"
        whole = self._of_all()
        if not whole:
            return f"{told}, though no one wash here does it all."
        verb = "takes" if len(whole) == 1 else "take"
        some = f"each of its {count} films" if count > 1 else "it"
        return f"{told}: {listed(whole, _WASHES)} {verb} at least part of {some}."

    def _of_all(self) -> list[str]:
        """The washes that take part of every film."""
        every = [{row.wash for row in rows} for rows in self.takers.values()]
        shared = set.intersection(*every) if every else set()
        first = next(iter(self.takers.values()), [])
        return [row.wash for row in first if row.wash in shared]

    def groups(self) -> Iterator[Finding]:
        """The films by which washes take them, with a reason for the first few."""
        alike: dict[tuple[str, ...], list[str]] = {}
        for film, rows in self.takers.items():
            alike.setdefault(tuple(row.wash for row in rows), []).append(film)
        items: list[str] = []
        said: set[str] = set()
        for washes, films in sorted(alike.items(), key=lambda each: -len(each[1])):
            names = in_brief(self.base, films, [*self.films], _FILMS)
            by = listed(washes, _WASHES) if washes else "no wash shown to take any"
            why = self._why(films) if washes else ""
            fresh = bool(why) and why not in said and len(said) < _REASONS
            said.add(why)
            line = f"{names[:1].upper()}{names[1:]}: {by}."
            items.append(f"{line} {why}" if fresh else line)
        yield Finding("films", f"At least in part, without {self.kind}", tuple(items))

    def _why(self, films: Sequence[str]) -> str:
        """Why the first of the washes takes most of some films, and which these are."""
        first = parted([self.takers[film][0] for film in films], upper=False)[0]
        if len(first.rows) == len(films) or not first.words:
            return first.words
        names = listed([self.base.label(row.film) for row in first.rows])
        return f"{names}: {first.words}"

    def best(self) -> Iterator[Verdict]:
        """Of each film the verdict on the wash that takes most of it."""
        for rows in self.films.values():
            yield max(rows, key=reach)
