"""What stands above a picture: a claim or a question, in everyday words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.told.asking import Asking
from abluent.shell.told.group import Group
from abluent.shell.told.spoken_names import aloud, few, spoken_alone
from abluent.shell.told.wash_claims import by_grade, what_is_taken

LONGEST = 150
"""Letters of a sentence that can be a claim; a longer one is told by its question."""
_ASKING = frozenset("does do is are which what how why can will".split())
_EFFECTS = (Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT)
_COUNT = {3: "three"}
_NAMED = 4
_FEW_OF = 3
"""What is less than one in so many is said to be little."""
_PATTERN = re.compile(r'(?:named |that fit )[“"](\*?)([^"”*]+)(\*?)[”"]')


def asked(question: str) -> str:
    """A question as it is read aloud."""
    words = question.replace('"', "").strip().rstrip("?.")
    asks = words.split(" ", 1)[0].casefold() in _ASKING
    return f"{words[:1].upper()}{words[1:]}{'?' if asks else '.'}"


def headline(sentence: str, question: str) -> str:
    """A sentence, or where it is long its beginning or what was asked."""
    for each in (sentence, re.split(r"(?<=\.) ", sentence)[0]):
        if 0 < len(each) <= LONGEST:
            return each
    return asked(question)


def claim_words(query: str) -> str:
    """The claim that was judged, as a sentence."""
    said = names_by_pattern(re.sub(r"^is it true that ", "", query)).replace('"', "")
    return as_sentence(said[:1].upper() + said[1:])


def names_by_pattern(text: str) -> str:
    """A text in which a pattern of names is told in words."""
    return _PATTERN.sub(_in_words, text)


def _in_words(found: re.Match[str]) -> str:
    before, part, after = found[1], found[2].strip("-"), found[3]
    if before and after:
        return f"with “{part}” in the name"
    if before:
        return f"ending in “-{part}”"
    return f"beginning with “{part}-”" if after else f"named “{part}”"


def heading_of_list(answer: Answer, asking: Asking, rows: Sequence[Row]) -> str:
    """What a list says, in an answer; empty where nothing plain can be said of it."""
    every = [*rows, *answer.others]
    found = [row for row in every if isinstance(row, Verdict)]
    if not found or len(found) < len(every):
        return ""
    if answer.truth and asking.statement is not None:
        return _whether(found, answer.truth, asking)
    films = {(row.film, row.source) for row in found}
    washes = {row.wash for row in found}
    so = [row for row in rows if isinstance(row, Verdict)]
    answered = by_grade(found, asking, so)
    if answered:
        return answered
    if len(films) == 1:
        whose = f" from {found[0].source}" if found[0].source else ""
        film = aloud(found[0].case.world.base, found[0].film)
        return f"Which washes take off {film}{whose}?"
    if len(washes) == 1:
        return _by_one_wash(found)
    return ""


def _whether(found: Sequence[Verdict], truth: str, asking: Asking) -> str:
    """A question whether one wash takes something off, as the answer that it has."""
    said = asking.act
    washes = {row.wash for row in found}
    if not isinstance(said, q.Clears) or len(washes) > 1:
        return ""
    (wash,) = washes
    wash = wash.capitalize() if wash == WATER else wash
    what = what_is_taken(said)
    some = "some of " if said.extent is q.Extent.AT_LEAST_PARTLY else ""
    told = {
        "yes": f"{wash} takes off {some}{what}.",
        "no": f"{wash} does not take off {some}{what}.",
        "open": f"We cannot say that {wash} takes off {some}{what}.",
    }
    return told.get(truth, "")


def in_part(found: Sequence[Verdict]) -> str:
    """What one wash does to many films, where it takes some of them; else empty."""
    none = all(ENDS[row.role][0] is Role.NONE_OF_IT for row in found)
    return "" if none or len({row.wash for row in found}) > 1 else _by_one_wash(found)


def _by_one_wash(found: Sequence[Verdict]) -> str:
    """What one wash does to many films, by what it does to most."""
    wash = found[0].wash
    wash = wash.capitalize() if wash == WATER else wash
    taken = [row for row in found if ENDS[row.role][0] is not Role.NONE_OF_IT]
    if not taken:
        return f"{wash} does little or nothing for {_all_of(found)}."
    whole = all(ENDS[row.role][1] is Role.ALL_OF_IT for row in taken)
    sure = all(ENDS[row.role][0] is Role.ALL_OF_IT for row in taken)
    part = "" if sure else "some or all of " if whole else "part of "
    if _FEW_OF * len(taken) < len(found):
        go = "goes" if len(taken) == 1 else "go"
        return f"{wash} does little for most films here; {part}{_all_of(taken)} {go}."
    rest = "; the rest may stay" if len(taken) < len(found) else ""
    return f"{wash} takes off {part}{_all_of(taken)}{rest}."


def _all_of(found: Sequence[Verdict]) -> str:
    """Some films by name where they are few, else by how many they are."""
    base = found[0].case.world.base
    names = dict.fromkeys(spoken_alone(aloud(base, row.film)) for row in found)
    return few(list(names), _NAMED)


def numbered(groups: Sequence[Group], answer: Answer, asking: Asking) -> list[Group]:
    """Groups whose names are numbered where they stand in an order of mildness."""
    order = getattr(asking.query, "order", None)
    if order is not q.Order.MILDEST or not answer.in_order:
        return list(groups)
    first, *rest = groups
    rows = [*answer.rows, *answer.others]
    washes = {row.wash for row in rows if isinstance(row, Verdict)}
    known = (any(n == w or n.startswith(f"{w} (") for w in washes) for n in first.names)
    if len(first.names) < 2 or not all(known):
        return list(groups)
    names = tuple(f"{n}. {name}" for n, name in enumerate(first.names, 1))
    word = f"{first.word}, mildest first"
    return [
        first._replace(names=names if len(names) > 1 else first.names, word=word),
        *rest,
    ]


def heading_of_table(asking: Asking, found: Sequence[Verdict]) -> str:
    """Which of some washes is surer to do more, or what is compared."""
    answered = by_grade(found, asking, found)
    if answered:
        return answered
    washes = list(dict.fromkeys(row.wash for row in found))
    film = asking.query.film if isinstance(asking.query, q.Compare) else None
    what = print_term(film).replace('"', "") if film is not None else ""
    if what and len({film_key(row) for row in found}) == 1:
        what = aloud(found[0].case.world.base, found[0].film)
    for best in washes:
        others = [wash for wash in washes if wash != best]
        if all(_ahead(found, best, other) == best for other in others):
            said = f"{best} is the best bet of these {_COUNT.get(len(washes), '')}"
            if len(others) == 1:
                said = f"{best} is a better bet than {others[0]}"
            return as_sentence(f"For {what}, {said.rstrip()}" if what else said)
    more = f" on {what}" if what else ""
    if _alike(found):
        return f"{listed(washes)} do the same{more}."
    return (
        f"Neither is ahead everywhere: {listed(washes)}{more}."
        if len(washes) == 2
        else f"None is ahead everywhere: {listed(washes)}{more}."
    )


def _alike(found: Iterable[Verdict]) -> bool:
    """Whether some washes do the same to each film."""
    roles: dict[str, set[Role]] = {}
    for row in found:
        roles.setdefault(film_key(row), set()).add(row.role)
    return all(len(each) == 1 for each in roles.values())


def _ahead(found: Iterable[Verdict], one: str, other: str) -> str:
    """The wash whose ends lie nowhere below and somewhere above the other's."""
    ends: dict[str, dict[str, tuple[int, int]]] = {one: {}, other: {}}
    for row in (each for each in found if each.wash in ends):
        least, most = ENDS[row.role]
        pair = (_EFFECTS.index(least), _EFFECTS.index(most))
        ends[row.wash][film_key(row)] = pair
    shared = [f for f in ends[one] if f in ends[other]]
    for best, rest in ((one, other), (other, one)):
        pairs = [(ends[best][film], ends[rest][film]) for film in shared]
        never_less = all(b[0] >= r[0] and b[1] >= r[1] for b, r in pairs)
        if never_less and any(b[0] > r[0] for b, r in pairs):
            return best
    return ""
