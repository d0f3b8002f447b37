"""What the ingredients rest on, matter by matter: the table of the README."""

from pathlib import Path

from abluent.engine.base.matters import Share, shares_of
from abluent.engine.base.store import Base

README = Path(__file__).parents[2] / "ontology" / "README.md"
AT_MOST = {
    "kind": 0.25,
    "charge": 0.25,
    "water solubility and volatility": 0.60,
}
"""The shares of ingredients of which a matter may be recalled alone."""


def row(share: Share) -> str:
    """A line of the table."""
    recalled = f"{share.recalled} ({100 * share.recalled / share.told:.1f} %)"
    works = "; ".join(f"{number} {work}" for work, number in share.works)
    return f"| {share.matter} | {share.told} | {recalled} | {works} |"


def test_the_table_of_the_readme(base: Base) -> None:
    """It is what the audit prints."""
    text = README.read_text(encoding="utf-8")
    table = text.split("<!-- rests -->\n")[1].split("<!-- end -->")[0]
    assert table.splitlines()[2:] == [row(share) for share in shares_of(base)]


def test_memory_alone_is_kept_low(base: Base) -> None:
    """Kind and charge of one ingredient in four at most, solubility of six in ten."""
    shares = {share.matter: share for share in shares_of(base)}
    wrong = {
        matter: shares[matter].recalled / shares[matter].told
        for matter, most in AT_MOST.items()
        if shares[matter].recalled > most * shares[matter].told
    }
    assert wrong == {}
    assert shares["kind"].told > 3000
