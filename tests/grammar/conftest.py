"""The language is tried with some conditions handed in, as a base hands in its own."""

from collections.abc import Iterator

import pytest
from abluent.grammar.query.words import also
from query_trees import CONDITIONS


@pytest.fixture(scope="module", autouse=True)
def conditions() -> Iterator[None]:
    """Read the phrases of `query_trees.CONDITIONS` as conditions."""
    with also(CONDITIONS):
        yield
