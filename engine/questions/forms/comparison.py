"""Things set side by side: `compare A and B`.

Without a film it is told what each leaves, what it hides, how mild and how strong it
is beside the other, and of which films of the shelf they do not take the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import TypeAlias

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.folded_words import by_class, in_brief
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, TAKES, Left, Verdict
from abluent.engine.questions.answers.wording import puts_back
from abluent.engine.questions.forms.whether import truth_sentence, whether
from abluent.engine.questions.forms.which import leaves_sentence, missed_words
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged, Unanswerable
from abluent.engine.questions.world.items import PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

Groups: TypeAlias = dict[tuple[int, ...], list[str]]
_STRENGTH = "By their cleansers, at the same strength of both"
_AHEAD = 4
"""So many kinds of films are named that one wash takes and others may not."""
_SIDE_BY_SIDE = 4
"""So many washes are compared film by film; more are only told one by one."""


def compare(judge: Judge, query: q.Compare, text: str) -> Answer:
    """Set some products side by side: what is known, or what each does to a film."""
    items = judge.terms.items(query.things, PRODUCT)
    said: q.Predicate = (
        q.Leaves(q.Thing()) if query.film is None else q.Clears(query.film)
    )
    parts = []
    for item in items:
        judged = judge.judge([item], said)[item]
        sentence = _side(judge, item, judged)
        parts.append(Answer(item.key, sentence, judged.rows, members=[item]))
    told = " ".join(part.sentence for part in parts)
    if query.film is None and not any(part.rows for part in parts):
        told = "None of them is known to leave a film of its own."
        if len(parts) == 2:
            told = told.replace("None of them", "Neither")
    if query.film is not None:
        return Answer(text, told, members=items, compared=parts)
    findings = [*_hidden(judge, items)]
    washes = [i for i in items if i in judge.nouns.washes or i.key == WATER]
    if 1 < len(washes) <= _SIDE_BY_SIDE:
        of = _verdicts(judge, washes)
        films = list(next(iter(of.values())))
        groups = _unlike(of, films)
        apart = _apart(judge, of, groups, films)
        findings = [*_degrees(judge, washes), *apart, *findings]
        short = _in_short(judge, washes, groups, films)
        told = f"{_ahead(judge, of, films)}{_milder(findings)}{short} {told}"
    return Answer(text, told, members=items, compared=parts, findings=findings)


def _side(judge: Judge, item: Item, judged: Judged) -> str:
    rows = [row for row in judged.rows if isinstance(row, Verdict)]
    if rows:
        return _bare(truth_sentence(judge.world, judged.truth, rows))
    return leaves_sentence(judge.nouns, judge.nouns.title(item), judged.rows)


def _in_short(
    judge: Judge, washes: Sequence[Item], groups: Groups, films: Sequence[str]
) -> str:
    names = listed([judge.nouns.title(each) for each in washes])
    number = sum(map(len, groups.values()))
    if not number:
        return f"{names} take the same of all {len(films)} films that the shelf leaves."
    return (
        f"{names} differ on {number} of the {len(films)} films that the shelf leaves."
    )


def _ahead(
    judge: Judge, of: Mapping[str, dict[str, Verdict]], films: Sequence[str]
) -> str:
    """What the wash that takes part of most films takes and others may not."""
    sure = {
        name: {f for f in films if ENDS[rows[f].role][0] is not Role.NONE_OF_IT}
        for name, rows in of.items()
    }
    best = max(sure, key=lambda name: len(sure[name]))
    rest = [name for name in sure if name != best]
    only = sure[best].difference(*(sure[name] for name in rest))
    if not only or any(sure[name] - sure[best] for name in rest):
        return ""
    ordered = [film for film in films if film in only]
    if any(of[name][film].disputed for film in ordered for name in rest):
        return ""
    told = in_brief(judge.world.base, ordered, films, _AHEAD)
    none = rest[0] if len(rest) == 1 else "any other"
    return f"{best} takes at least part of {told}, of which {none} may take none. "


def _milder(findings: Sequence[Finding]) -> str:
    """Which is the milder, where one is known to be."""
    for each in findings:
        known = each.kind == "milder" and len(each.items) == 1
        if known and " is milder " in each.items[0]:
            return f"{each.items[0]} "
    return ""


def _degrees(judge: Judge, washes: Sequence[Item]) -> Iterator[Finding]:
    """How mild and how strong each is beside the next."""
    for kind, strength in (
        ("milder", q.Strength.MILDER),
        ("stronger", q.Strength.STRONGER),
    ):
        told = []
        for one, other in pairwise(washes):
            names = [q.Name(judge.nouns.title(each)) for each in (one, other)]
            said = q.Statement(names[0], q.Differs(strength, names[1]))
            try:
                told.append(_bare(whether(judge, said, "").sentence))
            except Unanswerable:
                continue
        if told:
            head = "To skin" if kind == "milder" else _STRENGTH
            yield Finding(kind, head, tuple(told))


def _bare(sentence: str) -> str:
    """What a sentence says, without the yes or no before it."""
    for head in ("Yes: ", "No: ", "Open: "):
        sentence = sentence.removeprefix(head)
    return sentence[:1].upper() + sentence[1:]


def _verdicts(judge: Judge, washes: Sequence[Item]) -> Mapping[str, dict[str, Verdict]]:
    """What each wash does to every film that the shelf leaves."""
    names = [judge.removal.as_wash(each) for each in washes]
    found = judge.removal.verdicts(names, q.Clears(q.Thing()))
    return {name: {row.film: row for row in found[name]} for name in names}


def _unlike(of: Mapping[str, dict[str, Verdict]], films: Sequence[str]) -> Groups:
    """The films of which the washes do not take the same, by what each takes."""
    groups: Groups = {}
    for film in films:
        roles = tuple(VERDICTS.index(rows[film].role) for rows in of.values())
        if len(set(roles)) > 1:
            groups.setdefault(roles, []).append(film)
    return groups


def _apart(
    judge: Judge,
    of: Mapping[str, dict[str, Verdict]],
    groups: Groups,
    films: Sequence[str],
) -> Iterator[Finding]:
    told = []
    for mine in sorted(groups.values(), key=len, reverse=True):
        takes = [_takes(name, rows, mine[0]) for name, rows in of.items()]
        which = by_class(judge.world.base, mine, films, parts=True)
        told.append(as_sentence(f"{which}: {listed(takes)}"))
    if told:
        yield Finding("apart", "Where they differ", tuple(told))


def _takes(name: str, rows: Mapping[str, Verdict], film: str) -> str:
    itself = " (it leaves such a film itself)" if puts_back(rows[film]) else ""
    return f"{name} takes {TAKES[rows[film].role]}{itself}"


def _hidden(judge: Judge, items: Sequence[Item]) -> Iterator[Finding]:
    """What is easy to miss on each label, but for what it leaves, which is told."""
    told = []
    for item in items:
        rows = judge.judge([item], q.Hides(q.Thing()))[item].rows
        words = missed_words(judge.nouns, [r for r in rows if not isinstance(r, Left)])
        told += [f"{judge.nouns.title(item)}: {words}."] if words else []
    if told:
        yield Finding("hidden", "Easy to miss on the labels", tuple(told))
