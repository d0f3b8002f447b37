"""The interactive shell, driven by lines, by keys and by a pipe."""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from abluent.shell.command.cli import main
from abluent.shell.pages.answer import answer_page
from abluent.shell.pages.signs import signed
from abluent.shell.session.session import Session
from abluent.shell.talk import loop
from abluent.shell.talk.completion import SessionCompleter
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from abluent.shell.talk.prompt import PromptReader
from prompt_toolkit.completion import CompleteEvent
from prompt_toolkit.document import Document
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput

LABEL = "Ingredients: Aqua, Cetearyl Alcohol,\nDimethicone, Glycerin, Parfum"


def typed(text: str, session: Session | None = None) -> str:
    """Return what the shell prints for lines that come from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(session or Session.open(), reader, out).run()
    return out.getvalue()


@pytest.fixture
def keys() -> Iterator[PipeInput]:
    """A keyboard."""
    with create_pipe_input() as pipe:
        yield pipe


def at_keyboard(keys: PipeInput, session: Session, history: Path | None = None) -> str:
    """Return what the shell prints for the keys that were pressed."""
    out = io.StringIO()
    reader = PromptReader(
        SessionCompleter(session), history, source=keys, out=DummyOutput()
    )
    InteractiveShell(session, reader, out).run()
    return out.getvalue()


# ---------------------------------------------------------------------- orders


def test_help_fits_a_screen_and_speaks_of_the_shelf() -> None:
    page = typed("help\n")
    assert len(page.splitlines()) <= 24
    assert all(len(line) <= 80 for line in page.splitlines())
    assert 'what does "Harbour Cream" leave' in page
    assert "leave the shell" in page


def test_help_uses_the_products_of_ones_own_shelf() -> None:
    session = Session.open()
    session.add_label("Cove Cream", "conditioner", LABEL)
    assert 'what does "Cove Cream" leave' in typed("help", session)


def test_help_on_one_order() -> None:
    assert typed("help undo\n") == "undo: take back the last change to your shelf\n"


def test_the_shelf_is_listed() -> None:
    assert "Harbour Cream              conditioner  EU" in typed("shelf")


def test_an_order_without_what_it_needs_says_so() -> None:
    assert typed("drop").startswith("`drop` does not say which product")
    assert 'try: drop "Harbour Cream"' in typed("drop")


def test_a_fault_does_not_end_the_shell() -> None:
    page = typed("shelf nowhere\nwater wet\nhelp undo\n")
    assert 'there is no file, folder or shelf of yours called "nowhere"' in page
    assert 'water is "deionised" or "hard" or "salt" or "soft", not "wet"' in page
    assert "undo: take back" in page


def test_a_fault_of_the_program_does_not_end_the_shell(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(self: Session, text: str) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(Session, "ask", broken)
    assert typed("which washes\nhelp undo\n").splitlines() == [
        "this program is at fault: ZeroDivisionError: division by zero",
        "undo: take back the last change to your shelf",
    ]


def test_a_line_that_nothing_settles_ends_with_what_can_be_asked() -> None:
    said = typed("my hair is sad\n")
    assert "no label tells" in said
    assert 'What can be asked: what does "Harbour Cream" leave' in said


def test_an_answer_without_works_says_so() -> None:
    session = Session.open()
    session.add_label("Alone", "wash", "Aqua, Merrowex Tidal Complex", "EU")
    said = typed('does "Alone" contain a silicone\ncite\n', session)
    assert "No work stands behind the last answer" in said


def test_leave_ends_it() -> None:
    assert typed("leave\nhelp\n") == ""


def test_a_product_that_is_not_there_is_named_with_what_is_near() -> None:
    page = typed('read "Harbor Cream"\n')
    assert 'no product "Harbor Cream" is on the shelf' in page
    assert 'did you mean "Harbour Cream"' in page


def test_there_is_nothing_to_trace_before_a_question() -> None:
    assert typed("trace last to why.md").startswith("there is no answer yet")
    assert typed("trace").startswith("there is no answer yet")


def test_the_last_answer_is_traced_to_a_file_and_nothing_is_replaced(
    tmp_path: Path,
) -> None:
    path = tmp_path / "why not.md"
    asked = 'does "Tideline Wash" clear Dimethicone'
    page = typed(f"{asked}\ntrace last to {path}\ntrace to {path}\n")
    assert f'The reasons are in "{path}"; `open` shows it.' in page
    assert f'"{path}" is there already and was left as it is' in page
    assert path.read_text().startswith(f"# {asked}")


# ---------------------------------------------------------------------- labels


def test_lines_of_a_label_are_gathered_until_an_empty_line() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nCove Cream\nconditioner\n\nshelf\n", session)
    assert "This looks like a label." in page
    assert '"Cove Cream" (conditioner) is on the shelf "mine" now' in page
    assert "5 names, 5 known" in page
    assert "Cove Cream can leave Cetearyl Alcohol and Dimethicone." in page
    assert session.shelf.labels[0].text == LABEL


def test_a_label_without_a_name_is_given_one() -> None:
    session = Session.open()
    typed(f"{LABEL}\n\n\nwash\n\n", session)
    assert [x.product for x in session.shelf.labels] == ["Product 1"]


def test_the_line_before_a_label_names_it() -> None:
    session = Session.open()
    typed(f"Quayside Rinse Nine\n{LABEL}\n\n\n\n\n", session)
    assert [x.product for x in session.shelf.labels] == ["Quayside Rinse Nine"]


def test_the_market_is_asked_and_what_is_suggested_only_offered() -> None:
    session = Session.open()
    text = "Ingredients / Inhaltsstoffe: Aqua, Glycerin, Parfum"
    typed(f"{text}\n\nOne\nwash\n\n{text}\n\nTwo\nwash\nnone\n", session)
    assert [x.market for x in session.shelf.labels] == ["EU", ""]


def test_drug_facts_suggest_the_united_states() -> None:
    session = Session.open()
    text = (
        "Drug Facts: Active ingredient: Pyrithione Zinc 1%, Inactive ingredients: Water"
    )
    page = typed(f"{text}\n\nOne\nwash\n\n", session)
    assert '"One" (wash, US) is on the shelf' in page


def test_a_market_that_is_none_is_asked_again_and_the_label_is_not_lost() -> None:
    session = Session.open()
    typed(f"{LABEL}\n\nOne\nwash\nAtlantis\nEU\n", session)
    assert [x.market for x in session.shelf.labels] == ["EU"]


def test_nothing_pasted_is_lost_when_somebody_gives_up() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\n", session)
    assert "`add` takes it up again" in page
    typed("add\n\nCove Cream\nconditioner\n\n", session)
    assert [x.text for x in session.shelf.labels] == [LABEL]


def test_a_paste_with_an_empty_line_in_it_is_not_cut() -> None:
    """Without bracketed paste an empty line seems to end the label."""
    session = Session.open()
    typed(f"{LABEL},\n\nPanthenol, Citric Acid, Linalool\nOne\nwash\n\n", session)
    (label,) = session.shelf.labels
    assert label.product == "One"
    assert label.text.endswith("Panthenol, Citric Acid, Linalool")


def test_a_label_is_gathered_under_a_prompt_of_its_own() -> None:
    out = io.StringIO()
    source = io.StringIO(f"{LABEL}\n\nOne\nwash\n\n")
    InteractiveShell(Session.open(), PlainReader(source, out, spoken=True), out).run()
    assert "label> " in out.getvalue()


def test_from_nothing_to_an_answer_on_ones_own_label(keys: PipeInput) -> None:
    """A paste and an accepted offer count as one key each; there are under 25."""
    session = Session.open(own=True)
    paste = f"\x1b[200~{LABEL}\x1b[201~"
    pressed = [paste, "\r", "\r", "\r", "\r"]
    keys.send_text("".join([*pressed, "\x04"]))
    assert "leave Cetearyl Alcohol" in at_keyboard(keys, session)
    assert len(pressed) < 25


def test_undo_says_what_it_took_back() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua")
    assert '"Ebb Wash" is off the shelf again' in typed("undo\n", session)


def test_what_a_question_left_out_is_told() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua, Sodium Laureth Sulfate")
    session.add_label("Odd Bottle", "other", "Aqua, Sodium Laureth Sulfate")
    page = typed('which washes clear "Dimethicone"\n', session)
    assert "Left out: Odd Bottle, kind not known" in page
    assert "Left out" not in typed('what does "Ebb Wash" leave\n', session)


def test_verdicts_have_their_signs_and_colour_is_never_alone() -> None:
    answer = Session.open().ask('which washes at least partly clear "Dimethicone"')
    text = answer_page(answer, 77)
    plain = signed(text, answer, coloured=False)
    assert "-?   Best chance (take some, perhaps all): Tideline Wash" in plain
    assert "-=   Weaker, take some, not all in one wash: Lamp Room" in plain
    assert "?=   Take little or none: Backwater Cream Cleanser" in plain
    assert "\x1b" not in plain
    coloured = signed(text, answer, coloured=True)
    assert re.sub(r"\x1b\[\d+m", "", coloured) == plain


def test_pictures_works_and_settings_are_orders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    asked = 'does "Tideline Wash" clear "Dimethicone"'
    lines = [asked, "picture 1:1", "picture", "cite", "cite to works.bib", "set market"]
    page = typed("\n".join([*lines, "set handle @quay", "set", "picture x"]) + "\n")
    assert (tmp_path / "picture.png").read_bytes().startswith(b"\x89PNG")
    assert (tmp_path / "picture-2.png").exists()
    assert "@" in (tmp_path / "works.bib").read_text()
    assert "market is not set now" in page
    assert "handle: @quay" in page
    assert '"x" is no shape of a picture' in page
    assert 'settings.toml"' in page


def test_a_shape_has_a_word_and_a_trace_a_file_if_none_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    asked = 'does "Tideline Wash" clear "Dimethicone"'
    page = typed(f"{asked}\npicture square\npicture round\ntrace\ntrace why\n")
    size = (tmp_path / "picture.png").read_bytes()[16:24]
    assert size == (1080).to_bytes(4, "big") * 2
    assert "9:16 (tall), 1:1 (square)" in page
    assert "<h1>" in (tmp_path / "why.html").read_text("utf-8")
    assert '"why" is nothing that is traced here' in page


def test_it_is_what_was_put_on_the_shelf_last() -> None:
    asked = "does it clear Dimethicone"
    page = typed(f"{asked}\n{LABEL}\n\nOne\nwash\n\n{asked}\n")
    assert '“it” is "One".' in page
    before, after = page.split('“it” is "One".')
    assert before.startswith("“it” is nothing yet: name what is meant")
    assert "Is this meant?" in before
    assert "nothing yet" not in after
    assert after.strip().startswith("No: One takes none of Dimethicone")


def test_a_new_shelf_begins_with_the_water_that_is_set() -> None:
    session = Session.open()
    typed(f"set water soft\n{LABEL}\n\nOne\nwash\n\n", session)
    assert session.shelf.water == "soft"
    typed("undo\n", session)
    assert (len(session.shelf.labels), session.shelf.water) == (0, "soft")


def test_a_market_that_is_set_is_offered() -> None:
    session = Session.open()
    typed(f"set market US\n{LABEL}\n\nOne\nwash\n\n", session)
    assert [x.market for x in session.shelf.labels] == ["US"]


def test_a_batch_is_an_order(tmp_path: Path) -> None:
    questions = tmp_path / "questions.txt"
    questions.write_text('what does "Harbour Cream" leave\n')
    page = typed(f"batch {questions} to {tmp_path / 'answers'}\nbatch\n")
    assert "1 of 1 answered" in page
    assert (tmp_path / "answers" / "index.html").exists()
    assert "names no file of questions" in page


def test_the_desk_is_an_order() -> None:
    out, opened = io.StringIO(), []
    shell = InteractiveShell(
        Session.open(), PlainReader(io.StringIO("desk\n"), out, spoken=False), out
    )
    shell.open_desk = lambda session, say: opened.append(session)
    shell.run()
    assert opened == [shell.session]
    assert "run `abluent desk`" in typed("desk\n")


def test_what_another_shell_adds_is_seen() -> None:
    session = Session.open()
    session.add_label("One", "wash", "Aqua")
    Session.open(own=True).add_label("Two", "wash", "Aqua")
    assert "Two" in typed("shelf\n", session)


def test_a_key_that_is_typed_at_a_pause_begins_the_next_line(keys: PipeInput) -> None:
    reader = PromptReader(None, None, source=keys, out=DummyOutput())
    keys.send_text("w")
    assert reader.more(9) is False
    keys.send_text("hy\r")
    assert reader.line().text == "why"
    keys.send_text(" ")
    assert reader.more(9) is True


def test_the_kind_is_offered_from_the_name_and_asked_again_if_it_is_none() -> None:
    session = Session.open()
    page = typed(f"{LABEL}\n\nEbb Wash\nbalm\n\n\n", session)
    assert '"balm" is no kind' in page
    assert session.shelf.labels[0].kind == "wash"


def test_a_name_that_is_taken_is_asked_again_and_the_label_is_not_lost() -> None:
    session = Session.open()
    session.add_label("Ebb Wash", "wash", "Aqua")
    page = typed(f"{LABEL}\n\nEbb Wash\nwash\n\nEbb Two\n", session)
    assert "is on the shelf" in page
    assert [x.product for x in session.shelf.labels] == ["Ebb Wash", "Ebb Two"]
    assert session.shelf.labels[1].text == LABEL


def test_add_asks_for_all_there_is() -> None:
    session = Session.open()
    typed(f"add\n{LABEL}\n\nCove Cream\nconditioner\n\n", session)
    assert session.shelf.labels[0].text == LABEL
    typed("drop Cove Cream\nundo\nwater hard\n", session)
    assert session.shelf.labels[0].product == "Cove Cream"
    assert session.shelf.water == "hard"


def test_a_product_is_edited_and_renamed() -> None:
    session = Session.open()
    session.add_label("Ebb to Flow", "wash", "Aqua")
    page = typed(
        'rename "Ebb to Flow" to "Quay Wash"\nedit Quay Wash\nco-wash\n'
        "Aqua, Parfum\n\nrename Quay Wash\n",
        session,
    )
    assert '"Ebb to Flow" is called "Quay Wash" now' in page
    assert "does not say from what to what" in page
    (label,) = session.shelf.labels
    assert (label.product, label.kind) == ("Quay Wash", "co-wash")
    assert label.text == "Aqua, Parfum"
    typed("undo\nundo\n", session)
    assert session.shelf.labels[0].product == "Ebb to Flow"


# ------------------------------------------------------------------- a keyboard


def test_a_pasted_label_is_taken_whole(keys: PipeInput) -> None:
    session = Session.open()
    pasted = LABEL.replace("\n", "\r\n")
    keys.send_text(f"\x1b[200~{pasted}\x1b[201~\rCove Cream\rconditioner\r\r\x04")
    page = at_keyboard(keys, session)
    assert '"Cove Cream" (conditioner) is on the shelf' in page
    assert session.shelf.labels[0].text == LABEL


def test_control_c_clears_the_line_and_control_d_leaves(keys: PipeInput) -> None:
    keys.send_text("shelf nowhere\x03help undo\r\x04")
    assert at_keyboard(keys, Session.open()).startswith("undo: take back")


def test_control_c_stops_the_question_and_not_the_shell(
    keys: PipeInput, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slow(self: Session, text: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Session, "ask", slow)
    keys.send_text("which washes clear Dimethicone\rhelp undo\r\x04")
    page = at_keyboard(keys, Session.open())
    assert page.splitlines()[0] == "stopped"
    assert page.splitlines()[1].startswith("undo:")


def test_lines_last_in_a_history_of_ones_own(keys: PipeInput, tmp_path: Path) -> None:
    history = tmp_path / "made" / "history"
    keys.send_text("help undo\r\x04")
    at_keyboard(keys, Session.open(), history)
    assert "+help undo" in history.read_text()
    assert history.stat().st_mode & 0o077 == 0
    keys.send_text("\x1b[A\r\x04")
    assert at_keyboard(keys, Session.open(), history).startswith("undo:")


def test_a_history_that_cannot_be_kept_is_no_fault(
    keys: PipeInput, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    keys.send_text("help undo\r\x04")
    page = at_keyboard(keys, Session.open(), tmp_path / "file" / "history")
    assert page.startswith("undo:")


# ------------------------------------------------------------------- completion


@pytest.fixture(scope="module")
def offered() -> Callable[[str], list[str]]:
    """What Tab offers after a text."""
    completer = SessionCompleter(Session.open())

    def offers(text: str) -> list[str]:
        found = completer.get_completions(Document(text), CompleteEvent())
        return [text[: len(text) + x.start_position] + x.text for x in found]

    return offers


def test_the_words_that_can_come_next_are_offered(
    offered: Callable[[str], list[str]],
) -> None:
    assert "which" in offered("wh")
    assert "what" in offered("wh")
    assert "shelf" in offered("sh")


def test_products_of_the_shelf_are_offered_where_a_product_can_stand(
    offered: Callable[[str], list[str]],
) -> None:
    assert 'does "Tideline Wash"' in offered("does tide")
    assert 'does "Tideline Wash"' in offered('does "tide')
    assert 'drop "Harbour Cream"' in offered("drop harb")


def test_films_are_offered_where_a_film_can_stand(
    offered: Callable[[str], list[str]],
) -> None:
    found = offered("which washes clear dimethicon")
    assert 'which washes clear "Dimethicone"' in found
    assert not any("Harbour" in text for text in found)


def test_nothing_is_offered_inside_a_pasted_label(
    offered: Callable[[str], list[str]],
) -> None:
    assert offered("Aqua,\nwh") == []


# ------------------------------------------------------------------------ a pipe


def test_lines_from_a_pipe_are_done_and_the_worst_code_is_left_with(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("shelf nowhere\nhelp undo\n"))
    assert main([]) == 2
    said = capsys.readouterr().out
    assert "abluent>" not in said
    assert said.splitlines()[-1].startswith("undo:")


class Terminal(io.StringIO):
    """Text that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_terminal_that_cannot_draw_gets_a_plain_prompt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    out = Terminal()
    monkeypatch.setenv("TERM", "dumb")
    monkeypatch.setattr(sys, "stdin", Terminal("help undo\nleave\n"))
    monkeypatch.setattr(sys, "stdout", out)
    assert main([]) == 0
    said = out.getvalue()
    assert said.startswith(loop.WELCOME)
    assert "abluent> undo: take back" in said
    assert "\x1b" not in said


def test_the_hair_and_the_temperature_are_said_as_the_water_is() -> None:
    session = Session.open()
    page = typed("hair damaged\ntemperature warm\nhair red\n", session)
    assert "The hair is damaged from now on." in page
    assert tuple(session.shelf.conditions.values()) == ("hard", "damaged", "warm")
    assert 'hair is "damaged" or "undamaged", not "red"' in page
