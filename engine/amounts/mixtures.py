"""HLB and critical micelle concentration of surfactants and of their mixtures.

Pure functions on numbers; what is known of groups and series comes from the base
(`group_numbers`, `homologous_series`). HLB has no unit. Concentrations are in mmol/L,
fractions of a mixture are mole fractions unless a docstring says per cent by weight.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import exp, log

from abluent.engine.base.store import Base

# Molar masses in g/mol, from the standard atomic weights of IUPAC.
OXYETHYLENE = 44.053
_TRIMETHYLSILYL_ENDS = 162.38
_DIMETHYLSILOXANE = 74.154
# A methylsiloxane unit with a propyl bridge and the end of its chain, -O- and -H.
_POLYETHER_CARRIER = 118.21


# -- HLB ------------------------------------------------------------------------


def group_numbers(base: Base) -> dict[str, float]:
    """What each structural group adds to the HLB after Davies, by its symbol."""
    found = {s: base.record(s).number("groupNumber") for s in _all(base, "Group")}
    return {s: float(number) for s, number in found.items() if number is not None}


def _all(base: Base, what: str) -> list[str]:
    kinds = {"Group": "StructuralGroup", "Series": "HomologousSeries"}
    return base.instances(kinds[what])


def davies_hlb(groups: Mapping[str, float], numbers: Mapping[str, float]) -> float:
    """HLB from structure: 7 and the number of every group.

    It misleads for long oxyethylene chains, which it holds for far too fond of water
    (Guo 2006, J. Colloid Interface Sci. 298:441).

    Args:
        groups: how often each group stands in the molecule; chain carbons with their
            hydrogens are groups too.
        numbers: what each adds, as from `group_numbers`.

    Raises:
        KeyError: a group has no number.

    Source: Davies 1957, Proc. 2nd Int. Congr. Surface Activity 1:426-438.
    """
    return 7 + sum(count * numbers[group] for group, count in groups.items())


def ethoxylate_hlb(oxyethylenes: float, molar_mass: float) -> float:
    """HLB of an ethoxylated alcohol: a fifth of its per cent by weight of oxyethylene.

    Args:
        oxyethylenes: the oxyethylene units of a molecule, on average.
        molar_mass: that of the whole molecule, in g/mol.

    Source: Griffin 1954, J. Soc. Cosmet. Chem. 5:249-256.
    """
    return 100 * oxyethylenes * OXYETHYLENE / molar_mass / 5


def ester_hlb(saponification: float, acid: float) -> float:
    """HLB of a fatty acid ester of a polyol, `20 (1 - S / A)`.

    Args:
        saponification: S, the saponification number of the ester, in mg KOH/g.
        acid: A, the acid number of the fatty acid, in mg KOH/g.

    Source: Griffin 1954, J. Soc. Cosmet. Chem. 5:249-256.
    """
    return 20 * (1 - saponification / acid)


def silicone_polyether_hlb(
    dimethylsiloxanes: float, polyethers: float, oxyethylenes: float
) -> float:
    """HLB of a silicone polyether: a fifth of its per cent by weight of oxyethylene.

    The molecule is taken as a trimethylsilyl-ended chain of `dimethylsiloxanes` and
    of `polyethers` methylsiloxane units, each with a propyl bridge to a chain of
    `oxyethylenes` that ends in a hydroxyl.

    Source: Griffin's form, as used by Yahagi 1992, J. Soc. Cosmet. Chem. 43:275-284,
    table II.
    """
    ether = polyethers * oxyethylenes * OXYETHYLENE
    carrier = polyethers * _POLYETHER_CARRIER
    chain = _TRIMETHYLSILYL_ENDS + dimethylsiloxanes * _DIMETHYLSILOXANE
    return 100 * ether / (chain + carrier + ether) / 5


def blend_hlb(parts: Iterable[tuple[float, float]]) -> float:
    """HLB of a blend: the mean by weight.

    Args:
        parts: weight and HLB of each emulsifier; the weights in any one unit.

    Raises:
        ZeroDivisionError: the weights add up to nothing.

    Source: Griffin 1954, J. Soc. Cosmet. Chem. 5:249-256.
    """
    pairs = list(parts)
    return sum(weight * hlb for weight, hlb in pairs) / sum(w for w, _ in pairs)


def percent_for_hlb(target: float, first: float, second: float) -> float:
    """The per cent by weight of the first of two emulsifiers that gives a blend an HLB.

    Below 0 or above 100 it tells that no blend of the two has this HLB.

    Args:
        target: the HLB wanted.
        first, second: those of the two.

    Raises:
        ZeroDivisionError: both have the same HLB.

    Source: Griffin 1954, J. Soc. Cosmet. Chem. 5:249-256, solved for the share.
    """
    return 100 * (target - second) / (first - second)


# -- critical micelle concentration ------------------------------------------------


@dataclass(frozen=True, slots=True)
class Series:
    """Surfactants of one head: `log10(CMC in mol/L) = intercept - slope * carbons`.

    `temperature` is in degrees Celsius.
    """

    intercept: float
    slope: float
    temperature: float


def homologous_series(base: Base) -> dict[str, Series]:
    """The series whose constants the base holds, by symbol."""
    found = {}
    for symbol in _all(base, "Series"):
        record = base.record(symbol)
        names = ("klevensIntercept", "klevensSlope", "temperature")
        numbers = [record.number(name) for name in names]
        found[symbol] = Series(*(float(n) for n in numbers if n is not None))
    return found


def series_cmc(carbons: int, series: Series) -> float:
    """The critical micelle concentration in mmol/L that a series predicts.

    The constants are published to two figures; rounding in the slope alone moves the
    result by 15 % at twelve carbons.

    Args:
        carbons: those of the chain; the acid carbon counts for carboxylates.
        series: the constants of its head.

    Source: the constants of Klevens, in Myers, Surfactant Science and Technology,
    table 4.5.
    """
    return float(1000 * 10 ** (series.intercept - series.slope * carbons))


def ideal_cmc(parts: Iterable[tuple[float, float]]) -> float:
    """The critical micelle concentration of a mixture that mixes ideally, in mmol/L.

    Args:
        parts: mole fraction and critical micelle concentration of each surfactant.

    Source: the equation of Clint, as in BMC Chem. 5:89, table 4.
    """
    return 1 / sum(fraction / cmc for fraction, cmc in parts)


@dataclass(frozen=True, slots=True)
class MixedMicelle:
    """What a mixture of two surfactants forms at its critical micelle concentration.

    Args:
        cmc: the concentration of both together, in mmol/L.
        first: the mole fraction of the first in the micelle.
    """

    cmc: float
    first: float


def regular_mixture(
    fraction: float, first: float, second: float, beta: float
) -> MixedMicelle:
    """The micelles of two surfactants that attract or repel one another.

    With the activity coefficients `f1 = exp(beta (1-x)^2)` and `f2 = exp(beta x^2)`,
    the fraction `x` of the first in the micelle makes `x f1 C1 / a` equal to
    `(1-x) f2 C2 / (1-a)`, and either is the concentration. The logarithm of their
    ratio rises from minus to plus infinity, without turning while `beta < 2`; so the
    one `x` is found by halving an interval that holds it.

    Args:
        fraction: the mole fraction `a` of the first among the two surfactants.
        first, second: `C1` and `C2`, what each has alone, in mmol/L.
        beta: the interaction, in units of RT; negative where they attract.

    Raises:
        ValueError: the fraction is not between 0 and 1, or beta is 2 or more, where
            two sorts of micelle may form.

    Source: the equations of Rubingh, as in BMC Chem. 5:89, table 4.
    """
    if not 0 < fraction < 1:
        raise ValueError(f"a mole fraction of {fraction} does not make a mixture")
    if beta >= 2:
        raise ValueError(f"at beta {beta} the micelles may be of two sorts; below 2")

    def first_side(x: float) -> float:
        return log(x * first / fraction) + beta * (1 - x) ** 2

    def second_side(x: float) -> float:
        return log((1 - x) * second / (1 - fraction)) + beta * x**2

    low, high = 0.0, 1.0
    while True:
        middle = (low + high) / 2
        if middle in {low, high}:
            break
        if first_side(middle) < second_side(middle):
            low = middle
        else:
            high = middle
    # The side with the greater share is the one that rounding hurts less.
    side = first_side if middle > 0.5 else second_side
    return MixedMicelle(exp(side(middle)), middle)
