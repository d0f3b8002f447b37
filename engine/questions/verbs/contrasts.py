"""One wash against another on a film, and one film against another under washes.

How far a wash takes a film has two ends, none, part or all; something is said to be
more only where its least is above the other's most.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations
from typing import NamedTuple

from abluent.engine.base.contract import REMARK_ON_LEFT
from abluent.engine.base.roles import EFFECTS
from abluent.engine.questions.answers.answer import Row
from abluent.engine.questions.answers.group import deciding_claim
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict, verdicts
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.verbs.judgement import Judged, Judgements
from abluent.engine.questions.verbs.mildness import Steps, laid_in_steps
from abluent.engine.questions.verbs.removal import Removal
from abluent.engine.questions.verbs.terms import Terms
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.query import tree as q

_NAMED = 4
"""So many washes are named of which the same is so."""
_OTHER_WAY = {q.Ease.HARDER: q.Ease.EASIER, q.Ease.EASIER: q.Ease.HARDER}
_PAIR = 2
_REMARKS = 2
"""So many findings of a film are told beside whether a condition matters."""


_MANY = 40
"""Of more films than these only those on the labels of the shelf are put in order."""


class _Tally(NamedTuple):
    """For how many pairs one side surely takes more, less, and it is open."""

    more: int
    less: int
    open: int


def ends(verdict: Verdict) -> tuple[int, int]:
    """How far a film goes by a verdict, at least and at most, by rank."""
    low, high = ENDS[verdict.role]
    return EFFECTS.index(low), EFFECTS.index(high)


class Contrasts:
    """Comparing by what washes take off, for the terms of one question."""

    def __init__(self, terms: Terms, removal: Removal) -> None:
        self._terms, self._removal = terms, removal

    def outdoes(self, items: Sequence[Item], said: q.Outdoes) -> Judgements:
        """Whether each takes more of a film than each of some other washes."""
        clearing = self._removal
        others = self._terms.items(said.than, PRODUCT)
        names = {item: clearing.as_wash(item) for item in [*items, *others]}
        asked = q.Clears(said.object)
        found = clearing.verdicts(list(dict.fromkeys(names.values())), asked)
        by_film = {name: {v.film: v for v in rows} for name, rows in found.items()}
        return {
            item: _joined(
                [_against(by_film, names[item], names[other]) for other in others],
            )
            for item in items
        }

    def resists(self, items: Sequence[Item], said: q.Resists) -> Judgements:
        """Whether each film goes less easily, under the washes of the shelf."""
        films = self._removal.films
        others = films(said.object, []) or []
        own = {item: [item] if item.kind == INGREDIENT else [] for item in items}
        keys = {each.key for each in others} | {
            film.key for mine in own.values() for film in mine
        }
        by_film = self.under_washes(sorted(keys), under=said.under)
        harder = said.way is q.Ease.HARDER
        return {
            item: _joined(
                [
                    _against(by_film, other.key, film.key, harder=harder)
                    for film in mine
                    for other in others
                    if other != film
                ]
            )
            for item, mine in own.items()
        }

    def shifts(self, items: Sequence[Item], said: q.Shifts) -> Judgements:
        """Whether each film goes less easily under one condition than another."""
        films = sorted({i.key for i in items if i.kind == INGREDIENT})
        here = self.under_washes(films, said.here)
        there = self.under_washes(films, said.there)
        harder = said.way is q.Ease.HARDER
        return {
            item: _against(
                {"there": there.get(item.key, {}), "here": here.get(item.key, {})},
                "there",
                "here",
                harder=harder,
            )
            for item in items
        }

    def shift_sentence(
        self, said: q.Statement, truth: bool | None, rows: Sequence[Row]
    ) -> str:
        """Whether films go less easily here than there, and what was found of it."""
        assert isinstance(said.predicate, q.Shifts)
        found = {row.film: row for row in rows if isinstance(row, Verdict)}
        from abluent.grammar.query.printer import print_term  # noqa: PLC0415

        names = print_term(said.subject)
        way = _said(said.predicate, said.predicate.way)
        if truth is None:
            films = [i.key for i in self._terms.items(said.subject, INGREDIENT)]
            told = self._washes_apart(films, said.predicate, names, way)
        else:
            head, no = ("Yes", "") if truth else ("No", "not ")
            told = f"{head}: {names} is {no}{way}."
        remarks = [*dict.fromkeys(self._found_of(list(found), said.predicate))]
        return " ".join([told, *remarks[:_REMARKS]])

    def _washes_apart(
        self, films: Sequence[str], said: q.Shifts, names: str, way: str
    ) -> str:
        """With which washes some films go less easily under one condition, and why."""
        here = self.under_washes(films, said.here)
        there = self.under_washes(films, said.there)
        if said.way is not q.Ease.HARDER:
            here, there = there, here
        pairs = [
            (here[film][wash], there[film][wash])
            for film in films
            if film in here and film in there
            for wash in here[film]
            if wash in there[film]
        ]
        worse = [pair for pair in pairs if less_known(*pair)]
        turned = [pair for pair in pairs if less_known(*pair[::-1])]
        if not pairs or (worse and turned):
            none = "no verdict on a wash here tells"
            return f"Cannot tell: whether {names} is {way}, {none}."
        every = len({one.wash for one, _ in pairs})
        if not worse:
            if turned:
                back = _said(said, _OTHER_WAY[said.way])
                return f"Rather the other way: {self._with(turned, names, back)}."
            known = f"the same is known of what each of the {every} washes here takes"
            none = f"No wash here shows that {names} is {way}"
            return f"{none}: {known}, one way and the other."
        told = self._with(worse, names, way)
        told = told[:1].upper() + told[1:]
        rest = every - len({one.wash for one, _ in worse})
        if rest:
            told += f"; with the other {rest} the same is known of both"
        why = deciding_claim([one for one, _ in worse], upper=True)
        return f"{told}. {why}".strip()

    @staticmethod
    def _with(pairs: Sequence[tuple[Verdict, Verdict]], names: str, way: str) -> str:
        """With which washes it is so."""
        washes = listed(list(dict.fromkeys(one.wash for one, _ in pairs)), _NAMED)
        return f"with {washes} {names} is {way}, as far as is known"

    def _found_of(self, films: Sequence[str], said: q.Shifts) -> Iterator[str]:
        """What was found of how much more or less is left here than otherwise."""
        nouns, world = self._terms.nouns, self._terms.world
        wanted = set(films)
        holders = [i.key for i in nouns.all_products if wanted & nouns.on_label(i)]
        for words in (said.here, said.there):
            case = Case.of(world, sources=holders, stated=words)
            for _, film, claim in case.model.match(REMARK_ON_LEFT, (None,) * 3):
                record = world.base.record(str(claim))
                if film in wanted and record.links("when"):
                    yield f"Of how much is left: {record.text('statement')}"

    def by_ease(
        self,
        items: Sequence[Item],
        way: q.Ease,
        under: q.Term | None = None,
        *,
        sure: bool = False,
    ) -> tuple[list[Item], str]:
        """Films by steps of how hard, or how easily, they go, and what to mind.

        Those that nothing compares with another are left out; of very many, all that
        stand on no label here. What is `sure` is shown; else what is known is enough.
        """
        own = self._compared(items)
        laid = self.ease_steps(list(own), way, under, sure=sure)
        told = [own[key] for step in laid.steps for key in step] if laid.pairs else []
        every = len(own) * (len(own) - 1) // 2
        washes = "at hand" if under is None else "asked about"
        note = (
            f"As far as is known: of {len(own)} films {len(laid.pairs)} of {every} "
            f"pairs compare by the washes {washes}; where nothing compares two, which "
            "comes first says nothing."
        )
        return told, note if every else ""

    def _compared(self, items: Sequence[Item]) -> dict[str, Item]:
        """The films among some things; of very many those that stand on a label."""
        own = {item.key: item for item in items if item.kind == INGREDIENT}
        seen = self._terms.nouns.seen
        if len(own) > _MANY and any(seen[key] for key in own):
            own = {key: item for key, item in own.items() if seen[key]}
        return own

    def ease_steps(
        self,
        films: Sequence[str],
        way: q.Ease,
        under: q.Term | None = None,
        *,
        sure: bool = False,
    ) -> Steps:
        """Films, by symbol, laid in steps of how hard, or how easily, they go."""
        found = self.under_washes(films, under=under)
        pairs = [
            (one, other)
            for one, other in permutations(films, 2)
            if (
                _against(found, other, one, harder=way is q.Ease.HARDER).truth
                if sure
                else leans(found, one, other, harder=way is q.Ease.HARDER)
            )
        ]
        return laid_in_steps(pairs, films)

    def resist_sentence(
        self, said: q.Statement, truth: bool | None, rows: Sequence[Row]
    ) -> str:
        """Whether one film goes less easily than another, as far as is shown."""
        assert isinstance(said.predicate, q.Resists)
        films = list(dict.fromkeys(r.film for r in rows if isinstance(r, Verdict)))
        if truth is not None or len(films) != _PAIR:
            return ""
        by_film = self.under_washes(films)
        keys = {item.key for item in self._terms.items(said.subject, INGREDIENT)}
        one, other = sorted(films, key=lambda film: film not in keys)
        if said.predicate.way is not q.Ease.HARDER:
            one, other = other, one
        mine, others = by_film[one], by_film[other]
        pairs = [(mine[wash], others[wash]) for wash in mine if wash in others]
        label = self._terms.world.base.label
        return _leaning(pairs, label(one), label(other))

    def under_washes(
        self,
        films: Sequence[str],
        stated: Sequence[str] = (),
        under: q.Term | None = None,
    ) -> dict[str, dict[str, Verdict]]:
        """The verdicts on films of each wash, by film and wash.

        Args:
            films: their symbols.
            stated: under what conditions.
            under: the washes; None is all of the shelf.
        """
        washes = [wash.key for wash in self._terms.nouns.washes]
        if under is not None:
            asked = self._terms.items(under, PRODUCT)
            washes = [self._removal.as_wash(item) for item in asked]
        case = Case.of(self._terms.world, washes, films, stated=stated)
        by_film: dict[str, dict[str, Verdict]] = {}
        for verdict in verdicts(case):
            by_film.setdefault(verdict.film, {})[verdict.wash] = verdict
        return by_film


def leans(
    found: Mapping[str, Mapping[str, Verdict]], one: str, other: str, *, harder: bool
) -> bool:
    """Whether less is known to go of one film under some wash, and under none more.

    Args:
        found: the verdicts, by film and wash.
        one: a film.
        other: another.
        harder: whether it is the one of which less goes; else the other.
    """
    first, second = (one, other) if harder else (other, one)
    mine, others = found.get(first, {}), found.get(second, {})
    pairs = [(mine[wash], others[wash]) for wash in mine if wash in others]
    worse = any(less_known(*pair) for pair in pairs)
    return worse and not any(less_known(*pair[::-1]) for pair in pairs)


def _leaning(pairs: Sequence[tuple[Verdict, Verdict]], one: str, other: str) -> str:
    """Which of two films less is known to go of, and under which washes."""
    # What a wash lays down itself says nothing of how either film goes.
    pairs = [pair for pair in pairs if not any(map(puts_back, pair))] or pairs
    worse = [row.wash for row, rest in pairs if less_known(row, rest)]
    turned = [row.wash for row, rest in pairs if less_known(rest, row)]
    if worse and turned:
        return (
            f"No firm order: with {listed(worse, _NAMED)} less is known to go of "
            f"{one}, with {listed(turned, _NAMED)} of {other}."
        )
    if not worse and not turned:
        return (
            f"No firm order: by what is known each wash here takes as much of {one} as "
            f"of {other}."
        )
    head = "As far as is known, yes" if worse else "Not as far as is known"
    less, more = (one, other) if worse else (other, one)
    names = listed(worse or turned, _NAMED)
    return f"{head}: with {names} less is known to go of {less} than of {more}."


def _against(
    found: Mapping[str, Mapping[str, Verdict]],
    one: str,
    other: str,
    *,
    harder: bool = True,
) -> Judged:
    """Whether one row of verdicts says more than another, place by place."""
    first, second = found.get(one, {}), found.get(other, {})
    if not harder:
        first, second = second, first
    pairs = [(first[key], second[key]) for key in first if key in second]
    tally = _tally(pairs)
    telling = [(a, b) for a, b in pairs if sign(a, b)]
    telling = telling or [p for p in pairs if less_known(*p) or less_known(*p[::-1])]
    telling = telling or pairs[:1]
    rows = tuple(row for pair in telling[:3] for row in pair)
    if tally.less or (pairs and not tally.more and not tally.open):
        return Judged(False, rows)
    return Judged(True if tally.more and not tally.open else None, rows)


def _tally(pairs: Sequence[tuple[Verdict, Verdict]]) -> _Tally:
    signs = [sign(*pair) for pair in pairs]
    unsure = sum(
        sign == 0 and any(low != high for low, high in map(ends, pair))
        for sign, pair in zip(signs, pairs, strict=True)
    )
    return _Tally(signs.count(1), signs.count(-1), unsure)


def _said(said: q.Shifts, way: q.Ease) -> str:
    """That something goes more or less easily here than there, after its name."""
    here, there = map(" ".join, (said.here, said.there))
    return f"{way.value} to clear {here} than {there}"


def less_known(one: Verdict, other: Verdict) -> bool:
    """Whether less is known to go by one verdict than by another, at either end."""
    (low, high), (low_of, high_of) = ends(one), ends(other)
    return low <= low_of and high <= high_of and (low, high) != (low_of, high_of)


def sign(a: Verdict, b: Verdict) -> int:
    """1 where the first surely takes more, -1 where it surely takes less, else 0."""
    (low_a, high_a), (low_b, high_b) = ends(a), ends(b)
    return (low_a > high_b) - (high_a < low_b)


def _joined(parts: Sequence[Judged]) -> Judged:
    """One judgement for all that a thing is set against."""
    if not parts:
        return Judged(None)
    truths = [part.truth for part in parts]
    truth = False if False in truths else None if None in truths else True
    telling = [part for part in parts if part.truth is truth]
    return Judged(truth, tuple(row for part in telling[:3] for row in part.rows))
