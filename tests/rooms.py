"""The packages of the project, their modules, and who imports whom."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from importlib.resources import files
from pathlib import Path

LAYERS = ("grammar", "engine", "shell")


@cache
def modules() -> Mapping[str, Path]:
    """Every module and package, by its name without `abluent`."""
    return dict(_found())


def _found() -> Iterator[tuple[str, Path]]:
    for layer in LAYERS:
        folder = Path(str(files(f"abluent.{layer}")))
        for path in sorted(folder.rglob("*.py")):
            parts = [layer, *path.relative_to(folder).with_suffix("").parts]
            yield ".".join(each for each in parts if each != "__init__"), path


def is_package(module: str) -> bool:
    """Whether it is a folder and no file."""
    return modules()[module].name == "__init__.py"


def package(module: str) -> str:
    """The package that a module belongs to; of a package, itself."""
    return module if is_package(module) else module.rpartition(".")[0]


def is_within(module: str, name: str) -> bool:
    """Whether a module stands in a package, or in a package within it."""
    return f"{package(module)}.".startswith(f"{name}.")


def leaf(module: str) -> str:
    """The name of a module in its package."""
    return module.rpartition(".")[2]


def inside(name: str) -> list[str]:
    """The modules of a package, those of packages in it left out."""
    return [m for m in modules() if package(m) == name and not is_package(m)]


def doors(name: str) -> tuple[str, ...]:
    """The modules of a package that it lets others import."""
    return tuple(getattr(import_module(f"abluent.{name}"), "DOORS", ()))


@cache
def imported(module: str) -> frozenset[str]:
    """What a module imports of the project, wherever in the file it does.

    A package counts where something is asked of the package itself.
    """
    tree = ast.parse(modules()[module].read_text("utf-8"))
    return frozenset(name for node in ast.walk(tree) for name in _named(node))


def _named(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Import):
        names = [each.name for each in node.names]
    elif isinstance(node, ast.ImportFrom):
        assert not node.level, "imports are written out"
        names = [f"{node.module}.{each.name}" for each in node.names]
        names = [n if _known(n) else str(node.module) for n in names]
    else:
        return
    yield from (n.removeprefix("abluent.") for n in names if _known(n))


def _known(name: str) -> bool:
    return name.startswith("abluent.") and name.removeprefix("abluent.") in modules()


def missing(module: str) -> set[str]:
    """What a module imports of the project and is not there, by its full name."""
    tree = ast.parse(modules()[module].read_text("utf-8"))
    froms = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    names = {str(node.module) for node in froms}
    ours = {name for name in names if name.partition(".")[0] == "abluent"}
    return {name for name in ours - {"abluent", "abluent.ontology"} if not _known(name)}


def circles(graph: Mapping[str, frozenset[str]]) -> list[list[str]]:
    """The sets of more than one node that all lead to each other."""
    reached = {node: _reached(node, graph) for node in graph}
    rings = {
        frozenset(other for other in reached[node] if node in reached.get(other, ()))
        for node in graph
    }
    return sorted(sorted(ring) for ring in rings if len(ring) > 1)


def _reached(start: str, graph: Mapping[str, frozenset[str]]) -> set[str]:
    found: set[str] = set()
    pending = list(graph.get(start, ()))
    while pending:
        node = pending.pop()
        if node not in found:
            found.add(node)
            pending += graph.get(node, ())
    return found


def reached_from(roots: set[str]) -> set[str]:
    """Every module that some modules lead to, the packages on the way too."""
    graph = {module: imported(module) for module in modules()}
    found = roots.union(*(_reached(root, graph) for root in roots))
    return found | {package(module) for module in found}
