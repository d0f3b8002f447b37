"""Water hardness, chelants and opposite charges, by weight.

Pure functions on numbers, with the unit of each in its docstring. Molar masses are in
g/mol and follow from the standard atomic weights of IUPAC.
"""

from __future__ import annotations

CALCIUM = 40.078
CALCIUM_CARBONATE = 100.087
_GRAIN = 64.79891  # mg, by definition
_US_GALLON = 3.785411784  # L, by definition


def grains_to_ppm(grains: float) -> float:
    """Grains of hardness in a US gallon as ppm (mg/L) of calcium carbonate.

    Source: the definitions of the units; Evans 2011, p. 385, prints 17.11 for one.
    """
    return grains * _GRAIN / _US_GALLON


def hardness_ppm(millimoles: float) -> float:
    """Calcium and magnesium together, in mmol/L, as ppm (mg/L) of calcium carbonate."""
    return millimoles * CALCIUM_CARBONATE


def hardness_millimoles(ppm: float) -> float:
    """Hardness in ppm (mg/L) of calcium carbonate as mmol/L of both metals."""
    return ppm / CALCIUM_CARBONATE


def chelant_millimoles(grams: float, percent: float, molar_mass: float) -> float:
    """The chelant in some grams of a product, in mmol.

    Args:
        grams: the product.
        percent: the level of the chelant, in per cent by weight.
        molar_mass: that of the chelant as weighed, its water of crystals included.
    """
    return grams * percent / 100 / molar_mass * 1000


def calcium_bound(millimoles: float) -> float:
    """The most calcium, in mg, that a chelant binds one to one, as EDTA does."""
    return millimoles * CALCIUM


def water_softened(millimoles: float, ppm: float) -> float:
    """The water, in mL, whose hardness in ppm a chelant binds one to one.

    Raises:
        ZeroDivisionError: the water has no hardness.
    """
    return millimoles / hardness_millimoles(ppm) * 1000


def opposite_mass(
    grams: float,
    molar_mass: float,
    opposite_molar_mass: float,
    charges: int = 1,
    opposite_charges: int = 1,
) -> float:
    """The grams of an ionic surfactant that carry as many charges as another's.

    Args:
        grams: the other.
        molar_mass, opposite_molar_mass: of the other and of the one sought, with
            their counter-ions.
        charges, opposite_charges: how many a molecule of each carries.

    Source: one charge to one, the principle of ISO 2271 and ISO 2871-1.
    """
    equivalents = grams / molar_mass * charges
    return equivalents * opposite_molar_mass / opposite_charges


def titrated_mass(millilitres: float, concentration: float, molar_mass: float) -> float:
    """The mg of a surfactant of one charge that a titrant of the other charge uses up.

    Soaps are not counted in full, betaines and nonionics not at all.

    Args:
        millilitres: the titrant used.
        concentration: that of the titrant, in mol/L.
        molar_mass: that of what is titrated.

    Source: two-phase titration, ISO 2271 for anionics and ISO 2871 for cationics.
    """
    return millilitres * concentration * molar_mass


def in_use_millimolar(percent: float, dilution: float, molar_mass: float) -> float:
    """The mmol/L of an ingredient in the lather.

    Args:
        percent: its level in the product, in per cent by weight.
        dilution: how many times the volume of the product the lather has.
        molar_mass: that of the ingredient.

    The product is taken to weigh 1 g/mL.
    """
    return percent * 10 / dilution / molar_mass * 1000
