"""The form of a trace: which keys there are, and what kind each part is of."""

import json
import re
from collections.abc import Callable
from typing import Any

from .values import read_atom, read_expression, read_value, want

Form = Callable[[Any, str], None]
SIGNS = ("=", "!=", "<", "<=", ">", ">=")
FORMS = ("not", "unless", "exception")
FUNCTIONS = ("count", "sum", "min", "max")


def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object of which no key is given twice."""
    found = dict(pairs)
    want(len(found) == len(pairs), "an object", "has a key twice")
    return found


def no_number(text: str) -> None:
    """Refuse a number that is not whole."""
    want(False, text, "is not a whole number")


def load(text: str) -> Any:
    """JSON text as data, refused where the format does not provide for it."""
    return json.loads(
        text, object_pairs_hook=once, parse_float=no_number, parse_constant=no_number
    )


def text(data: Any, place: str) -> None:
    """Any text."""
    want(isinstance(data, str), place, "is not text")


def flag(data: Any, place: str) -> None:
    """True or false."""
    want(isinstance(data, bool), place, "is not true or false")


def whole(data: Any, place: str) -> None:
    """A whole number, not negative."""
    want(type(data) is int and data >= 0, place, "is not a whole number")


def anything(data: Any, place: str) -> None:
    """What is looked at elsewhere."""


def pattern(wanted: str) -> Form:
    """Text of one form."""
    found = re.compile(wanted)

    def check(data: Any, place: str) -> None:
        sure = isinstance(data, str) and found.fullmatch(data) is not None
        want(sure, place, "has another form")

    return check


def one_of(*words: str) -> Form:
    """One of some words."""

    def check(data: Any, place: str) -> None:
        sure = isinstance(data, str) and data in words
        want(sure, place, f"is none of {', '.join(words)}")

    return check


def or_null(form: Form) -> Form:
    """A form, or null."""

    def check(data: Any, place: str) -> None:
        if data is not None:
            form(data, place)

    return check


def list_of(form: Form) -> Form:
    """A list with a form for each part."""

    def check(data: Any, place: str) -> None:
        want(isinstance(data, list), place, "is not a list")
        for index, each in enumerate(data):
            form(each, f"{place}/{index}")

    return check


def map_of(form: Form, key: Form = text) -> Form:
    """An object with any keys of a form, and a form for each value."""

    def check(data: Any, place: str) -> None:
        want(isinstance(data, dict), place, "is not an object")
        for name, each in data.items():
            key(name, f"{place}/{name}")
            form(each, f"{place}/{name}")

    return check


def fields(**forms: Form) -> Form:
    """An object with just these keys."""

    def check(data: Any, place: str) -> None:
        want(isinstance(data, dict), place, "is not an object")
        want(set(data) == set(forms), place, "has other keys")
        for name, form in forms.items():
            form(data[name], f"{place}/{name}")

    return check


def atom(data: Any, place: str) -> None:
    """An atom or pattern."""
    read_atom(data, place)


def value(data: Any, place: str) -> None:
    """A value."""
    read_value(data, place)


def expression(data: Any, place: str) -> None:
    """An expression."""
    read_expression(data, place)


def row(*forms: Form) -> Form:
    """A list of so many parts, each of its form."""

    def check(data: Any, place: str) -> None:
        want(isinstance(data, list), place, "is not a list")
        want(len(data) == len(forms), place, "is of another length")
        for index, form in enumerate(forms):
            form(data[index], f"{place}/{index}")

    return check


def condition(data: Any, place: str) -> None:
    """A condition of a rule or collection."""
    kind = data[0] if isinstance(data, list) and data else ""
    want(isinstance(kind, str) and kind in CONDITIONS, place, "is no condition")
    CONDITIONS[kind](data, place)


def node(data: Any, place: str) -> None:
    """A step."""
    kind = data.get("kind", "") if isinstance(data, dict) else ""
    want(isinstance(kind, str) and kind in NODES, place, "is no step")
    NODES[kind](data, place)


def term(data: Any, place: str) -> None:
    """A term of a folding."""
    if isinstance(data, dict) and "thing" in data:
        fields(thing=list_of(text))(data, place)
    else:
        fields(**{"class": text, "but": list_of(term)})(data, place)


CONDITIONS: dict[str, Form] = {
    "is": row(text, atom),
    "not": row(text, atom, one_of(*FORMS)),
    "compare": row(text, one_of(*SIGNS), expression, expression, flag),
    "let": row(text, value, expression),
    "collect": row(
        text,
        value,
        one_of(*FUNCTIONS),
        list_of(value),
        list_of(condition),
        list_of(value),
    ),
}
NAME = pattern("[0-9a-f]{16}")
FIGURE = pattern("-?[0-9]+(/[0-9]+)?")
TEXTS = list_of(text)
ENTRY = {
    "atom": atom,
    "standing": text,
    "memory": flag,
    "sources": TEXTS,
    "origin": text,
}
NODES: dict[str, Form] = {
    "fact": fields(kind=text, **ENTRY),
    "rule": fields(
        kind=text, rule=text, bind=map_of(value), atom=atom, premises=list_of(NAME)
    ),
    "absent": fields(kind=text, atom=atom, form=one_of(*FORMS)),
    "compare": fields(
        kind=text, op=one_of(*SIGNS), left=value, right=value, perhaps=flag
    ),
    "compute": fields(kind=text, expr=expression, result=value),
    "collect": fields(
        kind=text,
        function=one_of(*FUNCTIONS),
        terms=list_of(value),
        body=list_of(condition),
        groups=list_of(value),
        members=list_of(fields(bind=map_of(value), premises=list_of(NAME))),
        result=value,
    ),
}
GOAL = fields(
    root=NAME,
    atom=atom,
    holds=flag,
    weakest=list_of(NAME),
    standing=text,
    memory=flag,
    row=or_null(whole),
    part=flag,
)
RULE = fields(
    head=atom,
    body=list_of(condition),
    says=text,
    exception=text,
    standing=text,
    memory=flag,
    sources=TEXTS,
)
LABEL = fields(
    product=text,
    text=text,
    lines=list_of(fields(place=whole, start=whole, end=whole, printed=text)),
    notes=list_of(fields(start=whole, end=whole, why=text)),
)
PROOF = fields(
    cases=list_of(fields(first=whole, last=whole, weights=map_of(FIGURE))),
    line=whole,
    inside=map_of(FIGURE),
    border=map_of(FIGURE),
)
LIMIT = fields(shares=map_of(FIGURE), low=or_null(FIGURE), high=or_null(FIGURE))
BOUND = fields(
    atom=atom,
    without=list_of(one_of("order", "stated", "whole")),
    limits=map_of(LIMIT),
    low=or_null(PROOF),
    high=or_null(PROOF),
)
FOLDING = fields(
    verdict=text,
    contested=TEXTS,
    washes=list_of(term),
    films=list_of(term),
    rows=list_of(whole),
)
TRACE = fields(
    format=one_of("abluent-trace/3"),
    base=fields(name=text, digest=text),
    question=text,
    canonical=text,
    verdict=fields(answers=list_of(map_of(anything))),
    cautions=TEXTS,
    goals=list_of(GOAL),
    program=fields(
        standings=TEXTS, rules=map_of(RULE), predicates=map_of(row(text, text))
    ),
    facts=list_of(fields(**ENTRY)),
    supposed=fields(added=list_of(atom), removed=list_of(atom)),
    labels=list_of(LABEL),
    bounds=list_of(BOUND),
    sources=map_of(text),
    terms=map_of(TEXTS),
    nodes=map_of(node, NAME),
    names=map_of(text),
    digest=pattern("[0-9a-f]{64}"),
    foldings=fields(
        alone=map_of(text), held=map_of(TEXTS), said=list_of(FOLDING), whole=TEXTS
    ),
)
