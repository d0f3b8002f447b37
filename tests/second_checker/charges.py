"""What the charged ingredients of a product come to, in milliequivalents."""

from fractions import Fraction
from typing import NamedTuple

from .levels import Form, Place
from .values import Value, figure, want
from .world import Entry, World, is_a, told

HYDROGEN = Fraction("1.008")


class Gram(NamedTuple):
    """What a gram brings, at least and at most, None being unknown."""

    least: Fraction
    most: Fraction | None


def signs_of(world: World, where: str) -> dict[Value, Fraction]:
    """The classes that count in the balance, each with its sign."""
    found: dict[Value, Fraction] = {}
    for entry in told(world, "balanceSign"):
        want(entry.atom[1] not in found, where, "a class has two signs")
        found[entry.atom[1]] = figure(entry.atom[2], where)
        want(abs(found[entry.atom[1]]) == 1, where, "a sign is neither 1 nor -1")
    return found


def only(
    world: World, predicate: str, ingredient: Value, where: str
) -> Fraction | None:
    """The one figure that is told of an ingredient, if any."""
    found = {figure(e.atom[2], where) for e in told(world, predicate, ingredient)}
    want(len(found) < 2, where, f"{predicate} is told twice of {ingredient}")
    return next(iter(found), None)


def gram_of(world: World, ingredient: Value, sign: Fraction, where: str) -> Gram:
    """What a gram of an ingredient brings to its side of the balance."""
    charge = only(world, "ionCharge", ingredient, where)
    salt = only(world, "saltMass", ingredient, where)
    ion = only(world, "ionMass", ingredient, where)
    if charge is None or (salt is None and ion is None):
        return Gram(Fraction(0), None)
    want(charge * sign < 0, where, f"{ingredient} is charged like its side")
    size = abs(charge)
    if salt is None:
        assert ion is not None
        want(ion > HYDROGEN * size, where, f"{ingredient} has no mass")
        return Gram(Fraction(0), 1000 * size / (ion - HYDROGEN * size))
    want(salt > 0, where, f"{ingredient} has no mass")
    most = 1000 * size / salt
    in_part = [entry.atom[1] for entry in told(world, "chargedInPart")]
    partly = any(is_a(world, ingredient, kind) for kind in in_part)
    return Gram(Fraction(0) if partly else most, most)


def excess(
    world: World, places: list[Place], sign: int, where: str
) -> tuple[Form | None, list[Entry]]:
    """The form of the excess at its most or least, and the facts that it rests on.

    There is no form if what some gram brings is unknown.
    """
    form: Form = {}
    used: list[Entry] = []
    known = True
    for place in places:
        for kind, side in signs_of(world, where).items():
            if place.ingredient is None or not is_a(world, place.ingredient, kind):
                continue
            gram = gram_of(world, place.ingredient, side, where)
            used += charges_of(world, place.ingredient)
            brings = gram.most if side == sign else gram.least
            if side != sign and not place.counted:
                brings = Fraction(0)
            known = known and brings is not None
            form[place.name] = form.get(place.name, Fraction(0)) + side * (brings or 0)
    return (form if known else None), used


def charges_of(world: World, ingredient: Value) -> list[Entry]:
    """The told charges and masses of an ingredient."""
    found = []
    for predicate in ("ionCharge", "saltMass", "ionMass", "hydrophobicModel"):
        found += told(world, predicate, ingredient)
    return found
