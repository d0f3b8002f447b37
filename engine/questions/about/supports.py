"""What a row rests on: every smallest set of facts, and what all of them need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from abluent.engine.base.contract import LINE, READING, SETTING, SUBCLASS
from abluent.engine.base.roles import Role
from abluent.engine.base.store import Base
from abluent.engine.proof.nodes import Ground
from abluent.engine.proof.origins import QUESTION, label_origin
from abluent.engine.proof.supports import load_bearing, supports
from abluent.engine.questions.answers.answer import Finding, Row
from abluent.engine.questions.answers.explained import Lacking
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.world.case import Case
from abluent.grammar.common.text import as_sentence

_IDLE = frozenset({SETTING, SUBCLASS})
"""What nobody disputes: under which conditions hair is washed at all, and what classes
mean."""
_TOLD_APART = frozenset({LINE, "coversGrade"})
"""What is told of the label, and of the name of a film, in other words."""
MOST_WAYS = 20
"""How many sets of facts are shown of one row."""


def ways(row: Row, most: int = MOST_WAYS) -> Iterator[Finding]:
    """Every smallest set of facts from which a row follows.

    What all sets have is told once, before what each has besides.
    """
    if isinstance(row, Lacking):
        yield _nothing(row)
        return
    found = supports(row.case.prover, *row.goal, most=most)
    number = len(found.sets)
    size = "complete" if found.complete else f"capped at {number}"
    count = f"{number} way{'' if number == 1 else 's'}"
    phrase = row_phrase(row.case.world, row)
    yield Finding("ways", f"{phrase}: {count} ({size})", complete=found.complete)
    shared = set(found.sets[0]).intersection(*found.sets[1:])
    common = [fact for fact in found.sets[0] if fact in shared]
    if len(found.sets) > 1:
        said = in_words(row.case, content(row.case, common))
        yield Finding("shared", "In each of them", said)
    for number, each in enumerate(found.sets, 1):
        own = [fact for fact in each if fact not in shared] or common
        yield Finding("way", f"Way {number}", in_words(row.case, own))


def enough_alone(row: Verdict) -> tuple[str, ...]:
    """The lines of a label of which each by itself is enough for what goes at least.

    Empty where none is, or where some of them together are.
    """
    if row.at_least is None:
        return ()
    wash = row.goal[1][0]
    found = supports(row.case.prover, *row.at_least.goal, most=MOST_WAYS)
    lines = [
        {str(args[2]) for name, args in each if name == LINE and args[0] == wash}
        for each in found.sets
    ]
    if not lines or set.intersection(*lines):
        return ()
    fewest = [each for each in lines if len(each) == min(map(len, lines))]
    return tuple(sorted({each for some in fewest for each in some if len(some) == 1}))


def needed(row: Row, *, named: bool = True, classes: bool = True) -> Finding:
    """The facts without any one of which a row does not follow.

    Args:
        row: the row.
        named: whether the row is told again, as where there are several.
        classes: whether it is told what ingredients are by definition.
    """
    if isinstance(row, Lacking):
        return _nothing(row)
    goal, each = row.goal, "for it, this must be so"
    phrase = row_phrase(row.case.world, row)
    phrase = phrase[:1].upper() + phrase[1:]
    if isinstance(row, Verdict) and row.role is Role.PARTLY_CLEARED and row.at_least:
        # That no more goes rests on all that may act there, which is no way to it.
        goal, each = row.at_least.goal, "so that part goes, this must be so"
    base = row.case.world.base
    found = content(row.case, load_bearing(row.case.prover, *goal))
    held = [fact for fact in found if not _of_a_class(base, fact)]
    if isinstance(row, Verdict):
        held = [fact for fact in held if fact[0] not in _TOLD_APART]
    if not classes:
        held = [fact for fact in held if not _is_class(base, fact)]
    head = f"{phrase}: {each}" if named else f"{each[:1].upper()}{each[1:]}"
    if not held:
        return Finding("needed", f"{phrase}: no one thing is needed in every way")
    said = in_words(row.case, held)
    if isinstance(row, Verdict):
        said = _of_all_grades(row, said)
    return Finding("needed", head, said)


def _of_all_grades(row: Verdict, said: Sequence[str]) -> tuple[str, ...]:
    """Sentences, with what is said of every grade of the film said of the film."""
    _, (_, film, product, _) = row.goal
    rows = row.case.model.match(READING, (film, product, None))
    label = row.case.world.base.label
    grades = [label(str(grade)) for *_, grade in rows]
    wholes: dict[str, list[str]] = {}
    for text in said:
        name = next((each for each in grades if text.startswith(f"{each} ")), "")
        whole = text.replace(name, label(str(film)), 1) if name else text
        wholes.setdefault(whole, []).append(text)
    told: list[str] = []
    for whole, texts in wholes.items():
        told += [whole] if len(texts) == len(grades) else texts
    return tuple(told)


def _is_class(base: Base, fact: Ground) -> bool:
    """Whether a fact says of an ingredient which class it is of."""
    _, args = fact
    return len(args) == 2 and base.is_class(str(args[1]))


def _of_a_class(base: Base, fact: Ground) -> bool:
    """Whether a fact only says what a class is, as that surfactants are agents."""
    _, args = fact
    return bool(args) and base.is_class(str(args[0]))


def content(case: Case, facts: Iterable[Ground]) -> Iterator[Ground]:
    """Facts that somebody could dispute, and not what words of the base mean."""
    asides = case.world.known.asides
    for predicate, args in facts:
        if predicate in _IDLE:
            continue
        found = [fact.basis for fact in case.model.asserted(predicate, args)]
        if not all(
            not basis.standing
            and label_origin(basis.origin) is None
            and (basis.sources or not basis.origin)
            and asides.issuperset(basis.sources)
            for basis in found
        ):
            yield predicate, args


def in_words(case: Case, facts: Iterable[Ground]) -> tuple[str, ...]:
    """Asserted facts as sentences, each once.

    All that is asserted of a claim is that claim; what only says what was asked is
    left out.
    """
    return tuple(dict.fromkeys(_sentences(case, facts)))


def _sentences(case: Case, facts: Iterable[Ground]) -> Iterator[str]:
    base = case.world.base
    for predicate, args in facts:
        asserted = case.model.asserted(predicate, args)
        if asserted and all(fact.basis.origin == QUESTION for fact in asserted):
            continue
        subject = str(args[0]) if args else ""
        if subject in base and base.record(subject).space == "claim":
            yield as_sentence(base.label(subject))
        else:
            yield as_sentence(case.world.known.sentences.claim(predicate, args))


def _nothing(row: Lacking) -> Finding:
    """An absence rests on no facts."""
    text = row.reasons[-1] if row.reasons else "Nothing says so."
    return Finding("ways", f"{text} That rests on no fact but on there being none")
