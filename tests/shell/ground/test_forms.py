"""Forms of output: one list for names, endings and hints."""

from __future__ import annotations

from pathlib import Path

import pytest
from abluent.engine.faults import CommandError
from abluent.shell.ground.forms import Form, Forms, forms_in, writer_of
from abluent.shell.pages.export import cite_forms, trace_forms

TABLE = Forms(
    "a table",
    (
        Form("lines", (".jsonl",), "for a program"),
        Form("sheet", (".csv", ".tsv"), "for a person"),
        Form("screen"),
    ),
)


@pytest.mark.parametrize("word", ["sheet", ".csv", ".TSV", "Sheet"])
def test_a_form_goes_by_its_name_and_by_its_endings(word: str) -> None:
    assert TABLE.find(word).name == "sheet"


def test_what_is_no_form_is_refused_with_all_that_are() -> None:
    with pytest.raises(CommandError) as caught:
        TABLE.find(".pdf")
    (problem,) = caught.value.problems
    assert problem.what == '".pdf" is no form of a table'
    assert problem.hint == "a table ends in .csv for a person, .jsonl for a program"


def test_a_further_form_is_a_further_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing else has to be told of it."""
    package = tmp_path / "house_forms"
    package.mkdir()
    (package / "__init__.py").touch()
    (package / "shout.py").write_text(
        "from abluent.shell.ground.forms import Form\n"
        'FORM = Form("loud", (".txt",), "to be heard")\n'
        "def written(text: str) -> str:\n    return text.upper()\n"
    )
    monkeypatch.syspath_prepend(str(tmp_path))
    found = forms_in("house_forms", "a call")
    assert (found.names, found.hint) == (["loud"], "a call ends in .txt to be heard")
    assert writer_of(found.find(".txt"), "house_forms").written("oh") == "OH"


@pytest.mark.parametrize("forms", [trace_forms(), cite_forms()], ids=lambda f: f.what)
def test_no_two_forms_share_a_name_or_an_ending(forms: Forms) -> None:
    words = [word for form in forms.forms for word in (form.name, *form.endings)]
    assert len(words) == len(set(words))
    assert forms.forms
