"""The rooms of the house: who may import whom, as `ARCHITECTURE.md` promises."""

from __future__ import annotations

import re

import pytest
from rooms import (
    circles,
    doors,
    imported,
    inside,
    is_package,
    is_within,
    leaf,
    missing,
    modules,
    package,
    reached_from,
)

ENGINE = [
    *("checking", "logic", "proof", "relational", "base", "reading", "deriving"),
    *("amounts", "sights"),
    *("questions", "routines", "trace", "owl", "teach", "sweep"),
]
QUESTIONS = ["world", "answers", "verbs", "sides", "about", "forms"]
SHELL = [
    *("ground", "shelf", "pages", "told", "pictures", "routine", "session", "talk"),
    *("desk", "command"),
]
ORDER = [
    *("grammar.common", "grammar.label", "grammar.name", "grammar.query"),
    *("grammar.phrase", "grammar.frames", "grammar.speech", "grammar.plain"),
    *("grammar.rules", "grammar.routine", "grammar.week", "grammar", "engine"),
    *(f"engine.{name}" for name in ENGINE[:9]),
    *(f"engine.questions.{name}" for name in QUESTIONS),
    *(f"engine.{name}" for name in ENGINE[9:]),
    *(f"shell.{name}" for name in SHELL),
    *("shell.pages.cite_forms", "shell.pages.trace_forms", "shell"),
]
"""Every package after all that it may import, across the layers and within them."""

MOST_MODULES = 26

UNREACHED = {
    "engine.amounts.mixtures": "waits for the figures of mixed micelles",
}
"""Modules and packages that no command, order or public call reaches, and why they
are here all the same."""

PACKAGES = [name for name in modules() if is_package(name)]


def test_every_package_has_its_place() -> None:
    assert sorted(ORDER) == sorted(PACKAGES)


@pytest.mark.parametrize("name", PACKAGES)
def test_imports_run_one_way(name: str) -> None:
    """No package imports one that stands after it."""
    allowed = {*ORDER[: ORDER.index(name) + 1]}
    found = {
        (module, other)
        for module in [*inside(name), name]
        for other in imported(module)
        if package(other) not in allowed
    }
    assert not found


def test_the_checker_shares_nothing() -> None:
    """A second look is worth little with the same eyes."""
    found = {package(o) for m in inside("engine.checking") for o in imported(m)}
    assert found == {"engine.checking"}


def test_what_is_imported_is_there() -> None:
    """Imports within functions count too, which no other test may come to."""
    assert {name: gone for name in modules() if (gone := missing(name))} == {}


def test_no_modules_import_each_other_in_a_circle() -> None:
    """Imports for the sake of types count too."""
    assert circles({module: imported(module) for module in modules()}) == []


@pytest.mark.parametrize("name", PACKAGES)
def test_a_package_is_entered_by_its_doors(name: str) -> None:
    """Only what it names in `DOORS` is imported from outside, and all of that is.

    Whoever needs another module of a package adds it to the `DOORS` in its
    `__init__`, or better: moves what is needed to one that stands there.
    """
    entered = {
        leaf(other)
        for module in modules()
        for other in imported(module)
        if package(other) == name != other and not is_within(module, name)
    }
    assert entered == {*doors(name)}, f"the doors of {name}"
    assert list(doors(name)) == sorted(doors(name))


def test_nothing_private_is_imported_from_outside() -> None:
    found = {
        (module, other)
        for module in modules()
        for other in imported(module)
        if leaf(other).startswith("_") and package(module) != package(other)
    }
    assert not found


@pytest.mark.parametrize("name", PACKAGES)
def test_no_folder_is_a_hall(name: str) -> None:
    assert len(inside(name)) <= MOST_MODULES


def test_every_module_is_reached() -> None:
    """From the commands, from the orders of the shell, or from a public call.

    A command names its module, and `forms_in` a package of forms, in a string.
    """
    texts = {name: path.read_text("utf-8") for name, path in modules().items()}
    roots = {name for name, text in texts.items() if "__main__" in text}
    commands = {w for t in texts.values() for w in re.findall(r'module="(\w+)"', t)}
    roots |= {"shell.__main__", *(f"shell.command.{word}" for word in commands)}
    forms = {w for t in texts.values() for w in re.findall(r'"abluent\.(.*_forms)"', t)}
    roots |= {module for name in forms for module in inside(name)}
    found = {name for name in modules() if not is_package(name)} - reached_from(roots)
    waiting = {w for w in UNREACHED for name in found if f"{name}.".startswith(f"{w}.")}
    assert {n for n in found if not {n, package(n)} & UNREACHED.keys()} == set()
    assert waiting == set(UNREACHED), "some of them are reached by now"
