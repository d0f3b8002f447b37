"""Rule files written anew: the former shape is converted, the present one laid out."""

from __future__ import annotations

from pathlib import Path

import abluent.ontology
import pytest
from abluent.grammar.common.errors import GrammarError
from abluent.grammar.rules.__main__ import main
from abluent.grammar.rules.anew import written_anew
from abluent.grammar.rules.former import former_blocks
from abluent.grammar.rules.parse import parse_rules

RULES = Path(next(iter(abluent.ontology.__path__))) / "rules"

FORMER = """\
# Of places that come late.

standings "law or standard" > handbook

predicate late(product, place)
  says   "place {2} of {1} is late"
  absent "place {2} of {1} is not known to be late"
end
predicate raining end

# --- the rule itself -----

rule late # it is the only one
  if     line(?p, ?n, ?i), marker(?p, ?m), ?m < ?n, ?d is ?n - ?m * -2,
         ?c is count(?j : line(?p, _, ?j), not odd(?j, _)), perhaps ?d >= [1/2, 3)
  unless unordered(?p)
  unless short(?p, ?k), ?k != min(?c, 3)
  then   late(?p, ?n), seen(?p)
  says   "{?i} is after {?m:a}, # and {so} on"
  source one, two
  standing "law or standard"
end

exception stated to late
  if     stated(?i, -1/3), open = ?i
  says   "{?i}"
  standing none
  from memory
end
# The end.
"""

PRESENT = """\
# Of places that come late.

standings "law or standard" above handbook

"place {2} of {1} is late"
  or else "place {2} of {1} is not known to be late"
  written the product late the place

unsaid
  written raining

# --- the rule itself -----

# it is the only one
"{i} is after {m:a}, # and \\{so} on"
  because the p line the n, the i
      and the p marker the m
      and the m is below the n
      and the d comes to the n - the m * -2
      and the c comes to count of (the j
              where the p line something, the j
                and nothing shows the j odd anything)
      and perhaps the d is at least [1/2, 3)
  unless  the p unordered
  unless  the p short the k
      and the k differs from least of (the c, 3)
  so      the p late the n
      and the p seen
  rule    late, standing "law or standard", source one and two

"{i}"
  because the i stated -1/3
      and open equals the i
  stops   late
  rule    stated, standing none, from memory

# The end.
"""


def test_the_former_shape_is_written_in_the_present_one() -> None:
    """Every construct, with its comments; the trees are the same."""
    assert written_anew(FORMER) == PRESENT
    former = tuple(block for _, block in former_blocks(FORMER))
    assert parse_rules(PRESENT).blocks == former


def test_what_is_written_anew_is_settled() -> None:
    """A file in the layout stays; one that is not comes to it."""
    assert written_anew(PRESENT) == PRESENT
    loose = PRESENT.replace("  because ", "\n\tbecause  ").replace("      and", "and")
    assert loose != PRESENT
    assert written_anew(loose) == PRESENT


@pytest.mark.parametrize(
    "path", sorted(RULES.rglob("*.rules")), ids=lambda path: path.stem
)
def test_the_rules_of_the_base_are_in_the_layout(path: Path) -> None:
    """Each file equals its re-written self."""
    text = path.read_text("utf-8")
    assert written_anew(text) == text


@pytest.mark.parametrize("text", ["", "\n\n", "# Nothing yet.\n"])
def test_a_file_without_rules_stays_one(text: str) -> None:
    """Nothing, empty lines, a comment alone."""
    assert written_anew(text) == text.strip("\n") + ("\n" if text.strip() else "")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("rule a\n  if p(?x) q(?x)\nend\n", "`q` cannot stand here"),
        ("rule a\n  if p(?x)\n", "the block has no `end`"),
        ("rule a\n  says 1\nend\n", "`1` cannot stand here"),
        ("exception a to b\n  then c(?x)\nend\n", "has no `then`"),
    ],
)
def test_a_broken_file_of_the_former_shape_is_pointed_at(
    text: str, message: str
) -> None:
    """What cannot be read cannot be converted; the place is marked."""
    with pytest.raises(GrammarError) as caught:
        written_anew(text, "old.rules")
    assert message in str(caught.value)
    assert str(caught.value).startswith("old.rules:")


def test_the_command_converts_files_and_folders(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It says which it wrote, and leaves alone what is as it should be."""
    (tmp_path / "below").mkdir()
    path = tmp_path / "below" / "old.rules"
    path.write_text(FORMER, "utf-8")
    assert main([str(tmp_path)]) == 0
    assert capsys.readouterr().out == f"{path}\n"
    assert path.read_text("utf-8") == PRESENT
    assert main([str(path)]) == 0
    assert capsys.readouterr().out == ""
    assert list(path.parent.iterdir()) == [path]


def test_the_command_checks_and_tells_what_could_follow(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The list of what could stand there is told only when it is asked for."""
    path = tmp_path / "bad.rules"
    path.write_text('"a"\n  because the x p the x q\n  rule a\n', "utf-8")
    assert main(["--check", str(path)]) == 1
    assert "There could have stood" not in capsys.readouterr().err
    assert main(["--could", str(path)]) == 1
    assert "There could have stood: `,`, `and`" in capsys.readouterr().err
    assert main(["--check", str(RULES / "law.rules")]) == 0


def test_the_command_says_what_is_wrong_with_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No file, a file that is not there, bytes that are no text."""
    assert main([]) == 2
    assert main(["--colour", "x"]) == 2
    assert capsys.readouterr().err.count("usage:") == 2
    assert main([str(tmp_path / "none.rules")]) == 1
    path = tmp_path / "bytes.rules"
    path.write_bytes(b"\xff\xfe")
    assert main([str(path)]) == 1
    told = capsys.readouterr().err
    assert "No such file" in told
    assert "not UTF-8" in told
    assert path.read_bytes() == b"\xff\xfe"
