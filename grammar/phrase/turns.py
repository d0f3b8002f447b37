"""Turns of phrase that say nothing by themselves, or say it another way.

`…, doesn't it` asks for a nod, `1) … 2) …` parts a text, `every wash that` is washes
and no number of them, and `unless it has X` is without X.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import Entry, phrases_in, words_in
from abluent.grammar.phrase.pieces import (
    ANY_WASH,
    IDLE,
    MARK,
    NAME,
    NUMBER,
    NUMBER_WORDS,
    OF_WASHES,
    Piece,
    Sense,
)

_VERBAL = ("verb", "turned", "heads")


def turned(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, each turn of phrase as what it says."""
    found = _numbered(_doubting(_nodding(_how_many_washes(pieces))))
    found = _lacking(_meaning(_it_is(_equal(_gone(_but_with(found))))))
    found = _greater(_any_that(_named_some(_unless_it_has(_every_wash(found)))))
    return _of_one_product(found)


def _of_one_product(pieces: Sequence[Piece]) -> list[Piece]:
    """`the Reed one`, `each Reed wash`: one product by its name, no number of it."""
    found: list[Piece] = []
    for piece in pieces:
        before = found[-1] if found else None
        named = before is not None and _is_product(before)
        if before is not None and named and piece.words in phrases_in("one"):
            found[-1] = replace(before, end=piece.end)
            continue
        if before is not None and _is_product(piece) and before.does("quantity:every"):
            found[-1] = _idle(before)
        found.append(piece)
    return found


def _is_product(piece: Piece) -> bool:
    return piece.sense is not None and "product" in piece.sense.kinds


def _idle(piece: Piece) -> Piece:
    return replace(piece, entry=IDLE, sense=None, other=())


def _with_washes(piece: Piece, counting: Entry) -> tuple[Piece, Piece]:
    """What counts washes, and the washes, which are the last word of a piece."""
    count = replace(piece, entry=counting, words=piece.words[:-1], other=())
    washes = replace(
        piece, entry=NAME, sense=ANY_WASH, words=piece.words[-1:], other=()
    )
    return count, washes


def _meaning(pieces: Sequence[Piece]) -> list[Piece]:
    """`mild means no sulfates`: of washes that are so."""
    real = [at for at, each in enumerate(pieces) if each.role != "idle:words"]
    if len(real) < _MEANT or pieces[real[1]].words[0] not in words_in("means"):
        return list(pieces)
    first, joint, rest = pieces[real[0]], pieces[real[1]], pieces[real[2] :]
    held = any(
        "class" in e.sense.kinds or "ingredient" in e.sense.kinds
        for e in rest
        if e.sense
    )
    word = "strong" if first.does("contrast:harsh") else "mild"
    if not first.does("contrast:mild", "contrast:harsh") or not held:
        return list(pieces)
    found = list(pieces)
    sense = Sense(f"{word} washes", OF_WASHES, f"{word} wash")
    found[real[0]] = replace(first, entry=NAME, sense=sense, other=())
    found[real[1]] = replace(joint, entry=Entry("verb", "contain"), other=())
    return found


_MEANT = 3
"""A word, `means`, and what is meant."""


def _lacking(pieces: Sequence[Piece]) -> list[Piece]:
    """`no lye = can't remove F`: of washes without it, and not of lye that does not."""
    found = list(pieces)
    real = [at for at, each in enumerate(pieces) if each.role not in _LIGHT]
    if len(real) < _LACKED:
        return found
    (no, name, joint), rest = (pieces[at] for at in real[:3]), real[3:]
    kinds = name.sense.kinds if name.sense else frozenset[str]()
    held = not kinds.isdisjoint(("class", "ingredient")) and "wash" not in kinds
    if not no.does("quantity:no") or not held:
        return found
    acts = next((at for at in rest if pieces[at].does(*_TAKING)), None)
    between = [at for at in rest if acts is not None and at < acts]
    denied = [at for at in between if pieces[at].does("small:no", "quantity:no")]
    said = joint.words[0] in words_in("means") or joint.does("small:so")
    parted = said or (joint.words[0] in _PARTING and denied)
    if acts is None or not parted or any(pieces[at].sense for at in between):
        return found
    found[real[0]] = replace(no, entry=Entry("small", "without"), other=())
    for at in denied:
        found[at] = replace(pieces[at], entry=Entry("small", "no"), other=())
    # `so it cannot`: that is what a wash without it cannot do.
    idle = [real[2]] if joint.does("small:so") else []
    for at in (*idle, *(n for n in between if pieces[n].does("small:pronoun"))):
        found[at] = _idle(pieces[at])
    return found


_LACKED = 4
"""A denial, what is not there, `means`, and what is said of it."""
_LIGHT = ("idle:words", "small:article")
_TAKING = ("verb:clear", "heads:clear")
_PARTING = frozenset(",:;-")


def _it_is(pieces: Sequence[Piece]) -> list[Piece]:
    """`so its gentle`: it is."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-1]):
        after = pieces[at + 1]
        kinds = after.sense.kinds if after.sense else frozenset[str]()
        told = after.does("contrast:mild", "contrast:harsh") or "value" in kinds
        if piece.words == ("its",) and told:
            both = (Entry("small", "pronoun"),)
            found[at] = replace(piece, entry=Entry("verb", "be"), other=both)
    return found


def _but_with(pieces: Sequence[Piece]) -> list[Piece]:
    """`no A but with B`: both of them; `which wash …, but not a K`: except such."""
    found = list(pieces)
    asks = any(each.does("ask:which") for each in pieces)
    for at, piece in enumerate(pieces[:-2]):
        if not piece.does("small:but"):
            continue
        after, rest = pieces[at + 1], [e for e in pieces[at + 2 :] if e.sense]
        if after.does("small:with", "small:without") and rest:
            found[at] = _idle(piece)
        ends = len(rest) == 1 and rest[0] is pieces[-1] and rest[0].sense
        if asks and after.does("small:no") and ends and "kind" in ends.kinds:
            found[at] = replace(piece, entry=Entry("small", "except"), other=())
            found[at + 1] = _idle(after)
    return found


def _gone(pieces: Sequence[Piece]) -> list[Piece]:
    """`will my F ever leave`: whether it comes off."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        last = at + 1 == len(pieces) or _ends(pieces[at + 1])
        if piece.words not in phrases_in("leaves") or not last:
            continue
        named = [each.sense.kinds for each in pieces[:at] if each.sense]
        if named and "film" in named[-1] and not named[-1] & {"product", "kind"}:
            found[at] = replace(piece, entry=Entry("turned", "clear"), other=())
    return found


def _equal(pieces: Sequence[Piece]) -> list[Piece]:
    """`hard water + W = F`: what is left there."""
    found = list(pieces)
    begun = 0
    for at, piece in enumerate(pieces):
        if piece.does("small:so") or _ends(piece):
            begun = at + 1
        if piece.words != ("=",):
            continue
        before = [each.sense.kinds for each in pieces[begun:at] if each.sense]
        after = next((e.sense.kinds for e in pieces[at + 1 :] if e.sense), None)
        stated = any(kinds == {"condition"} for kinds in before)
        acts = any("agent" in kinds for kinds in before)
        if stated and acts and after is not None and "film" in after:
            found[at] = replace(piece, entry=Entry("verb", "leave"), other=())
            for n in range(begun, at):
                if pieces[n].words == ("+",):
                    found[n] = _idle(pieces[n])
    return found


def _greater(pieces: Sequence[Piece]) -> list[Piece]:
    """`A > B for F`: A is better at it."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:-1], 1):
        sides = [e.sense.kinds for e in (pieces[at - 1], pieces[at + 1]) if e.sense]
        cleans = all(kinds & {"cleanser", "wash"} for kinds in sides)
        led = any(each.does("small:for") for each in pieces[at + 1 :])
        if piece.words == (">",) and len(sides) > 1 and cleans and led:
            better = replace(piece, entry=Entry("contrast", "better"), other=())
            found[at] = replace(better, words=("better", "than"))
    return found


def _any_that(pieces: Sequence[Piece]) -> list[Piece]:
    """`any sulfate free one that …`, and no verb before: which are."""
    found = list(pieces)
    real = [at for at, each in enumerate(pieces) if each.role != "idle:words"]
    first = pieces[real[0]] if real else None
    if first is None or not first.does("quantity:any") or first.sense is not None:
        return found
    relative = [
        at
        for at, each in enumerate(pieces)
        if each.words[0] in words_in("relative") and each.sense is None
    ]
    before = pieces[: relative[0]] if relative else []
    if before and not any(each.entry.section in _VERBAL for each in before):
        found[real[0]] = replace(first, entry=Entry("ask", "which"), other=())
    return found


def _named_some(pieces: Sequence[Piece]) -> list[Piece]:
    """`name three products`: which they are, so many of them."""
    found: list[Piece] = []
    for at, piece in enumerate(pieces):
        named = bool(found) and found[-1].does("ask:which") and piece.words[1:]
        if named and piece.entry.section == "time" and _counts_washes(piece):
            # `name two washes` counts washes, and not how often.
            value = str(NUMBER_WORDS.get(piece.words[0], piece.words[0]))
            count, washes = _with_washes(piece, NUMBER)
            found += replace(count, value=value), washes
            continue
        rest = pieces[at + 1 : at + 3]
        asks = {*piece.words} & words_in("names") and piece.sense is None
        which = asks and rest and _counts(rest)
        entry = Entry("ask", "which")
        found.append(replace(piece, entry=entry, other=()) if which else piece)
    return found


def _counts(rest: Sequence[Piece]) -> bool:
    """Whether so many of a kind are spoken of."""
    count = rest[0]
    if count.entry.section == "time":
        return _counts_washes(count)
    counted = count.entry.section == "number" and count.value.isdigit()
    return counted and len(rest) > 1 and rest[1].sense is not None


def _counts_washes(piece: Piece) -> bool:
    number = piece.words[0].isdigit() or piece.words[0] in NUMBER_WORDS
    return number and piece.words[1:] == ("washes",)


_DONE = ("verb:leave", "verb:clear", "verb:contain", "heads:clear")


def _how_many_washes(pieces: Sequence[Piece]) -> list[Piece]:
    """`how many washes leave F`: how many there are, and not how often."""
    found: list[Piece] = []
    for at, piece in enumerate(pieces):
        rest = pieces[at + 1 : at + 2]
        # `how many washes does it take` counts rounds.
        acts = bool(rest) and rest[0].does(*_DONE) and rest[0].sense is None
        if piece.role == "ask:how_often" and piece.words[-1] == "washes" and acts:
            found += _with_washes(piece, Entry("ask", "how_many"))
            continue
        found.append(piece)
    return found


def _ends(piece: Piece) -> bool:
    return piece.words[0] in (".", "?", "!") or piece.does("small:question")


def _nodding(pieces: Sequence[Piece]) -> list[Piece]:
    """`…, doesn't it`: a nod is asked for, and nothing denied."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        end = at + 1
        words = piece.words
        while len(words) < _LONGEST and end < len(pieces) and not _ends(pieces[end]):
            words, end = (*words, *pieces[end].words), end + 1
        closes = end == len(pieces) or _ends(pieces[end])
        before = [each for each in pieces[:at] if each.role != "idle:words"]
        led = any(each.entry.section in _VERBAL for each in before)
        if closes and led and words in phrases_in("nods"):
            for n in range(at, end):
                found[n] = _idle(pieces[n])
    return found


def _doubting(pieces: Sequence[Piece]) -> list[Piece]:
    """`doesn't W take F off?`: whether it does is asked, and nothing denied."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-1]):
        before = [e for e in pieces[:at] if e.role != "idle:words"]
        begins = not before or before[-1].words[0] in _BEGINNING
        rest = next((e for e in pieces[at + 1 :] if e.role == "small:question"), None)
        asked = rest is not None or _is_inverted(pieces, at)
        asks = piece.words in phrases_in("negative asks") and asked
        if begins and asks and piece.sense is None:
            be = any(e.section == "verb" for e in (piece.entry, *piece.other))
            entry = Entry("verb", "be") if be else Entry("ask", "whether")
            found[at] = replace(piece, entry=entry, other=())
    return found


def _is_inverted(pieces: Sequence[Piece], at: int) -> bool:
    """`doesn't that build up`: what is asked of stands before the verb."""
    after, rest = pieces[at + 1], pieces[at + 2 :]
    named = after.sense is not None and after.sense.kinds != {"condition"}
    subject = named or after.does("small:pronoun") or after.words[0] in _POINTING
    return subject and any(each.entry.section in _VERBAL for each in rest[:2])


_POINTING = frozenset({"that", "it", "this", "they", "those", "these"})
_BEGINNING = frozenset({",", ".", "?", "!", ";", "-", "so", "and", "but"})
_LONGEST = 2
"""How many words a nod has."""


def _numbered(pieces: Sequence[Piece]) -> list[Piece]:
    """`1) … 2) …`: a text in points."""
    points = [
        at
        for at, piece in enumerate(pieces[:-1])
        if piece.entry.section == "number"
        and piece.value.isdigit()
        and pieces[at + 1].words == (")",)
    ]
    if len(points) < _POINTS:
        return list(pieces)
    found = list(pieces)
    for at in points:
        found[at] = _idle(pieces[at])
        found[at + 1] = replace(pieces[at + 1], entry=MARK, words=(";",), other=())
    return found


_POINTS = 2
"""How many points a text has that is in points."""


def _every_wash(pieces: Sequence[Piece]) -> list[Piece]:
    """`every wash that has X`: every one of them, and not time after time."""
    found: list[Piece] = []
    for at, piece in enumerate(pieces):
        rest = [p for p in pieces[at + 1 : at + 5] if not p.does("small:my_shelf")]
        rest = [p for p in rest if p.words[0] not in words_in("here")]
        after = rest[0] if rest else None
        begins = not any(each.sense is not None for each in pieces[:at])
        whole = piece.role == "time:repeated" and piece.words[0] in words_in("every")
        relative = after is not None and (
            after.words[0] in words_in("relative")
            or after.does("small:with", "small:without")
            or (begins and after.entry.section in _VERBAL)
        )
        if whole and relative and piece.words[-1] in words_in("a wash"):
            found += _with_washes(piece, Entry("quantity", "every"))
            continue
        found.append(piece)
    return found


def _unless_it_has(pieces: Sequence[Piece]) -> list[Piece]:
    """`unless it has X`: without it."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-3]):
        who, verb, name = pieces[at + 1 : at + 4]
        it = who.does("small:pronoun") or who.words[0] in words_in("subjects")
        has = verb.does("verb:contain") and name.sense is not None
        if piece.does("small:unless") and it and has:
            found[at] = replace(piece, entry=Entry("small", "without"), other=())
            found[at + 1], found[at + 2] = _idle(who), _idle(verb)
    return _unless_used(found)


def _unless_used(pieces: Sequence[Piece]) -> list[Piece]:
    """`unless you wash with X`: without X."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if not piece.does("small:unless"):
            continue
        rest = range(at + 1, min(len(pieces), at + _USING + 2))
        name = next((n for n in rest if _is_no_wash(pieces[n])), None)
        between = [pieces[n] for n in rest if name is not None and n < name]
        uses = any({*e.words} & words_in("uses") for e in between)
        kinds = pieces[name].sense.kinds if name is not None else frozenset()  # type: ignore[union-attr]
        if uses and "agent" in kinds and name is not None:
            found[at] = replace(piece, entry=Entry("small", "without"), other=())
            for n in range(at + 1, name):
                found[n] = _idle(pieces[n])
    return found


def _is_no_wash(piece: Piece) -> bool:
    """Whether a piece names something, and is not the verb `wash`."""
    return piece.sense is not None and "wash" not in piece.sense.kinds


_USING = 4
"""How many words may stand between `unless` and what is used."""
