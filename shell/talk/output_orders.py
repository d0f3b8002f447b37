"""Orders that make something of the last answer: pictures, works, pages, the desk."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.shell.ground.extras import needing

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from abluent.shell.talk.orders import Order
    from abluent.shell.talk.sitting import Sitting

SHAPES = ("9:16", "1:1", "16:9", "A4")
_CALLED = {"tall": "9:16", "square": "1:1", "wide": "16:9", "sheet": "A4", "a4": "A4"}
"""What the shapes are called in words."""


_NAMED = ", ".join(
    f"{shape} ({next(word for word, of in _CALLED.items() if of == shape)})"
    for shape in SHAPES
)


def picture(shell: Sitting, order: Order) -> None:
    """Draw the last answer as a card: `picture`, `picture 1:1 to card.png`."""
    from abluent.engine.disk import write_bytes, write_file
    from abluent.shell.ground.settings import settings
    from abluent.shell.pages.html import today

    said, path = target(order, "picture.png")
    words = [_CALLED.get(word.casefold(), word) for word in said]
    shape = next((word for word in words if word in SHAPES), SHAPES[0])
    stray = [word for word in words if word not in (*SHAPES, "last")]
    if stray:
        what = f'"{stray[0]}" is no shape of a picture'
        raise CommandError(Problem(what, hint=f"there are: {_NAMED}"))
    answer, kept = _last(shell), settings()
    with needing("a picture"):
        from abluent.shell.pictures.card import Wish, answer_card
        from abluent.shell.pictures.glyphs import warning
        from abluent.shell.pictures.sheet import look_of

        look = look_of(*(kept.get(each, "") for each in ("ink", "paper", "handle")))
        sheet = answer_card(
            answer, answer.query, Wish(shape, today(), look, world=shell.session.world)
        )
        told = warning([sheet.texts()])
        if path.suffix.casefold() == ".svg":
            write_file(path, sheet.svg())
        elif path.suffix.casefold() == ".png":
            write_bytes(path, sheet.png())
        else:
            what = f'"{path}" does not end like a picture'
            raise CommandError(Problem(what, hint="end it in .png or .svg"))
    if told:
        shell.say(told)
    _written(shell, f'The picture is in "{path}"', path)


def cite(shell: Sitting, order: Order) -> None:
    """List the works of the last answer, or write them: `cite to works.bib`."""
    from abluent.engine.disk import write_file
    from abluent.shell.pages.export import cited

    answer = _last(shell)
    if not order.words:
        works = cited([answer], "text").rstrip("\n")
        shell.show(works or "No work stands behind the last answer: it is worked out.")
        return
    _, path = target(order, "works.txt")
    write_file(path, cited([answer], path.suffix))
    _written(shell, f'The works are in "{path}"', path)


def batch(shell: Sitting, order: Order) -> None:
    """Answer a file of questions into a folder: `batch questions.txt to answers`."""
    from abluent.shell.session.batch_folder import answer_into
    from abluent.shell.shelf.label_files import lines_in

    words, folder = target(order, "answers")
    if not words:
        what = "`batch` names no file of questions"
        raise CommandError(Problem(what, hint="try: batch questions.txt to answers"))
    questions = lines_in(" ".join(words))
    done = 0

    def tick() -> None:
        nonlocal done
        done += 1
        if done % 10 == 0:
            shell.say(f"{done} of {len(questions)} …")

    made = answer_into(shell.session, questions, folder, watch=tick)
    count = sum(not entry.problem for entry in made)
    _written(
        shell,
        f'{count} of {len(questions)} answered, in "{folder}"',
        folder / "index.html",
    )


def desk(shell: Sitting, order: Order) -> None:
    """Open the desk on what is in hand here; Ctrl-C closes it and comes back."""
    if shell.open_desk is None:
        what = "the desk cannot be opened from here"
        raise CommandError(Problem(what, hint="run `abluent desk` in a terminal"))
    shell.open_desk(shell.session, shell.say)


def set_one(shell: Sitting, order: Order) -> None:
    """Say what is set, or set one thing: `set market EU`; `set market` unsets it."""
    from abluent.shell.ground.settings import (
        KNOWN,
        set_setting,
        settings,
        settings_path,
    )

    if not order.words:
        kept = settings()
        for name, what in KNOWN.items():
            shell.say(f"  {name}: {kept.get(name) or 'not set'} ({what})")
        shell.say(f'They are kept in "{settings_path()}".')
        return
    name, value = order.words[0].casefold(), " ".join(order.words[1:])
    set_setting(name, value)
    shell.say(f"{name} is {value} from now on." if value else f"{name} is not set now.")


def open_last(shell: Sitting, order: Order) -> None:
    """Show the last file that was written, in what this machine shows it with."""
    import webbrowser

    if shell.written is None:
        hint = "`picture`, `cite to …` or `trace last to …` first"
        raise CommandError(Problem("nothing was written yet to be opened", hint=hint))
    shell.say(f'Opening "{shell.written}".')
    webbrowser.open(shell.written.resolve().as_uri())


def copy(shell: Sitting, order: Order) -> None:
    """Put the last answer on the clipboard, by way of the terminal."""
    from base64 import b64encode

    from abluent.shell.pages.answer import answer_page

    text = answer_page(_last(shell), 80)
    if not shell.signs:
        shell.say(text)
        return
    coded = b64encode(text.encode()).decode("ascii")
    # The sequence by which a program hands a text to its terminal's clipboard.
    shell.say(f"\x1b]52;c;{coded}\x07The answer is copied, if this terminal allows it.")


def _last(shell: Sitting) -> Answer:
    answer = shell.session.last
    if answer is None:
        what = "there is no answer yet to make it of"
        raise CommandError(Problem(what, hint="ask something first"))
    return answer


def target(order: Order, usual: str) -> tuple[tuple[str, ...], Path]:
    """The words before `to`, and the file after it; the usual one if none is named."""
    words = order.words
    if "to" not in words:
        return words, _free(usual)
    at = len(words) - 1 - words[::-1].index("to")
    return words[:at], Path(" ".join(words[at + 1 :]) or usual).expanduser()


def _free(usual: str) -> Path:
    """A name that no file has yet: `picture.png`, `picture-2.png` …"""
    path, number = Path(usual), 1
    while path.exists():
        number += 1
        path = Path(usual).with_stem(f"{Path(usual).stem}-{number}")
    return path


def _written(shell: Sitting, told: str, path: Path) -> None:
    shell.written = path
    shell.say(f"{told}; `open` shows it.")
