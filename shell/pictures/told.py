"""What a picture for posting says: one claim, one mark, a few reasons.

A product is named once, in the claim; the reasons speak of its label. What is listed
is grouped by verdict or stands side by side.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.account import charge_of
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    PROVEN,
    REFUTED,
    UNSUPPORTED,
    Answer,
    Member,
    NotMember,
    Row,
)
from abluent.engine.questions.answers.cautions import plain_caution
from abluent.engine.questions.answers.rows import all_rows, named
from abluent.engine.questions.answers.verdicts import Left, Verdict
from abluent.grammar.common.text import as_sentence
from abluent.shell.ground.strand import LEFT, MAY_BE_LEFT, Strand, strand_of
from abluent.shell.pictures.cited import cited_of, works_of
from abluent.shell.pictures.headings import (
    asked,
    claim_words,
    heading_of_list,
    heading_of_table,
    headline,
    names_by_pattern,
)
from abluent.shell.pictures.lists import (
    Cell,
    Group,
    Table,
    by_the_worst,
    groups_of,
    side_by_side,
    verdicts_among,
)
from abluent.shell.pictures.long_names import long_ones
from abluent.shell.pictures.plain import (
    caption_of,
    claim_of,
    doubt_of,
    reasons_of,
    sure_of,
    unread_of,
)

CLAIM_WORDS = {
    PROVEN: "True",
    REFUTED: "False",
    DISPUTED: "Disputed",
    UNSUPPORTED: "Unproven",
}
"""How a claim was judged, in the word that stands first."""
YES_NO = {"Yes": "Yes", "No": "No", "Open": "Cannot tell"}
"""How a question was answered, in the word that stands first."""
REASONS = 3
_ABSENT = (
    (r"; it does not count here as (an? .*)", r", and does not count as \1"),
    (r"; nothing in this base makes it (an? .*)", r", and not listed as \1"),
    (r"; no evidence in this base that it is (.*)", r", not \1"),
    (r"[Nn]othing in this base", "nothing known here"),
)
_WITHOUT = re.compile(r", which holds (none of them|no [^,]+),")


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
        table: what stands side by side.
        works: what it rests on, each in a line.
        cited: the same in a few words.
        caution: what to mind.
        note: how what is listed was put in order.
        names: names too long for a heading, each with its short form.
    """

    word: str = ""
    mark: Strand | None = None
    caption: str = ""
    claim: str = ""
    sure: str = ""
    reasons: tuple[str, ...] = ()
    chosen: tuple[int, ...] = ()
    groups: tuple[Group, ...] = ()
    table: Table | None = None
    works: tuple[str, ...] = ()
    cited: str = ""
    caution: str = ""
    note: str = ""
    names: Mapping[str, str] = {}

    def aloud(self, chosen: Sequence[int] | None = None) -> str:
        """Return all of it in words, for who cannot see the picture."""
        picked = self.chosen if chosen is None else chosen
        parts = [
            f"{self.word}: {self.claim}" if self.word else self.claim,
            *(
                ": ".join(filter(None, [g.word, ", ".join(g.names)]))
                for g in self.groups
            ),
            *self._cells(),
            *(self.reasons[n] for n in picked if n < len(self.reasons)),
            self.note,
            f"How sure: {self.sure}" if self.sure else "",
            self.caution,
        ]
        return " ".join(as_sentence(each) for each in parts if each)

    def _cells(self) -> list[str]:
        if self.table is None:
            return []
        return [
            f"{film}: "
            + "; ".join(
                f"{wash} {cell.word}"
                for wash, cell in zip(self.table.columns, cells, strict=True)
                if cell
            )
            for film, cells in self.table.rows
        ]

    def short(self) -> Told:
        """Return the same with each long name shortened."""
        texts = [self.claim, *self.reasons, *(n for g in self.groups for n in g.names)]
        if self.table:
            texts += [*self.table.columns, *(film for film, _ in self.table.rows)]
        named = " ".join(texts)
        names = {name: short for name, short in self.names.items() if name in named}
        told = self._replace(names=names)
        return told._shortened() if names else told

    def _shortened(self) -> Told:
        table = self.table and Table(
            tuple(map(self.cut, self.table.columns)),
            tuple((self.cut(film), cells) for film, cells in self.table.rows),
        )
        return self._replace(
            claim=self.cut(self.claim),
            reasons=tuple(map(self.cut, self.reasons)),
            groups=tuple(
                g._replace(names=tuple(map(self.cut, g.names))) for g in self.groups
            ),
            table=table,
        )

    def cut(self, text: str) -> str:
        """Return a text with each long name shortened."""
        for name, short in self.names.items():
            text = text.replace(name, short)
        return text


def told_of(answer: Answer, question: str) -> Told:
    """Return what a picture of an answer says."""
    rows = list(all_rows(answer))
    single = rows[0] if len(rows) == 1 and not answer.others else None
    shown = rows if answer.claim else [*rows, *answer.others]
    disputes = [d for row in shown if isinstance(row, Verdict) for d in row.disputes]
    sure, works = _sure(shown), works_of((*shown, *disputes))
    told = Told(
        sure=sure,
        works=tuple(each.citation for each in works),
        # Where nothing is known no source is counted for it.
        cited=cited_of(works) if sure else "",
        # What is not so, or of which nothing is known, calls for no care.
        caution=plain_caution(answer) if sure and answer.claim in {"", PROVEN} else "",
        names=long_ones(_names(shown)),
    )
    if answer.claim:
        return _claimed(told, answer, rows)
    if isinstance(single, Verdict):
        return _judged(told, single)
    if _goes_by_itself(shown) and isinstance(shown[0], Verdict):
        return _judged(told, shown[0])
    told = told._replace(note=unread_of(rows))
    return _listed(told, answer, question, rows)


def _goes_by_itself(rows: Sequence[Row]) -> bool:
    """Whether rows say of one film alone, and of every wash, that none is needed."""
    found = [
        r for r in rows if isinstance(r, Verdict) and r.role is Role.NO_WASH_NEEDED
    ]
    films = {(row.film, row.source) for row in found}
    return len(found) == len(rows) > 0 and len(films) == 1


def _sure(rows: Sequence[Row]) -> str:
    known = [r for r in rows if not (isinstance(r, Verdict) and r.role is Role.OPEN)]
    said = sure_of(known)
    return as_sentence(said[:1].upper() + said[1:]) if said else ""


def _names(rows: Iterable[Row]) -> list[str]:
    found: list[str] = []
    for row in rows:
        if isinstance(row, Verdict | Left):
            found += [row.source, named(row, row.film)]
        if isinstance(row, Verdict):
            found.append(row.wash)
    return found


# -- a claim that was judged -------------------------------------------------------


def _claimed(told: Told, answer: Answer, rows: Sequence[Row]) -> Told:
    claim = claim_words(answer.query)
    told_once = dict.fromkeys(map(as_sentence, _claim_reasons(answer, rows)))
    told_once.pop(claim, None)
    if answer.claim != PROVEN:
        # What is not so is quoted, lest it be read as what the picture says.
        inner = claim.rstrip(".").replace("“", "‘").replace("”", "’")  # noqa: RUF001
        claim = f"“{inner}”"
    reasons = tuple(told_once)
    first = rows[0] if rows and isinstance(rows[0], Verdict) else None
    return told._replace(
        word=CLAIM_WORDS.get(answer.claim, answer.claim.capitalize()),
        mark=strand_of(first.role) if first else None,
        caption=caption_of(first) if first else "",
        claim=claim,
        reasons=reasons,
        chosen=_first(reasons),
    )


def _claim_reasons(answer: Answer, rows: Sequence[Row]) -> list[str]:
    """What shows a claim true or false, the witness first."""
    first = rows[0] if rows else None
    if isinstance(first, Verdict):
        said = claim_of(first)
        without = _WITHOUT.search(answer.sentence)
        if without:
            it = said.replace(first.wash, "It", 1)
            said = f"{first.wash} has {without[1]}. {it}"
        elif first.wash.casefold() in answer.query.casefold():
            said = _about_it(first)
        doubt = [doubt_of(first)] if doubt_of(first) else []
        return [said, *doubt, *(each.text for each in reasons_of(first))]
    head, colon, rest = re.split(r"(?<=\.) ", answer.sentence)[0].partition(": ")
    about = _once(rest if colon else head, answer.witness)
    for pattern, instead in _ABSENT:
        about = re.sub(pattern, instead, about)
    if answer.witness and about.startswith("it "):
        about = answer.witness + about[2:]
    told = [about[:1].upper() + about[1:]]
    told += [names_by_pattern(note) for note in answer.notes[:1]]
    more = re.search(r"\bAnd (\d+) more\.", answer.sentence)
    if more and answer.score is None:
        told.append(f"{int(more[1]) + 1} show it; this is one of them.")
    if first is not None and not isinstance(first, NotMember):
        whole = rest.casefold()
        kept = [t for t in first.reasons if t.rstrip(".").casefold() not in whole]
        told += _with_charge(first, kept) if isinstance(first, Member) else kept
    return told


def _about_it(row: Verdict) -> str:
    """A verdict of which the claim above names the wash and the film."""
    film = row.case.world.base.label(row.film)
    whose = f" from {row.source}" if row.source else ""
    said = claim_of(row).replace(f" of the {film}{whose}", "")
    return re.sub(f"^{re.escape(row.wash)}", "It", said, flags=re.IGNORECASE)


def _with_charge(row: Member, kept: Sequence[str]) -> list[str]:
    """What a thing is, with its charge where that alone says what its class is."""
    base = row.case.world.base
    name = base.label(row.item.key)
    charge = charge_of(base, row.item.key)
    plain = base.record(charge).text("plainly") if charge else None
    told = [re.sub(f"^{re.escape(name)} is", "It is", text) for text in kept]
    if plain and len(told) == 1 and told[0].startswith("It is"):
        return [f"{told[0].rstrip('.')}, and carries {plain}."]
    return told


def _once(text: str, name: str) -> str:
    """A text in which a name stands once."""
    if not name or text.count(name) < 2:
        return text
    at = text.index(name) + len(name)
    rest = text[at:].replace(f" and {name} is", ", is").replace(name, "it")
    return text[:at] + rest


# -- one verdict, and lists --------------------------------------------------------


def _judged(told: Told, row: Verdict) -> Told:
    reasons = tuple(each.text for each in reasons_of(row))
    return told._replace(
        mark=strand_of(row.role),
        caption=caption_of(row),
        claim=claim_of(row),
        reasons=reasons,
        chosen=_first(reasons),
    )


def _listed(told: Told, answer: Answer, question: str, rows: Sequence[Row]) -> Told:
    found = verdicts_among(rows)
    table = side_by_side(found) if answer.compared or len(found) == len(rows) else None
    if table is not None:
        claim = heading_of_table(answer, found)
        if len(table.rows) == 1:
            # A table of one row is half empty: its cells are a list.
            return told._replace(claim=claim, groups=_of_one_row(table))
        return told._replace(claim=claim, table=table)
    alone = len(rows) == 1 and not answer.others
    groups = () if alone else tuple(groups_of(rows, answer.others))
    said = re.match(r"(Yes|No|Open): ", answer.sentence) if groups else None
    reasons = tuple(rows[0].reasons) if rows and not groups else ()
    if groups and _are_sentences(groups):
        reasons, groups = _clauses(answer.sentence, question), ()
        claim = asked(question)
    elif groups and not said:
        claim = heading_of_list(answer, rows) or headline("", question)
    else:
        claim = asked(question) if said else headline(answer.sentence, question)
    if not (groups or reasons or said) and claim == asked(question):
        # A question is never left without an answer.
        reasons = _clauses(answer.sentence, question)
    found = verdicts_among([*rows, *answer.others])
    if by_the_worst(found):
        two = len({(row.film, row.source) for row in found}) == 2
        which = "worse of its two results" if two else "worst of its results"
        told = told._replace(note=f"Each wash is listed by the {which}.")
    reasons += _not_known(answer.sentence) if groups else ()
    mark, caption = (None, "") if said else _leading(rows, groups)
    if mark is not None and len(groups) == 1:
        # The mark above is that of the one group.
        groups = (groups[0]._replace(mark=None, word=""),)
    return told._replace(
        word=YES_NO[said[1]] if said else "",
        mark=mark,
        caption=caption,
        claim=claim,
        reasons=reasons,
        chosen=_first(reasons),
        groups=groups,
    )


def _of_one_row(table: Table) -> tuple[Group, ...]:
    """The washes of a table of one row, those together that do the same."""
    ((_, cells),) = table.rows
    alike: dict[Cell, list[str]] = {}
    for wash, cell in zip(table.columns, cells, strict=True):
        if cell is not None:
            alike.setdefault(cell, []).append(wash)
    return tuple(
        Group(cell.mark, cell.word, tuple(washes), len(washes))
        for cell, washes in alike.items()
    )


_LONG_NAME = 60


def _are_sentences(groups: Sequence[Group]) -> bool:
    """Whether what is listed are no names."""
    names = [name for group in groups for name in group.names if group.mark is None]
    return any(not g.word for g in groups) and max(map(len, names)) > _LONG_NAME


def _clauses(sentence: str, question: str) -> tuple[str, ...]:
    """A long sentence as the short ones that it is made of."""
    name, colon, rest = sentence.partition(": ")
    if colon and name in question:
        sentence = rest
    parts = re.split(r"; |(?<=\.) ", sentence)
    return tuple(as_sentence(part[:1].upper() + part[1:]) for part in parts if part)


def _not_known(sentence: str) -> tuple[str, ...]:
    """What a sentence says is not known, as a reason of its own."""
    found = re.search(r"Not known here: (.*), of which nothing", sentence)
    if found:
        return (f"Not known whether it leaves {found[1]}.",)
    found = re.search(r"\. Open: (.*)\.$", sentence)
    return (f"We cannot tell for {found[1]}.",) if found else ()


def _first(reasons: Sequence[str]) -> tuple[int, ...]:
    return tuple(range(min(REASONS, len(reasons))))


def _leading(rows: Sequence[Row], groups: Sequence[Group]) -> tuple[Strand | None, str]:
    """The one mark of all that is listed; none where each group has its own."""
    marks = {group.mark for group in groups}
    if len(marks) == 1 and None not in marks:
        return groups[0].mark, groups[0].word
    if rows and all(isinstance(row, Left) and row.sure for row in rows):
        return LEFT, "stays on hair"
    if len(rows) == 1 and isinstance(rows[0], Left):
        return MAY_BE_LEFT, "may stay on hair"
    return None, ""
