"""A base of another trade, put to the ordinary commands."""

from pathlib import Path

import pytest
from abluent.engine.base.roles import BY_ALL, MissingRoles
from abluent.engine.base.store import Base
from abluent.shell.command.cli import main

BARE = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix src: <https://abluent.example/source/> .

<https://abluent.example/ns/bare>
  a owl:Ontology ;
  abl:source src:convention ;
  abl:standing abl:commonPractice .
"""


def test_all_missing_roles_are_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With what plays each; nothing is asked of the base before."""
    (tmp_path / "bare.ttl").write_text(BARE, encoding="utf-8")
    assert main(["ask", "--base", str(tmp_path), "what clears everything"]) == 1
    told = capsys.readouterr().err
    assert 'abl:role "wash"' in told
    assert 'abl:role "water"' in told
    assert "The ingredient that every wash is used with" in told


def test_a_base_without_any_role_is_told_all_of_them(tmp_path: Path) -> None:
    """Every part without which no question about a wash can be answered."""
    (tmp_path / "rules").mkdir()
    base = Base.load(instead=tmp_path, cache_folder=tmp_path)
    with pytest.raises(MissingRoles) as caught:
        base.check_roles()
    assert caught.value.roles == BY_ALL
    assert all(role.about in str(caught.value) for role in BY_ALL)


def test_a_folder_that_is_not_there_is_refused(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The command is wrong, and the page that helps is named."""
    assert main(["ask", "--base", "nowhere", "what clears everything"]) == 2
    assert 'there is no folder "nowhere"' in capsys.readouterr().err


def test_what_is_known_of_hair_is_not_in_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name of the shipped base means nothing there."""
    (tmp_path / "bare.ttl").write_text(
        BARE
        + "abl:soak a abl:Kind ; abl:role 'wash' .\n"
        + "<https://abluent.example/ingredient/well> a abl:Stuff ; "
        + "abl:inci 'Well Water' ; abl:role 'water' .\n",
        encoding="utf-8",
    )
    assert main(["name", "--base", str(tmp_path), "Dimethicone"]) == 0
    assert "not known" in capsys.readouterr().out.casefold()
