"""What a picture for posting says: one claim, one mark, a few reasons, what to do.

A product is named once, in the claim; the reasons speak of its label. What is listed
is grouped by verdict or stands side by side. What each kind of question comes to is
told by a module of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from abluent.grammar.common.text import as_sentence, in_a_row
from abluent.shell.ground.strand import Strand
from abluent.shell.told.group import Group, Ladder, Step, Table

REASONS = 3
"""So many reasons are shown if nobody chooses."""
_FEW = 3
"""So few names are told in any case."""
_LONG_IN_LIST = 80
"""Letters of a name that a list prints whole: there it may take two lines."""


class Told(NamedTuple):
    """What a picture says.

    Args:
        above: what stands above all else in small, as the saying that is spoken of.
        word: how a claim was judged; empty where nothing was claimed.
        mark: the strand, where one verdict is told.
        caption: what the mark says, in words.
        claim: the sentence.
        beneath: what stands right beneath it, as what of a label is not known.
        sure: how sure that is.
        reasons: every reason there is to choose from.
        chosen: the places of those that are chosen if nobody chooses.
        groups: what is listed.
        table: what stands side by side.
        ladders: lists of ingredients, to be drawn as such.
        steps: what happens on a strand, stage by stage.
        advice: what to do about it, or to look for.
        works: what it rests on, each in a line.
        cited: the same in a few words.
        caution: what to mind.
        note: how what is listed was put in order.
        names: names too long for a heading, each with its short form.
        else_groups: what is listed where all of the table, or the groups, has no room.
    """

    above: str = ""
    word: str = ""
    mark: Strand | None = None
    caption: str = ""
    claim: str = ""
    beneath: tuple[str, ...] = ()
    sure: str = ""
    reasons: tuple[str, ...] = ()
    chosen: tuple[int, ...] = ()
    groups: tuple[Group, ...] = ()
    table: Table | None = None
    ladders: tuple[Ladder, ...] = ()
    steps: tuple[Step, ...] = ()
    advice: str = ""
    works: tuple[str, ...] = ()
    cited: str = ""
    caution: str = ""
    note: str = ""
    names: Mapping[str, str] = {}
    else_groups: tuple[Group, ...] = ()

    def with_reasons(self, reasons: Sequence[str]) -> Told:
        """Return the same with some reasons, the first of them chosen."""
        told = tuple(dict.fromkeys(map(as_sentence, filter(None, reasons))))
        chosen = tuple(range(min(REASONS, len(told))))
        return self._replace(reasons=told, chosen=chosen)

    def aloud(self, chosen: Sequence[int] | None = None) -> str:
        """Return all of it in words, for who cannot see the picture."""
        picked = self.chosen if chosen is None else chosen
        parts = [
            self.above,
            self.in_one,
            *self.beneath,
            *map(_ladder_aloud, self.ladders),
            *(f"{n}. {_step_aloud(step)}" for n, step in enumerate(self.steps, 1)),
            *map(_group_aloud, self.groups),
            *self._cells(),
            *(self.reasons[n] for n in picked if n < len(self.reasons)),
            self.advice,
            self.note,
            f"How sure: {self.sure}" if self.sure else "",
            self.caution,
        ]
        return " ".join(as_sentence(each) for each in parts if each)

    @property
    def bare(self) -> bool:
        """Whether the cells of its table are marks without words."""
        table = self.table
        cells = [c for _, row in table.rows for c in row if c] if table else []
        return bool(cells) and not any(cell.word for cell in cells)

    def _cells(self) -> list[str]:
        if self.table is None:
            return []
        return [
            f"{film}: "
            + "; ".join(
                f"{wash} {', '.join(cell.word.splitlines())}"
                for wash, cell in zip(self.table.columns, cells, strict=True)
                if cell
            )
            for film, cells in self.table.rows
        ]

    def plainer(self) -> list[Told]:
        """Return the same in ever fewer words, for where there is little room."""
        if self.drawn:
            bare = self._replace(ladders=(), steps=(), groups=self._instead())
            return [*self._beside_a_drawing(), *bare.plainer()]
        found = [self]
        found += self._without_risen()
        if self.table is not None:
            # Fewer words rather than no table.
            for count in (2, 1, 0):
                found.append(found[-1]._replace(chosen=self.chosen[:count]))
            found.append(found[-1]._replace(caution=""))
            if self.bare:
                found.append(found[-1]._replace(note="", sure=""))
        if self.table is not None and self.else_groups:
            found.append(self._replace(table=None, groups=self.else_groups, note=""))
        last = found[-1]
        instead = last.else_groups or last.groups
        if not last.groups:
            return [*found, *_shorter(last)]
        counted = tuple(map(_counted, instead))
        for less in (
            {"caution": ""},
            {"mark": None} if not last.word else {},
            {"word": "", "claim": last.in_one, "mark": None} if last.word else {},
            {"advice": _first_sentence(self.advice)},
            {"chosen": last.chosen[:1]},
            {"groups": tuple(group._replace(why="") for group in last.groups)}
            if not last.reasons
            else {},
            {"advice": ""},
            {"reasons": last.reasons[:1], "chosen": last.chosen[:1]},
            {"groups": instead} if last.else_groups else {},
            {"groups": tuple(group._replace(why="") for group in instead)},
            {"reasons": (), "chosen": ()},
            {"note": ""},
            {"groups": tuple(g._replace(why="", mark=None) for g in instead)},
            {"groups": counted},
            {"beneath": ()},
        ):
            fewer = found[-1]._replace(**less)
            if fewer != found[-1]:
                found.append(fewer)
        return found

    @property
    def drawn(self) -> bool:
        """Whether a list of ingredients or stages are drawn."""
        return bool(self.ladders or self.steps)

    def _instead(self) -> tuple[Group, ...]:
        """What is listed where nothing is drawn."""
        return self.groups or self.else_groups

    def _beside_a_drawing(self) -> list[Told]:
        """Return the same in ever fewer words, as long as the drawing has its room.

        What is listed stays where it is the answer, which has a shorter form then.
        """
        short = tuple(step._replace(text="") for step in self.steps)
        bare = tuple(group._replace(why="") for group in self.else_groups)
        found = [self]
        for less in (
            {"caution": ""},
            {"chosen": self.chosen[:2]},
            {"groups": tuple(group._replace(why="") for group in self.groups)},
            {"chosen": self.chosen[:1]},
            {"groups": bare or tuple(map(_counted, self.groups))},
            {"steps": short},
            {"groups": bare, "steps": self.steps} if not bare else {},
            {"note": ""},
            {"steps": short},
            {"chosen": ()},
            {"advice": _first_sentence(self.advice)},
            {"advice": ""} if not bare else {},
            {"beneath": ()},
        ):
            fewer = found[-1]._replace(**less)
            if fewer != found[-1]:
                found.append(fewer)
        return found

    def filled(self, whole: Told, fits: Callable[[Told], bool]) -> Told:
        """Return the same with what it lacks of a whole put back, as far as it fits."""
        told = self
        for change in self._pieces(whole):
            found = change(told)
            if found != told and fits(found):
                told = found
        return told

    def _pieces(self, whole: Told) -> Iterator[Callable[[Told], Told]]:
        """What turns one that says less into one that says one thing more."""
        if self.steps != whole.steps and len(self.steps) == len(whole.steps):
            yield partial(_with_steps, whole)
        if list(self.groups) == [group._replace(why="") for group in whole.groups]:
            yield from (partial(_with_why, whole, n) for n in range(len(whole.groups)))
        yield from (partial(_with_reason, whole, n) for n in whole.chosen)
        yield partial(_with_advice, whole)
        if not whole.bare or self.bare:
            # What is said of the marks of a grid is not said of a list.
            yield partial(_with_note, whole)

    def _without_risen(self) -> list[Told]:
        """Return the same with what needs no wash told beside its table."""
        if self.table is None:
            return []
        gone = [
            f
            for f, c in self.table.rows
            if all(x and x.mark and x.mark.rises for x in c)
        ]
        kept = tuple(row for row in self.table.rows if row[0] not in gone)
        if not gone or not kept:
            return []
        note = f"No wash is needed for {in_a_row(gone)}."
        table = self.table._replace(rows=kept)
        return [self._replace(table=table, note=f"{self.note} {note}".strip())]

    @property
    def in_one(self) -> str:
        """The claim, with the word that judges it in the same sentence."""
        return f"{self.word}: {self.claim}" if self.word else self.claim

    def short(self) -> Told:
        """Return the same with each long name shortened."""
        texts = [self.claim, *self.beneath, *self.reasons, self.advice]
        groups = (*self.groups, *self.else_groups)
        texts += [g.word for g in groups]
        texts += [each.title for each in self.ladders]
        texts += [n for g in groups for n in g.names if len(n) > _LONG_IN_LIST]
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
            beneath=tuple(map(self.cut, self.beneath)),
            reasons=tuple(map(self.cut, self.reasons)),
            groups=self._cut_groups(self.groups),
            else_groups=self._cut_groups(self.else_groups),
            ladders=tuple(
                each._replace(title=self.cut(each.title)) for each in self.ladders
            ),
            table=table,
            advice=self.cut(self.advice),
        )

    def _cut_groups(self, groups: Sequence[Group]) -> tuple[Group, ...]:
        return tuple(
            g._replace(
                word=self.cut(g.word),
                names=tuple(
                    self.cut(n) if len(n) > _LONG_IN_LIST else n for n in g.names
                ),
            )
            for g in groups
        )

    def cut(self, text: str) -> str:
        """Return a text with each long name shortened."""
        for name, short in self.names.items():
            text = text.replace(name, short)
        return text


def _with_why(whole: Told, n: int, told: Told) -> Told:
    groups = (*told.groups[:n], whole.groups[n], *told.groups[n + 1 :])
    return told._replace(groups=groups)


def _with_steps(whole: Told, told: Told) -> Told:
    return told._replace(steps=whole.steps)


def _with_reason(whole: Told, n: int, told: Told) -> Told:
    chosen = tuple(sorted({*told.chosen, n}))
    return told._replace(reasons=whole.reasons, chosen=chosen)


def _with_advice(whole: Told, told: Told) -> Told:
    return told._replace(advice=whole.advice)


def _with_note(whole: Told, told: Told) -> Told:
    return told._replace(note=told.note or whole.note)


def _shorter(told: Told) -> list[Told]:
    """One verdict in ever fewer words: the first reason outlasts what to do."""
    found = [told._replace(caution="", note="")]
    found.append(found[0]._replace(advice=_first_sentence(told.advice)))
    told = found[-1]
    for count in (2, 1):
        found.append(found[-1]._replace(chosen=told.chosen[:count]))
    without = told._replace(mark=None)
    for count in (2, 1):
        found.append(without._replace(chosen=told.chosen[:count]))
    return [*found, found[-1]._replace(advice="")]


def _first_sentence(text: str) -> str:
    first = text.split(". ", maxsplit=1)[0].rstrip(".")
    return f"{first}." if first else ""


def _counted(group: Group) -> Group:
    """A group of which only the first name is told, and how many there are."""
    group = group._replace(why="")
    if len(group.names) <= _FEW:
        return group
    first, rest = group.names[0], len(group.names) - 1
    return group._replace(names=(f"{first} and {rest} more",))


def _group_aloud(group: Group) -> str:
    told = ": ".join(filter(None, [group.word, ", ".join(group.names)]))
    return f"{as_sentence(told)} {group.why}" if group.why else told


def _ladder_aloud(ladder: Ladder) -> str:
    """What of a list of ingredients is asked about, each with its place."""
    told = [
        f"{rung.name} ({n})" for n, rung in enumerate(ladder.rungs, 1) if rung.asked
    ]
    whose = f"{ladder.title}, " if ladder.title else ""
    return f"{whose}by place on the list: {in_a_row(told)}" if told else ""


def _step_aloud(step: Step) -> str:
    return " ".join(filter(None, [as_sentence(step.title), step.text]))
