"""The forms that a thing is written in: one list for `--format`, `--to` and the hints.

A form that takes some doing is a module of a package of such: `FORM` says what it is
called and how its files end, `written` makes the text. A further form is a further
file in that package, and nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from itertools import groupby
from pkgutil import iter_modules
from types import ModuleType
from typing import NamedTuple

from abluent.engine.faults import CommandError, Problem


class Form(NamedTuple):
    """A form that a thing is written in.

    `endings` are those of its files, the usual one first; `purpose` completes the
    sentence "it ends in .md …".
    """

    name: str
    endings: tuple[str, ...] = ()
    purpose: str = ""


class Forms(NamedTuple):
    """All forms of one kind of thing, such as `a trace`."""

    what: str
    forms: tuple[Form, ...]

    @property
    def names(self) -> list[str]:
        """Return what `--format` takes."""
        return [form.name for form in self.forms]

    def find(self, word: str) -> Form:
        """Return the form of a name, or of the ending of a file.

        Raises:
            CommandError: there is no such form; the hint lists those there are.
        """
        folded = word.casefold()
        for form in self.forms:
            if folded == form.name or folded in form.endings:
                return form
        what = f'"{word}" is no form of {self.what}'
        raise CommandError(Problem(what, hint=self.hint))

    @property
    def hint(self) -> str:
        """Return how a file is to end, and what for."""
        with_files = [form for form in self.forms if form.endings]
        by_purpose = sorted(with_files, key=lambda form: form.purpose.casefold())
        told = [
            " or ".join(form.endings[0] for form in forms) + (purpose and f" {purpose}")
            for purpose, forms in groupby(by_purpose, lambda form: form.purpose)
        ]
        return f"{self.what} ends in {', '.join(told)}"


def forms_in(package: str, what: str) -> Forms:
    """Return the forms that the modules of a package write."""
    return Forms(what, tuple(each.FORM for each in _writers(package).values()))


def writer_of(form: Form, package: str) -> ModuleType:
    """Return the module of a package that writes a form."""
    return _writers(package)[form.name]


def _writers(package: str) -> Mapping[str, ModuleType]:
    folder = import_module(package)
    names = sorted(each.name for each in iter_modules(folder.__path__))
    found = [import_module(f"{package}.{name}") for name in names]
    return {each.FORM.name: each for each in found}
