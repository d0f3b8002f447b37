"""What stands above a picture: a claim or a question, in everyday words."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import Answer, Row
from abluent.engine.questions.answers.folding import film_key
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import ENDS, Verdict
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term
from abluent.shell.told.asking import Asking
from abluent.shell.told.groups import Group
from abluent.shell.told.spoken_names import aloud, few, spoken_alone

LONGEST = 150
"""Letters of a sentence that can be a claim; a longer one is told by its question."""
_ASKING = frozenset("does do is are which what how why can will".split())
_EFFECTS = (Role.NONE_OF_IT, Role.PART_OF_IT, Role.ALL_OF_IT)
_SOME = (Role.PART_OF_IT, Role.ALL_OF_IT)
_ALL = (Role.ALL_OF_IT,)
_WHOLE = (Role.AT_LEAST_PARTLY, Role.CLEARED)
_COUNT = {3: "three"}
_EXTENTS = (q.Extent.FULLY, q.Extent.SURELY, q.Extent.AT_LEAST_PARTLY)
"""What is asked of washes that a heading answers in words."""
_LONG_TERM = 44
_NAMED = 4
_FEW = 3
"""So few films are named in a heading."""
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
    answered = _answered(found, asking, so) if len(washes) > 1 else ""
    answered = _mildest(found, asking, so) or answered
    if answered:
        return answered
    if len(films) == 1:
        whose = f" from {found[0].source}" if found[0].source else ""
        film = aloud(found[0].case.world.base, found[0].film)
        return f"Which washes take off {film}{whose}?"
    if len(washes) == 1:
        return _by_one_wash(found)
    return ""


def what_is_taken(said: q.Clears) -> str:
    """What is asked to be taken off, in everyday words."""
    source = print_term(said.source).replace('"', "") if said.source else ""
    if _is_all(said.object):
        return f"everything that {source} leaves" if source else "everything"
    told = print_term(said.object).replace('"', "")
    return f"{told} that {source} leaves" if source else told


def _is_all(term: q.Term) -> bool:
    """Whether all things are meant, whatever they are."""
    every = isinstance(term, q.Quantified) and term.quantity is q.Quantity.EVERY
    inner = term.term if isinstance(term, q.Quantified) and every else term
    return isinstance(inner, q.Thing)


def _whether(found: Sequence[Verdict], truth: str, asking: Asking) -> str:
    """A question whether one wash takes something off, as the answer that it has."""
    said = asking.act
    washes = {row.wash for row in found}
    if not isinstance(said, q.Clears) or len(washes) > 1:
        return ""
    (wash,) = washes
    what = what_is_taken(said)
    some = "some of " if said.extent is q.Extent.AT_LEAST_PARTLY else ""
    told = {
        "yes": f"{wash} takes off {some}{what}.",
        "no": f"{wash} does not take off {some}{what}.",
        "open": f"We cannot say that {wash} takes off {some}{what}.",
    }
    return told.get(truth, "")


def _by_one_wash(found: Sequence[Verdict]) -> str:
    """What one wash does to many films, by what it does to most."""
    wash = found[0].wash
    counts = Counter(ENDS[row.role][0] is not Role.NONE_OF_IT for row in found)
    if counts[True] == len(found):
        return f"{wash} takes off some or all of {_all_of(found)}."
    if not counts[True]:
        return f"{wash} is not known to take off any of {_all_of(found)}."
    taken = [row for row in found if ENDS[row.role][0] is not Role.NONE_OF_IT]
    return f"{wash} takes off some or all of {_all_of(taken)}; the rest may stay."


def _answered(
    found: Sequence[Verdict], asking: Asking, so: Sequence[Verdict] = ()
) -> str:
    """Which of several washes take a film off, in words; empty where that is asked
    otherwise, or cannot be said in one sentence. `so` are those of what was asked for.
    """
    said = asking.act
    judged = [row for row in found if row.role is not Role.NO_WASH_NEEDED]
    if not isinstance(said, q.Clears) or not judged:
        return ""
    if said.extent not in _EXTENTS or not isinstance(asking.query, q.Which):
        return ""
    part = said.extent is q.Extent.AT_LEAST_PARTLY
    least = _SOME if part else _ALL
    films = {film_key(row) for row in judged}
    one = len(films) == 1
    what = _named_what(said, judged, len(films))
    each = "" if one or not part else f"all {len(films)} "
    if isinstance(said.object, q.And | q.Or):
        each = "all " if part and what.startswith("these ") else ""
    much = f"some or all of {what}" if one else f"some of {each}{what}"
    much = much if part else f"all of {what}"
    if _is_all(said.object):
        much = f"some of {what}" if part else what
    washes = list(dict.fromkeys(row.wash for row in judged))
    taking = list(dict.fromkeys(row.wash for row in so if row in judged))
    may = [row for row in judged if ENDS[row.role][1] in least]
    if not taking:
        much = f"any of {what}" if part and one else much
        known = "is known to take" if may else "takes"
        none = f"None of these {len(washes)} washes"
        none = "Neither of these washes" if len(washes) == 2 else none
        return f"{none} {known} off {much}."
    if part and not any(row.role in _WHOLE for row in so if row in judged):
        much = f"some, not all, of {each}{what}"
    s = "s" * (len(taking) == 1)
    who = f"{len(taking)} of {len(washes)} washes"
    if len(taking) == len(washes):
        who = f"All {len(washes)} of these washes"
    if len(taking) == 1:
        who = f"Of these {len(washes)} washes, {taking[0]}"
    if 1 < len(taking) <= _FEW and len(taking) < len(washes):
        return f"{who} take off {much}: {listed(taking)}."
    return f"{who} take{s} off {much}."


def _mildest(found: Sequence[Verdict], asking: Asking, so: Sequence[Verdict]) -> str:
    """The mildest of the washes that take some of all that was asked about."""
    query, said = asking.query, asking.act
    if not isinstance(query, q.Which) or query.order is not q.Order.MILDEST:
        return ""
    judged = [row for row in so or found if row.role is not Role.NO_WASH_NEEDED]
    least = {row.wash for row in judged if ENDS[row.role][0] is Role.NONE_OF_IT}
    taking = [w for w in dict.fromkeys(r.wash for r in judged) if w not in least]
    if not isinstance(said, q.Clears) or not taking:
        return ""
    what = what_is_taken(said)
    if query.limit == 1:
        whole = all(row.role in _WHOLE for row in judged)
        some = "some or all" if whole else "some"
        those = what if _is_all(said.object) or not said.source else f"the {what}"
        return f"Mildest that takes off {some} of {those}: {few(taking, _NAMED)}."
    named = few(taking, _NAMED)
    return f"Mildest first, these take off some of {what}: {named}."


def _named_what(said: q.Clears, judged: Sequence[Verdict], films: int) -> str:
    """What is asked to be taken off: one film by name, two or three too."""
    what = what_is_taken(said)
    if films == 1:
        row = judged[0]
        whose = f" from {row.source}" if row.source else ""
        return f"the {aloud(row.case.world.base, row.film)}{whose}"
    if films <= _FEW and isinstance(said.object, q.And | q.Or):
        names = [spoken_alone(aloud(r.case.world.base, r.film)) for r in judged]
        named = list(dict.fromkeys(names))
        between = " or " if isinstance(said.object, q.Or) else " and "
        return f"{', '.join(named[:-1])}{between}{named[-1]}"
    if len(what) > _LONG_TERM and not _is_all(said.object):
        return f"these {films}"
    return what


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
    if len(first.names) < 2 or not washes.issuperset(first.names):
        return list(groups)
    names = tuple(f"{n}. {name}" for n, name in enumerate(first.names, 1))
    word = f"{first.word}, mildest first"
    return [
        first._replace(names=names if len(names) > 1 else first.names, word=word),
        *rest,
    ]


def heading_of_table(asking: Asking, found: Sequence[Verdict]) -> str:
    """Which of some washes is surer to do more, or what is compared."""
    answered = _answered(found, asking, found)
    if answered:
        return answered
    washes = list(dict.fromkeys(row.wash for row in found))
    film = asking.query.film if isinstance(asking.query, q.Compare) else None
    what = print_term(film).replace('"', "") if film is not None else ""
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
