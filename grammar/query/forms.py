"""Parts of a read query to questions: the upper rules of the grammar.

`build` makes the nouns and sayings that these are made of.
"""

from __future__ import annotations

from typing import Any, cast

from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.build import (
    THING,
    Loose,
    Nouns,
    Parts,
    Sayings,
    Stated,
    at,
    has,
    kind_of,
    nodes,
    span_of,
    such,
    term_of,
    whole,
)
from abluent.grammar.query.words import plain


def _untailed(parts: Parts) -> list[Any]:
    """The body of a question, without its tails (order, limit and scope)."""
    return [part for part in nodes(parts) if not isinstance(part, Loose)]


def _tails(parts: Parts) -> dict[str, Any]:
    """The order and the limit among the tails, by the name of their field."""
    found = {}
    for part in parts:
        if isinstance(part, Loose) and not isinstance(part.value, q.Among):
            if isinstance(part.value, tuple):
                found["order"], found["under"] = part.value
                continue
            key = "order" if isinstance(part.value, q.Order) else "limit"
            found[key] = part.value
    return found


def _scoped(asked: Any, parts: Parts) -> q.Term:
    """The term asked for, among those that the tails name."""
    tails = [part.value for part in parts if isinstance(part, Loose)]
    scopes = [tail for tail in tails if isinstance(tail, q.Among)]
    return such(asked, scopes, [asked, *scopes])


def _asking(asked: q.Term, predicate: q.Predicate) -> Any:
    """The predicate of a what-question with what it asks for as its object."""
    if isinstance(predicate, q.Not):
        return replace(predicate, part=_asking(asked, predicate.part))
    return replace(cast(q.Act, predicate), object=asked)


def _general(said: q.Statement) -> q.Statement:
    """A statement as a claim: `any wash clears it` is said of every wash."""
    subject = said.subject
    if isinstance(subject, q.Quantified) and subject.word == "any":
        return replace(said, subject=replace(subject, quantity=q.Quantity.EVERY))
    return said


class Questions:
    """The forms a question can take."""

    def statement(self, parts: Parts) -> q.Statement:
        return at(q.Statement(term_of(parts[0]), parts[1]), parts)

    def whether(self, parts: Parts) -> q.Whether:
        return at(q.Whether(self.statement(parts[1:])), parts)

    def whether_not(self, parts: Parts) -> q.Whether:
        denied = q.Not(parts[2], span=parts[2].span)
        return self.whether([parts[0], parts[1], denied])

    def claim(self, parts: Parts) -> q.Claim:
        return at(q.Claim(_general(parts[1])), parts)

    def argue(self, parts: Parts) -> q.Argue:
        said = tuple(_general(each) for each in nodes(parts))
        return at(q.Argue(said, has(parts, "SO_THAT")), parts)

    def which(self, parts: Parts) -> q.Which:
        subject, *said = _untailed(parts)
        scoped = _scoped(subject, parts)
        return at(q.Which(scoped, *said, **_tails(parts)), parts)

    def which_asked(self, parts: Parts) -> q.What:
        asked, subject, predicate = _untailed(parts)
        if has(parts, "DOESNT"):
            predicate = q.Not(predicate, span=predicate.span)
        predicate = _asking(_scoped(asked, parts), predicate)
        return at(q.What(subject, predicate, **_tails(parts)), parts)

    def what(self, parts: Parts) -> q.Which | q.Define:
        said, *more = nodes(parts)
        if isinstance(said, q.Is) and not more:
            return at(q.Define(said.object), parts)
        return self.which([parts[0], at(THING, parts[:1]), *parts[1:]])

    def what_asked(self, parts: Parts) -> q.What:
        return self.which_asked([parts[0], at(THING, parts[:1]), *parts[1:]])

    def what_in(self, parts: Parts) -> q.What:
        holds = at(q.Contains(THING), parts[:1])
        return self.which_asked([at(THING, parts[:1]), parts[1], holds, *parts[2:]])

    def extreme(self, parts: Parts) -> q.Which:
        """`what is the mildest …`: one member; `what are`: all, in order."""
        order = q.Order[kind_of(parts[0]).removeprefix("WHAT_")]
        plural = "are" in plain(parts[0].text).split()
        limit = whole(parts[1]) if has(parts, "NUMBER") else None if plural else 1
        return at(q.Which(parts[-1], order=order, limit=limit), parts)

    def how_many(self, parts: Parts) -> q.HowMany:
        return at(q.HowMany(self.which(parts)), parts)

    def how_many_asked(self, parts: Parts) -> q.HowMany:
        return at(q.HowMany(self.which_asked(parts)), parts)

    def share(self, parts: Parts) -> q.HowMany:
        return at(q.HowMany(self.which(parts), share=True), parts)

    def not_understood(self, parts: Parts) -> q.NotUnderstood:
        return at(q.NotUnderstood(**_tails(parts)), parts)

    def order(self, parts: Parts) -> Loose:
        order = q.Order[kind_of(parts[0])]
        made = (order, *nodes(parts)) if nodes(parts) else order
        return Loose(made, span_of(parts))

    def number(self, parts: Parts) -> Loose:
        return Loose(whole(parts[1]), span_of(parts))

    def last(self, parts: Parts) -> Loose:
        return Loose(q.LAST_PLACE, span_of(parts))

    def amount(self, parts: Parts) -> q.Amount:
        return at(q.Amount(*nodes(parts)), parts)

    def task(self, parts: Parts) -> q.Task:
        return at(q.Task(*nodes(parts)), parts)

    def scope(self, parts: Parts) -> Loose:
        return Loose(parts[0], span_of(parts))

    def how_mild(self, parts: Parts) -> q.HowMuch:
        return at(q.HowMuch(q.Measure.MILD, parts[1]), parts)

    def how_strong(self, parts: Parts) -> q.HowMuch:
        return at(q.HowMuch(q.Measure.STRONG, *nodes(parts)), parts)

    def rank(self, parts: Parts) -> q.Rank:
        return at(q.Rank(*nodes(parts)), parts)

    def define(self, parts: Parts) -> q.Define:
        return at(q.Define(parts[1]), parts)

    def compare(self, parts: Parts) -> q.Compare:
        said = parts[-1].phrases if isinstance(parts[-1], Stated) else ()
        things, *film = (part for part in nodes(parts) if not isinstance(part, Stated))
        made = q.Compare(things, film[0] if film else None, circumstances=said)
        return at(made, parts)

    def compare_lines(self, parts: Parts) -> q.Compare:
        (things,) = nodes(parts)
        return at(q.Compare(things, lines=True), parts)

    def unlawful(self, parts: Parts) -> q.Unlawful:
        return at(q.Unlawful(parts[1]), parts)

    def saying(self, parts: Parts) -> q.Saying:
        return at(q.Saying(parts[1]), parts)

    def conflicts(self, parts: Parts) -> q.Conflicts:
        return at(q.Conflicts(parts[1].value.object), parts)


class Matters:
    """Questions about an answer."""

    def sentence(self, parts: Parts) -> q.Whether:
        return at(q.Whether(parts[0]), parts)

    def not_true(self, parts: Parts) -> Loose:
        return Loose(at(q.Claim(parts[1]), parts), span_of(parts))

    def why(self, parts: Parts) -> q.About:
        negative = has(parts, "NOT")
        matter = nodes(parts)[0] if nodes(parts) else None
        if isinstance(matter, Loose):
            matter, negative = matter.value, not negative
        return at(q.About(q.Aspect.WHY, matter, negative), parts)

    def unlike(self, parts: Parts) -> q.Unlike:
        return at(q.Unlike(*nodes(parts)), parts)

    def sure(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.SURE, parts)

    def sources(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.SOURCES, parts)

    def change(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.CHANGE, parts)

    def needed(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.NEEDED, parts)

    def parting(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.PARTING, parts)

    def ways(self, parts: Parts) -> q.About:
        return self._about(q.Aspect.WAYS, parts)

    def _about(self, aspect: q.Aspect, parts: Parts) -> q.About:
        return at(q.About(aspect, *nodes(parts)), parts)


def whose(change: q.Change) -> q.Term:
    """What a change is made to."""
    return change.subject if isinstance(change, q.Become) else change.product


class Changes:
    """Suppositions and names."""

    def had(self, parts: Parts) -> q.With:
        ingredient, *details = nodes(parts)
        made = q.With(THING, term_of(ingredient), span=span_of(parts))
        for detail in details:
            key = "level" if isinstance(detail.value, q.Level) else "place"
            made = replace(made, **{key: detail.value})
        return made

    def had_no(self, parts: Parts) -> q.Without:
        return at(q.Without(THING, term_of(nodes(parts)[0])), parts)

    def supposed(self, parts: Parts) -> q.Change:
        product, change = parts
        made = replace(change, product=term_of(product), span=span_of(parts))
        return cast(q.Change, made)

    def become(self, parts: Parts) -> q.Become:
        return at(q.Become(term_of(parts[0]), term_of(parts[2])), parts)

    def changes(self, parts: Parts) -> Loose:
        """The changes in order; one that names no product keeps the last one's."""
        made: list[q.Change] = []
        for part in nodes(parts):
            unnamed = not isinstance(part, q.Become) and part.product is THING
            made.append(replace(part, product=whose(made[-1])) if unnamed else part)
        return Loose(tuple(made), span_of(parts))

    def suppose(self, parts: Parts) -> q.Suppose:
        changes, question = nodes(parts)
        return at(q.Suppose(changes.value, question), parts)

    def let(self, parts: Parts) -> q.Let:
        return at(q.Let(*nodes(parts)), parts)

    def save(self, parts: Parts) -> q.Save:
        return at(q.Save(*nodes(parts)), parts)

    def forget(self, parts: Parts) -> q.Forget:
        return at(q.Forget(parts[1]), parts)


class Builder(Nouns, Sayings, Questions, Matters, Changes):
    """A method for each rule of `query.lark`, by the rule's name."""
