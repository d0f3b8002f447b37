"""What a label says, as a tree: places in order, and all that stands around them.

Every offset is an index into the text as it was given, so that
`text[start:end]` is what was printed. Items, notes and gaps together tile the
text: nothing on a label is dropped.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

Extent: TypeAlias = tuple[int, int]
# What an item stands in: the main list, an active or inactive panel, "may
# contain", or the allergens that some labels repeat after the list.
Section: TypeAlias = Literal["list", "active", "inactive", "may contain", "allergens"]


@dataclass(frozen=True, slots=True)
class Item:
    """One ingredient on a label.

    Args:
        place: its number on the label, from one.
        printed: exactly what was printed for it.
        name: the same without line breaks, hidden characters and look-alikes.
        span: where `printed` stands in the text.
        section: the part of the label it stands in.
        stated: the per cent by weight printed beside it.
        at_most: the per cent that the label says it does not exceed.
        blend: a number shared by the members of one "(and)" blend.
        within: the place of the item in whose parentheses it stands.
        marks: footnote marks beside it.
        mended: what was silently wrong with its letters, such as `look-alikes`.
    """

    place: int
    printed: str
    name: str
    span: Extent
    section: Section = "list"
    stated: Fraction | None = None
    blend: int | None = None
    within: int | None = None
    marks: tuple[str, ...] = ()
    mended: tuple[str, ...] = ()
    at_most: Fraction | None = None

    @property
    def active(self) -> bool:
        """Whether it stands in a panel of active ingredients."""
        return self.section == "active"

    @property
    def may_contain(self) -> bool:
        """Whether the label leaves open that it is in the product."""
        return self.section == "may contain"


@dataclass(frozen=True, slots=True)
class Note:
    """A stretch of text that is no ingredient.

    Args:
        kind: `heading`, `before`, `aside`, `footnote`, `mark`, `per cent`, `code`,
            `nano`, `prose`, `joint` (an "and"), `markup` or `stray`.
        text: exactly what was printed.
        span: where it stands.
    """

    kind: str
    text: str
    span: Extent


@dataclass(frozen=True, slots=True)
class Remark:
    """What a reader should know about one place: a name cut out of a run, a mark.

    Args:
        kind: `run-on`, `look-alikes`, `repeated` or `long`.
        span: the place.
        message: one sentence.
    """

    kind: str
    span: Extent
    message: str


@dataclass(frozen=True, slots=True)
class Label:
    """A label, read.

    Args:
        text: the text as it was given.
        items: the ingredients in the order of the text.
        notes: everything else with letters, digits or marks in it.
        gaps: separators and white space between those.
        remarks: about single places.
        unordered: why the order proves nothing; empty where it does.
    """

    text: str
    items: tuple[Item, ...] = ()
    notes: tuple[Note, ...] = ()
    gaps: tuple[Extent, ...] = ()
    remarks: tuple[Remark, ...] = ()
    unordered: str = ""

    def names(self) -> tuple[str, ...]:
        """The names of the items, in order."""
        return tuple(item.name for item in self.items)
