"""Syntax tree to canonical text: `parse_query(print_query(tree)) == tree`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from abluent.grammar.query import tree as q
from abluent.grammar.query.lex import lex
from abluent.grammar.query.printer_terms import (
    KINDS,
    Form,
    act,
    bare,
    form_after,
    kind,
    one,
    said,
    term,
    topic,
)
from abluent.grammar.query.wording import at_place, level, name, quoted


def print_query(node: q.Query) -> str:
    """A query as one line in the language's own wording."""
    match node:
        case q.Suppose():
            return f"suppose {_changes(node.changes)}: {_plain(node.question)}"
        case q.Let():
            return f"let {name(node.name)} be {term(node.term, subject=True)}"
        case q.Save():
            return f"save {print_query(node.question)} as {name(node.name)}"
        case q.Forget():
            return f"forget {name(node.name)}"
        case _:
            return _plain(node)


def print_term(node: q.Term) -> str:
    """A term by itself, as an answer's heading shows it."""
    return term(node, subject=True)


def print_statement(node: q.Statement) -> str:
    """A sentence: `only sulfates clear silicones`."""
    return (
        f"{print_term(node.subject)} {said(node.predicate, form_after(node.subject))}"
    )


def print_predicate(node: q.Predicate, *, many: bool = False) -> str:
    """What one thing is said to do, or several: `clears silicones`."""
    return said(node, Form.PLURAL if many else Form.SINGULAR)


def _plain(node: q.Plain) -> str:
    return _FORMS[type(node)](node)


def _claim(node: q.Claim) -> str:
    return f"is it true that {print_statement(node.statement)}"


def _argue(node: q.Argue) -> str:
    *first, last = [print_statement(each) for each in node.statements]
    joint = ", so that " if node.follows else ", and also that "
    return f"is it true that {', and also that '.join(first)}{joint}{last}"


def _define(node: q.Define) -> str:
    return f"what {_verb(node.term, 'is', 'are')} {term(node.term, denial='not')}"


def _compare(node: q.Compare) -> str:
    film = f" for {term(node.film)}" if node.film else ""
    lines = " line by line" if node.lines else ""
    said = "".join(f" {each}" for each in node.circumstances)
    return f"compare {term(node.things)}{film}{said}{lines}"


def _rounds(node: q.Rounds) -> str:
    verb, detail = act(node.clears, Form.PLURAL)
    washes = print_term(node.washes)
    text = f"how many rounds of {washes} {verb} {term(node.clears.object)} {detail}"
    return text.rstrip()


def _amount(node: q.Amount) -> str:
    does = _verb(node.products, "does", "do")
    what = term(node.ingredient)
    return f"how much {what} {does} {print_term(node.products)} contain"


def _task(node: q.Task) -> str:
    does = _verb(node.ingredient, "does", "do")
    what = print_term(node.ingredient)
    return f"what {does} {what} do in {print_term(node.products)}"


def _saying(node: q.Saying) -> str:
    return f"what of the saying {quoted(node.said.text)}"


def _unlawful(node: q.Unlawful) -> str:
    return f"what may not stand in {term(node.things)}"


def _conflicts(node: q.Conflicts) -> str:
    scope = "on my shelf"
    if not isinstance(node.things, q.Shelf):
        scope = f"among {term(node.things)}"
    return f"what conflicts {scope}"


def _how_much(node: q.HowMuch) -> str:
    is_ = _verb(node.things, "is", "are")
    film = f" for {term(node.film)}" if node.film else ""
    return f"how {node.measure.value} {is_} {print_term(node.things)}{film}"


def _rank(node: q.Rank) -> str:
    film = f" for {term(node.film)}" if node.film else ""
    return f"rank {print_term(node.things)}{film}"


def _verb(subject: q.Term, singular: str, plural: str) -> str:
    return plural if form_after(subject) is Form.PLURAL else singular


def _whether(node: q.Whether) -> str:
    subject, predicate = node.statement.subject, node.statement.predicate
    denied = isinstance(predicate, q.Not)
    core = predicate.part if isinstance(predicate, q.Not) else predicate
    if isinstance(core, KINDS):
        rest = ("not " if denied else "") + kind(core)
        about = topic(subject, lex(rest)[0].kind)
        return f"{_verb(subject, 'is', 'are')} {about} {rest}"
    does = _verb(subject, "does", "do")
    return f"{does} {print_term(subject)} {said(predicate, Form.BASE)}"


def _which(node: q.Which) -> str:
    subject, predicate = node.subject, node.predicate
    asked = f"{_which_of(subject)} {print_term(subject)}"
    if predicate is None:
        return asked + _tails(node)
    if isinstance(subject, q.Thing) and not isinstance(predicate, q.Is):
        return f"what {said(predicate, Form.SINGULAR)}{_tails(node)}"
    return f"{asked} {said(predicate, form_after(subject))}{_tails(node)}"


def _which_of(asked: q.Term) -> str:
    base = asked.term if isinstance(asked, q.Such | q.Except) else asked
    return "which of" if isinstance(base, q.And | q.Or | q.Those) else "which"


def _what(node: q.What) -> str:
    asked = _asked(node).object
    if isinstance(asked, q.Thing):
        return f"what {_does(node)}{_tails(node)}"
    return f"{_which_of(asked)} {print_term(asked)} {_does(node)}{_tails(node)}"


def _asked(node: q.What) -> q.Act:
    core = q.asked_act(node.predicate)
    assert isinstance(core, q.Act)  # `What` holds no other
    return core


def _does(node: q.What) -> str:
    verb, detail = act(_asked(node), Form.BASE)
    does = _verb(node.subject, "does", "do")
    denial = "not" if isinstance(node.predicate, q.Not) else ""
    words = (does, print_term(node.subject), denial, verb, detail)
    return " ".join(filter(None, words))


def _how_many(counted: q.HowMany) -> str:
    node = counted.question
    subject: q.Term = node.subject
    if isinstance(node, q.What):
        subject = _asked(node).object
        asked = f"{print_term(subject)} {_does(node)}"
    elif node.predicate is None:
        asked = print_term(subject)
    else:
        asked = print_statement(q.Statement(subject, node.predicate))
    head = _which_of(subject).replace("which", "how many")
    if counted.share:
        head = "what share of"
    return f"{head} {asked}{_tails(node)}"


def _not_understood(node: q.NotUnderstood) -> str:
    limit = f" first {node.limit}" if node.limit is not None else ""
    return f"which names were not understood{limit}"


def _tails(node: q.Which | q.What) -> str:
    order = f" {node.order.value}" if node.order else ""
    limit = f" first {node.limit}" if node.limit is not None else ""
    under = f" under {print_term(node.under)}" if node.under is not None else ""
    return limit + order + under


def _about(node: q.About) -> str:
    matter = node.matter
    denial = " not" if node.negative else ""
    if matter is None:
        return node.aspect.value + denial
    if node.aspect is q.Aspect.WHY:
        if isinstance(matter, q.Claim):
            return f"why is it{denial} true that {print_statement(matter.statement)}"
        asked = _plain(matter) if isinstance(matter, q.Whether) else print_term(matter)
        return f"why{denial} {asked}"
    assert isinstance(matter, q.Whether | q.Claim)  # `About` holds no other
    if node.aspect is q.Aspect.WAYS:
        return f"{node.aspect.value} {_plain(matter)}"
    true = "it is true that " if isinstance(matter, q.Claim) else ""
    return f"{_JOINTS[node.aspect]} {true}{print_statement(matter.statement)}"


def _unlike(node: q.Unlike) -> str:
    return f"why {_plain(node.matter)} unlike {term(node.others)}"


_JOINTS = {
    q.Aspect.SURE: "how sure is it that",
    q.Aspect.SOURCES: "who says that",
    q.Aspect.CHANGE: "what would change whether",
    q.Aspect.NEEDED: "what must be so that",
    q.Aspect.PARTING: "where do sources part over whether",
}


def _changes(changes: tuple[q.Change, ...]) -> str:
    """The changes, each naming what it is made to unless the last one did."""
    texts: list[str] = []
    last: q.Term | None = None
    for change in changes:
        owner = change.subject if isinstance(change, q.Become) else change.product
        named = isinstance(change, q.Become) or owner != last
        texts.append(f"{bare(owner)} {_change(change)}" if named else _change(change))
        last = owner
    return " and ".join(texts)


def _change(node: q.Change) -> str:
    match node:
        case q.Without():
            return f"had no {bare(node.ingredient)}"
        case q.Become():
            return f"{_verb(node.subject, 'was', 'were')} {one(node.kind)}"
        case q.With():
            size = f" {level(node.level)}" if node.level else ""
            place = f" {at_place(node.place)}" if node.place is not None else ""
            return f"had {bare(node.ingredient)}{size}{place}"


_FORMS: dict[type, Callable[[Any], str]] = {
    q.Whether: _whether,
    q.Claim: _claim,
    q.Argue: _argue,
    q.Which: _which,
    q.What: _what,
    q.HowMany: _how_many,
    q.NotUnderstood: _not_understood,
    q.Rounds: _rounds,
    q.HowMuch: _how_much,
    q.Amount: _amount,
    q.Task: _task,
    q.Rank: _rank,
    q.Define: _define,
    q.Compare: _compare,
    q.About: _about,
    q.Unlike: _unlike,
    q.Unlawful: _unlawful,
    q.Saying: _saying,
    q.Conflicts: _conflicts,
}
