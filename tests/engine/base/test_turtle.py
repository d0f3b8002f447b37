"""The canonical layout of Turtle files."""

from pathlib import Path

import pyoxigraph as ox
import pytest
from abluent.engine.base.turtle import TurtleError, canonical, main, rewrite
from hypothesis import given
from hypothesis import strategies as st

PREFIXES = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
"""

UNTIDY = (
    "# Two subjects.\n"
    "# Kept.\n" + PREFIXES + "# Not kept.\n"
    "ing:b abl:ionMass 2.50 ; a abl:Soap ; abl:volatile true .\n"
    'ing:a abl:note "one\\ttwo" , "a \\"word\\"" ; a abl:Wax .\n'
)
TIDY = """\
# Two subjects.
# Kept.

@prefix abl: <https://abluent.example/ns#> .
@prefix ing: <https://abluent.example/ingredient/> .

ing:a
  a abl:Wax ;
  abl:note "a \\"word\\"", "one\\ttwo" .

ing:b
  a abl:Soap ;
  abl:ionMass 2.50 ;
  abl:volatile true .
"""


def triples(text: str) -> set[str]:
    parsed = ox.parse(text, format=ox.RdfFormat.TURTLE)
    dataset = ox.Dataset(parsed)
    dataset.canonicalize(ox.CanonicalizationAlgorithm.UNSTABLE)
    return {str(quad) for quad in dataset}


def test_one_layout() -> None:
    """Subjects by name, types first, opening comment and used prefixes kept."""
    assert canonical(UNTIDY) == TIDY


def test_tidy_text_stays() -> None:
    """A file in canonical layout is written as it is."""
    assert canonical(TIDY) == TIDY


def test_lists_and_unnamed_nodes() -> None:
    """Axioms keep their meaning, and lists keep their order."""
    text = PREFIXES + (
        "abl:C owl:equivalentClass [ owl:intersectionOf ( abl:Z [ owl:onProperty"
        " abl:charge ; owl:hasValue abl:none ] ) ] .\n"
        "[] a owl:AllDifferent ; owl:distinctMembers ( abl:z abl:a abl:m ) .\n"
    )
    written = canonical(text)
    assert triples(written) == triples(text)
    assert "( abl:z abl:a abl:m )" in written
    assert canonical(written) == written


def test_shared_unnamed_node_is_refused() -> None:
    """A node without a name that two subjects use cannot be laid out."""
    text = PREFIXES + "ing:a abl:note _:x . ing:b abl:note _:x . _:x abl:low 1 ."
    with pytest.raises(TurtleError, match="give it a name"):
        canonical(text)


def test_bad_turtle_names_the_line() -> None:
    """A text that is not Turtle is refused with the line."""
    with pytest.raises(TurtleError, match="line 5"):
        canonical(PREFIXES + "ing:a abl:note\n")


words = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12
)
names = st.from_regex(r"[a-z][a-z0-9-]{0,6}", fullmatch=True)
values = st.one_of(
    words.map(ox.Literal),
    st.integers().map(ox.Literal),
    st.booleans().map(ox.Literal),
    names.map(lambda name: ox.NamedNode("https://abluent.example/ingredient/" + name)),
)


@pytest.mark.slow
@given(st.lists(st.tuples(names, names, values), max_size=12))
def test_any_graph_keeps_its_triples(rows: list[tuple[str, str, object]]) -> None:
    """Whatever the graph, the layout says the same and is a fixed point."""
    graph = [
        ox.Triple(
            ox.NamedNode("https://abluent.example/ingredient/" + subject),
            ox.NamedNode("https://abluent.example/ns#" + predicate),
            value,
        )
        for subject, predicate, value in rows
    ]
    lines = [f"{t.subject} {t.predicate} {t.object} .\n" for t in graph]
    text = PREFIXES + "".join(lines)
    written = canonical(text)
    assert triples(written) == triples(text)
    assert canonical(written) == written


def test_files_are_rewritten_in_place(tmp_path: Path) -> None:
    """Rewriting changes a file once and then leaves it."""
    path = tmp_path / "a.ttl"
    path.write_text(UNTIDY, encoding="utf-8")
    assert rewrite(path)
    assert path.read_text(encoding="utf-8") == TIDY
    assert not rewrite(path)


def test_command_names_the_bad_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The command ends with 1 and says which file is wrong."""
    path = tmp_path / "bad.ttl"
    path.write_text("ing:a", encoding="utf-8")
    assert main([str(path)]) == 1
    assert "bad.ttl" in capsys.readouterr().err
