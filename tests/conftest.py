"""What every test has: its module lets go of what it kept for its tests."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest


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
    if kept:
        gc.collect()
