"""The order by which an addition is shown, and kept if wanted."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import Problem
from abluent.engine.teach.layer import RULES, TURTLE, Part
from abluent.engine.teach.trial import Refused
from abluent.grammar.common.text import wrapped
from abluent.shell.talk.sitting import Sitting

if TYPE_CHECKING:
    from abluent.engine.teach.addition import Weighed

_YES = {"", "y", "yes"}


def teach(shell: Sitting, what: str) -> None:
    """Teach a file, or what the answers to questions come to.

    Raises:
        CommandError: there is no such file or thing to teach.
        Refused: it cannot be kept. What was asked for is kept as a draft.
    """
    from abluent.engine.teach.hand_over import parts_in
    from abluent.shell.pages.addition import kept_note, weighed_page
    from abluent.shell.talk.teach_form import KINDS, Form

    if not what:
        ask = f"What ({', '.join(KINDS)}, or a file):"
        what = shell.reader.answer(ask, list(KINDS))
    asked = what.casefold() in KINDS or not _names_file(what)
    if asked:
        parts = [Form(shell).part(what.casefold())]
    else:
        parts = parts_in(Path(what).expanduser())
    try:
        weighed = shell.session.weigh(parts)
    except Refused as error:
        if not asked:
            raise
        draft = shell.session.layer.draft(parts[0])
        hint = f"mend the text and `teach {draft}`"
        kept = Problem("nothing was kept; your answers are not lost", hint=hint)
        raise Refused([*error.problems, kept]) from error
    shell.show(weighed_page(weighed, shell.session.shelf, shell.width))
    if _kept(shell, parts):
        shell.say(wrapped(kept_note(shell.session.teach(weighed)), shell.width))
        shell.say(wrapped(_try(weighed), shell.width))
    else:
        shell.say("nothing was kept")


def _kept(shell: Sitting, parts: Sequence[Part]) -> bool:
    """Ask whether to keep an addition; its text is shown to who asks for it."""
    ask = "Keep it? [yes] (`text` shows how it is written):"
    while True:
        told = shell.reader.answer(ask, ("yes", "no", "text")).casefold()
        if told != "text":
            return told in _YES
        for part in parts:
            shell.show(_shown(part))


def _names_file(what: str) -> bool:
    path = Path(what).expanduser()
    return path.suffix in {TURTLE, RULES, ".zip"} or path.exists()


def _shown(part: Part) -> str:
    """Return the text of an addition without what every one begins with."""
    lines = [line for line in part.text.split("\n") if not line.startswith("@prefix")]
    return "\n".join(f"  {line}" for line in lines if line.strip())


def _try(weighed: Weighed) -> str:
    base = weighed.trial.base
    for symbol in weighed.trial.symbols:
        record = base.record(symbol)
        if record.space == "ing":
            return f'Try: what is "{base.label(symbol)}"'
        film = record.link("film")
        if film:
            plural = base.plural(film)
            return f"Try: which washes clear {plural}"
    return "Try a question that it bears on."
