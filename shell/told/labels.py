"""What a picture says of one label: whether it lists something, and what it hides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.kinds import cleaning_kinds, product_kind
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Member, Row, symbol_of
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.verdicts import Left
from abluent.engine.questions.world import pack_claims
from abluent.engine.questions.world.items import PRODUCT
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.engine.reading.readings import Reading
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.told.asking import (
    Asking,
    looked_at,
    unread_in_brief,
    unread_line,
    unread_names,
)
from abluent.shell.told.group import Group
from abluent.shell.told.headings import asked
from abluent.shell.told.in_order import ladder_of
from abluent.shell.told.spoken_names import aloud, few, nth, what_it_is
from abluent.shell.told.told import Told

YES_NO = {"yes": "Yes", "no": "No", "open": "Cannot tell"}
"""How a question was answered, in the word that stands first."""
_READ = "Read off the labels, all names known."
_BY_LAW = ", as the law caps it there"
_LISTING = (
    ("contain", "contains", "does not contain"),
    ("leave", "leaves", "does not leave"),
)
_NEAR = 2
_HITS = 3
_IN_HEADING = 4
"""So many products are named in a heading."""
_APART = 6
"""Of so many products each is told with what it lists."""


# -- whether a label lists something -----------------------------------------------


def of_label(
    told: Told, answer: Answer, question: str, asking: Asking, rows: Sequence[Row]
) -> Told:
    """Return whether a label lists something, with what it lists and what is near."""
    told = told._replace(
        word=YES_NO.get(answer.truth, ""), claim=_claim(answer, asking, question)
    )
    world = asking.world
    if world is None or len(asking.products) != 1:
        return told
    (product,) = asking.products
    unread = unread_line(world, product, alone=True)
    told = told._replace(beneath=(unread,) if unread else ())
    label = _Label(world, product)
    amounts = list(label.amounts(asking, rows))
    ladder = ladder_of(world, product, label.asked(rows), label.first_cleanser(rows))
    told = told._replace(ladders=(ladder,) if ladder and rows else ())
    return told.with_reasons(
        [
            *(amounts or label.hits(rows)),
            *label.near(_lacked(asking)),
            *(() if amounts else label.cleans(rows)),
            label.looked(rows, _lacked(asking)) if not unread and not rows else "",
        ]
    )


def _claim(answer: Answer, asking: Asking, question: str) -> str:
    """What was asked, as the answer that it has."""
    said = asking.act
    if len(asking.products) != 1 or asking.statement is None:
        return asked(question)
    (product,) = asking.products
    if isinstance(said, q.Says):
        may = {
            "yes": f"{product} may rightly say “{said.text}”.",
            "no": f"{product} may not rightly say “{said.text}”.",
            "open": f"Whether {product} may say “{said.text}”, nobody can tell.",
        }
        return may.get(answer.truth, asked(question))
    return _stated(asked(question), product, answer.truth)


def _stated(question: str, product: str, truth: str) -> str:
    """A question of what a label lists, as the answer that it has."""
    for verb, one, not_one in _LISTING:
        head = f"Does {product} {verb} "
        if question.startswith(head):
            rest = question.removeprefix(head).rstrip("?")
            told = {
                "yes": f"{product} {one} {rest}.",
                "no": f"{product} {not_one} {rest}.",
                "open": f"Whether {product} {one} {rest}, its label does not say.",
            }
            return told.get(truth, question)
    return question


def _lacked(asking: Asking) -> list[q.Name]:
    """The names that a list must not hold, or is asked whether it holds."""
    said = asking.act
    if isinstance(said, q.Says):
        meaning = pack_claims.meant(said.text)
        return pack_claims.lacked(meaning) if meaning is not None else []
    if isinstance(said, q.Contains | q.Leaves):
        return [each for each in q.members(said.object) if isinstance(each, q.Name)]
    return []


class _Label:
    """One label of a shelf, and what stands on it."""

    def __init__(self, world: World, product: str) -> None:
        self.world, self.base, self.product = world, world.base, product
        self.nouns = Nouns(world, {})
        self.readings = world.read(product).readings

    def hits(self, rows: Sequence[Row]) -> Iterator[str]:
        """What was asked for and stands there."""
        left = next((each for each in rows if isinstance(each, Left)), None)
        if left is not None:
            place = self._place(left.film)
            yield f"{aloud(self.base, left.film)} is {nth(place)} on the list."
            yield deposit_of(left)
            return
        found = [row for row in rows if isinstance(row, Member)]
        for row in found[:_HITS]:
            place = self._place(row.item.key)
            where = f"{nth(place)} on the list" if place else "on the list"
            kind = what_it_is(self.base, row.item.key)
            yield f"{aloud(self.base, row.item.key)}, {where}, is {kind}."
        if len(found) > _HITS:
            rest = [self.base.label(row.item.key) for row in found[_HITS:]]
            yield f"So {'is' if len(rest) == 1 else 'are'} {few(rest)}."

    def asked(self, rows: Sequence[Row]) -> dict[int, str]:
        """The places of what was asked for."""
        found = [symbol_of(row) for row in rows]
        return {place: "" for each in found if (place := self._place(each))}

    def first_cleanser(self, rows: Sequence[Row]) -> dict[int, str]:
        """The place of what a wash cleans with first, unless that was asked for."""
        found = self._first_cleanser(rows)
        return {self._place(found): ""} if found else {}

    def amounts(self, asking: Asking, rows: Sequence[Row]) -> Iterator[str]:
        """What a label tells of an amount: from where on the list all is little."""
        said = asking.act
        found = [row for row in rows if isinstance(row, Member)]
        if not isinstance(said, q.Contains) or said.level is None or not found:
            return
        levels = self.world.amounts.stated(self.product).levels()
        place = self._place(found[0].item.key)
        if not 0 < place <= len(levels):
            return
        told = f"{aloud(self.base, found[0].item.key)} is {nth(place)} on the list"
        figures = any(item.stated is not None for item in levels.items)
        yield f"{told}." if figures else f"{told}, which prints no amounts."
        little = next((x for x in levels if x.high <= levels.rule.threshold), None)
        if little is None or not little.symbol or little.place == place:
            return
        name = self.base.label(little.symbol)
        capped = any(little.symbol in dict(cap.shares) for cap in levels.caps)
        much = f"{levels.rule.threshold} % or less"
        by_law = _BY_LAW if capped else ""
        where = f"{name} ({nth(little.place)})"
        if little.place > place:
            yield f"Only from {where} down is it sure that each is {much}{by_law}."
        else:
            yield f"From {where} down each name is {much}{by_law}."

    def near(self, names: Sequence[q.Name], where: str = "") -> Iterator[str]:
        """What stands there and only looks like it."""
        on_label = {r.symbol for r in self.readings if r.symbol}
        listed = [i for i in self.nouns.all_ingredients if i.key in on_label]
        for name in names:
            pattern = pack_claims.near(name.text)
            kind = self.base.find_class(name.text)
            inside = set(self.base.instances(kind)) if kind else set()
            looks = self.nouns.named(pattern, listed) if pattern else []
            others = [i.key for i in looks if i.key not in inside]
            for each in others[:_NEAR]:
                what = what_it_is(self.base, each)
                place = nth(self._place(each))
                yield (
                    f"{where}{self.base.label(each)} ({place} on the list) is no "
                    f"{self._one(name)}: it is {what}."
                )

    def _one(self, name: q.Name) -> str:
        """What was asked for, one of it."""
        kind = self.base.find_class(name.text)
        if not kind:
            return name.text
        plain = self.base.record(kind).text("plainly") or ""
        return plain.removeprefix("a ").removeprefix("an ") or self.base.label(kind)

    def cleans(self, rows: Sequence[Row]) -> Iterator[str]:
        """What a wash cleans with, where that is not what was found."""
        found = self._first_cleanser(rows)
        if found:
            kind, name = what_it_is(self.base, found), self.base.label(found)
            yield f"It cleans first of all with {name}, {kind}."

    def _first_cleanser(self, rows: Sequence[Row]) -> str:
        """What a wash cleans with first; empty if that was found, or it is no wash."""
        kind = product_kind(self.world.products[self.product].kind, self.base)
        if kind not in cleaning_kinds(self.base):
            return ""
        told = {symbol_of(row) for row in rows}
        listed = [r.symbol for r in self.readings if r.symbol]
        first = next((each for each in listed if self._cleans(each)), "")
        return "" if first in told else first

    def _cleans(self, symbol: str) -> bool:
        kinds = self._classes(symbol)
        base = self.base
        return base.term(Role.CLEANSER) in kinds and base.term(Role.FILM) not in kinds

    def _classes(self, symbol: str) -> Sequence[str]:
        found: Reading | None = next(
            (r for r in self.readings if r.symbol == symbol), None
        )
        return found.classes if found else ()

    def looked(self, rows: Sequence[Row], names: Sequence[q.Name]) -> str:
        """That all of the label was read."""
        one = " or ".join(
            dict.fromkeys(
                with_article(self._one(n)) if self.base.find_class(n.text) else n.text
                for n in names
            )
        )
        rest = f"no other is {one}" if rows else f"none is {one}"
        told = f"We know all {len(self.readings)} names on the label"
        return f"{told}, and {rest}." if one else f"{told}."

    def _place(self, symbol: str) -> int:
        found = (n for n, r in enumerate(self.readings, 1) if r.symbol == symbol)
        return next(found, 0)


def cleans_with(world: World, product: str) -> str:
    """What a wash cleans with first of all, in a sentence; empty if it is no wash."""
    return next(_Label(world, product).cleans(()), "")


def containing(told: Told, answer: Answer, asking: Asking) -> Told | None:
    """Return which products list something, and of which nobody can tell."""
    world = asking.world
    names = [each.key for each in answer.members if each.kind == PRODUCT]
    if world is None or not names or not isinstance(asking.act, q.Contains):
        return None
    what = _plainly(world.base, asking.act.object)
    s = "s" * (len(names) == 1)
    looked, kind = looked_at(asking, world)
    claim = f"{len(names)} of {len(looked)} {kind} contain{s} {what}."
    short = len(names) <= _IN_HEADING
    if short:
        claim = f"{claim.rstrip('.')}: {few(names)}."
    rest = [n for n in looked if n not in names and unread_names(world, n)]
    dark = few([unread_in_brief(world, each) for each in rest], 2)
    groups = [Group(None, n, _hits(world, n, asking.act.object), 1) for n in names]
    every = len(names) <= _APART and all(g.names for g in groups)
    one = Group(None, "", tuple(names), len(names))
    looks = [
        text
        for each in looked
        if each not in names
        for text in _Label(world, each).near(_lacked(asking), f"In {each}, ")
    ]
    told = told._replace(
        claim=claim,
        groups=tuple(groups) if every else (one,),
        else_groups=(one,) if every else (),
        note=f"We cannot tell for {dark}." if dark else "",
        sure=_READ if not dark else told.sure,
    )
    return told.with_reasons(looks[:_NEAR])


def _plainly(base: Base, term: q.Term) -> str:
    """What is asked for, in everyday words where it is a class that has them."""
    kind = base.find_class(term.text) if isinstance(term, q.Name) else None
    plain = base.record(kind).text("plainly") if kind else ""
    return plain or print_term(term).replace('"', "")


def _hits(world: World, product: str, what: q.Term) -> tuple[str, ...]:
    """What of a label is of the kind that was asked for, by name."""
    kinds = {
        world.base.find_class(each.text)
        for each in q.members(what)
        if isinstance(each, q.Name)
    }
    readings = world.read(product).readings
    return tuple(
        aloud(world.base, r.symbol)
        for r in readings
        if r.symbol and kinds & {*r.classes}
    )


def deposit_of(row: Explained) -> str:
    """Why a thing stays, or is so, by the claim that says so; empty if none does."""
    base = row.case.world.base
    for symbol in dict.fromkeys(str(f.args[0]) for f in row.proof.facts if f.args):
        if symbol in base and base.record(symbol).space == "claim":
            record = base.record(symbol)
            text = record.text("plainly") or record.text("statement") or ""
            if text:
                return as_sentence(text)
    return ""
