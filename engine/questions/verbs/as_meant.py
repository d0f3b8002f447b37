"""A claim about what takes a film off, as people mean it: a part counts as well.

That a wash takes all of a film is hardly ever shown, so of a claim that speaks of
taking off it is told what takes part of it, against the claim or for it, by the washes
at hand: who takes some without what is said to be needed, and of whom it is not shown
that they take any.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from abluent.engine.base.common_names import aloud
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.because import telling_end
from abluent.engine.questions.answers.folding import film_of
from abluent.engine.questions.answers.graded import SURELY, Grade, Kind, graded
from abluent.engine.questions.answers.laid_out import of_products
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_NAMED, _FILMS = 3, 2
"""So many washes, and films of which little goes, are told."""
_TOO_FEW = 2
"""So many films are named; of more, what they are."""


class Sides(NamedTuple):
    """What the washes at hand say to a claim.

    Args:
        so: those that take part of every film against the claim, the best first.
        rest: those that are on the same side and may take none of some film.
        films: what they take some of, in words.
        stay: of which films the others are not shown to take any.
        dry: films that need no wash.
    """

    so: tuple[str, ...]
    rest: tuple[str, ...]
    films: str
    stay: tuple[str, ...]
    dry: tuple[str, ...]


def by_washes(
    judge: Judge, clears: q.Predicate, wanted: q.Term, kind: str, *, without: bool
) -> tuple[Sides | None, tuple[Verdict, ...], bool]:
    """What the washes at hand say to a claim, with their verdicts.

    Args:
        judge: judges what they take.
        clears: what is claimed to be taken off.
        wanted: what is said to be needed, or to do it, or not to.
        kind: what the films are, in the plural; empty if they are no class.
        without: whether the washes without that would belie the claim, or those with.

    Returns:
        the sides, None where none takes part for sure; the verdicts of the washes that
        would belie it; and whether those of the other side take part too.
    """
    washes = judge.nouns.washes
    judged = judge.judge(washes, clears)
    rows = [r for w in washes for r in judged[w].rows if isinstance(r, Verdict)]
    if not rows or any(row.case.at_a_glance for row in rows):
        return None, (), False
    inside = set(judge.terms.items(wanted, PRODUCT))
    keys = {item.key for item in inside if item.kind == INGREDIENT}
    have = [w.key for w in washes if w in inside or keys & judge.nouns.on_label(w)]
    against = [w.key for w in washes if (w.key in have) is not without]
    told = sides(rows, against, kind)
    if told is None or not told.so:
        return None, (), False
    both = sides(rows, have, kind) if without else None
    shown = tuple(row for row in rows if row.wash in against)
    return told, shown, both is not None and bool(both.so)


def sides(
    rows: Sequence[Verdict], against: Iterable[str], kind: str = ""
) -> Sides | None:
    """What some washes say to a claim; None where they are too few to tell.

    Args:
        rows: the verdicts of the washes at hand on the films of the claim.
        against: the names of the washes that would belie it.
        kind: what the films are, in the plural; empty if they are no class.
    """
    wanted = set(against)
    mine = [row for row in rows if row.wash in wanted]
    if not mine or not (len({row.wash for row in mine}) == 1 or of_products(mine)):
        return None
    told = graded(mine)
    so = [wash for each in told if each.kind in SURELY for wash in each.washes]
    less = [
        each for each in told if each.kind not in SURELY | {Kind.NEEDLESS, Kind.BACK}
    ]
    rest = [wash for each in less for wash in each.washes]
    base = rows[0].case.world.base
    dry = dict.fromkeys(r.film for r in mine if r.role is Role.NO_WASH_NEEDED)
    films = dict.fromkeys(r.film for r in mine if r.film not in dry)
    if not films:
        return None
    names = [aloud(base, film) for film in films]
    what = kind if len(names) > _TOO_FEW and kind else listed(names, 4)
    each = f"each of the {what}" if len(names) > 1 and what == kind else what
    stay = [base.label(film_of(film)[0]) for film in _stays(less)]
    return Sides(tuple(so), tuple(rest), each, tuple(stay), tuple(map(base.label, dry)))


def _stays(less: Sequence[Grade]) -> list[str]:
    """The films that most of some washes may leave whole."""
    times: dict[str, int] = {}
    for row in (row for each in less for row in each.rows if telling_end(row)):
        times[row.film] = times.get(row.film, 0) + 1
    most = max(times.values(), default=0)
    return [film for film, many in times.items() if many == most]


def as_meant(head: str, told: Sides, lacking: str, *, too: bool) -> str:
    """A claim that some do not take a film off, or need something for it, as meant.

    Args:
        head: how the claim was judged.
        told: what the washes at hand say to it, of which some take part.
        lacking: what those lack, with its `without`; empty if that is said already.
        too: whether what they lack takes some as well.
    """
    takes = "takes" if len(told.so) == 1 else "take"
    who = listed(told.so[:_NAMED], _NAMED)
    without = f", {lacking}," if lacking else ""
    first = f"{head}: {who}{without} {takes} some of {told.films}{' too' * too}"
    parts = [first]
    if told.rest and told.stay:
        take = "takes" if len(told.rest) == 1 else "take"
        others = listed(told.rest, _NAMED)
        stay = listed(told.stay[:_FILMS], _FILMS)
        parts.append(
            f"What is true in it: that {others} {take} any of {stay} is not shown"
        )
    if told.dry:
        need = "needs" if len(told.dry) == 1 else "need"
        parts.append(f"{listed(told.dry, _FILMS)} {need} no wash at all")
    parts.append("None is shown to take all in one wash")
    return " ".join(map(as_sentence, parts))
