"""Collecting the places of a label into items, notes and gaps that tile it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import cast

from abluent.grammar.label.clean import Clean
from abluent.grammar.label.names import Namer, identify
from abluent.grammar.label.place import Member, PlaceParser, Stretch, is_plain
from abluent.grammar.label.split import run_on
from abluent.grammar.label.tree import Item, Label, Note, Remark, Section
from abluent.grammar.label.words import LabelWords, in_alphabetical_order, shadow

_TRIM = " \n\t.,:;'-_•·・*\"!?"
_CODED = re.compile(r"\s\S*\d{2}")
_GAP = re.compile(r"\s+")
_SIGN = re.compile(r"[,;•·|]")
_LAST_WORD = re.compile(r"([^\W_]+)\.$")
_SHARE_END = re.compile(r"%\s*(?:[wvmp]/[wvmp])?\s*[)\]]?")
_SHARES = re.compile(r"\d+(?:[.,]\d+)?\s*%\s*(?:[wvmp]/[wvmp])?")
_LETTERS = re.compile(r"[^\W_]")
_PLAIN_GAPS = frozenset({", ", ",", "; ", "\n", " - "})
_LONGEST_NAME = 160


@dataclass(frozen=True, slots=True)
class _Around:
    """What the names of one place share."""

    section: Section
    blend: int | None = None
    within: int | None = None
    stated: Fraction | None = None
    marks: tuple[str, ...] = ()


class Collector:
    """Takes places and notes as offsets into the plain text, in order.

    Args:
        text: the original text.
        cleaned: the plain text and the way back.
        parse: parses one place.
        words: the words of labels.
        namer: tells names.
    """

    def __init__(
        self,
        text: str,
        cleaned: Clean,
        parse: PlaceParser,
        words: LabelWords,
        namer: Namer,
    ) -> None:
        self._text = text
        self._clean = cleaned
        self._parse = parse
        self._words = words
        self._namer = namer
        self._items: list[Item] = []
        self._notes: list[Note] = []
        self._remarks: list[Remark] = []
        self._taken: list[Stretch] = []
        self._blends = 0
        self._lists = 0
        self._list_begins = True
        self._at_most: Fraction | None = None
        self._last = False

    def begin(self) -> None:
        """Another list begins; it counts once it holds something."""
        self._list_begins = True

    def note(self, kind: str, start: int, end: int) -> None:
        """Keep a stretch that is no ingredient."""
        extent = self._clean.extent(start, end)
        self._notes.append(Note(kind, self._text[slice(*extent)], extent))
        self._taken.append((start, end))

    def place(
        self,
        start: int,
        end: int,
        section: str,
        at_most: Fraction | None = None,
        *,
        last: bool = False,
    ) -> None:
        """Parse a place of a list and keep what it holds.

        Args:
            start: where the place begins.
            end: where it ends.
            section: the part of the label it stands in.
            at_most: the per cent that the label allows each name of that part.
            last: whether it ends its sentence, so that a bare "and" in it parts two
                names and does not blend them.
        """
        self._at_most = at_most
        self._last = last
        if section == "active":
            for begin, stop in self._dosed(start, end):
                if self._purpose(begin, stop):
                    self.note("aside", begin, stop)
                else:
                    self._place(begin, stop, "active")
        else:
            self._place(start, end, cast(Section, section))

    def _dosed(self, start: int, end: int) -> Iterator[Stretch]:
        """An active panel cut after each per cent figure that a name follows."""
        at = start
        for found in _SHARE_END.finditer(self._clean.text, start, end):
            name = _SHARES.sub("", self._clean.text[at : found.end()]).strip(_TRIM)
            if not _LETTERS.search(name):
                continue  # the figure stands before its name
            rest = self._clean.text[found.end() : end].strip(_TRIM)
            again = identify(rest.lstrip("/ "), self._namer)
            if again is not None and again == identify(name, self._namer):
                continue  # the name is said again in another language
            if again is not None or _SHARE_END.search(rest):
                yield at, found.end()
                at = found.end()
        yield at, end

    def _purpose(self, start: int, end: int) -> bool:
        """Whether a place of an active panel says what the one before is for."""
        last = self._items[-1] if self._items else None
        if last is None or not last.active or last.stated is None:
            return False
        if _SHARE_END.search(self._clean.text, start, end):
            return False
        return self._known(start, end) is None

    def _place(self, start: int, end: int, section: Section) -> None:
        text = self._clean.text[start:end]
        if is_plain(text) and self._namer.known(text) is not None:
            left, right = self._trimmed(start, end)
            self._item(
                left, right, text[left - start : right - start], _Around(section)
            )
            return
        members = self._parse(text)
        blend = None
        if sum(member.name is not None for member in members) > 1:
            self._blends += 1
            blend = self._blends
        for member in members:
            for kind, (left, right) in member.notes:
                self.note(kind, start + left, start + right)
            if member.name:
                around = _Around(
                    section, blend, stated=member.stated, marks=member.marks
                )
                self._member(member, start, around)

    def _member(self, member: Member, at: int, around: _Around) -> None:
        left, right = cast(Stretch, member.name)
        inner = [(at + begin, at + stop) for begin, stop in member.inner]
        nested = list(self._nested(member, at))
        if nested and member.gloss:
            right = member.gloss[0]
        self._run(at + left, at + right, inner, around)
        if nested:
            within = _Around(around.section, within=len(self._items))
            for begin, stop in nested:
                self._run(begin, stop, [], within)

    def _nested(self, member: Member, at: int) -> Iterator[Stretch]:
        """The places inside the last parenthesis, where it holds a list of its own."""
        if member.gloss is None or member.name is None:
            return
        start, end = at + member.gloss[0] + 1, at + member.gloss[1] - 1
        places: list[Stretch] = []
        for found in [*_SIGN.finditer(self._clean.text, start, end), None]:
            stop = found.start() if found else end
            places.append((start, stop))
            start = found.end() if found else end
        if len(places) < 2:
            return
        outer = self._known(at + member.name[0], at + member.gloss[0])
        found_inside = {self._known(*place) for place in places} - {None, outer}
        if found_inside:
            yield from places

    def _run(self, start: int, end: int, inner: list[Stretch], around: _Around) -> None:
        """Keep a name, or every name of a run without signs between them."""
        start, end = self._trimmed(start, end)
        if start >= end:
            return
        plain = self._clean.text
        text = (
            "".join(
                " " if any(b <= i < s for b, s in inner) else plain[i]
                for i in range(start, end)
            )
            if inner
            else plain[start:end]
        )
        again = self._words.bilingual.search(shadow(text))
        if again and identify(text, self._namer) is None:
            cut = again.start(again.lastindex or 0)
            self.note("aside", start + cut, end)
            text = text[:cut]
        run = run_on(text, self._words, self._namer, last=self._last)
        kept = self._without_trailing(text) if len(run.names) == 1 else len(text)
        if kept < len(text):
            self.note("aside", start + kept, end)
            run = run_on(text[:kept].rstrip(_TRIM), self._words, self._namer)
        blends = run.joined == "slash" or (run.joined and not self._last)
        if blends and len(run.names) > 1 and around.blend is None:
            self._blends += 1
            around = _Around(
                around.section, self._blends, around.within, around.stated, around.marks
            )
        for number, (left, right) in enumerate(run.names):
            if number and self._last and run.joined == "word":
                around = replace(around, blend=None)
            self._item(start + left, start + right, text[left:right], around)
        if len(run.names) > 1 and not run.joined:
            extent = self._clean.extent(start, end)
            message = f"read as {len(run.names)} names though no sign parts them"
            self._remarks.append(Remark("run-on", extent, message))

    def _without_trailing(self, text: str) -> int:
        """Where the name ends before asides and codes on its line, such as `50 ml`."""
        if len(text) > _LONGEST_NAME or identify(text, self._namer) is not None:
            return len(text)
        low = shadow(text)
        for gap in _GAP.finditer(low):
            trails = self._words.trailing.fullmatch(low, gap.start())
            # What ends a list may be followed by a code in whatever language.
            coded = self._last and _CODED.search(low, gap.start())
            if (trails or coded) and self._is_name(text[: gap.start()]):
                whole = coded and self._namer.told(text)
                return len(text) if whole else gap.start()
        return len(text)

    def _is_name(self, text: str) -> bool:
        """Whether a text is a name, be it after an "and" or with slips."""
        if self._namer.told(text):
            return True
        names = run_on(text, self._words, self._namer).names
        return all(identify(text[slice(*n)], self._namer) for n in names)

    def _item(self, start: int, end: int, text: str, around: _Around) -> None:
        extent = self._clean.extent(start, end)
        alike = self._looks_latin(start, end)
        if alike:
            message = "holds letters of another alphabet that look Latin"
            self._remarks.append(Remark("look-alikes", extent, message))
        if end - start > _LONGEST_NAME:
            message = "is longer than any name; kept whole"
            self._remarks.append(Remark("long", extent, message))
        self._items.append(
            Item(
                place=len(self._items) + 1,
                printed=self._text[slice(*extent)],
                name=" ".join(text.split()),
                span=extent,
                section=around.section,
                stated=around.stated,
                blend=around.blend,
                within=around.within,
                marks=around.marks,
                mended=("look-alikes",) if alike else (),
                at_most=self._at_most,
            )
        )
        self._taken.append((start, end))
        if around.section == "list" and self._list_begins:
            self._lists += 1
            self._list_begins = False

    def _looks_latin(self, start: int, end: int) -> bool:
        alike = self._clean.alike
        return bool(alike) and not alike.isdisjoint(range(start, end))

    def _trimmed(self, start: int, end: int) -> Stretch:
        text = self._clean.text[start:end]
        left = start + len(text) - len(text.lstrip(_TRIM))
        right = start + len(text.rstrip(_TRIM))
        dotted = right < end and text[right - start] == "."
        abbreviated = dotted and _LAST_WORD.search(
            self._clean.text, max(left, right - 9), right + 1
        )
        if abbreviated:
            word = shadow(abbreviated.group(1))
            right += word in self._words.abbreviations
        return left, right

    def _known(self, start: int, end: int) -> str | None:
        if end - start > _LONGEST_NAME:
            return None
        return identify(self._clean.text[start:end].strip(_TRIM), self._namer)

    # -- the whole ------------------------------------------------------------

    def label(self) -> Label:
        """All that was taken, with what lies between, in order."""
        self._strays()
        gaps: list[Stretch] = []
        done = 0
        pieces = sorted([i.span for i in self._items] + [n.span for n in self._notes])
        for start, end in [*pieces, (len(self._text), len(self._text))]:
            if start > done:
                self._between(done, start, gaps)
            done = end
        return Label(
            self._text,
            tuple(self._items),
            tuple(sorted(self._notes, key=lambda note: note.span)),
            tuple(gaps),
            (*self._remarks, *self._repeated()),
            self._unordered(),
        )

    def _between(self, start: int, end: int, gaps: list[Stretch]) -> None:
        """Keep what stands between two names: separators, or a word that joins."""
        text = self._text[start:end]
        if text in _PLAIN_GAPS or not _LETTERS.search(text):
            gaps.append((start, end))
            return
        joins = shadow(text).strip(f"{_TRIM}()[]") in self._words.connectors
        kind = "joint" if joins else "markup"
        self._notes.append(Note(kind, text, (start, end)))

    def _strays(self) -> None:
        """Note every stretch with letters or digits that nothing else took."""
        done, plain = 0, self._clean.text
        for start, end in [*sorted(self._taken), (len(plain), len(plain))]:
            letters = [found.start() for found in _LETTERS.finditer(plain, done, start)]
            if letters:
                word = shadow(plain[letters[0] : letters[-1] + 1])
                if word not in self._words.connectors:
                    self.note("stray", letters[0], letters[-1] + 1)
            done = max(done, end)

    def _repeated(self) -> Iterator[Remark]:
        first: dict[str, int] = {}
        for item in self._items:
            place = first.setdefault(shadow(item.name), item.place)
            if place != item.place:
                message = f"is printed at place {place} already"
                yield Remark("repeated", item.span, message)

    def _unordered(self) -> str:
        if any(item.active for item in self._items):
            return "the list follows a panel of active ingredients"
        if any(item.section == "inactive" for item in self._items):
            return "the list is that of a panel's inactive ingredients"
        if self._lists > 1:
            return "the text holds more than one list"
        said = self._words.unordered.search(shadow(self._clean.text))
        if said:
            return f"the label says so: {said.group()}"
        names = [shadow(item.name) for item in self._items if item.section == "list"]
        if in_alphabetical_order(names):
            return "the list is in alphabetical order"
        return ""
