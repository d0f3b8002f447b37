"""What stands above a picture: a claim or a question, in everyday words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.rows import named
from abluent.engine.questions.answers.verdicts import ENDS, Left, Verdict
from abluent.grammar.common.text import as_sentence

LONGEST = 150
"""Letters of a sentence that can be a claim; a longer one is told by its question."""
_ASKING = frozenset("does do is are which what how why can will".split())
_EFFECTS = (Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT)
_SOME = (Role.PART_OF_IT, Role.ALL_OF_IT)
_ALL = (Role.ALL_OF_IT,)
_COUNT = {3: "three"}
_WASHES = re.compile(r"which washes ((?:at least partly )?clear) (.+)$")
"""What is asked of washes that a heading answers in words."""
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


def heading_of_list(answer: Answer, rows: Sequence[Row]) -> str:
    """What a list says, in an answer; empty where nothing plain can be said of it."""
    every = [*rows, *answer.others]
    found = [row for row in every if isinstance(row, Verdict)]
    left = [row for row in every if isinstance(row, Left)]
    if found and len(found) == len(every):
        return _of_verdicts(found, answer.query)
    sources = {row.source for row in left}
    if left and len(left) == len(every) and len(sources) == 1:
        (source,) = sources
        count = sum(row.sure for row in left)
        if count > 1:
            return f"{source} leaves {count} of its ingredients on hair."
    products = re.match(r"which products leave (.+)", answer.query)
    surely = {row.source for row in left if row.sure}
    if products and len(surely) > 1 and len(left) == len(every):
        what = products[1].replace('"', "")
        return f"{len(surely)} products here leave {what} on hair."
    return ""


def _of_verdicts(found: Sequence[Verdict], query: str) -> str:
    films = {(named(row, row.film), row.source) for row in found}
    washes = {row.wash for row in found}
    answered = _answered(found, query) if len(washes) > 1 else ""
    if answered:
        return answered
    if len(films) == 1:
        ((film, source),) = films
        whose = f" from {source}" if source else ""
        return f"Which washes take off {film}{whose}?"
    if len(washes) == 1:
        return f"What does {found[0].wash} take off?"
    return ""


def _answered(found: Sequence[Verdict], query: str) -> str:
    """Which of several washes take a film off, in words; empty where that is asked
    otherwise, or cannot be said in one sentence.
    """
    asks = _WASHES.match(query)
    judged = [row for row in found if row.role is not Role.NO_WASH_NEEDED]
    if not asks or not judged:
        return ""
    films = {film_key(row) for row in judged}
    washes = {row.wash for row in judged}
    what = f"the {asks[2].replace(chr(34), '')}"
    least = _SOME if asks[1].startswith("at least partly") else _ALL
    taking = {row.wash for row in judged if ENDS[row.role][0] in least}
    if len(films) > 1:
        perhaps = any(ENDS[row.role][1] is Role.ALL_OF_IT for row in judged)
        if taking or least is _SOME:
            return ""
        return f"No wash here {'surely ' * perhaps}takes off all of {what}."
    much = "some or all" if least is _SOME else "all"
    if not taking:
        perhaps = any(ENDS[row.role][1] in least for row in judged)
        much = "any" if least is _SOME else "all"
        return f"No wash here {'surely ' * perhaps}takes off {much} of {what}."
    s = "s" * (len(taking) == 1)
    if len(taking) == len(washes):
        return f"All {len(washes)} of these washes take off {much} of {what}."
    many = f"{len(taking)} of these {len(washes)} washes"
    return f"{many} take{s} off {much} of {what}."


def heading_of_table(answer: Answer, found: Sequence[Verdict]) -> str:
    """Which of some washes is surer to do more, or what is compared."""
    washes = list(dict.fromkeys(row.wash for row in found))
    about = re.search(r" for (.+)$", answer.query)
    what = about[1].replace('"', "") if about else ""
    for best in washes:
        others = [wash for wash in washes if wash != best]
        if all(_ahead(found, best, other) == best for other in others):
            said = f"{best} is the best bet of these {_COUNT.get(len(washes), '')}"
            if len(others) == 1:
                said = f"{best} is a better bet than {others[0]}"
            return as_sentence(f"For {what}, {said.rstrip()}" if what else said)
    return f"{listed(washes)}{f' on {what}' if what else ''}"


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
