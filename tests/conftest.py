"""What every test has: garbage is looked for seldom, and modules let go of theirs."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest

_OBJECTS = 50_000
"""How many objects more than before may be there until Python looks for garbage."""
_ROUNDS = 4
"""So many rounds among the younger objects, of half a million each, make it worth
while to look among all of them behind a module."""


def pytest_collection_finish() -> None:
    """Look for garbage seldom, and never among what is there before the first test.

    With what Python does by itself that took a fifth of all tests.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(_OBJECTS)


@pytest.fixture(scope="module", autouse=True)
def let_go(request: pytest.FixtureRequest) -> Iterator[None]:
    """Empty the module's caches behind its last test.

    A session that proved a few verdicts takes some hundred megabytes until nobody
    holds it; one for every module that keeps one would take gigabytes.
    """
    yield
    kept = [
        each
        for each in vars(request.module).values()
        if hasattr(each, "cache_clear") and each.__module__ == request.module.__name__
    ]
    for each in kept:
        each.cache_clear()
    if kept and gc.get_count()[2] >= _ROUNDS:
        gc.collect()
