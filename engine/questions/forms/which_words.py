"""Which things are so, and how much washes take, in a sentence one can say aloud.

What takes part of a film comes first; that nothing is shown to take all of it comes
after. Names are few: of more it is told how many there are, and a list follows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.best_known import how_well_known
from abluent.engine.questions.answers.folded_words import MANY, by_class, in_brief
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.nearest_advice import LOOSENED, advice_on
from abluent.engine.questions.answers.verdicts import ENDS, TAKES, Verdict
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.engine.questions.world.nouns import Nouns
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_predicate, print_term

_NAMED, _SURELY = 3, 6
"""So many are named; more of those that surely take something."""
_AS = {Role.PARTLY_CLEARED: Role.AT_LEAST_PARTLY}
"""What is told aloud as another is: below it stands which of them goes no further."""
_AMOUNTS = {
    Role.NOT_CLEARED: "none{}",
    Role.AT_MOST_PARTLY: "at most part{}, if any",
    Role.AT_LEAST_PARTLY: "at least part{}",
    Role.CLEARED: "all{}",
}
"""How much of a film goes, with a place for the film."""
_SOMETHING = "leave anything", "leave something"
_Q = '"'
_LABEL = "a line of its label was not read"


class Asked(NamedTuple):
    """What was asked of some things.

    Args:
        nouns: names the things.
        subject: what they are, in the question's words.
        said: what is asked of them.
        looked: all that were looked at.
        kind: the class of films that is asked about, if it is one.
    """

    nouns: Nouns
    subject: q.Term
    said: q.Predicate
    looked: Sequence[Item]
    kind: str = ""

    def verb(self, many: bool) -> str:
        """What is asked of them, as what several do or one does."""
        told = print_predicate(self.said, many=many).replace('"', "")
        return told if isinstance(self.said, q.Not) else told.replace(*_SOMETHING)

    @property
    def noun(self) -> str:
        """What the things are, where the question says it in a word or two."""
        if isinstance(self.subject, q.Name):
            kind = self.nouns.world.base
            words = print_term(self.subject)
            return words if not kind.is_class(words) else kind.plural(words)
        return "looked at"

    def films(self, count: int, each: str = "each") -> str:
        """Several films that are asked about: each of them, or any."""
        act = q.asked_act(self.said)
        if isinstance(act, q.Clears) and isinstance(act.source, q.Name):
            films, left = act.object, f"that {act.source.text} leaves"
            every = "everything" if each == "each" else "anything"
            if isinstance(films, q.Quantified) and isinstance(films.term, q.Thing):
                return f"{every} {left}"
            return f"{each} of the {count} films {left}"
        if self.kind:
            return f"{each} of the {count} {self.nouns.world.base.plural(self.kind)}"
        return f"{each} of these {count} films"

    def titles(self, items: Sequence[Item]) -> list[str]:
        """The names of some things."""
        return [self.nouns.title(item) for item in items]

    def some(self, items: Sequence[Item], most: int = _SURELY) -> str:
        """Some things by name where they are few, else how many, and a few names."""
        if len(items) <= most:
            return listed(self.titles(items))
        if all(item.kind == INGREDIENT for item in self.looked):
            if len(items) < len(self.looked):
                keys = [item.key for item in items]
                among = [item.key for item in self.looked]
                base = self.nouns.world.base
                told = in_brief(base, keys, among, _NAMED)
                if told != "some":
                    return told
                known = sorted(keys, key=lambda key: -how_well_known(base, key))
                names = listed([base.label(key) for key in known[:_NAMED]])
                return f"{len(keys)} of the {len(among)} looked at, such as {names},"
            return f"each of the {len(items)} looked at"
        names = listed(self.titles(items[:_NAMED]))
        if len(items) == len(self.looked):
            return f"all {len(items)} {self.noun}".replace("looked at", "of them")
        return f"{len(items)} of the {len(self.looked)} {self.noun}, such as {names},"

    def others(self, items: Sequence[Item]) -> str:
        """All that is left of the things, without their names."""
        return "the other one" if len(items) == 1 else f"the other {len(items)}"


def members_sentence(
    asked: Asked, kept: Sequence[Item], undecided: Sequence[Item], *, unread: bool
) -> str:
    """Of which things something is so that is not about how much goes.

    Args:
        asked: what was asked.
        kept: those of which it is so.
        undecided: those of which nobody can tell.
        unread: whether that is for a line that was not read.
    """
    number = len(asked.looked)
    out = [i for i in asked.looked if i not in kept and i not in undecided]
    of_products = any(item.kind != INGREDIENT for item in asked.looked)
    if of_products and not undecided and len(kept) > _SURELY and 0 < len(out) < _NAMED:
        but = listed(asked.titles(out))
        told = f"All {number} {asked.noun} but {but} {asked.verb(True)}."
        if isinstance(asked.said, q.Not):
            does = print_predicate(asked.said.part, many=len(out) > 1)
            told = f"Of the {number} {asked.noun} only {but} {does.replace(_Q, '')}."
    elif kept and len(kept) == number > _NAMED:
        told = f"All {number} {asked.noun} {asked.verb(True)}."
    elif kept:
        told = f"{asked.some(kept).removesuffix(',')} {asked.verb(len(kept) > 1)}."
        if len(kept) > _SURELY and any(i.kind != INGREDIENT for i in asked.looked):
            names = listed([*asked.titles(kept[:_NAMED])])
            told = (
                f"{len(kept)} of the {number} {asked.noun} {asked.verb(True)}, "
                f"such as {names}."
            )
    else:
        told = f"None of the {number} {asked.noun} {asked.verb(False)}."
        told = f"For certain n{told[1:]}" if undecided else told
    told += cannot_tell(asked, undecided, unread=unread)
    if kept and isinstance(asked.said, q.Leaves) and 0 < len(out) <= _SURELY:
        told += (
            f" {listed(asked.titles(out))} {'are' if out[1:] else 'is'} not known to."
        )
    return as_sentence(told)


def cannot_tell(asked: Asked, items: Sequence[Item], *, unread: bool) -> str:
    """Of which things nobody can tell, and why where that is known."""
    if not items:
        return ""
    who = listed(asked.titles(items), _SURELY)
    why = ", of which a line was not read" if unread and len(items) == 1 else ""
    why = ", of each of which a line was not read" if unread and not why else why
    return f" Cannot tell for {who}{why}."


def taken_sentence(
    asked: Asked,
    kept: Sequence[Item],
    rest: Sequence[Item],
    judged: Mapping[Item, Judged],
    *,
    whole: bool = True,
) -> str:
    """Which washes take how much of what was asked, those that take most first.

    Args:
        asked: what was asked.
        kept: those that do as asked.
        rest: the others.
        judged: what came of each.
        whole: whether it was asked what takes all of it.
    """
    films = _films(judged, [*kept, *rest])
    if len(films) > 1:
        return _of_several(asked, kept, rest, judged, whole, len(films))
    film = asked.nouns.world.base.label(*films) if films else "it"
    told: list[str] = []
    if kept:
        who, many = asked.some(kept), len(kept) > 1
        amount = f"all of {film}" if whole else f"at least part of {film}"
        told.append(f"{who} {'take' if many else 'takes'} {amount}.")
    groups = _by_role(rest, judged)
    if not kept and groups and not any(map(_sure, groups)):
        nobody = "No product here" if _products(asked.looked) else "None"
        told.append(f"{nobody} is shown to take even part of {film}.")
        told += _loosened(asked, films)
    parts = [*_parts(asked, groups, film if not told else "", first=not kept)]
    if whole and not kept and any(map(_sure, groups)):
        parts[0] += "; nothing here is shown to take all of it"
    told += [f"{part}." for part in parts[:1]]
    told += [f"{'; '.join(parts[1:])}."] if parts[1:] else []
    return " ".join(part[:1].upper() + part[1:] for part in told)


def denied_sentence(
    asked: Asked, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """How little each wash takes of the one film asked about, the least first.

    Empty where that is of several films, or of things that are no washes.
    """
    groups = _by_role(items, judged)
    films = _films(judged, items)
    if len(films) != 1 or not groups or set(groups) - set(_AMOUNTS):
        return ""
    film = f" of {asked.nouns.world.base.label(*films)}"
    told: list[str] = []
    for role, mine in reversed(groups.items()):
        who = asked.some(mine, _SURELY)
        many = len(mine) > 1 and not who.startswith("each ")
        of = "" if told else film
        told.append(f"{who} {'take' if many else 'takes'} {_AMOUNTS[role].format(of)}")
    text = "; ".join(told)
    return f"{text[:1].upper()}{text[1:]}."


def _loosened(asked: Asked, films: Iterable[str]) -> list[str]:
    """What loosens a film that nothing is sure to take, where the base says it."""
    base = asked.nouns.world.base
    told = (advice_on(base, LOOSENED, film, side=Role.FILM) for film in films)
    return [f"What loosens it: {each.text}" for each in told if each]


def _parts(
    asked: Asked, groups: Mapping[Role, Sequence[Item]], film: str, *, first: bool
) -> list[str]:
    """What each group of washes takes, those that take most first."""
    found: list[str] = []
    for number, (role, items) in enumerate(groups.items()):
        last = number == len(groups) - 1 and (number > 0 or not first)
        who = asked.some(items, _SURELY if _sure(role) else _NAMED)
        if last and len(items) > _NAMED:
            who = asked.others(items)
        many = len(items) > 1 and not who.startswith("each ")
        of = f" of {film}" if film and not found else ""
        if role is Role.NO_WASH_NEEDED:
            found.append(f"{who} {'need' if many else 'needs'} no wash")
        elif role is Role.OPEN:
            found.append(
                f"how much {who.removesuffix(',')} take{'s' * (not many)}"
                f"{of} is not known"
            )
        else:
            verb = "take" if many else "takes"
            found.append(f"{who} {verb} {TAKES[role]}{of}")
    return found


def best_sentence(  # noqa: PLR0913 - what was found, and in which order
    asked: Asked,
    best: Sequence[Item],
    rest: Sequence[Item],
    judged: Mapping[Item, Judged],
    how: str,
    *,
    compared: bool,
) -> str:
    """Those first in an order that surely take part, where nothing takes all.

    Args:
        asked: what was asked.
        best: those that are first.
        rest: the others of which is told how much they take.
        judged: what came of each.
        how: the order, in words.
        compared: whether all that take part are compared in that order.
    """
    films = _films(judged, best)
    label = asked.nouns.world.base.label
    of = f"of {label(*films) if len(films) == 1 else asked.films(len(films))}"
    names = listed(asked.titles(best))
    nobody = "nothing here is shown to take all"
    if len(best) == 1 and not compared:
        return f"{names} takes at least part {of}; {nobody}."
    if len(best) == 1:
        return f"{names} is {how} that takes at least part {of}; {nobody}."
    far = "" if compared else ", as far as they can be compared"
    told = f"{names} take at least part {of}: {how}{far}; {nobody}."
    parts = _parts(asked, _by_role(rest, judged), "", first=False) if rest else []
    return f"{told} {as_sentence('; '.join(parts))}" if parts else told


def _by_role(
    items: Sequence[Item], judged: Mapping[Item, Judged]
) -> dict[Role, list[Item]]:
    """Washes by how much they take of that of which they take least, the most first."""
    groups: dict[Role, list[Item]] = {}
    for item in items:
        rows = _verdicts(judged[item])
        if rows:
            worst = worst_of(rows)
            groups.setdefault(_AS.get(worst, worst), []).append(item)
    order = sorted(groups, key=VERDICTS.index, reverse=True)
    return {role: groups[role] for role in order}


def _of_several(  # noqa: PLR0913, PLR0917 - what was found, and what was asked for
    asked: Asked,
    kept: Sequence[Item],
    rest: Sequence[Item],
    judged: Mapping[Item, Judged],
    whole: bool,
    films: int,
) -> str:
    """Which washes surely take part of every film, and what the others may leave."""
    groups = _by_role(rest, judged)
    told = []
    if kept:
        verb = "take" if len(kept) > 1 else "takes"
        amount = "all" if whole else "at least part"
        told.append(f"{asked.some(kept)} {verb} {amount} of {asked.films(films)}")
    surely = [item for role, mine in groups.items() if _sure(role) for item in mine]
    others = [item for role, mine in groups.items() if not _sure(role) for item in mine]
    if surely:
        verb = "take" if len(surely) > 1 else "takes"
        part = f"{asked.some(surely)} {verb} at least part of {asked.films(films)}"
        none = "; nothing here is shown to take all" if whole and not kept else ""
        told.append(f"{part}{none}")
    if others and _alike(others, judged):
        mine = {role: own for role, own in groups.items() if not _sure(role)}
        if not told:
            every = asked.films(films, "any")
            told.append(f"nothing here is shown to take even part of {every}")
        first = not kept and not surely
        told.append("; ".join(_parts(asked, mine, "", first=first)))
    elif others:
        who = asked.others(others) if told else asked.some(others, _NAMED)
        if not told:
            every = asked.films(films)
            told.append(f"nothing here is shown to take part of {every}")
        told.append(_next_best(asked, others, judged) if surely or kept else "")
        if not told[-1]:
            stay = _may_stay(asked.nouns, others, judged)
            told[-1] = f"{who} may leave some whole, {stay}"
    return " ".join(f"{part[:1].upper()}{part[1:]}." for part in told)


def _next_best(
    asked: Asked, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """Those that may leave the fewest films, and what; empty where all are alike."""
    stay = {
        item: [row.film for row in _verdicts(judged[item]) if not _sure(row.role)]
        for item in items
    }
    fewest = min(map(len, stay.values()))
    near = [item for item in items if len(stay[item]) == fewest]
    if len(near) in {len(items), 0} or len(near) > _NAMED or fewest > _NAMED:
        return ""
    label = asked.nouns.world.base.label
    films = listed(list(dict.fromkeys(label(f) for i in near for f in stay[i])))
    one, rest = len(near) == 1, len(items) - len(near)
    other = "the other one" if rest == 1 else f"the other {rest}"
    return (
        f"next {'comes' if one else 'come'} {listed(asked.titles(near))}, which may "
        f"leave {films} whole; {other} may leave more"
    )


def _alike(items: Sequence[Item], judged: Mapping[Item, Judged]) -> bool:
    """Whether each of some washes takes as much of every film."""
    roles = ({row.role for row in _verdicts(judged[item])} for item in items)
    return all(len(each) == 1 for each in roles)


def _may_stay(
    nouns: Nouns, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """The films that some washes perhaps take nothing of, the most often so first."""
    times: dict[str, int] = {}
    for item in items:
        for row in _verdicts(judged[item]):
            if not _sure(row.role):
                times[row.film] = times.get(row.film, 0) + 1
    ordered = sorted(times, key=lambda film: -times[film])
    shown = [nouns.world.base.label(film) for film in ordered[:_NAMED]]
    most = "mostly " if len(ordered) > len(shown) else "such as "
    return f"{most}{listed(shown)}"


def _sure(role: Role) -> bool:
    return ENDS[role][0] is not Role.NONE_OF_IT


def _verdicts(judged: Judged) -> list[Verdict]:
    return [row for row in judged.rows if isinstance(row, Verdict)]


def _films(judged: Mapping[Item, Judged], items: Iterable[Item]) -> set[str]:
    return {row.film for item in items for row in _verdicts(judged[item])}


def _products(looked: Sequence[Item]) -> bool:
    return any(item.kind != INGREDIENT for item in looked)


def worst_of(rows: Sequence[Verdict]) -> Role:
    """How much goes of that of which least goes."""
    return min((row.role for row in rows), key=VERDICTS.index)


def in_common(nouns: Nouns, items: Sequence[Item], looked: Sequence[Item]) -> str:
    """Some things by name, or where they are many by the classes they make up."""
    if len(items) > MANY and all(item.kind == INGREDIENT for item in looked):
        keys = [item.key for item in items]
        told = by_class(nouns.world.base, keys, [item.key for item in looked])
        return f"{told} ({len(items)} of {len(looked)})"
    return listed([nouns.title(item) for item in items])


def nearest_sentence(
    nouns: Nouns, items: Sequence[Item], judged: Mapping[Item, Judged]
) -> str:
    """Which washes came nearest to clearing all of several films, and what is left."""
    left = {
        item: [r for r in rows if not r.gone]
        for item in items
        if (rows := [r for r in judged[item].rows if isinstance(r, Verdict)])
        and any(r.role is Role.CLEARED for r in rows)
    }
    if not left:
        return ""
    fewest = min(map(len, left.values()))
    best = [item for item in items if item in left and len(left[item]) == fewest]
    films = listed([nouns.world.base.label(row.film) for row in left[best[0]]])
    names = listed([nouns.title(item) for item in best])
    return f" Nearest: {names}; {nouns.title(best[0])} leaves {films} uncleared."
