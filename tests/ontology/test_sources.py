"""Citations read as a person would write them."""

import re

from abluent.engine.base.store import Base

# Two full stops with no third, or one after a question mark, come from joining parts.
DOUBLED = re.compile(r"(?<!\.)\.\.(?!\.)|[?!]\.")


def test_no_citation_stops_twice() -> None:
    """An author's initial that ends in a full stop needs no second one."""
    base = Base.load()
    told = [base.source(symbol).text("citation") or "" for symbol in sources(base)]
    assert [text for text in told if DOUBLED.search(text)] == []


def sources(base: Base) -> list[str]:
    """Every cited work."""
    return [s for s in base.instances("Source") if base.record(s).space == "src"]
