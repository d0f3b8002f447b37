"""Cited works as text, CSL-JSON and BibTeX, and captions."""

from __future__ import annotations

import json

import pytest
from abluent.engine.questions.answers.rows import all_rows
from abluent.shell.pages.caption import caption
from abluent.shell.pages.cited_forms import as_bibtex, as_csl, as_text, authors_of
from abluent.shell.pages.cited_works import Cited, cited_works, works_of
from shown import GONE, WASH, WHICH, answered, demo

# The fields used and the types there are, from the schema "csl-data.json" of the
# Citation Style Language, version 1.0.2; it allows no other field.
FIELDS = {
    "id", "type", "title", "author", "issued", "container-title", "volume", "issue",
    "page", "DOI", "note",
}  # fmt: skip
TYPES = {
    "article-journal", "article-magazine", "book", "document", "legislation", "report",
    "standard",
}  # fmt: skip
NAMES = {"family", "given", "literal"}


WASHES = ("Gullwing Silk Wash", "Plover Mild Wash")
ASKED = [f'does "{wash}" clear "Dimethicone"' for wash in WASHES]
USES = {"A {use} of 50 %": "measured"}


def every_work() -> list[Cited]:
    base = answered(GONE).rows[0].case.world.base
    return [
        Cited(name, base.source(name), base.label(name), USES)
        for name in base.instances("Source")
    ]


def works() -> list[Cited]:
    return works_of(map(demo, ASKED))


def test_every_work_of_the_base_is_csl() -> None:
    items = json.loads(as_csl(every_work()))
    assert len(items) > 50
    for item in items:
        assert item.keys() <= FIELDS
        assert item["type"] in TYPES
        assert all(each.keys() <= NAMES for each in item.get("author", []))
        for date in [item.get("issued")]:
            assert date is None or 1800 < date["date-parts"][0][0] < 2100


def test_a_work_says_what_it_was_cited_for_and_how_that_stands() -> None:
    text = as_text(works())
    entry = next(each for each in text.split("\n\n") if "Gruber" in each)
    assert "A cationic gum or cellulose in a shampoo raises the silicone" in entry
    assert "(measured)" in entry
    assert ", from memory)" in text


def test_a_journal_article_has_its_parts_apart() -> None:
    items = {item["id"]: item for item in json.loads(as_csl(works()))}
    found = items["tri-2006-conference"]
    assert (found["volume"], found["issue"]) == ("58", "4")
    assert found["issued"] == {"date-parts": [[2007]]}
    people = next(w for w in works() if w.symbol.startswith("gruber"))
    assert authors_of(people)[0][0].name == "Gruber"


def test_bibtex_is_read_back_whole() -> None:
    bibtexparser = pytest.importorskip("bibtexparser")
    library = bibtexparser.parse_string(as_bibtex(every_work()))
    assert library.failed_blocks == []
    assert {e.key for e in library.entries} == {w.symbol for w in every_work()}
    note = library.entries[0].fields_dict["note"].value
    assert r"A (use) of 50 \%" in note


def test_works_of_several_answers_are_named_once() -> None:
    rows = [row for asked in ASKED * 2 for row in all_rows(demo(asked))]
    named = [w.symbol for w in cited_works(rows)]
    assert named == [w.symbol for w in works()]
    assert len(set(named)) == len(named) > 5
    assert cited_works([]) == []


def test_a_caption_says_how_sure_it_is_and_what_to_mind() -> None:
    text = caption(demo(ASKED[1]), "2026-01-31")
    assert text.startswith("Plover Mild Wash takes part of Dimethicone")
    assert "It stands as common practice" in text
    (sources,) = (part for part in text.split("\n\n") if part.startswith("Sources:"))
    cited = cited_works(all_rows(demo(ASKED[1])))
    assert all(f" {work.citation.rstrip('.')}." in sources for work in cited)
    assert "no safety or medical assessment" in text
    assert "2026-01-31" in text
    assert WASH in caption(answered(WHICH), "2026-01-31")
    gone = caption(answered(GONE), "2026-01-31")
    assert gone.startswith("Cyclopentasiloxane needs no wash, for it evaporates;")
