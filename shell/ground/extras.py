"""Libraries that only some outputs need, and what to do where one is missing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from abluent.engine.faults import CommandError, Problem, installed_with


@contextmanager
def needing(what: str, extra: str = "export") -> Iterator[None]:
    """Turn a library that is missing into an error that names the cure.

    Args:
        what: what cannot be made without it, such as `a picture`.
        extra: the name of the extra that brings it.

    Raises:
        CommandError: a library that `what` needs is not installed.
    """
    try:
        yield
    except ModuleNotFoundError as error:
        if (error.name or "").startswith("abluent"):
            raise
        raise CommandError(
            Problem(
                f'{what} needs the library "{error.name}", which is not installed',
                hint=installed_with(extra),
            )
        ) from error
