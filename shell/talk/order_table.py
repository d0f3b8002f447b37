"""What each order of the interactive shell does: one small function for each."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem
from abluent.shell.shelf.words import shelf_words
from abluent.shell.talk import output_orders
from abluent.shell.talk.orders import ORDERS, Order, sayings
from abluent.shell.talk.output_orders import target

if TYPE_CHECKING:
    from abluent.engine.questions.answers.answer import Answer
    from abluent.grammar.phrase.reading import Reading
    from abluent.shell.routine.heard import HeardWeek
    from abluent.shell.talk.sitting import Sitting


def obey(shell: Sitting, order: Order) -> None:
    """Do what an order says.

    Raises:
        ShellError: the order cannot be carried out.
        Leave: the order is to leave.
    """
    _OBEYED.get(order.word, _condition)(shell, order)


def ask(shell: Sitting, question: str) -> None:
    """Answer a question.

    Raises:
        GrammarError: it is not understood.
    """
    from abluent.shell.session.unexact import Unexact

    meant = _it(shell, question)
    if meant != question:
        shell.say(f'“it” is "{shell.added}".')
        question = meant
    elif _IT.match(question):
        shell.say("“it” is nothing yet: name what is meant, or paste its label.")
    try:
        answer = shell.session.ask(question)
    except Unexact as error:
        if error.week is not None and error.week.whole:
            take_one(shell, question, error.week)
            return
        if not error.together:
            shell.offer(error)
        for reading in error.together:
            shell.say(reading.question)
            take(shell, question, reading, one_of_several=True)
        return
    _shown(shell, answer)


_IT = re.compile(r"^((?:what |why |how )?(?:does|can|will|mild is) )it\b", re.I)


def _it(shell: Sitting, question: str) -> str:
    """A question in which `it` is what was put on the shelf last."""
    if not shell.added or shell.added not in shell.session.world.products:
        return question
    return _IT.sub(lambda found: f'{found[1]}"{shell.added}"', question)


def take(
    shell: Sitting, question: str, reading: Reading, *, one_of_several: bool = False
) -> None:
    """Answer one reading of a line that was no exact question.

    What is one of several things asked is not remembered for the whole line.
    """
    from abluent.grammar.common.text import not_used
    from abluent.shell.session.unexact import unread

    left = unread(question, reading)
    if left:
        shell.say(f"Left aside, as it was not read: {left}.")
    if reading.unused:
        shell.say(not_used(reading.unused))
    if one_of_several:
        _shown(shell, shell.session.ask(reading.question))
        return
    _shown(shell, shell.session.take(question, reading.question))


def take_one(shell: Sitting, question: str, chosen: Reading | HeardWeek) -> None:
    """Answer one thing that a line can be read as: a question, or a week."""
    from abluent.grammar.phrase.reading import Reading

    if isinstance(chosen, Reading):
        take(shell, question, chosen)
        return
    from abluent.shell.routine.heard import told
    from abluent.shell.talk.routine_orders import heard

    shell.say("\n".join(["Read as", *told(chosen)]))
    heard(shell, chosen)


def _shown(shell: Sitting, answer: Answer) -> None:
    from abluent.shell.pages.answer import answer_page
    from abluent.shell.pages.signs import signed_page

    shell.rows_page = None
    width, styled = shell.page()
    if shell.signs:
        shell.show(signed_page(answer, width, coloured=styled))
    else:
        shell.show(answer_page(answer, width, styled))
    if len(answer.rows) > 1 and not answer.why:
        shell.say("`why` shows the reasons.")


def _help(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.help import help_page

    word = order.rest.casefold()
    told = {**sayings(), **ORDERS}
    if word in told:
        shell.say(f"{word}: {told[word]}")
    else:
        shell.show(help_page(shell.session.shelf, shell.width))


def _shelf(shell: Sitting, order: Order) -> None:
    from abluent.shell.pages.shelf import shelf_page

    if order.words[:1] == ("new",) and len(order.words) > 1:
        shell.session.use_new(" ".join(order.words[1:]))
    elif order.words:
        shell.session.use(order.rest)
    shelf = shell.session.shelf
    for problem in shelf.problems:
        shell.say(str(problem))
    shell.show(shelf_page(shelf, shell.width))


def _add(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.pasted_label import add_asked

    add_asked(shell, order.rest)


def _drop(shell: Sitting, order: Order) -> None:
    product = _wanted(order, "which product", 'drop "Harbour Cream"')
    shell.session.drop(product)
    shell.say(f'"{product}" is off the shelf; `undo` puts it back.')


def _edit(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.pasted_label import edit_asked

    edit_asked(shell, _wanted(order, "which product", 'edit "Harbour Cream"'))


def _rename(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.pasted_label import renaming

    example = 'rename "Harbour Cream" to "Quay Cream"'
    _wanted(order, "which product", example)
    names = [label.product for label in shell.session.shelf.labels]
    old, new = renaming(order.words, names)
    if not old or not new:
        what = "`rename` does not say from what to what"
        raise CommandError(Problem(what, hint=f"try: {example}"))
    shell.session.edit(old, name=new)
    shell.say(f'"{old}" is called "{new}" now; `undo` takes it back.')


def _undo(shell: Sitting, order: Order) -> None:
    told, left = shell.session.undo()
    count = len(shell.session.shelf.labels)
    products = "1 product" if count == 1 else f"{count} products"
    more = f"; {left} earlier changes are kept" if left else ""
    what = "; ".join(told) or "the file is as it was"
    shell.say(f"The last change is taken back: {what}. {products} on it{more}.")


def _condition(shell: Sitting, order: Order) -> None:
    example = f"{order.word} {shelf_words().aspects[order.word][0]}"
    word = _wanted(order, f"which {order.word}", example).casefold()
    shell.session.set_condition(order.word, word)
    shell.say(f"The {order.word} is {word} from now on.")


def _read(shell: Sitting, order: Order) -> None:
    from abluent.shell.pages.label import label_page
    from abluent.shell.pages.law import law_page

    product = _wanted(order, "which product", 'read "Harbour Cream"')
    session = shell.session
    label, read = session.read_product(product)
    levels = session.levels(read)
    base, width = session.world.base, shell.width
    page = label_page(label, read, levels, base, width)
    law = law_page(session.lawful(read), base, width)
    shell.show("\n".join(filter(None, (page, law))))


def _name(shell: Sitting, order: Order) -> None:
    from abluent.shell.pages.label import reading_page

    name = _wanted(order, "which name", "name Dimethicone")
    base = shell.session.world.base
    shell.show(reading_page(shell.session.name(name), base, shell.width))


def _rows(shell: Sitting, order: Order) -> None:
    from abluent.shell.pages.answer import answer_page

    if shell.rows_page is not None:
        shell.show(shell.rows_page())
        return
    answer = shell.session.last
    if answer is None:
        raise CommandError(
            Problem("there is no answer yet to list", hint="ask something first")
        )
    shell.show(answer_page(answer, *shell.page(), whole=True))


def _trace(shell: Sitting, order: Order) -> None:
    from abluent.engine.disk import write_file

    words, path = target(order, "why.html")
    stray = [word for word in words if word != "last"]
    if stray:
        what = f'"{stray[0]}" is nothing that is traced here'
        hint = "`trace last to why.md` for a page, `why.json` to check it"
        raise CommandError(Problem(what, hint=hint))
    answer = shell.session.last
    if answer is None:
        raise CommandError(
            Problem("there is no answer yet to trace", hint="ask something first")
        )
    shell.say("Every step is worked out and checked; Ctrl-C stops it.")
    write_file(path, shell.session.export_trace(answer, path.suffix))
    shell.written = path
    shell.say(f'The reasons are in "{path}"; `open` shows it.')


def _routine(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.routine_orders import account

    account(shell, order.words)


def _plan(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.routine_orders import plan

    plan(shell, order.words)


def _teach(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.teach import teach

    teach(shell, order.rest)


def _taught(shell: Sitting, order: Order) -> None:
    from abluent.engine.teach.hand_over import export
    from abluent.shell.pages.addition import taught_page

    layer = shell.session.layer
    if order.words[:1] == ("to",) and len(order.words) > 1:
        path = Path(" ".join(order.words[1:])).expanduser()
        count = export(layer, path)
        shell.say(f'All that you taught ({count}) is in "{path}".')
        return
    shell.show(taught_page(layer.additions(), shell.session.world.base, shell.width))


def _untaught(shell: Sitting, order: Order) -> None:
    addition, aside = shell.session.untaught(order.rest)
    shell.say(f'"{addition.name}" is taken back; its text is in "{aside}".')


def _audit(shell: Sitting, order: Order) -> None:
    from abluent.engine.base.matters import shares_of
    from abluent.shell.pages.upkeep import audit_page, consistency_page, rests_page
    from abluent.shell.session.upkeep import audited, consistent

    shell.say("Every source is withdrawn in turn; Ctrl-C stops it.")
    found = audited(shell.session)
    base = shell.session.world.base
    rests = rests_page(shares_of(base), shell.width)
    proof = consistency_page(consistent(shell.session), base, shell.width)
    shell.show("\n".join([rests, proof, audit_page(found, base, shell.width)]))


def _changed(shell: Sitting, order: Order) -> None:
    from abluent.shell.pages.upkeep import changed_page
    from abluent.shell.session.upkeep import compared

    folder = _wanted(order, "which folder", "changed old/ontology")
    answer = shell.session.last
    if answer is None:
        raise CommandError(
            Problem("there is no answer yet to compare", hint="ask something first")
        )
    found = compared(shell.session.shelf, answer.query, folder, None)
    shell.show(changed_page(found, shell.width))


def _leave(shell: Sitting, order: Order) -> None:
    from abluent.shell.talk.sitting import Leave

    raise Leave


def _wanted(order: Order, what: str, example: str) -> str:
    if not order.rest:
        raise CommandError(
            Problem(f"`{order.word}` does not say {what}", hint=f"try: {example}")
        )
    return order.rest


_OBEYED: dict[str, Callable[[Sitting, Order], None]] = {
    "help": _help,
    "shelf": _shelf,
    "add": _add,
    "edit": _edit,
    "rename": _rename,
    "drop": _drop,
    "undo": _undo,
    "read": _read,
    "name": _name,
    "rows": _rows,
    "trace": _trace,
    "routine": _routine,
    "plan": _plan,
    "teach": _teach,
    "taught": _taught,
    "untaught": _untaught,
    "audit": _audit,
    "changed": _changed,
    "picture": output_orders.picture,
    "cite": output_orders.cite,
    "batch": output_orders.batch,
    "open": output_orders.open_last,
    "copy": output_orders.copy,
    "set": output_orders.set_one,
    "desk": output_orders.desk,
    "leave": _leave,
}
