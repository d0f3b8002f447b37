"""What a structure shows: mass, charge at pH 5 to 6, chains, and the kind of thing.

Which groups carry charge and which substructures show which kind is data, in
`ontology/structures`. RDKit finds them; it is only needed to work the facts out anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from abluent.engine.base.record import Record
from abluent.engine.base.store import Base
from abluent.engine.errors import EngineError

_FATTY = 8
"""How many carbons make a chain fatty; common practice, no source."""
_NEAR = 3
"""Amines no more bonds apart than this take up one proton between them; common
practice, no source."""
_SMALL = 5
"""Molecules of fewer heavy atoms are gases and such, which no estimate is made for;
a choice of this program, no source."""
_ANIONIC_FROM = 2
"""By how many its acids must outnumber its amines for both together to be anionic;
common practice, no source."""


class StructureError(EngineError):
    """A structure that cannot be read, or a pattern that cannot be."""


class Pattern(NamedTuple):
    """What a structure must and must not have, and the kind that it then shows."""

    symbol: str
    kind: str
    shared: bool
    polyether: bool
    wanted: tuple[Any, ...]
    unwanted: tuple[Any, ...]
    least: int
    most: int
    chains: int | None


class Drawn(NamedTuple):
    """What one structure shows.

    Args:
        net: its net charge as drawn.
        mass: its molar mass as drawn, in grams in a mole.
        charge: `anionic`, `cationic`, `amphoteric`, `depends` or `none`.
        why: the groups that decide its charge, by symbol.
        chain: the carbon number of its longest chain.
        chains: how many fatty chains it has.
        ethoxylation: its units of ethylene oxide, if it is a polyether.
        kinds: each kind that it shows, with the pattern that shows it.
        shared: of these, the kinds whose pattern other kinds have too.
        water: `soluble` or `insoluble`, where the estimate leaves no doubt.
    """

    net: int
    mass: float
    charge: str
    why: tuple[str, ...]
    chain: int
    chains: int
    ethoxylation: int | None
    kinds: dict[str, str]
    shared: frozenset[str]
    water: str | None


class Structures:
    """The patterns of a base, ready to be held against structures.

    Raises:
        StructureError: a pattern cannot be read.
    """

    def __init__(self, base: Base) -> None:
        records = [base.record(s) for s in base.instances("StructureFragment")]
        self._fragments = {r.text("fragmentName"): r.text("smarts") for r in records}
        self._patterns = [
            self._pattern(base.record(s)) for s in base.instances("StructurePattern")
        ]
        self._groups = [base.record(s) for s in base.instances("ChargedGroup")]
        self._group_parts = {
            group.symbol: [self._part(each) for each in group.texts("smarts")]
            for group in self._groups
        }
        self._equation = base.record(base.instances("SolubilityEquation")[0])
        self._limit = self._equation.number("insolubleTo")
        self._unit = self._part("[OX2,#7][CH2][CH2][OX2]")

    def read(self, smiles: str) -> Drawn:
        """What a structure shows.

        Raises:
            StructureError: it cannot be read.
        """
        from rdkit import Chem  # noqa: PLC0415 - slow, and needed here alone
        from rdkit.Chem import Descriptors  # noqa: PLC0415

        molecule = Chem.MolFromSmiles(smiles)
        if molecule is None:
            message = f"`{smiles}` is no structure"
            raise StructureError(f"{message}; write it as SMILES")
        sizes = sorted(_chains(molecule), reverse=True)
        chain = sizes[0] if sizes else 0
        chains = sum(size >= _FATTY for size in sizes)
        found = [p for p in self._patterns if _fits(p, molecule, chain, chains)]
        charge, why = self._charge(molecule)
        polyether = any(pattern.polyether for pattern in found)
        return Drawn(
            Chem.GetFormalCharge(molecule),
            round(Descriptors.MolWt(molecule), 2),
            charge,
            why,
            chain,
            chains,
            len(molecule.GetSubstructMatches(self._unit)) or None
            if polyether
            else None,
            {pattern.kind: pattern.symbol for pattern in found},
            frozenset(pattern.kind for pattern in found if pattern.shared),
            self._water(molecule) if charge == "none" else None,
        )

    def _pattern(self, record: Record) -> Pattern:
        least, most = record.number("chainFrom"), record.number("chainTo")
        chains = record.number("chainsDrawn")
        return Pattern(
            record.symbol,
            record.link("showsKind") or "",
            record.truth("sharedByOthers"),
            record.truth("countsEthoxylation"),
            tuple(map(self._part, record.texts("smarts"))),
            tuple(map(self._part, record.texts("smartsNot"))),
            int(least or 0),
            int(most) if most is not None else 1000,
            None if chains is None else int(chains),
        )

    def _part(self, smarts: str) -> Any:
        from rdkit import Chem, RDLogger  # noqa: PLC0415 - see above

        RDLogger.DisableLog("rdApp.*")
        written = re.sub(r"\{(\w+)\}", lambda m: f"{self._fragments[m[1]]}", smarts)
        part = Chem.MolFromSmarts(written)
        if part is None:
            raise StructureError(f"`{smarts}` is no pattern; write it as SMARTS")
        return part

    def _water(self, molecule: Any) -> str | None:
        """The water solubility by the equation of the base, outside its doubt."""
        from rdkit.Chem import Crippen, Descriptors, rdMolDescriptors  # noqa: PLC0415

        atoms = molecule.GetAtoms()
        told = {
            "constantTerm": 1.0,
            "perLogP": Crippen.MolLogP(molecule),
            "perMass": Descriptors.MolWt(molecule),
            "perRotatableBond": rdMolDescriptors.CalcNumRotatableBonds(molecule),
            "perAromaticShare": sum(a.GetIsAromatic() for a in atoms) / len(atoms),
        }
        factors = {name: self._equation.number(name) or 0 for name in told}
        log = sum(float(factors[name]) * value for name, value in told.items())
        least, most = self._equation.number("solubleFrom"), self._limit
        if least is None or most is None or len(atoms) < _SMALL:
            return None
        return "soluble" if log >= least else "insoluble" if log <= most else None

    # -- charge ---------------------------------------------------------------

    def _charge(self, molecule: Any) -> tuple[str, tuple[str, ...]]:
        """The charge at pH 5 to 6, and the groups that decide it."""
        found = {g.symbol: self._count(g, molecule) for g in self._groups}
        groups = [g for g in self._groups if found[g.symbol]]
        why = tuple(group.symbol for group in groups)
        if any(not group.number("groupCharge") for group in groups):
            return "amphoteric", why
        acids = [g for g in groups if (g.number("groupCharge") or 0) < 0]
        bases = [g for g in groups if (g.number("groupCharge") or 0) > 0]
        if acids and bases:
            more = sum(found[g.symbol] for g in acids)
            more -= sum(found[g.symbol] for g in bases)
            return ("anionic" if more >= _ANIONIC_FROM else "amphoteric"), why
        if not groups:
            return "none", ()
        settled = any(g.text("groupStrength") == "strong" for g in groups)
        if not settled and not _drawn_as_ion(molecule):
            return "depends", why
        return ("anionic" if acids else "cationic"), why

    def _count(self, group: Record, molecule: Any) -> int:
        """How many such groups take part at once; amines side by side count once."""
        parts = self._group_parts[group.symbol]
        atoms = {m[0] for part in parts for m in molecule.GetSubstructMatches(part)}
        if group.text("groupStrength") == "weak" and group.number("groupCharge") == 1:
            return len(list(_apart(molecule, atoms)))
        return len(atoms)


def _apart(molecule: Any, atoms: Iterable[int]) -> Iterator[int]:
    from rdkit import Chem  # noqa: PLC0415 - see above

    distance = Chem.GetDistanceMatrix(molecule)
    kept: list[int] = []
    for atom in sorted(atoms):
        if all(distance[atom][each] > _NEAR for each in kept):
            kept.append(atom)
            yield atom


def _drawn_as_ion(molecule: Any) -> bool:
    """Whether some charge of it is not made up for by the atom next to it."""
    return any(
        atom.GetFormalCharge()
        and not any(
            each.GetFormalCharge() * atom.GetFormalCharge() < 0
            for each in atom.GetNeighbors()
        )
        for atom in molecule.GetAtoms()
    )


# -- chains and patterns ----------------------------------------------------------


def _chains(molecule: Any) -> Iterator[int]:
    """The carbon number of every stretch of carbons bound to each other, no ring."""
    left = {
        atom.GetIdx()
        for atom in molecule.GetAtoms()
        if atom.GetAtomicNum() == 6 and not atom.IsInRing()
    }
    while left:
        waiting, size = [left.pop()], 0
        while waiting:
            size += 1
            near = molecule.GetAtomWithIdx(waiting.pop()).GetNeighbors()
            new = {each.GetIdx() for each in near} & left
            left -= new
            waiting += new
        yield size


def _fits(pattern: Pattern, molecule: Any, chain: int, chains: int) -> bool:
    if not pattern.least <= chain <= pattern.most:
        return False
    if pattern.chains is not None and pattern.chains != chains:
        return False
    return all(map(molecule.HasSubstructMatch, pattern.wanted)) and not any(
        map(molecule.HasSubstructMatch, pattern.unwanted)
    )
