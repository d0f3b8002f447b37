"""Imports run one way, as `ARCHITECTURE.md` promises."""

import ast
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest

PACKAGES = [
    *(
        "checking",
        "logic",
        "relational",
        "proof",
        "base",
        "reading",
        "amounts",
        "questions",
    ),
    *("routines", "trace", "teach"),
]
ORDER = ["grammar", *(f"engine.{name}" for name in PACKAGES), "shell"]
FREE = {"engine", "ontology"}  # errors and files of the user's, and data
SHARED = {("disk",), ("errors",), ("faults",)}


def imported(path: Path) -> Iterator[str]:
    """The modules of the project that a file imports, without `abluent`."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names: list[str] = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module]
        elif isinstance(node, ast.Import):
            names = [each.name for each in node.names]
        for name in names:
            if name.startswith("abluent."):
                yield name.removeprefix("abluent.")


def package(module: str) -> str:
    """The package of a module, as it is called in `ORDER`."""
    top, *rest = module.split(".")
    inner = top == "engine" and rest and tuple(rest) not in SHARED
    return f"engine.{rest[0]}" if inner else top


@pytest.mark.parametrize("name", ORDER)
def test_imports_run_one_way(name: str) -> None:
    allowed = {*ORDER[: ORDER.index(name) + 1], *FREE}
    folder = Path(str(files(f"abluent.{name}")))
    found = {
        (path.name, module)
        for path in folder.rglob("*.py")
        for module in map(package, imported(path))
        if module not in allowed
    }
    assert not found


def test_the_checker_shares_nothing() -> None:
    """A second look is worth little with the same eyes."""
    folder = Path(str(files("abluent.engine.checking")))
    found = {module for path in folder.rglob("*.py") for module in imported(path)}
    assert {package(module) for module in found} == {"engine.checking"}


def test_every_package_of_the_engine_is_listed() -> None:
    folder = Path(str(files("abluent.engine")))
    inside = {each.name for each in folder.iterdir() if (each / "__init__.py").exists()}
    assert inside == set(PACKAGES)
