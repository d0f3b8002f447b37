"""What is kept is in step, and the comparison shows every change and its reason."""

from __future__ import annotations

from pathlib import Path

import pytest

from .__main__ import compute, counted
from .changes import BadReason, Change, changes, given, load_reasons, unkept
from .tables import Table, Unreadable, cell, keep, kept, on_disk, pages, parse_table

QUICK = ("leavings", "names")
HOW = """
What the tool answers is not what is kept. To bring it in step:
  python -m tests.kept            shows each changed cell, old and new
  tests/kept/reasons/NAME.toml    takes the reasons, as the head of changes.py says
  python -m tests.kept --keep     keeps what is now, once all has its reason
then tell the flips in CHANGELOG.md."""


@pytest.mark.slow
@pytest.mark.kept
def test_what_is_kept_is_in_step() -> None:
    """The quick tables are as they are kept; the command compares all of them."""
    old, new = kept(QUICK, on_disk), compute(QUICK)
    changed = [f"{c.cell} {c.column}: {c.old} -> {c.new}" for c in changes(old, new)]
    changed += [f"{name} is not kept" for name in unkept(old, new)]
    assert not changed, "\n".join([*changed[:20], f"{len(changed)} in all", HOW])


FILM = ("Fen Wash", "Dimethicone")
OLD = Table("verdicts", ("wash", "film"), {FILM: {"verdict": "open", "by": "x"}})


def verdict(word: str, **more: str) -> Table:
    return Table("verdicts", OLD.keys, {FILM: {"verdict": word, "by": "x"} | more})


def reasons(folder: Path, text: str) -> list[str | None]:
    """Why the verdict of `OLD` became "clears", by the reasons of a text."""
    (folder / "why.toml").write_text(text, encoding="utf-8")
    found = load_reasons([folder / "why.toml"])
    why = [given(each, found) for each in changes([OLD], [verdict("clears")])]
    return [each.why if each else None for each in why]


def test_a_changed_cell_is_shown_old_and_new() -> None:
    assert list(changes([OLD], [verdict("clears")])) == [
        Change("verdicts: Fen Wash | Dimethicone", "verdict", "open", "clears")
    ]


def test_a_row_that_comes_or_goes_is_a_change() -> None:
    other = Table("verdicts", OLD.keys, {("Fen Wash", "PVP"): {"verdict": "clears"}})
    assert list(changes([OLD], [other])) == [
        Change("verdicts: Fen Wash | Dimethicone", "", "open; x", ""),
        Change("verdicts: Fen Wash | PVP", "", "", "clears"),
    ]


def test_a_column_not_kept_yet_is_told_and_no_change() -> None:
    more = verdict("open", at_least="none")
    assert list(changes([OLD], [more])) == []
    assert unkept([OLD], [more]) == ["verdicts: at_least"]
    assert [c.old for c in changes([more], [OLD])] == ["none"]


def test_a_table_not_kept_is_told() -> None:
    empty = Table("verdicts", (), {})
    assert list(changes([empty], [OLD])) == []
    assert unkept([empty], [OLD]) == ["verdicts"]


def test_a_page_shows_the_first_line_that_differs() -> None:
    (change,) = changes([pages({"a.md": "1\n2\n3\n"})], [pages({"a.md": "1\nb\n3\n"})])
    assert (change.cell, change.column) == ("pages: a.md", "text")
    assert change.old == "line 2, 1 differ: 2"
    assert change.new == "line 2, 1 differ: b"


@pytest.mark.parametrize(
    ("reason", "why"),
    [
        ('cells = "verdicts: * | Dimethicone"', "so"),
        ('cells = ["verdicts: a", "verdicts: Fen*"]\nfrom = "open"\nto = "cl*"', "so"),
        ('cells = "verdicts: *"\nto = "open"', None),
        ('cells = "verdicts: *"\ncolumn = "by"', None),
        ('cells = "names: *"', None),
    ],
)
def test_a_reason_covers_what_it_names(
    tmp_path: Path, reason: str, why: str | None
) -> None:
    assert reasons(tmp_path, f'[[reason]]\nwhy = "so"\n{reason}\n') == [why]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ('[[reason]]\ncells = "*"\nwhy = "so"', "must begin with a table"),
        ('[[reason]]\nwhy = "so"', "must begin with a table"),
        ('[[reason]]\ncells = "verdicts: *"\nwhy = " "', "does not say `why`"),
        ('[[reason]]\ncells = "names: *"\nwhy = "so"\nold = "a"', "has `old`"),
        ("[[reason]", "why.toml"),
    ],
)
def test_a_bad_reason_is_refused(tmp_path: Path, text: str, fault: str) -> None:
    with pytest.raises(BadReason, match=r"why\.toml") as refused:
        reasons(tmp_path, text)
    assert fault in str(refused.value)


def test_tables_come_back_as_they_were_kept(tmp_path: Path) -> None:
    tables = [OLD, pages({"a.md": "one\n\ttwo\n", "b.txt": ""})]
    keep(tables, tmp_path)
    assert kept(["verdicts", "pages"], on_disk, tmp_path) == tables
    keep([pages({"b.txt": "b\n"})], tmp_path)
    assert sorted(file.name for file in (tmp_path / "pages").iterdir()) == ["b.txt"]


def test_a_file_with_both_sides_of_a_merge_is_refused() -> None:
    with pytest.raises(Unreadable, match=r"names\.tsv:2"):
        parse_table("names", "name:\tkind\n<<<<<<< HEAD\nx\ty\n")


def test_a_cell_is_one_line_and_tells_what_was_cut() -> None:
    assert cell("a\tb\n\udcffc") == "a b \\udcffc"
    long = "word " * 60
    assert cell(long + "x") != cell(long + "y")
    assert len(cell(long)) < 200


def test_the_count_tells_flips_and_words() -> None:
    new = verdict("clears")
    told = counted([OLD], [new], [(each, None) for each in changes([OLD], [new])])
    assert "1 cells changed" in told
    assert "open -> clears" in told
