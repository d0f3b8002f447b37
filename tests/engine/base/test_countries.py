"""Markets by the names and codes of countries, and whose law holds there."""

from __future__ import annotations

import pytest
from abluent.engine.base.countries import country, nearest
from abluent.engine.base.kinds import market
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base


@pytest.fixture(scope="module")
def base() -> Base:
    """The shipped base."""
    return Base.load()


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("EU", "eu"),
        ("France", "eu"),
        ("FR", "eu"),
        ("fra", "eu"),
        ("Deutschland", "eu"),
        ("ALLEMAGNE", "eu"),
        ("Österreich", "eu"),
        ("osterreich", "eu"),
        ("Éire", "eu"),
        ("Ελλάδα", "eu"),
        ("Norway", "eu"),
        ("UK", "uk"),
        ("gb", "uk"),
        ("U.S.", "us"),
        ("États-Unis", "us"),
        ("US-CA", "usCalifornia"),
        ("Japan", "Japan"),
        ("JP", "Japan"),
        ("日本", "Japan"),
        ("Schweiz", "Switzerland"),
        ("Suisse", "Switzerland"),
        ("Côte d'Ivoire", "Côte d'Ivoire"),
        ("392", "Japan"),
        ("", None),
        ("  ", None),
        ("Narnia", None),
        ("EU market", None),
        ("ZZ", None),
        ("|", None),
    ],
)
def test_a_market_is_a_country_by_name_or_code(
    base: Base, words: str, meant: str | None
) -> None:
    """Members of the Union are under its law; any other country by its name."""
    assert market(words, base) == meant


def test_every_market_of_the_base_is_in_the_table(base: Base) -> None:
    """By each of its names; and no country is called as something of the base is."""
    for kind in base.terms(Role.MARKET):
        for each in base.instances(kind):
            for name in (base.label(each), *base.record(each).texts("alias")):
                found = country(name)
                assert found is not None, name
                assert found.law == each
    for code in ("JP", "CH", "CA", "GE", "JO"):
        found = country(code)
        assert found is not None
        assert not found.law
        assert found.name not in base
        assert base.label(found.name) == found.name


def test_a_slip_of_spelling_is_told() -> None:
    """What is far from every name is like none."""
    assert nearest("Germny") == "Germany"
    assert nearest("Qwxz") == ""
