"""What a picture for posting says: one claim, one mark, a few reasons.

A product is named once, in the claim; the reasons speak of its label. What is listed
is grouped by verdict, and whatever does not fit is counted once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import VERDICTS, Role
from abluent.engine.questions.answers.account import account, number_of
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    PROVEN,
    REFUTED,
    UNSUPPORTED,
    Answer,
    Row,
)
from abluent.engine.questions.answers.cautions import cautions_beside
from abluent.engine.questions.answers.folded_words import foldings, many, phrases
from abluent.engine.questions.answers.rows import (
    all_rows,
    named,
    standing,
    title,
    verdict,
)
from abluent.engine.questions.answers.turns import turning_of
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.grammar.common.text import as_sentence
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Strand, strand_of
from abluent.shell.pages.cited_works import cited_works

CLAIM_WORDS = {
    PROVEN: "True",
    REFUTED: "False",
    DISPUTED: "Disputed",
    UNSUPPORTED: "Not shown",
}
"""How a claim was judged, in the word that stands first."""
REASONS = 3
_ASKING = frozenset("does do is are which what how why can will".split())
LONGEST = 150
"""Letters of a sentence that can be a claim; a longer one is told by its question."""


class Group(NamedTuple):
    """Names of which the same is so."""

    mark: Strand | None
    word: str
    names: tuple[str, ...]
    many: int


class Told(NamedTuple):
    """What a picture says.

    Args:
        word: how a claim was judged; empty where nothing was claimed.
        mark: the strand, where one verdict is told.
        caption: what the mark says, in words.
        claim: the sentence.
        sure: how sure that is.
        reasons: every reason there is to choose from.
        chosen: the places of those that are chosen if nobody chooses.
        groups: what is listed.
        works: what it rests on.
        caution: what to mind.
    """

    word: str = ""
    mark: Strand | None = None
    caption: str = ""
    claim: str = ""
    sure: str = ""
    reasons: tuple[str, ...] = ()
    chosen: tuple[int, ...] = ()
    groups: tuple[Group, ...] = ()
    works: tuple[str, ...] = ()
    caution: str = ""

    def aloud(self, chosen: Sequence[int] | None = None) -> str:
        """Return all of it in words, for who cannot see the picture."""
        picked = self.chosen if chosen is None else chosen
        parts = [
            f"{self.word}: {self.claim}" if self.word else self.claim,
            *(f"{g.word}: {', '.join(g.names)}" for g in self.groups),
            *(self.reasons[n] for n in picked if n < len(self.reasons)),
            f"How sure: {self.sure}" if self.sure else "",
            self.caution,
        ]
        return " ".join(as_sentence(each) for each in parts if each)


def told_of(answer: Answer, question: str) -> Told:
    """Return what a picture of an answer says."""
    rows = list(all_rows(answer))
    single = rows[0] if len(rows) == 1 and not answer.others else None
    stands = " or ".join(dict.fromkeys(filter(None, map(standing, rows))))
    works = cited_works(rows) if rows else []
    if works:
        practice = rows[0].case.world.base.terms(Role.PRACTICE)
        # What is no work that could be opened is none of the sources.
        works = [w for w in works if w.record.link("sourceKind") not in practice]
    told = Told(
        sure=stands,
        works=tuple(each.citation for each in works),
        caution=next(iter(cautions_beside(answer)), ""),
    )
    if answer.claim:
        return _claimed(told, answer, rows)
    if isinstance(single, Verdict):
        return _judged(told, answer, single)
    return _listed(told, answer, question, rows)


def _claimed(told: Told, answer: Answer, rows: Sequence[Row]) -> Told:
    reasons = _claim_reasons(answer, rows)
    word = CLAIM_WORDS.get(answer.claim, answer.claim.capitalize())
    return told._replace(
        word=word, claim=_claim(answer), reasons=reasons, chosen=_first(reasons)
    )


def _judged(told: Told, answer: Answer, row: Verdict) -> Told:
    claim, sure = _clauses(answer.sentence, told.sure)
    reasons, chosen = _reasons(row)
    return told._replace(
        mark=strand_of(row.role),
        caption=_word(row),
        claim=claim,
        sure=sure,
        reasons=reasons,
        chosen=chosen,
    )


def _listed(told: Told, answer: Answer, question: str, rows: Sequence[Row]) -> Told:
    groups = (
        ()
        if len(rows) == 1 and not answer.others
        else tuple(_groups(rows, answer.others))
    )
    alone = groups and not answer.compared
    word = re.match(r"(Yes|No): ", answer.sentence) if alone else None
    mark, caption = (None, "") if word else _leading(groups, rows)
    reasons = tuple(rows[0].reasons) if rows and not groups else ()
    return told._replace(
        word=word[1] if word else "",
        mark=mark,
        caption=caption,
        # What is listed below is not said twice.
        claim=_headline("" if groups else answer.sentence, question),
        reasons=reasons,
        chosen=_first(reasons),
        groups=groups,
    )


def _first(reasons: Sequence[str]) -> tuple[int, ...]:
    return tuple(range(min(REASONS, len(reasons))))


def _word(row: Verdict) -> str:
    return f"{verdict(row)}{', disputed' if row.disputed else ''}"


def _clauses(sentence: str, stands: str) -> tuple[str, str]:
    """Part a sentence into the claim and how sure it is."""
    head, _, rest = sentence.rstrip(".").partition("; ")
    for how in filter(None, [stands, stands.partition(",")[0]]):
        head = head.replace(f", by {how}", "", 1)
    sure = "; ".join(filter(None, [stands, rest]))
    return as_sentence(head), as_sentence(sure) if sure else ""


def _claim(answer: Answer) -> str:
    """The claim that was judged, as a sentence."""
    said = re.sub(r"^is it true that ", "", answer.query).replace('"', "")
    return as_sentence(said[:1].upper() + said[1:])


def _claim_reasons(answer: Answer, rows: Sequence[Row]) -> tuple[str, ...]:
    """What shows a claim true or false, the witness first."""
    first = re.split(r"(?<=\.) ", answer.sentence)[0]
    head, colon, rest = first.partition(": ")
    about = _once(rest if colon else head, answer.witness)
    told = [about[:1].upper() + about[1:]]
    told += answer.notes[:1]
    if rows and isinstance(rows[0], Verdict):
        texts, chosen = _reasons(rows[0])
        told += [texts[n] for n in chosen]
        told += [text for n, text in enumerate(texts) if n not in chosen]
    elif rows:
        whole = rest.casefold()
        told += [
            text for text in rows[0].reasons if text.rstrip(".").casefold() not in whole
        ]
    return tuple(dict.fromkeys(map(as_sentence, told)))


def _once(text: str, name: str) -> str:
    """A text in which a name stands once."""
    if not name or text.count(name) < 2:
        return text
    at = text.index(name) + len(name)
    rest = text[at:].replace(f" and {name} is", ", is").replace(name, "it")
    return text[:at] + rest


def _headline(sentence: str, question: str) -> str:
    """A sentence, or where it is long its beginning or what was asked."""
    if 0 < len(sentence) <= LONGEST:
        return sentence
    first = re.split(r"(?<=\.) ", sentence)[0]
    if 0 < len(first) <= LONGEST:
        return first
    asked = question.replace('"', "").strip().rstrip("?.")
    asks = asked.split(" ", 1)[0].casefold() in _ASKING
    return f"{asked[:1].upper()}{asked[1:]}{'?' if asks else '.'}"


def _reasons(row: Verdict) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """The reasons of a verdict, and which of them say most."""
    steps = account(row)
    number = number_of(turning_of(row).words, steps)
    texts = [_unnamed(step.text, row) for step in steps]
    kept = [n for n, text in enumerate(texts) if not text.endswith("ask why.")]
    places = {n: at for at, n in enumerate(kept)}
    wanted = [*kept[1:2], number - 1 if number else 0, *kept[:1], *kept[2:]]
    chosen = dict.fromkeys(places[n] for n in wanted if n in places)
    return tuple(texts[n] for n in kept), tuple(sorted(list(chosen)[:REASONS]))


def _unnamed(text: str, row: Verdict) -> str:
    """A reason without the names that the claim has already."""
    if row.source:
        text = text.replace(f" from {row.source}", "")
    told = re.sub(
        rf"(number [\d, ]+) of {re.escape(row.wash)}", r"\1 on its label", text
    )
    told = told.replace(f"In {row.wash}:", "On its label:")
    if row.source:
        told = told.replace(row.source, "the product")
    told = told.replace(row.wash, "the wash")
    return told[:1].upper() + told[1:]


def _leading(groups: Sequence[Group], rows: Sequence[Row]) -> tuple[Strand | None, str]:
    """The mark of what is listed first; of one row, its own."""
    if groups:
        return groups[0].mark, groups[0].word
    if rows and isinstance(rows[0], Left):
        mark = LEFT if rows[0].sure else MAY_BE_LEFT
        return mark, "leaves" if rows[0].sure else "may leave"
    return None, ""


def _groups(rows: Sequence[Row], others: Sequence[Row]) -> Iterator[Group]:
    """Rows by what is so of them, those first that were asked for."""
    found = [row for row in (*rows, *others) if isinstance(row, Verdict)]
    if many(found):
        yield from _folded(found)
        return
    yield from _left(rows)
    asked = {row.role for row in rows if isinstance(row, Verdict)}
    order = sorted(VERDICTS, key=lambda r: (r not in asked, -VERDICTS.index(r)))
    for role in order:
        alike = [row for row in found if row.role is role]
        if alike and role is Role.NO_WASH_NEEDED:
            yield _no_wash(alike)
        elif alike:
            yield Group(strand_of(role), _same(alike), _names(alike, found), len(alike))
    plain = [row for row in rows if not isinstance(row, Verdict | Left)]
    if plain:
        told = tuple(map(title, plain))
        yield Group(None, "", told, len(told))


def _folded(found: Sequence[Verdict]) -> Iterator[Group]:
    """Many rows by their classes; what is all but the others comes last, as the rest.

    Of one wash only: where there are several, the others need not make up the rest.
    """
    folds = foldings(found)
    top = found[0].case.world.base.term(Role.FILM)
    one = len({row.wash for row in found}) == 1
    last: list[Group] = []
    for fold, text in zip(folds, phrases(folds), strict=True):
        word, _, names = text.partition(": ")
        mark, count = strand_of(fold.first.role), len(fold.members)
        terms = fold.films.terms
        if one and not last and len(terms) == 1 and terms[0].but:
            rest = terms[0].symbol == top and len(folds) > 1
            if rest:
                names = f"everything else ({count})"
                last.append(Group(mark, word, (names,), count))
                continue
        yield Group(mark, word, (names,), count)
    yield from last


def _no_wash(alike: Sequence[Verdict]) -> Group:
    """Films that go by themselves, and how: no wash does anything there."""
    base = alike[0].case.world.base
    how = base.record(alike[0].value).text("spokenAs")
    word = f"None needed: {how}." if how else verdict(alike[0])
    films = tuple(dict.fromkeys(named(row, row.film) for row in alike))
    return Group(strand_of(Role.NO_WASH_NEEDED), word, films, len(films))


def _left(rows: Sequence[Row]) -> Iterator[Group]:
    for sure, mark, word in ((True, LEFT, "leaves"), (False, MAY_BE_LEFT, "may leave")):
        films = [row for row in rows if isinstance(row, Left) and row.sure is sure]
        if films:
            names = tuple(named(row, row.film) for row in films)
            yield Group(mark, word, names, len(names))


def _same(alike: Sequence[Verdict]) -> str:
    words = dict.fromkeys(map(_word, alike))
    return next(iter(words)) if len(words) == 1 else verdict(alike[0])


def _names(alike: Sequence[Verdict], found: Sequence[Verdict]) -> tuple[str, ...]:
    """Each row by what sets it apart: its wash, its film, or both."""
    washes = {row.wash for row in found}
    films = {(row.film, row.source) for row in found}
    sources = {row.source for row in found}

    def name(row: Verdict) -> str:
        film = named(row, row.film)
        if len(sources) > 1 and row.source:
            film = f"{film} from {row.source}"
        if len(films) == 1:
            return row.wash
        return film if len(washes) == 1 else f"{row.wash} on {film}"

    return tuple(dict.fromkeys(map(name, alike)))
