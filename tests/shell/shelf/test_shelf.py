"""Shelves in every format: what comes back, and what is said of faults."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from abluent.engine.faults import CommandError, DataError
from abluent.shell.shelf.as_csv import parse_csv, print_csv
from abluent.shell.shelf.as_jsonl import parse_jsonl, print_jsonl
from abluent.shell.shelf.as_text import parse_label, print_label, read_folder
from abluent.shell.shelf.by_path import open_shelf
from abluent.shell.shelf.shelf import (
    Shelf,
    ShelfBuilder,
    ShelfLabel,
    as_fields,
    checked_label,
    joined,
)
from abluent.shell.shelf.words import kind_in_name, kind_of, shelf_words
from hypothesis import given
from hypothesis import strategies as st

TEXT = "Aqua, Dimethicone, Parfum"


def line(**fields: object) -> str:
    whole: dict[str, object] = {"product": "Cove Cream", "kind": "conditioner"}
    return json.dumps({**whole, "market": "EU", "text": TEXT, **fields})


def messages(shelf: Shelf) -> str:
    return "\n".join(str(problem) for problem in shelf.problems)


# ------------------------------------------------------------------ JSON Lines


def test_a_label_comes_back_word_for_word() -> None:
    text = " Aqua ,\tDimethicone\r\n\u2022 Parfum "
    shelf = parse_jsonl(line(text=text), "s", "s.jsonl")
    assert shelf.labels[0].text == text
    assert not shelf.problems


def test_one_broken_line_is_pointed_at_and_the_others_are_read() -> None:
    text = "\n".join([line(), '{"product": "Bay" "kind": 1}', line(product="Ebb")])
    shelf = parse_jsonl(text, "s", "s.jsonl")
    assert [x.product for x in shelf.labels] == ["Cove Cream", "Ebb"]
    assert messages(shelf) == (
        "s.jsonl:2:19: this line is not JSON: expecting ',' delimiter\n"
        '    {"product": "Bay" "kind": 1}\n'
        "                      ^\n"
        "  mend the line or take it out; the others were read"
    )


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (line(text=" \n"), 's.jsonl:1: the label of "Cove Cream" is empty'),
        (line(product=""), "s.jsonl:1: a label without a product name"),
        (line(text=["Aqua"]), 's.jsonl:1: "text" should be text, not a list'),
        (line(kind=True), 's.jsonl:1: "kind" should be text, not true or false'),
        ("[1, 2]", "s.jsonl:1: this line is not a label"),
        ("[" * 100_000, "s.jsonl:1: this line is nested too deeply"),
        (
            line(water="wet"),
            's.jsonl:1: water "wet" is not "deionised" or "hard" or "salt" or "soft"',
        ),
        (line(hair="red"), 's.jsonl:1: hair "red" is not "damaged" or "undamaged"'),
    ],
)
def test_a_faulty_label_is_named_with_its_place(row: str, said: str) -> None:
    assert messages(parse_jsonl(row, "s", "s.jsonl")).startswith(said)


def test_every_fault_of_a_file_is_reported() -> None:
    rows = [line(text=""), line(product="", kind="wash"), "{", line(product="Ebb")]
    shelf = parse_jsonl("\n".join(rows), "s", "s.jsonl")
    assert len(shelf.problems) == 3
    assert [x.product for x in shelf.labels] == ["Ebb"]


def test_a_second_product_of_one_name_does_not_replace_the_first() -> None:
    rows = [line(), line(product="cove  CREAM", text="Aqua")]
    shelf = parse_jsonl("\n".join(rows), "s", "s.jsonl")
    assert [x.text for x in shelf.labels] == [TEXT]
    assert 's.jsonl:2: "cove CREAM" is on this shelf already' in messages(shelf)
    assert "from s.jsonl:1" in messages(shelf)


def test_an_unknown_kind_is_named_and_the_product_kept() -> None:
    shelf = parse_jsonl(line(kind="balm"), "s", "s.jsonl")
    assert shelf.labels[0].kind == "other"
    assert 'of kind "balm", which is none' in messages(shelf)


def test_a_missing_kind_is_read_from_the_name_and_said() -> None:
    shelf = parse_jsonl(line(product="Ebb Wash", kind=""), "s", "s.jsonl")
    assert shelf.labels[0].kind == "wash"
    assert not shelf.problems
    assert "taken as wash, read from its name" in str(shelf.notes[0])


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("mask", "conditioner"),
        ("Hair Spray", "styler"),
        ("soap", "wash"),
        ("Leave in", "leave-in"),
        ("CO-WASH", "co-wash"),
        ("cowash", "co-wash"),
        ("shampoo", "wash"),
        ("balm", ""),
    ],
)
def test_a_kind_is_known_however_it_is_spaced(word: str, kind: str) -> None:
    assert kind_of(word) == kind


@pytest.mark.parametrize(
    ("product", "kind"),
    [
        ("Ebb Wash", "wash"),
        ("Ebb Co-Wash", "co-wash"),
        ("Ebb Leave-in", "leave-in"),
        ("Washboard Cream", ""),
        ("", ""),
    ],
)
def test_a_kind_is_read_only_from_the_end_of_a_name(product: str, kind: str) -> None:
    assert kind_in_name(product) == kind


@pytest.mark.parametrize(
    "head", ['{"shelf": "Bay", "water": "hard"}', '{"water": "hard"}']
)
def test_a_shelf_names_its_water(head: str) -> None:
    assert parse_jsonl(f"{head}\n{line()}", "s", "s").water == "hard"


def test_a_shelf_names_the_hair_and_the_temperature() -> None:
    head = '{"shelf": "Bay", "hair": "damaged", "temperature": "warm"}'
    shelf = parse_jsonl(f"{head}\n{line()}", "s", "s")
    assert shelf.conditions == {"temperature": "warm", "hair": "damaged"}


def test_a_text_label_names_them_too() -> None:
    text = "water: hard\nhair: damaged\n\nAqua, Parfum"
    said = parse_label(text, "Ebb", "s").conditions
    assert said == {"water": "hard", "hair": "damaged"}


def test_two_waters_on_one_shelf_are_a_fault() -> None:
    rows = [line(water="soft"), line(product="Ebb", water="hard")]
    shelf = parse_jsonl("\n".join(rows), "s", "s.jsonl")
    assert messages(shelf) == "s.jsonl:2: water is hard here, but s.jsonl:1 says soft"
    assert len(shelf.labels) == 2


names = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Zs", "Zl", "Zp", "Cs"]),
    min_size=1,
)
labels = st.builds(
    ShelfLabel,
    names,
    st.sampled_from(["wash", "co-wash", "leave-in", "other"]),
    st.sampled_from(["", "EU", "US"]),
    st.text(st.characters(codec="utf-8")).filter(str.strip),
    st.dictionaries(st.sampled_from(["note", "bought"]), st.text()),
)
CONDITIONS = st.fixed_dictionaries(
    {}, optional={a: st.sampled_from(w) for a, w in shelf_words().aspects.items()}
)
shelves = st.lists(labels, unique_by=lambda x: x.product.casefold()).flatmap(
    lambda found: st.builds(Shelf, names, st.just(tuple(found)), CONDITIONS)
)


@given(shelves)
def test_a_shelf_reads_back_from_json_lines(shelf: Shelf) -> None:
    assert parse_jsonl(print_jsonl(shelf), "other", "s") == shelf


# ------------------------------------------------------------------------- CSV


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_spreadsheet_is_read_whatever_its_mark(mark: str) -> None:
    rows = [["product", "kind", "market", "text"], ["Ebb", "wash", "EU", f'"{TEXT}"']]
    text = "\r\n".join(mark.join(row) for row in rows)
    shelf = parse_csv(text, "s", "s.csv")
    assert as_fields(shelf.labels[0]) == {
        "product": "Ebb",
        "kind": "wash",
        "market": "EU",
        "text": TEXT,
    }


def test_a_label_of_several_lines_keeps_its_place_in_the_file() -> None:
    text = 'product,kind,text\nEbb,wash,"Aqua\nParfum"\nBay,wash,\n'
    shelf = parse_csv(text, "s", "s.csv")
    assert shelf.labels[0].text == "Aqua\nParfum"
    assert messages(shelf).startswith('s.csv:4: the label of "Bay" is empty')


def test_a_label_without_quotation_marks_is_not_cut_short() -> None:
    shelf = parse_csv("product,kind,text\nEbb,wash,Aqua, Parfum\n", "s", "s.csv")
    assert not shelf.labels
    assert "s.csv:2: 4 cells under 3 names" in messages(shelf)


def test_an_open_quotation_mark_loses_no_row_above_it() -> None:
    text = 'product,kind,text\nEbb,wash,Aqua\nBay,wash,"Aqua\nSea,wash,Aqua\n'
    shelf = parse_csv(text, "s", "s.csv")
    assert [x.product for x in shelf.labels] == ["Ebb"]
    assert "s.csv:3: the rows cannot be read from here on" in messages(shelf)


def test_a_csv_without_the_columns_says_which() -> None:
    with pytest.raises(DataError, match="product,kind,market,text"):
        parse_csv("a,b\n1,2\n", "s", "s.csv")


@given(shelves.filter(lambda s: s.labels and all("\0" not in x.text for x in s.labels)))
def test_labels_read_back_from_csv(shelf: Shelf) -> None:
    back = parse_csv(print_csv(shelf), shelf.name, "s")
    assert list(map(as_fields, back.labels)) == list(map(as_fields, shelf.labels))
    assert back.conditions == shelf.conditions


# ------------------------------------------------------------------------ text


def test_lines_at_the_head_of_a_text_name_the_product() -> None:
    text = "Product: Ebb Tide\nKIND: Leave-in\nmarket: US\n\nWater, Parfum\nkind: x"
    shelf = parse_label(text, "file", "ebb.txt")
    label = shelf.labels[0]
    assert (label.product, label.kind, label.market) == ("Ebb Tide", "leave-in", "US")
    assert label.text == "Water, Parfum\nkind: x"
    assert text[label.start :] == label.text


@given(labels.filter(lambda x: x.text == x.text.lstrip()))
def test_a_label_reads_back_from_text(label: ShelfLabel) -> None:
    back = parse_label(print_label(label), "file", "f.txt").labels[0]
    assert as_fields(back) == as_fields(label)


def test_a_folder_is_one_product_a_file(tmp_path: Path) -> None:
    (tmp_path / "Ebb_Wash.txt").write_text(TEXT)
    (tmp_path / "Cove Cream.TXT").write_text(f"kind: conditioner\n{TEXT}")
    (tmp_path / "notes.md").write_text("no label")
    (tmp_path / "bad.txt").write_bytes(b"Aqua\nPar\xe9fum")
    shelf = read_folder(tmp_path)
    assert {x.product: x.kind for x in shelf.labels} == {
        "Ebb Wash": "wash",
        "Cove Cream": "conditioner",
    }
    assert f"{tmp_path / 'bad.txt'}:2:4: byte 0xe9 is not UTF-8" in messages(shelf)


def test_an_empty_folder_says_what_belongs_there(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match="holds no"):
        open_shelf(tmp_path)


# ------------------------------------------------------------------ any format


def test_the_format_is_known_by_the_ending(tmp_path: Path) -> None:
    (tmp_path / "a.jsonl").write_text("\ufeff" + line(), encoding="utf-8")
    (tmp_path / "b.csv").write_text(f'product,text\nEbb Wash,"{TEXT}"\n')
    (tmp_path / "c wash.txt").write_text(TEXT)
    found = [open_shelf(path) for path in sorted(tmp_path.iterdir())]
    assert [x.labels[0].product for x in found] == ["Cove Cream", "Ebb Wash", "c wash"]


@pytest.mark.parametrize("name", ["none.jsonl", "none.csv", "none.txt", "none"])
def test_a_shelf_that_is_not_there_is_a_wrong_command(
    name: str, tmp_path: Path
) -> None:
    with pytest.raises(CommandError, match="there is no"):
        open_shelf(tmp_path / name)


def test_a_file_of_another_kind_says_what_a_shelf_is(tmp_path: Path) -> None:
    (tmp_path / "shelf.pdf").write_text("")
    with pytest.raises(CommandError, match="a shelf is a"):
        open_shelf(tmp_path / "shelf.pdf")


def test_shelves_are_joined_and_a_product_on_both_is_a_fault() -> None:
    one = parse_jsonl(line(water="hard"), "one", "one.jsonl")
    two = parse_jsonl("\n".join([line(), line(product="Ebb"), "{"]), "two", "two.jsonl")
    whole = joined([one, two])
    assert [x.product for x in whole.labels] == ["Cove Cream", "Ebb"]
    assert whole.water == "hard"
    assert len(whole.problems) == 2


def test_a_market_that_is_no_country_is_refused() -> None:
    """On a shelf it is a fault, and the label is read without; alone it is an error."""
    builder = ShelfBuilder("zork")
    for name, market in (("One", "Germny"), ("Two", "Deutschland"), ("Three", "")):
        builder.add(
            {"product": name, "kind": "wash", "market": market, "text": "A"}, ""
        )
    shelf = builder.build()
    assert [each.market for each in shelf.labels] == ["", "Deutschland", ""]
    (problem,) = shelf.problems
    assert '"Germny"' in problem.what
    assert "is it Germany?" in (problem.hint or "")
    with pytest.raises(CommandError, match="Narnia"):
        checked_label("Zork", "wash", "Aqua", "Narnia")


def test_a_label_has_a_longest_length_that_is_said() -> None:
    """In a file it is a fault of that product, and the others are there."""
    rows = [{"product": n, "kind": "wash", "ingredients": t} for n, t in LONG.items()]
    text = "".join(json.dumps(row) + "\n" for row in rows)
    shelf = parse_jsonl(text, "one", "one.jsonl")
    assert [label.product for label in shelf.labels] == ["Short"]
    assert '"Long" has 1000000 characters' in str(shelf.problems[0])
    with pytest.raises(CommandError, match="may have 100000"):
        checked_label("Long", "wash", LONG["Long"], "")


LONG = {"Long": "x" * 1_000_000, "Short": "Aqua"}
