"""A label pasted into the shell: named, given a kind, and put on a shelf."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, DataError
from abluent.grammar.common.text import wrapped
from abluent.shell.shelf.drafts import Drafts
from abluent.shell.shelf.presets import (
    LONGEST_NAME,
    Suggestion,
    default_name,
    suggested_kind,
    suggested_name,
    summary_of,
    usual_market,
)
from abluent.shell.shelf.shelf import ShelfLabel, same_name
from abluent.shell.shelf.words import shelf_words
from abluent.shell.talk.lines import LABEL_PROMPT, Typed

if TYPE_CHECKING:
    from abluent.shell.talk.sitting import Sitting

_YES = {"", "y", "yes"}
_BEGINNING = 40
_PARTS = re.compile(r"[,;\u2022\u00b7]")
_MORE = 2
"""So many separators make an answer a line of a label."""


def add_pasted(shell: Sitting, typed: Typed, named: str = "") -> None:
    """Take a pasted label: read the rest of it, ask for what is missing, shelve it.

    Args:
        shell: where it was pasted.
        typed: the line, or the whole of it.
        named: a line before it that was no question, and so perhaps its name.
    """
    shell.say("This looks like a label.")
    text = typed.text if typed.whole else _rest_of(shell, typed.text)
    add_label(shell, text, offered=named[:LONGEST_NAME])


def add_asked(shell: Sitting, product: str) -> None:
    """Ask for a label and shelve it; one that was left before is offered first."""
    left = Drafts().last()
    text = left.fields.get("text", "")
    if text.strip() and _taken_up(shell, text):
        add_label(shell, text, product, draft=left.key)
        return
    shell.say("Paste the label; an empty line ends it.")
    text = _rest_of(shell, "")
    if text.strip():
        add_label(shell, text, product)
    else:
        shell.say("nothing was added")


def _taken_up(shell: Sitting, text: str) -> bool:
    begins = " ".join(text.split())[:_BEGINNING]
    ask = f"A label was left before it was shelved: {begins}… Take it up? [yes]:"
    return shell.reader.answer(ask, ("yes", "no")).casefold() in _YES


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


def add_label(
    shell: Sitting, text: str, product: str = "", *, offered: str = "", draft: str = ""
) -> None:
    """Ask for name, kind and market of a label, and shelve it.

    An empty answer takes what is offered. The text is kept as a draft until it is on
    a shelf, so that whoever gives up loses nothing.
    """
    drafts = Drafts()
    begun = drafts.get(draft) if draft else drafts.new()
    kept = drafts.save(begun.key, begun.number, {"text": text})
    asking = _Asking(shell, text)
    try:
        label = asking.shelved(product, offered)
    except (KeyboardInterrupt, EOFError):
        drafts.save(kept.key, kept.number, {"text": asking.text})
        shell.say("The label is kept as it is; `add` takes it up again.")
        return
    drafts.drop(kept.key)
    shell.added = label.product
    shelf = shell.session.shelf
    where = f", {label.market}" if label.market else ""
    told = f'"{label.product}" ({label.kind}{where}) is on the shelf "{shelf.name}" now'
    _, read = shell.session.read_product(label.product)
    shell.say(wrapped(f"{told}: {summary_of(read)}.", shell.width))
    question = f'what does "{label.product}" leave'
    shell.say(wrapped(shell.session.ask(question).sentence, shell.width))
    shell.say(f"Try: {question}")


class _Asking:
    """Asks for what a label does not say; more of it may come with an answer."""

    def __init__(self, shell: Sitting, text: str) -> None:
        self._shell = shell
        self.text = text

    def shelved(self, product: str, offered: str) -> ShelfLabel:
        """Ask until the shelf takes it."""
        session = self._shell.session
        taken = [label.product for label in session.shelf.labels]
        guess = self._kind_offered(product or offered)
        usual = offered or suggested_name(self.text) or default_name(guess.word, taken)
        name = product or self.answer(f"Name [{usual}]:") or usual
        kind = self._kind(name)
        market = self._market()
        while True:
            try:
                return session.add_label(name, kind, self.text, market)
            except DataError as error:
                self._shell.say(str(error))
                usual = default_name(kind, [*taken, name])
                name = self.answer(f"Another name [{usual}]:") or usual
            except CommandError as error:
                self._shell.say(str(error))
                market = self._market()

    def answer(self, question: str, choices: Sequence[str] = ()) -> str:
        """Ask; a line that goes on with the label is added to it, and no answer."""
        while True:
            told = self._shell.reader.answer(question, choices)
            if len(_PARTS.findall(told)) < _MORE:
                return told
            self.text = f"{self.text}\n{told}"
            self._shell.say("That reads like more of the label, and was added to it.")

    def _kind_offered(self, name: str) -> Suggestion:
        session = self._shell.session
        read = session.read(self.text)
        return suggested_kind(name, self.text, read, session.world.base)

    def _kind(self, name: str) -> str:
        words = shelf_words()
        found = self._kind_offered(name)
        why = f", as {found.why}" if found.why else ""
        offered = found.word or words.other
        kinds = [*words.kinds, words.other]
        while True:
            told = self.answer(f"Kind [{offered}{why}]:", kinds)
            kind = words.kind_of(told) if told else offered
            if kind:
                return kind
            self._shell.say(f'"{told}" is no kind; a kind is one of {", ".join(kinds)}')

    def _market(self) -> str:
        found = usual_market(self.text)
        if found.word:
            ask = f"Market [{found.word}, as {found.why}; `none` if not]:"
        else:
            ask = "Market, such as EU or a country (nothing if not known):"
        told = self.answer(ask, ("EU", "US", "none"))
        if told.casefold() in {"none", "no"}:
            return ""
        return told or found.word


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
        return shell.reader.line(LABEL_PROMPT)
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
