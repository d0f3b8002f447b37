"""Roles: which term of the base plays which part, and what is refused."""

from pathlib import Path

import pytest
import rdflib
from abluent.engine.base.roles import MANY, VERDICTS, Role, RoleError
from abluent.engine.base.store import Base, BaseError
from rdflib.collection import Collection
from rdflib.namespace import SH

ONTOLOGY = Path(__file__).parents[3] / "ontology"
SHAPE = rdflib.Namespace("https://abluent.example/shape/")
BASE = Base.load()
PREFIX = "@prefix abl: <https://abluent.example/ns#> .\n"


def laid_over(tmp_path: Path, text: str) -> Base:
    """The shipped base with a text laid over it."""
    file = tmp_path / "more.ttl"
    file.write_text(PREFIX + text, encoding="utf-8")
    return Base.load([file], cache_folder=tmp_path)


def test_every_role_is_played() -> None:
    """The shipped base has one term for each role that one term plays."""
    played = {role: len(BASE.terms(role)) for role in Role}
    assert [role for role in Role if role not in MANY and played[role] != 1] == []
    assert all(played.values())


def test_the_verdicts_are_those_of_the_base() -> None:
    """Each verdict of the vocabulary plays one of the roles of verdicts."""
    assert sorted(map(BASE.term, VERDICTS)) == BASE.instances("Verdict")


def test_the_shape_knows_the_roles_of_the_code() -> None:
    """The shape for authors allows exactly the roles that the code asks for."""
    shapes = rdflib.Graph().parse(ONTOLOGY / "shapes" / "words.ttl")
    (allowed,) = shapes.objects(
        shapes.value(SHAPE["role-known"], SH.property), SH["in"]
    )
    assert [str(each) for each in Collection(shapes, allowed)] == list(map(str, Role))


@pytest.mark.slow
def test_an_unknown_role_is_refused(tmp_path: Path) -> None:
    """A slip in the name of a role is told at load, with the role that was meant."""
    with pytest.raises(BaseError) as caught:
        laid_over(tmp_path, 'abl:Wax abl:role "filn" .')
    (problem,) = caught.value.problems
    assert problem.message == "nothing asks for the role `filn`"
    assert problem.fix == "Did you mean `film`?"


@pytest.mark.slow
def test_a_role_has_one_term(tmp_path: Path) -> None:
    """Two terms that play one role are told at load, with both named."""
    with pytest.raises(BaseError) as caught:
        laid_over(tmp_path, 'abl:Wax abl:role "film" .')
    (problem,) = caught.value.problems
    assert {"abl:Wax", "abl:FilmFormer"} & {problem.subject}
    assert "plays the role `film` too" in problem.message


@pytest.mark.slow
def test_some_roles_have_many_terms(tmp_path: Path) -> None:
    """What a label may count twice is of as many classes as the base says."""
    base = laid_over(tmp_path, 'abl:Wax abl:role "inside others" .')
    assert sorted(base.terms(Role.INSIDE_OTHERS)) == ["FragranceAllergen", "Wax"]


def test_a_role_that_nothing_plays(tmp_path: Path) -> None:
    """A base without it says which role is missing and how to give it."""
    (tmp_path / "empty").mkdir()
    base = Base.load(cache_folder=tmp_path, instead=tmp_path / "empty")
    with pytest.raises(RoleError, match='Add `abl:role "film"`'):
        base.term(Role.FILM)
    assert base.terms(Role.INSIDE_OTHERS) == ()
