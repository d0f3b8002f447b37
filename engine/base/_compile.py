"""The base as plain data: what a start needs first, and the rest by subject.

Nested tuples, lists and dictionaries of text and whole numbers, so that the result
can be kept on disk by `marshal` and be ready in a few thousandths of a second.
What is known of a subject stays packed until somebody asks about it.
"""

from __future__ import annotations

import marshal
from collections.abc import Iterable
from fractions import Fraction
from itertools import accumulate
from typing import Any, TypeAlias

from abluent.engine.base import _parse
from abluent.engine.base._check import Checker, roles_of
from abluent.engine.base._grounds import WORKED_OUT, Ground, Matters, grounded
from abluent.engine.base._parse import Parsed, Part
from abluent.engine.base._problems import BaseError, BaseProblem
from abluent.engine.base.files import BaseFile
from abluent.engine.base.fold import fold

Plain: TypeAlias = dict[str, Any]


def compile_base(files: Iterable[BaseFile]) -> Plain:
    """Read, check and pack the files.

    Raises:
        BaseError: something is wrong in them; it holds every problem.
    """
    parsed = [_parsed(file) for file in files]
    parts = _parse.by_symbol(parsed)
    checker = Checker(parsed, parts)
    problems = checker.problems()
    phrases = _phrases(parts, problems)
    if problems:
        raise BaseError(problems)
    _carry_over(parts)
    headers = {each.file: each.header for each in parsed}
    parents, types = _linked(parts, "subclass"), _linked(parts, "type")
    matters = Matters(parts)
    records = {s: _pack(each, headers, matters) for s, each in parts.items()}
    starts = accumulate(map(len, records.values()), initial=0)
    names = _names(parts, checker)
    return {
        # One run of bytes is read from disk sooner than thousands.
        "records": b"".join(records.values()),
        "starts": dict(zip(records, starts, strict=False)),
        "called": {name: symbol for name, (symbol, _) in names.items()},
        "names": marshal.dumps(names),
        "phrases": phrases,
        "labels": {s: _label(s, each) for s, each in parts.items()},
        "parents": parents,
        "types": types,
        "members": _members(parents, types),
        "definitions": _definitions(parts),
        "sentences": _texts(parts, "sentence"),
        "plurals": _texts(parts, "plural"),
        "roles": _roles(parts),
    }


def _parsed(file: BaseFile) -> Parsed:
    try:
        text = file.text()
    except (OSError, UnicodeDecodeError) as error:
        fix = "Name a Turtle file in UTF-8 that can be opened."
        problem = BaseProblem(file.name, 0, "", f"cannot be read: {error}", fix)
        raise BaseError([problem]) from error
    return _parse.parse(file.name, text)


def _carry_over(parts: dict[str, list[Part]]) -> None:
    """Let what says a thing in an older way say it in the present one too.

    A value of an older property says what it comes to by properties that are
    `carriedAs` others: each part that has the value gets these.
    """
    carried = {symbol: new[0] for symbol, new in _linked(parts, "carriedAs").items()}
    meant: dict[str, tuple[list[tuple[str, str]], list[str]]] = {}
    for symbol, each in parts.items():
        links = [(carried[k], v) for p in each for k, v in p.links if k in carried]
        truths = [carried[name] for p in each for name in p.truths if name in carried]
        if links or truths:
            meant[symbol] = links, truths
    for each in parts.values():
        for part in each:
            for value in [v for _, v in part.links if v in meant]:
                links, truths = meant[value]
                part.links += [link for link in links if link not in part.links]
                part.truths += [name for name in truths if name not in part.truths]


def _pack(parts: list[Part], headers: dict[str, Part], matters: Matters) -> bytes:
    told = sorted(parts, key=lambda part: _way(headers[part.file]))
    wholes = [Ground(p.file, *_basis(p, headers[p.file])) for p in told]
    worked = [WORKED_OUT in headers[part.file].truths for part in told]
    whole_of = {part.file: whole for part, whole in zip(told, wholes, strict=True)}
    rows = [
        (
            part.file,
            whole_of[part.file][1:],
            part.links,
            part.texts,
            [(name, n.numerator, n.denominator) for name, n in part.numbers],
            part.truths,
            part.definitions,
            [(*key, *g) for key, g in own.items() if g != whole_of[part.file]],
        )
        for part, own in grounded(told, wholes, worked, matters)
    ]
    return marshal.dumps((parts[0].space, rows))


def _way(header: Part) -> Fraction:
    """Where a file stands: what is told first, then what was worked out, by way."""
    if WORKED_OUT not in header.truths:
        return Fraction(0)
    return next((n for name, n in header.numbers if name == "place"), Fraction(1))


def _basis(part: Part, header: Part) -> tuple[str, tuple[str, ...], bool]:
    stated = part if part.linked("standing") else header
    standing = next(iter(stated.linked("standing")), "")
    sources = part.linked("source") or header.linked("source")
    return standing, tuple(sources), "fromMemory" in [*part.truths, *stated.truths]


def _names(
    parts: dict[str, list[Part]], checker: Checker
) -> dict[str, tuple[str, str]]:
    names: dict[str, tuple[str, str]] = {}
    for symbol, each in parts.items():
        for part in each:
            if part.space != "ing":
                continue
            for key, text in part.texts:
                if key == "inci":
                    names[fold(text)] = (symbol, "listed")
                elif key in checker.name_properties:
                    names.setdefault(fold(text), (symbol, "synonym"))
    return names


def _phrases(
    parts: dict[str, list[Part]], problems: list[BaseProblem]
) -> dict[str, list[str]]:
    """What people call classes and values; only values may share a phrase."""
    phrases: dict[str, list[str]] = {}
    classes: dict[str, Part] = {}
    for symbol, each in parts.items():
        for part in each:
            if part.space != "abl" or "Property" in part.roles:
                continue
            is_class = any("Class" in other.roles for other in each)
            for key, text in part.texts:
                if key not in {"label", "plural", "alias"}:
                    continue
                listed = phrases.setdefault(fold(text), [])
                if symbol not in listed:
                    listed.append(symbol)
                owner = classes.setdefault(fold(text), part) if is_class else part
                if owner.symbol != symbol:
                    problems.append(_shared_phrase(part, owner, text))
    return phrases


def _shared_phrase(part: Part, owner: Part, text: str) -> BaseProblem:
    return BaseProblem(
        part.file,
        0,
        f"abl:{part.symbol}",
        f"the phrase `{text}` means `abl:{owner.symbol}` in {owner.file} too",
        "Leave it to one class, or make both more exact.",
    )


def _label(symbol: str, parts: list[Part]) -> str:
    for name in ("inci", "label", "citation", "statement"):
        for part in parts:
            for key, text in part.texts:
                if key == name:
                    return text
    return symbol


def _linked(parts: dict[str, list[Part]], name: str) -> dict[str, list[str]]:
    rows = {
        s: [v for part in each for v in part.linked(name)] for s, each in parts.items()
    }
    return {symbol: values for symbol, values in rows.items() if values}


def _members(
    parents: dict[str, list[str]], types: dict[str, list[str]]
) -> dict[str, list[str]]:
    """Everything listed as of a class or of one below it, for every class."""
    found: dict[str, list[str]] = {}
    for symbol in sorted(types):
        reached = dict.fromkeys(types[symbol])
        waiting = list(reached)
        for kind in waiting:
            new = [up for up in parents.get(kind, ()) if up not in reached]
            reached |= dict.fromkeys(new)
            waiting += new
        for kind in reached:
            found.setdefault(kind, []).append(symbol)
    return found


def _texts(parts: dict[str, list[Part]], name: str) -> dict[str, str]:
    return {
        symbol: text
        for symbol, each in parts.items()
        for part in each
        for key, text in part.texts
        if key == name
    }


def _roles(parts: dict[str, list[Part]]) -> dict[str, list[str]]:
    """The terms that play each role."""
    found: dict[str, list[str]] = {}
    for symbol, each in parts.items():
        for name in dict.fromkeys(r for part in each for r in roles_of(part)):
            found.setdefault(name, []).append(symbol)
    return found


def _definitions(parts: dict[str, list[Part]]) -> list[tuple[str, str, str, Any]]:
    return [
        (symbol, *definition)
        for symbol, each in parts.items()
        for part in each
        for definition in part.definitions
    ]
