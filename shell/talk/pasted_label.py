"""A label pasted into the shell: named, given a kind, and put on a shelf."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from abluent.engine.faults import DataError
from abluent.shell.shelf.shelf import same_name
from abluent.shell.shelf.words import shelf_words
from abluent.shell.talk.lines import Typed

if TYPE_CHECKING:
    from abluent.shell.talk.sitting import Sitting


def add_pasted(shell: Sitting, typed: Typed) -> None:
    """Take a pasted label: read the rest of it, ask for name and kind, shelve it."""
    shell.say("This looks like a label.")
    text = typed.text if typed.whole else _rest_of(shell, typed.text)
    add_label(shell, text, shell.reader.answer("Name of the product (or nothing):"))


def add_asked(shell: Sitting, product: str) -> None:
    """Ask for a label, and for its name if there is none yet, and shelve it."""
    product = product or shell.reader.answer("Name of the product (or nothing):")
    if not product:
        shell.say("nothing was added")
        return
    shell.say("Paste the label; an empty line ends it.")
    add_label(shell, _rest_of(shell, ""), product)


def edit_asked(shell: Sitting, product: str) -> None:
    """Ask for another kind and another label of a product; nothing keeps the old."""
    label = shell.session.on_shelf(product)
    kind = _kind(shell, label.product, label.kind)
    shell.say("Its label:")
    shell.say(label.text)
    shell.say("Paste the new one; an empty line ends it, and keeps the old if alone.")
    text = _rest_of(shell, "")
    shell.session.edit(label.product, kind=kind, text=text)
    shell.say(f'"{label.product}" ({kind}) is changed; `undo` takes it back.')


def renaming(words: Sequence[str], names: Sequence[str]) -> tuple[str, str]:
    """Return the old and the new name that an order gives, joined by `to`.

    Args:
        words: the words of the order; a name may have `to` in it.
        names: the names there are.
    """
    known = {same_name(name): name for name in names}
    cuts = [n for n, word in enumerate(words) if word == "to"]
    pairs = [(" ".join(words[:n]), " ".join(words[n + 1 :])) for n in cuts]
    fitting = [pair for pair in pairs if same_name(pair[0]) in known]
    return next(iter([*fitting, *pairs]), ("", ""))


def add_label(shell: Sitting, text: str, product: str) -> None:
    """Ask for the kind of a named label and shelve it; without a name, do nothing.

    If the shelf will not take it, another name is asked for, so that the pasted
    text is not lost.
    """
    while product:
        kind = _kind(shell, product)
        try:
            shell.session.add_label(product, kind, text)
        except DataError as error:
            shell.say(str(error))
            product = shell.reader.answer("Another name (or nothing):")
            continue
        shelf = shell.session.shelf
        shell.say(f'"{product}" ({kind}) is on the shelf "{shelf.name}" now.')
        shell.say(f'Try: what does "{product}" leave')
        return
    shell.say("nothing was added")


def _rest_of(shell: Sitting, text: str) -> str:
    """Read on until an empty line or a text that was pasted whole."""
    if text:
        shell.say("An empty line ends it.")
    lines = [text] if text else []
    while True:
        typed = _next(shell)
        if not typed.text.strip():
            return "\n".join(lines)
        lines.append(typed.text)
        if typed.whole:
            return "\n".join(lines)


def _next(shell: Sitting) -> Typed:
    try:
        return shell.reader.line()
    except EOFError:
        return Typed("")


def _kind(shell: Sitting, product: str, now: str = "") -> str:
    """Ask for a kind until one is named; an empty answer takes the one offered."""
    words = shelf_words()
    kinds = [*words.kinds, words.other]
    offered = now or words.kind_in_name(product) or words.other
    while True:
        answer = shell.reader.answer(f"Kind [{offered}]:", kinds)
        kind = words.kind_of(answer) if answer else offered
        if kind:
            return kind
        shell.say(f'"{answer}" is no kind; a kind is one of {", ".join(kinds)}')
