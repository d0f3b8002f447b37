"""The engine names no class of the base, and no value that is spelt like no word.

Classes of things are asked for by role (see `engine.base.roles`). What may be named is
the form in which knowledge is written: the kinds of record below.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from abluent.engine.base.store import Base

ENGINE = Path(__file__).parents[2] / "engine"
FILES = sorted(ENGINE.rglob("*.py"))

RECORDS = {
    *("Caution", "Claim", "NoteAdvice", "Saying", "Source"),
    *("ConcentrationLimit", "ContentLimit", "LabelRule", "Measurement"),
    *("Prohibition", "UseLevel"),
    *("FormedInProduct", "HomologousSeries", "StructuralGroup"),
    *("NameGroup", "NamePart", "NameShape"),
    *("ChargedGroup", "CounterIon", "SolubilityEquation"),
    *("StructureFragment", "StructurePattern"),
    "Matter",
}
"""Kinds of record: how sources, law, figures and parts are written down."""
OWN = {"Base", "Limit"}
"""What classes of Python are called, in `__all__` or where they are made."""
VALUES = (
    *("ChargeValue", "Outcome", "ProductKind"),
    *("SourceKind", "Verdict", "WaterSolubility"),
)


def texts(file: Path) -> Iterator[str]:
    """Every string of a file that is no docstring."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    told = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in told:
            if isinstance(node.value, str):
                yield node.value


@pytest.fixture(scope="module")
def forbidden() -> frozenset[str]:
    """Classes of things, and values of which the name is no plain word."""
    base = Base.load()
    classes = {symbol for symbol in base.symbols if base.is_class(symbol)}
    values = {symbol for kind in VALUES for symbol in base.instances(kind)}
    assert {"Surfactant", "FilmFormer", "Ingredient"} <= classes
    return frozenset(classes - RECORDS - OWN | {v for v in values if v != v.lower()})


@pytest.mark.slow
@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(ENGINE)))
def test_no_class_is_named(file: Path, forbidden: frozenset[str]) -> None:
    """A class may be renamed in the vocabulary without a change of code."""
    assert sorted(forbidden.intersection(texts(file))) == []
