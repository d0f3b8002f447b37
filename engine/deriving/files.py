"""What was worked out, as files of the base."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction

from abluent.engine.base.matters import shares_of
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.base.turtle import canonical
from abluent.engine.deriving.facts import WAYS, Deriver, Worked

_FOLDER = "ingredients/"
_PATTERNS = {"shownBy", "chargeShownBy", "readBy"}
_PREFIXES = "".join(
    f"@prefix {name}: <{iri}> .\n"
    for name, iri in (
        ("abl", "https://abluent.example/ns#"),
        ("ing", "https://abluent.example/ingredient/"),
        ("owl", "http://www.w3.org/2002/07/owl#"),
        ("rdfs", "http://www.w3.org/2000/01/rdf-schema#"),
        ("src", "https://abluent.example/source/"),
        ("stem", "https://abluent.example/stem/"),
    )
)
_ABOUT = {
    "structures": "Computed from structures",
    "spelt": "Computed from structures that a name spells",
    "solubility": "Water solubility estimated from structures",
    "names": "Read from the parts of names",
    "register": "Uses that the register of names lists",
    "kinds": "What follows from kinds",
}
_SOURCES = {
    "structures": ("structure-arithmetic",),
    "spelt": ("structure-arithmetic", "systematic-names"),
    "solubility": ("solubility-arithmetic", "delaney-2004"),
    "names": ("name-parts",),
    "register": ("eu-inventory",),
    "kinds": ("kind-traits",),
}


def derived_files(base: Base) -> dict[str, str]:
    """The text of every file of `ontology/derived`, by its path in the ontology."""
    blocks: dict[tuple[str, str], list[str]] = defaultdict(list)
    deriver = Deriver(base)
    for symbol in sorted(base.instances(base.term(Role.INGREDIENT))):
        files = [part.file for part in base.record(symbol).parts]
        home = next((file for file in files if file.startswith(_FOLDER)), None)
        if home is None:
            continue
        standing = base.record(symbol).basis.standing
        for way, worked in deriver.of(symbol).items():
            told = _block(symbol, worked, standing)
            family = home.removeprefix(_FOLDER).split("/")[0].removesuffix(".ttl")
            blocks[way, family].append(told)
    return {
        f"derived/{way}/{family}.ttl": canonical(_head(way, family) + "\n".join(each))
        for (way, family), each in sorted(blocks.items())
    }


def table_of(base: Base) -> Iterator[str]:
    """What the ingredients rest on, as the rows of a table."""
    yield "| matter | told of | from memory alone | the others |"
    yield "| --- | --- | --- | --- |"
    for share in shares_of(base):
        recalled = f"{share.recalled} ({100 * share.recalled / share.told:.1f} %)"
        works = "; ".join(f"{number} {work}" for work, number in share.works)
        yield f"| {share.matter} | {share.told} | {recalled} | {works} |"


def _head(way: str, family: str) -> str:
    sources = ", ".join(f"src:{source}" for source in _SOURCES[way])
    return (
        f"# {_ABOUT[way]}: {family}.\n"
        "# Made by `python -m abluent.engine.deriving`.\n\n"
        f"{_PREFIXES}\n<https://abluent.example/ns/derived/{way}/{family}>\n"
        f'  a owl:Ontology ;\n  rdfs:label "{_ABOUT[way]}: {family}" ;\n'
        f'  rdfs:comment "{_ABOUT[way]}." ;\n  abl:place {WAYS.index(way) + 1} ;\n'
        f"  abl:source {sources} ;\n  abl:standing abl:handbook ;\n"
        "  abl:workedOut true .\n\n"
    )


def _block(symbol: str, worked: Worked, standing: str) -> str:
    lines = list(_lines(worked))
    if worked.recalled:
        lines.append("abl:fromMemory true")
    if standing != "handbook" or worked.recalled:
        lines.append(f"abl:standing abl:{standing}")
    return f"ing:{symbol}\n  " + " ;\n  ".join(lines) + " .\n"


def _lines(worked: Worked) -> Iterator[str]:
    for name, value in worked.links:
        space = "stem" if name in _PATTERNS else "abl"
        yield f"{'a' if name == 'type' else f'abl:{name}'} {space}:{value}"
    for name, text in worked.texts:
        yield f'abl:{name} "{text}"'
    for name, number in worked.numbers:
        yield f"abl:{name} {_written(name, number)}"


def _written(name: str, number: Fraction) -> str:
    whole = number.denominator == 1 and name not in {"ethoxylation", "ionMass"}
    return str(int(number)) if whole else f"{float(number):.10g}".rstrip()
