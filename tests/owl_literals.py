"""What the literals of RDF stand for, as facts for the OWL 2 RL rules.

Numbers of the decimal family are exact; `xsd:float` and `xsd:double` are spaces of
their own, in which plus and minus zero differ. A datatype that is not listed here
has no facts, so nothing is concluded about it.
Source: OWL 2 Structural Specification, section 4 (datatype maps), and XML Schema 1.1
part 2.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from abluent.engine.logic.facts import Fact
from abluent.engine.logic.terms import Term, number

LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"(?:@([\w-]+)|\^\^(.+))?', re.DOTALL)
_DECIMAL = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")
_INTEGER = re.compile(r"[+-]?\d+")
_FLOAT = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?|[+-]?INF|NaN")
_BOOLEANS = {"true": "true", "1": "true", "false": "false", "0": "false"}

# The whole numbers of a datatype, from and to; `None` where there is no end.
_WHOLE: dict[str, tuple[int | None, int | None]] = {
    "xsd:integer": (None, None),
    "xsd:nonNegativeInteger": (0, None),
    "xsd:positiveInteger": (1, None),
    "xsd:nonPositiveInteger": (None, 0),
    "xsd:negativeInteger": (None, -1),
    "xsd:long": (-(2**63), 2**63 - 1),
    "xsd:int": (-(2**31), 2**31 - 1),
    "xsd:short": (-(2**15), 2**15 - 1),
    "xsd:byte": (-(2**7), 2**7 - 1),
    "xsd:unsignedLong": (0, 2**64 - 1),
    "xsd:unsignedInt": (0, 2**32 - 1),
    "xsd:unsignedShort": (0, 2**16 - 1),
    "xsd:unsignedByte": (0, 2**8 - 1),
}
_STRINGS = {"xsd:string", "rdf:PlainLiteral"}
_FLOATS = {"xsd:float", "xsd:double"}
DATATYPES = sorted({"xsd:decimal", "xsd:boolean", *_WHOLE, *_STRINGS, *_FLOATS})


def literal_facts(text: str) -> Iterator[Fact]:
    """The facts about one literal, given as `"form"`, with `@tag` or `^^datatype`."""
    found = LITERAL.fullmatch(text)
    if found is None:
        return
    form, tag, datatype = found.groups()
    yield Fact("literal", (text,))
    yield Fact("in_space", (text, "rdfs:Literal"))
    datatype = datatype or ("rdf:PlainLiteral" if tag else "xsd:string")
    if datatype not in DATATYPES:
        return
    value = _value(form, tag or "", datatype)
    if value is None:
        yield Fact("ill_typed", (text, datatype))
        return
    yield Fact("value", (text, value))
    for space in _spaces(value, tag or "", datatype):
        yield Fact("in_space", (text, space))


def _value(form: str, tag: str, datatype: str) -> Term | None:
    """The value of a form in a datatype; `None` if it has none."""
    if datatype in _STRINGS:
        return f"string {form}@{tag.lower()}"
    if datatype == "xsd:boolean":
        return f"boolean {_BOOLEANS[form]}" if form in _BOOLEANS else None
    if datatype in _FLOATS:
        return f"{datatype} {_float(form)}" if _FLOAT.fullmatch(form) else None
    if datatype == "xsd:decimal":
        return number(Fraction(form)) if _DECIMAL.fullmatch(form) else None
    if not _INTEGER.fullmatch(form) or not _is_within(int(form), datatype):
        return None
    return int(form)


def _float(form: str) -> str:
    return repr(float(form.replace("INF", "inf")))


def _is_within(value: int, datatype: str) -> bool:
    low, high = _WHOLE[datatype]
    return (low is None or low <= value) and (high is None or value <= high)


def _spaces(value: Term, tag: str, datatype: str) -> Iterator[str]:
    """The datatypes to which a value belongs."""
    if isinstance(value, int):
        yield "xsd:decimal"
        yield from (each for each in _WHOLE if _is_within(value, each))
    elif isinstance(value, Fraction):
        yield "xsd:decimal"
    elif datatype in _STRINGS:
        yield "rdf:PlainLiteral"
        if not tag:
            yield "xsd:string"
    else:
        yield datatype
