"""Questions are asked in the phrases of the base, as a session asks them."""

from collections.abc import Iterator

import pytest
from abluent.engine.base.conditions import speaking
from abluent.engine.base.store import Base


@pytest.fixture(scope="module", autouse=True)
def conditions() -> Iterator[None]:
    """Read the phrases of the shipped conditions."""
    with speaking(Base.load()):
        yield
