"""Terms and predicates as canonical text.

Brackets are printed only where the text would otherwise be read differently: a
list or a clause belongs to the nearest word before it, so a term that ends in an
open clause (`washes with sulfates`) is bracketed when more of the kind follows.
"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple, TypeAlias

from abluent.grammar.query import terms as q
from abluent.grammar.query.wording import at_place, is_plural, level, name, quoted

_PRONOUNS = {
    q.Quantity.EVERY: "everything",
    q.Quantity.SOME: "anything",
    q.Quantity.NO: "nothing",
}
KINDS = (
    *(q.Is, q.Suffices, q.Differs, q.Resists, q.Shifts, q.Named, q.Among),
    q.Undergoes,
)
"""What is said with `is`."""


class _Text(NamedTuple):
    """A printed term, and whether it would draw a following list to itself."""

    text: str
    open: bool = False


# --- terms --------------------------------------------------------------------


def term(node: q.Term, *, subject: bool = False, denial: str = "no") -> str:
    """A term in its place after a verb, or before one with its conditions.

    Args:
        node: the term.
        subject: whether it may carry conditions without brackets.
        denial: the word before a later member of a list that is denied.
    """
    if isinstance(node, q.Except):
        plain = not isinstance(node.term, q.Quantified)
        kept = _series(node.term, subject, denial, closed=True).text
        kept = kept if plain else _brackets(node.term)
        return f"{kept} except {_series(node.left_out, False, 'no').text}"
    if isinstance(node, q.Quantified) and isinstance(node.term, q.Except):
        inner = node.term
        kept, is_open = _quantified(node, inner.term, subject)
        if is_open:
            kept = f"{_quantity(node)} {_brackets(inner.term)}"
        return f"{kept} except {_series(inner.left_out, False, 'no').text}"
    return _series(node, subject, denial).text


def _brackets(node: q.Term) -> str:
    return f"({term(node, subject=True)})"


def _shut(printed: _Text) -> str:
    return f"({printed.text})" if printed.open else printed.text


def _series(node: q.Term, subject: bool, denial: str, closed: bool = False) -> _Text:
    if not isinstance(node, q.And | q.Or):
        printed = _element(node, subject)
        return _Text(_shut(printed)) if closed else printed
    *others, last = node.terms
    texts = [
        _shut(_member(each, subject, denial, at)) for at, each in enumerate(others)
    ]
    if isinstance(node, q.Or) and _goes_on(node.terms):
        texts[0] = f"({texts[0]})"
    final = _member(last, subject, denial, len(others))
    texts.append(_shut(final) if closed else final.text)
    joint = "and" if isinstance(node, q.And) else "or"
    return _Text(f"{', '.join(texts[:-1])} {joint} {texts[-1]}")


def _goes_on(terms: tuple[q.Term, ...]) -> bool:
    """Whether the `no` of the first would be read as of all: `no gums or waxes`."""
    first, *rest = terms
    denied = isinstance(first, q.Quantified) and first.quantity is q.Quantity.NO
    return denied and not any(isinstance(each, q.Quantified) for each in rest)


def _member(node: q.Term, subject: bool, denial: str, at: int) -> _Text:
    printed = _element(node, subject)
    if at and not subject and printed.text.startswith("no "):
        return _Text(denial + printed.text[len("no") :], printed.open)
    return printed


def _element(node: q.Term, subject: bool) -> _Text:
    if isinstance(node, q.Quantified) and not isinstance(node.term, q.Except):
        return _quantified(node, node.term, subject)
    base = node.term if isinstance(node, q.Such) else node
    article = f"{base.article} " if isinstance(base, q.Name) and base.article else ""
    text, is_open = _clause(node, subject)
    return _Text(article + text, is_open)


def one(node: q.Term) -> str:
    """A term as one member of a list, with its quantity or article."""
    return _shut(_element(node, subject=False))


def _quantified(node: q.Quantified, inner: q.Term, subject: bool) -> _Text:
    """A quantity before a term; `every thing` is one word where it can be."""
    base = inner.term if isinstance(inner, q.Such) else inner
    if isinstance(base, q.Thing) and node.quantity in _PRONOUNS:
        printed = _clause(inner, subject, _PRONOUNS[node.quantity])
        if not printed.text.startswith("("):
            return printed
    text, is_open = _clause(inner, subject)
    of = " of" if node.count is not None and text.startswith("(") else ""
    return _Text(f"{_quantity(node)}{of} {text}", is_open)


def _quantity(node: q.Quantified) -> str:
    if node.quantity is q.Quantity.EVERY and is_plural(node.term):
        return "all"
    count = "" if node.count is None else f" {node.count}"
    return node.quantity.value + count


def _clause(node: q.Term, subject: bool, head: str = "") -> _Text:
    if not isinstance(node, q.Such):
        return _Text(head or bare(node))
    base = head or bare(node.term)
    plural = is_plural(node.term) and head in ("", "things")
    if subject:
        return _conditions(base, node.conditions, plural)
    *named, last = node.conditions
    if len(named) > 1 or not all(isinstance(each, q.Named) for each in named):
        return _Text(_brackets(node))
    if isinstance(last, q.Named):
        return _Text(f"{base} {_named(last)}") if not named else _Text(_brackets(node))
    pattern = "".join(f" {_named(each)}" for each in named if isinstance(each, q.Named))
    clause = _relative(last, plural)
    return _Text(f"{base}{pattern} that {clause}", not clause.startswith("("))


def bare(node: q.Term) -> str:
    """A term as one noun, in brackets if it is more than that."""
    match node:
        case q.Name():
            return name(node)
        case q.Thing():
            return "things"
        case q.Those(kind=None):
            return "those"
        case q.Those(kind=q.Name() as kept):
            return f"those {name(kept)}"
        case q.Shelf():
            return "my shelf"
        case _:
            return _brackets(node)


def _conditions(base: str, conditions: tuple[q.Predicate, ...], plural: bool) -> _Text:
    """A noun with all its conditions, as it may stand before a verb."""
    text, is_open = base, False
    for at, condition in enumerate(conditions):
        after = conditions[at + 1] if at + 1 < len(conditions) else None
        added, is_open = _condition(condition, after, plural)
        if is_open and after is not None and not _is_adverbial(after):
            text, is_open = f"({text} {added})", False
        else:
            text = f"{text} {added}"
    return _Text(text, is_open)


def _is_adverbial(condition: q.Predicate) -> bool:
    """Whether a condition is printed with a preposition: with, without, among."""
    return isinstance(condition, q.Among) or _held(condition) is not None


def _held(condition: q.Predicate) -> tuple[str, q.Term] | None:
    """The `with` or `without` that a condition is printed as, if it is."""
    match condition:
        case q.Contains(object=held, level=None, place=None):
            return "with", held
        case q.Not(part=q.Contains(object=held, level=None, place=None)):
            return "without", held
        case _:
            return None


def _condition(
    condition: q.Predicate, after: q.Predicate | None, plural: bool
) -> _Text:
    held = _held(condition)
    if held is not None:
        return _Text(f"{held[0]} {term(held[1])}", True)
    if isinstance(condition, q.Named):
        return _Text(_named(condition))
    if isinstance(condition, q.Among):
        text = _among(condition)
        return _Text(text, not isinstance(condition.object, q.Shelf))
    form = Form.PLURAL if plural else Form.SINGULAR
    if after is None:
        return _Text(f"that {said(condition, form)}", True)
    return _Text(f"that ({said(condition, form)})")


# --- predicates ---------------------------------------------------------------


class Form(Enum):
    """The form of a verb: by itself after `does`, or agreeing with its subject."""

    BASE = 0
    SINGULAR = 1
    PLURAL = 2


def form_after(subject: q.Term) -> Form:
    """The form of a verb that follows a subject."""
    return Form.PLURAL if is_plural(subject) else Form.SINGULAR


def said(node: q.Predicate, form: Form) -> str:
    """What is said of a subject."""
    if not isinstance(node, q.Both | q.Either):
        return _part(node, form)
    joint = " and " if isinstance(node, q.Both) else " or "
    return joint.join(_part(part, form) for part in node.parts)


def _part(node: q.Predicate, form: Form) -> str:
    match node:
        case q.Both() | q.Either():
            return f"({said(node, form)})"
        case q.Not(part=inner) if isinstance(inner, KINDS):
            return f"{_be(form)} not {kind(inner)}"
        case q.Not(part=inner):
            return f"{_deny(form)} {_denied(inner)}"
        case _ if isinstance(node, KINDS):
            return f"{_be(form)} {kind(node)}"
        case q.Stays() | q.Outdoes() | q.Precedes() | q.Says() | q.Resembles():
            return _verb_phrase(node, form)
        case _:
            verb, detail = act(node, form)
            return " ".join(filter(None, (verb, term(node.object), detail)))


_PHRASES = (q.Outdoes, q.Precedes, q.Says, q.Resembles)
_Phrase: TypeAlias = q.Stays | q.Outdoes | q.Precedes | q.Says | q.Resembles


def _verb_phrase(node: _Phrase, form: Form) -> str:
    """A verb with two objects, or with none."""
    ending = "s" if form is Form.SINGULAR else ""
    match node:
        case q.Stays(circumstances=circumstances):
            return " ".join((f"build{ending} up", *circumstances))
        case q.Outdoes():
            return f"clear{ending} {_inner(node.object)} better than {term(node.than)}"
        case q.Precedes():
            return f"contain{ending} {_inner(node.object)} before {term(node.other)}"
        case q.Says():
            return f"rightly say{ending} {quoted(node.text)}"
        case q.Resembles():
            return f"resemble{ending} {term(node.object)}"


def _inner(node: q.Term) -> str:
    """An object that another one follows."""
    return _shut(_Text(term(node), isinstance(node, q.And | q.Or | q.Except)))


def _denied(node: q.Predicate) -> str:
    text = _part(node, Form.BASE)
    return f"({text})" if isinstance(node, q.Not) else text


def _be(form: Form) -> str:
    return "are" if form is Form.PLURAL else "is"


def _deny(form: Form) -> str:
    return {Form.BASE: "not", Form.SINGULAR: "does not", Form.PLURAL: "do not"}[form]


def kind(node: q.Predicate) -> str:
    """What follows `is`.

    Raises:
        ValueError: the predicate is not said with `is`.
    """
    match node:
        case q.Is(object=object_):
            return term(object_, denial="not")
        case q.Suffices(object=object_):
            return f"enough for {term(object_)}"
        case q.Differs(strength=strength, object=object_):
            return f"{strength.value} than {_weighed(object_)}"
        case q.Resists():
            return _resists(node)
        case q.Shifts(way=way, here=here, there=there):
            return f"{way.value} to clear {' '.join(here)} than {' '.join(there)}"
        case q.Named() | q.Among() | q.Undergoes():
            return _said_of_name(node)
        case _:
            raise ValueError(f"not said with `is`: {node}")


def _resists(node: q.Resists) -> str:
    """What something is harder to clear than, and under which washes.

    A longer term before the washes is in brackets, as it could take them to itself.
    """
    way, object_ = node.way.value, node.object
    if node.under is None:
        return f"{way} to clear than {term(object_)}"
    plain = isinstance(object_, q.Name | q.Thing | q.Those | q.Shelf)
    than = term(object_) if plain else bare(object_)
    return f"{way} to clear than {than} under {_weighed(node.under)}"


def _weighed(node: q.Term) -> str:
    """What something is milder than: read as a subject, whose clauses go on."""
    last = node.left_out if isinstance(node, q.Except) else node
    last = last.terms[-1] if isinstance(last, q.And | q.Or) else last
    last = last.term if isinstance(last, q.Quantified) else last
    text = term(node)
    goes_on = isinstance(last, q.Such) and not text.endswith(_brackets(last))
    return _brackets(node) if goes_on else text


def _said_of_name(node: q.Named | q.Among | q.Undergoes) -> str:
    if isinstance(node, q.Undergoes):
        return _undergone(node)
    return _named(node) if isinstance(node, q.Named) else _among(node)


def _undergone(node: q.Undergoes) -> str:
    after = f"after {node.rounds} rounds" if node.rounds > 1 else ""
    told = (node.way.value, term(node.object), *node.circumstances, after)
    return " ".join(filter(None, told))


def _named(node: q.Named) -> str:
    return f"named {quoted(node.pattern)}"


def _among(node: q.Among) -> str:
    if isinstance(node.object, q.Shelf):
        return "on my shelf"
    return f"among {term(node.object)}"


def act(node: q.Act, form: Form) -> tuple[str, str]:
    """The words before and after the object of a verb."""
    ending = "s" if form is Form.SINGULAR else ""
    match node:
        case q.Clears():
            source = f"from {term(node.source)}" if node.source else ""
            rounds = f"after {node.rounds} rounds" if node.rounds > 1 else ""
            more = (source, " ".join(node.circumstances), rounds)
            detail = " ".join(filter(None, more))
            return node.extent.value + ending, detail
        case q.Leaves():
            return f"leave{ending}", " ".join(node.circumstances)
        case q.Contains():
            place = "" if node.place is None else at_place(node.place)
            size = level(node.level) if node.level else ""
            return f"contain{ending}", " ".join(filter(None, (size, place)))
        case q.Hides():
            return f"hide{ending}", ""
        case q.Needs():
            return f"need{ending}", ""


def _relative(node: q.Predicate, plural: bool) -> str:
    """A clause on an object: one thing and no details, else in brackets."""
    form = Form.PLURAL if plural else Form.SINGULAR
    core = node.part if isinstance(node, q.Not) else node
    # What ends in a condition would take one that follows for its own.
    open_ended = (q.Both, q.Either, q.Not, q.Shifts, q.Undergoes, *_PHRASES)
    if isinstance(core, open_ended):
        return f"({said(node, form)})"
    if isinstance(core, q.Stays):
        text = said(node, form)
        return f"({text})" if core.circumstances else text
    if not isinstance(core, KINDS) and act(core, form)[1]:
        return f"({said(node, form)})"
    return said(node, form)


# --- the topic of a question with `is` ----------------------------------------


def topic(node: q.Term, before: str) -> str:
    """A subject between `is` and what it may be; `before` tells the kind of word
    that follows, because two names side by side would be read as one."""
    members = q.members(node)
    texts = [_topic_member(each) for each in members]
    if before in ("WORD", "QUOTED", "NUMBER"):
        texts[-1] = _apart(members[-1], texts[-1])
    joint = " or " if isinstance(node, q.Or) else " and "
    return joint.join(filter(None, (", ".join(texts[:-1]), texts[-1])))


def _topic_member(node: q.Term) -> str:
    inner = node.term if isinstance(node, q.Quantified) else node
    if isinstance(inner, q.Such | q.Except | q.And | q.Or | q.Quantified):
        return _brackets(node)
    return _element(node, False).text


def _apart(node: q.Term, text: str) -> str:
    inner = node.term if isinstance(node, q.Quantified) else node
    if isinstance(inner, q.Name) and text.endswith(inner.text):
        return text.removesuffix(inner.text) + quoted(inner.text)
    return _brackets(node) if isinstance(inner, q.Those) else text
