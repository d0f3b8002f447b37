"""The one canonical layout of a Turtle file.

Every file of the base is kept in this order, so that a difference between two
versions shows facts and not layout.  ``python -m abluent.engine.base.turtle FILE...``
rewrites files in place.

The layout: the comment block at the top of the file, the prefixes that are used,
the ontology header, named subjects by IRI, and last subjects without a name.
Within a subject: its types, label, superclasses and comment, then the other
properties by name.  Comments further down the file are not kept: a remark on a
subject belongs in a property.
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pyoxigraph as ox

_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_RDFS = "http://www.w3.org/2000/01/rdf-schema#"
_OWL = "http://www.w3.org/2002/07/owl#"
_XSD = "http://www.w3.org/2001/XMLSchema#"
_WIDTH = 88
_FIRST = {
    _RDF + "type": 0,
    _RDFS + "label": 1,
    _RDFS + "subClassOf": 2,
    _RDFS + "subPropertyOf": 3,
    _RDFS + "comment": 4,
}
_BARE = {_XSD + "integer", _XSD + "decimal", _XSD + "boolean"}
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t"}


class TurtleError(ValueError):
    """A Turtle text that cannot be read, or not be laid out canonically."""


def canonical(text: str) -> str:
    """The same triples as ``text`` in canonical layout.

    Raises:
        TurtleError: if the text is not Turtle, or a node without a name is used
            twice, which the layout has no way to write.
    """
    import pyoxigraph as ox  # noqa: PLC0415 - slow to import, seldom needed

    parser = ox.parse(text, format=ox.RdfFormat.TURTLE)
    try:
        triples = [quad.triple for quad in parser]
    except SyntaxError as error:
        raise TurtleError(str(error)) from error
    return _Layout(triples, parser.prefixes).write(_opening_comment(text))


def rewrite(path: Path) -> bool:
    """Put the file at ``path`` into canonical layout; true if that changed it."""
    before = path.read_text(encoding="utf-8")
    after = canonical(before)
    if after != before:
        path.write_text(after, encoding="utf-8")
    return after != before


def _opening_comment(text: str) -> str:
    lines = []
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        lines.append(line + "\n")
    return "".join(lines) + ("\n" if lines else "")


class _Layout:
    """Writes one graph; holds its triples by subject and its prefixes."""

    def __init__(self, triples: Iterable[ox.Triple], prefixes: dict[str, str]) -> None:
        import pyoxigraph as ox  # noqa: PLC0415 - as above

        self._blank_type = ox.BlankNode
        self._literal_type = ox.Literal
        self._about: dict[object, dict[str, list[object]]] = defaultdict(dict)
        self._uses: dict[object, int] = defaultdict(int)
        self._prefixes = sorted(prefixes.items(), key=lambda item: -len(item[1]))
        self._used: set[str] = set()
        for triple in triples:
            row = self._about[triple.subject].setdefault(triple.predicate.value, [])
            if triple.object not in row:
                row.append(triple.object)
                self._uses[triple.object] += 1

    def write(self, opening: str) -> str:
        subjects = [s for s in self._about if not self._nested(s)]
        blocks = [self._block(s) for s in sorted(subjects, key=self._subject_order)]
        named = [b for b in blocks if not b.startswith("[]")]
        unnamed = sorted(b for b in blocks if b.startswith("[]"))
        prefixes = [
            f"@prefix {name}: <{iri}> .\n"
            for name, iri in sorted(self._prefixes)
            if name in self._used
        ]
        return opening + "".join(prefixes) + "\n" + "\n".join(named + unnamed)

    def _nested(self, node: object) -> bool:
        if not isinstance(node, self._blank_type) or not self._uses[node]:
            return False
        if self._uses[node] > 1:
            raise TurtleError("a node without a name is used twice; give it a name")
        return True

    def _subject_order(self, node: object) -> tuple[int, str]:
        types = self._about[node].get(_RDF + "type", [])
        header = any(getattr(t, "value", "") == _OWL + "Ontology" for t in types)
        if isinstance(node, self._blank_type):
            return (2, "")
        return (0 if header else 1, str(getattr(node, "value", "")))

    def _block(self, subject: object) -> str:
        blank = isinstance(subject, self._blank_type)
        head = "[]" if blank else self._term(subject, 0)
        rows = self._rows(subject, 1)
        return f"{head}\n" + " ;\n".join("  " + row for row in rows) + " .\n"

    def _rows(self, subject: object, depth: int) -> list[str]:
        about = self._about[subject]
        order = sorted(about, key=lambda p: (_FIRST.get(p, 9), self._name(p)))
        return [self._row(p, about[p], depth) for p in order]

    def _row(self, predicate: str, objects: list[object], depth: int) -> str:
        name = "a" if predicate == _RDF + "type" else self._name(predicate)
        room = _WIDTH - 2 * depth - len(name) - 3
        terms = sorted(self._term(o, depth) for o in objects)
        joined = ", ".join(terms)
        if len(terms) == 1 or "\n" in joined or len(joined) <= room:
            return f"{name} {joined}"
        pad = "\n" + "  " * (depth + 1)
        return name + pad + ("," + pad).join(terms)

    def _term(self, node: object, depth: int) -> str:
        if isinstance(node, self._literal_type):
            return self._literal(node)
        if isinstance(node, self._blank_type):
            return self._blank(node, depth)
        return self._name(str(getattr(node, "value", node)))

    def _blank(self, node: object, depth: int) -> str:
        if _RDF + "first" in self._about[node]:
            return self._enclose("(", self._members(node, depth + 1), "", ")", depth)
        return self._enclose("[", self._rows(node, depth + 1), " ;", "]", depth)

    def _enclose(
        self, start: str, parts: Sequence[str], joint: str, end: str, depth: int
    ) -> str:
        inline = f"{start} " + f"{joint} ".join(parts) + f" {end}"
        if "\n" not in inline and len(inline) + 2 * depth <= _WIDTH - 24:
            return inline
        pad = "\n" + "  " * (depth + 1)
        return start + pad + (joint + pad).join(parts) + "\n" + "  " * depth + end

    def _members(self, node: object, depth: int) -> list[str]:
        members = []
        while _RDF + "first" in self._about.get(node, {}):
            row = self._about[node]
            members.append(self._term(row[_RDF + "first"][0], depth))
            node = row[_RDF + "rest"][0]
        return members

    def _name(self, iri: str) -> str:
        if iri == _RDF + "nil":
            return "()"
        for name, start in self._prefixes:
            local = iri[len(start) :]
            if iri.startswith(start) and _is_plain(local):
                self._used.add(name)
                return f"{name}:{local}"
        return f"<{iri}>"

    def _literal(self, literal: ox.Literal) -> str:
        kind = literal.datatype.value
        if kind in _BARE:
            return literal.value
        text = "".join(_ESCAPES.get(c, c) for c in literal.value)
        quoted = f'"{text}"'
        if "\n" in literal.value:
            body = literal.value.replace("\\", "\\\\").replace('"""', '\\"""')
            quoted = f'"""{body}"""'
        if literal.language:
            return f"{quoted}@{literal.language}"
        if kind == _XSD + "string":
            return quoted
        return f"{quoted}^^{self._name(kind)}"


def _is_plain(local: str) -> bool:
    """Whether a local name needs no escaping in Turtle."""
    return all(c.isascii() and (c.isalnum() or c in "-_") for c in local) and (
        not local.startswith("-")
    )


def main(arguments: Sequence[str]) -> int:
    """Rewrite the files named; the exit code for a shell."""
    for argument in arguments:
        try:
            rewrite(Path(argument))
        except (TurtleError, OSError) as error:
            sys.stderr.write(f"{argument}: {error}\n")
            return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
