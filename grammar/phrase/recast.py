"""Words whose work shows by what stands about them, told before the text is parted.

`Rinses` is a kind of product or a verb, `just` is `only` or nothing, `buildup` is what
is to be taken off after `removes` and a verb after `does it`.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import Entry, phrases_in, words_in
from abluent.grammar.phrase.called import called, unquoted
from abluent.grammar.phrase.pieces import ANY_WASH, IDLE, NAME, UNKNOWN, Piece, Sense
from abluent.grammar.phrase.referring import referred
from abluent.grammar.phrase.there import with_holders
from abluent.grammar.phrase.turns import turned

_EVERYTHING = Entry("small", "everything")
_DEFINE = Entry("ask", "define")


def recast(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, each with the work that its neighbours tell it does."""
    found = _with_nouns(
        with_verbs(
            _counted_washes(
                _on_end(
                    _in_rounds(referred(turned(called(with_holders(unquoted(pieces))))))
                )
            )
        )
    )
    found = _with_ones(_without_just(_doing(_that(_all_that(found)))))
    found = _free_of(_left_alone(_mild_enough(_unless(_asking_what(found)))))
    return _seen_through(found)


def _seen_through(pieces: Sequence[Piece]) -> list[Piece]:
    """`a clear shampoo`: one that is seen through, and not that it takes one off."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:-1], 1):
        sense = pieces[at + 1].sense
        led = _is_article(pieces[at - 1]) and piece.words == ("clear",)
        if led and sense is not None and "wash" in sense.kinds:
            found[at] = replace(piece, entry=UNKNOWN, other=())
    return found


def _free_of(pieces: Sequence[Piece]) -> list[Piece]:
    """`free of build-up`: does not build up."""
    found = list(pieces)
    for at, piece in enumerate(pieces[:-1]):
        after = pieces[at + 1]
        if piece.role == "small:without" and after.role == "verb:stay":
            found[at] = replace(piece, entry=Entry("small", "no"), other=())
    return found


def _left_alone(pieces: Sequence[Piece]) -> list[Piece]:
    """`leaves F alone`: does not take it off."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if piece.words not in phrases_in("leaves"):
            continue
        after = [n for n in range(at + 1, len(pieces)) if pieces[n].sense is not None]
        last = after[0] + 1 if after else len(pieces)
        if last < len(pieces) and pieces[last].words == ("alone",):
            found[at] = replace(piece, entry=Entry("verb", "clear"), other=())
            found[last] = replace(pieces[last], entry=Entry("small", "no"), other=())
    return found


def _mild_enough(pieces: Sequence[Piece]) -> list[Piece]:
    """`gentle enough for`: how mild it is, and not what it takes off."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:], 1):
        mild = pieces[at - 1].does("contrast:mild", "contrast:harsh")
        if mild and piece.words[0] == "enough":
            found[at] = replace(piece, entry=IDLE, other=())
    return found


_PRESENT = words_in("present")


def _unless(pieces: Sequence[Piece]) -> list[Piece]:
    """`unless a chelant is present`: without one; `a deposit` is something left."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        led = at and pieces[at - 1].does("small:article")
        if led and piece.words in phrases_in("what is left"):
            found[at] = replace(piece, entry=Entry("small", "anything"), other=())
        rest = [n for n in range(at + 1, len(pieces)) if not _is_article(pieces[n])]
        if not piece.does("small:unless") or len(rest) < _NAMED:
            continue
        name, verb, last = rest[:_NAMED]
        if pieces[name].sense is None or pieces[verb].role != "verb:be":
            continue
        if pieces[last].words[0] in _PRESENT:
            found[at] = replace(piece, entry=Entry("small", "without"), other=())
            for each in (verb, last):
                found[each] = replace(pieces[each], entry=IDLE, other=())
    return found


_NAMED = 3
"""A name, `is` and `present`."""


def _is_article(piece: Piece) -> bool:
    return piece.role == "small:article"


_WASHINGS = words_in("washings")


def _in_rounds(pieces: Sequence[Piece]) -> list[Piece]:
    """`after 7 washes`, `after 1 wash, after 3`: how often, by any number."""
    found: list[Piece] = []
    counted = any(piece.entry.section == "time" for piece in pieces)
    at = 0
    while at < len(pieces):
        piece, rest = pieces[at], pieces[at + 1 :]
        led = piece.words[-1:] == ("after",) and bool(rest) and _is_count(rest[0])
        last = rest[1] if led and len(rest) > 1 else None
        said = last is not None and last.words[0] in _WASHINGS
        ends = last is None or last.entry.section == "mark"
        if led and (said or (counted and ends)):
            end = at + 2 + said
            entry = Entry("time", f"rounds_{rest[0].value}")
            whole = pieces[at:end]
            words = tuple(word for each in whole for word in each.words)
            found.append(Piece(entry, words, piece.start, whole[-1].end))
            at = end
            continue
        found.append(piece)
        at += 1
    return found


def _on_end(pieces: Sequence[Piece]) -> list[Piece]:
    """`3 weeks straight`, `after two months`: again and again."""
    found: list[Piece] = []
    at = 0
    while at < len(pieces):
        size = _span(pieces, at)
        if not size:
            found.append(pieces[at])
            at += 1
            continue
        whole = pieces[at : at + size]
        words = tuple(word for each in whole for word in each.words)
        entry = Entry("time", "repeated")
        found.append(Piece(entry, words, whole[0].start, whole[-1].end))
        at += size
    return found


def _span(pieces: Sequence[Piece], at: int) -> int:
    """How many pieces tell that something went on so long; 0 if they do not."""
    piece, rest = pieces[at], pieces[at + 1 :]
    if piece.entry.section != "number" or not rest or len(rest[0].words) > 1:
        return 0
    before = pieces[at - 1].words[-1] if at else ""
    long_ = rest[0].words[0] in words_in("long spans") and piece.value.isdigit()
    if not long_ or before in words_in("seldom"):
        return 0
    words = tuple(word for each in rest[1:4] for word in each.words)
    ended = next((p for p in phrases_in("on end") if words[: len(p)] == p), None)
    if ended is None:
        return 2 if rest[0].words[0] in ("months", "weeks", "wks") else 0
    size, left = 2, len(ended)
    while left > 0:
        left -= len(pieces[at + size].words)
        size += 1
    return size


def _is_count(piece: Piece) -> bool:
    digits = piece.entry.section == "number" and piece.value.isdigit()
    return digits and 1 < int(piece.value) < _MOST_ROUNDS


_MOST_ROUNDS = 100


def _counted_washes(pieces: Sequence[Piece]) -> list[Piece]:
    """`of the four washes`: so many of them, and not so often."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:], 1):
        after = pieces[at + 1].sense if at + 1 < len(pieces) else None
        led = pieces[at - 1].words[-1] in _THESE or pieces[at - 1].does("ask:rank")
        if led and after == ANY_WASH and _is_count(piece):
            # `my five washes`: all that there are.
            found[at] = replace(piece, entry=IDLE, other=())
            continue
        washes = piece.entry.section == "time" and piece.words[-1] == "washes"
        if washes and len(piece.words) == 2 and pieces[at - 1].words[-1] in _THESE:
            found[at] = replace(piece, entry=NAME, sense=ANY_WASH, other=())
    return found


_THESE = words_in("these")


def _real(pieces: Sequence[Piece]) -> list[int]:
    """The places of pieces that are no idle words."""
    return [at for at, each in enumerate(pieces) if each.role != "idle:words"]


_TAKEN = ("verb:clear", "small:of", "small:for")
_BUILT_UP = phrases_in("built up")
_NO_MORE = ("small:no", "small:without", "quantity:no", "verb:stay", "verb:leave")


def _with_nouns(pieces: Sequence[Piece]) -> list[Piece]:
    """`removes 100 % of buildup`: everything that is there."""
    found = list(pieces)
    real = _real(pieces)
    for at, here in enumerate(real):
        piece = pieces[here]
        if piece.words not in _BUILT_UP or not at:
            continue
        led = [pieces[n] for n in real[max(0, at - 3) : at]]
        led = [each for each in led if not each.does("small:article")]
        last = led[-1] if led else None
        if last is None or last.does(*_NO_MORE):
            continue
        whole = last.does(*_TAKEN, "small:percent", "quantity:every", "quantity:any")
        if whole or (last.sense is None and any(e.does(*_TAKEN) for e in led)):
            found[here] = replace(piece, entry=_EVERYTHING, other=())
            for each in real[max(0, at - 3) : at]:
                if pieces[each].entry.section == "number":
                    # `100 % of it` is all of it.
                    found[each] = replace(pieces[each], entry=IDLE, other=())
    return found


def _without_just(pieces: Sequence[Piece]) -> list[Piece]:
    """`just washes it away`: before a verb `just` says nothing."""
    found = [_not_why(pieces, at) for at in range(len(pieces))]
    for at, piece in enumerate(pieces):
        counts = at + 1 < len(pieces) and pieces[at + 1].value
        if piece.role == "quantity:exactly" and not counts:
            # `how mild is it exactly` counts nothing.
            found[at] = replace(piece, entry=IDLE, other=())
    for at, piece in enumerate(pieces[:-1]):
        use = {*pieces[at + 1].words} & _USES and pieces[at + 1].sense is None
        only = piece.words == ("only",) and use
        article = pieces[at + 1].words in (("a",), ("an",))
        just = piece.words == ("just",)
        if only or (just and (article or not _opens_noun(pieces[at + 1]))):
            found[at] = replace(piece, entry=IDLE, other=())
    return found


_USES = words_in("uses")
"""Verbs before which `only` says nothing of what follows: `only uses`."""


def _not_why(pieces: Sequence[Piece], at: int) -> Piece:
    """`y` asks why at the beginning of a clause; else it is a letter."""
    piece = pieces[at]
    begins = not at or pieces[at - 1].entry.section == "mark"
    return piece if piece.words != ("y",) or begins else replace(piece, entry=IDLE)


def _opens_noun(piece: Piece) -> bool:
    named = piece.sense is not None and piece.sense.kinds != {"condition"}
    return named or piece.does("small:article", "contrast:mild", "small:with")


_CLEAR = Entry("verb", "clear")
_PRONOUN = Entry("small", "pronoun")
_WHETHER = Entry("ask", "whether")
_DOES_IT = phrases_in("does it")
"""What by itself, at the end of a line, only asks for a nod."""


_HOW = ("ask:how_mild", "ask:how_strong")


def _how_is_it(pieces: Sequence[Piece], at: int) -> Piece:
    """`how harsh is it`: what was spoken of, and no nod asked for."""
    piece = pieces[at]
    how = at > 0 and pieces[at - 1].does(*_HOW)
    if piece.words not in _DOES_IT or not how:
        return piece
    return replace(piece, entry=_PRONOUN, other=(_WHETHER,))


def _that(pieces: Sequence[Piece]) -> list[Piece]:
    """`does that take it off`, `will that do waxes`: what was spoken of."""
    found = [_how_is_it(pieces, at) for at in range(len(pieces))]
    for at, piece in enumerate(pieces[:-1]):
        after = pieces[at + 1]
        verb = after.entry.section in ("verb", "heads", "turned")
        acts = (verb and not after.does("verb:be")) or after.words == ("do",)
        if piece.words in _DOES_IT and acts:
            found[at] = replace(piece, entry=_PRONOUN, other=(_WHETHER,))
            continue
        if not at or piece.words != ("that",) or not pieces[at - 1].does("ask:whether"):
            continue
        if (verb and not after.does("verb:be")) or after.words == ("do",):
            found[at] = replace(piece, entry=_PRONOUN)
    return found


def _doing(pieces: Sequence[Piece]) -> list[Piece]:
    """`will that do waxes`: take them off."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:-1], 1):
        before, after = pieces[at - 1], pieces[at + 1].sense
        it = pieces[at + 1].does("small:pronoun")
        if piece.words not in (("do",), ("does",)) or (after is None and not it):
            continue
        if it and at > 1 and before.does("small:no"):
            # `shampoo won't do it`
            before = pieces[at - 2]
            if before.sense and _is_wash(before.sense):
                found[at] = replace(piece, entry=_CLEAR, other=())
            continue
        if after is None:
            continue
        led = before.does("small:pronoun") or (before.sense and _is_wash(before.sense))
        source = "product" in after.kinds and "wash" not in after.kinds
        if led and ("film" in after.kinds or source):
            found[at] = replace(piece, entry=_CLEAR, other=())
    return found


def _all_that(pieces: Sequence[Piece]) -> list[Piece]:
    """`takes off what P leaves`: everything that it leaves."""
    found = list(pieces)
    for at, piece in enumerate(pieces[1:-1], 1):
        after, before = pieces[at + 1].sense, pieces[at - 1]
        taken = before.does("verb:clear", "particles:words", "turned:clear")
        if piece.words in (("what",), ("whatever",)) and taken and after is not None:
            found[at] = replace(piece, entry=_EVERYTHING, other=())
    return found


_ONE = phrases_in("one")


def _with_ones(pieces: Sequence[Piece]) -> list[Piece]:
    """`as strong as a sulfate one`: a wash with it."""
    found = list(pieces)
    wash = next((p for p in pieces if p.sense and _is_wash(p.sense)), None)
    for at, piece in enumerate(pieces):
        before = pieces[at - 1].sense if at else None
        if piece.words not in _ONE or before is None or not _is_held(before):
            continue
        if wash is not None and wash.sense is not None:
            found[at] = replace(piece, entry=wash.entry, sense=ANY_WASH, other=())
    return found


def _is_wash(sense: Sense) -> bool:
    return "wash" in sense.kinds


def _is_held(sense: Sense) -> bool:
    return "class" in sense.kinds and "kind" not in sense.kinds


def _asking_what(pieces: Sequence[Piece]) -> list[Piece]:
    """`is it a cone or a quat or what`: what it is."""
    found = list(pieces)
    for at, piece in enumerate(pieces):
        if piece.words[-2:] == ("or", "what") and at:
            found[at] = replace(piece, entry=_DEFINE, other=())
    return found


def with_verbs(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces with `rinses` as the verb it can be, where it is no product."""
    found = list(pieces)
    for at, piece in enumerate(found):
        if piece.does("turned:rinse") and _is_verb(found, at):
            entry = type(piece.entry)("turned", "rinse")
            found[at] = replace(piece, entry=entry, other=(), sense=None)
        elif piece.sense is not None and _is_done(found, at):
            entry = type(piece.entry)("heads", "clear")
            found[at] = replace(piece, entry=entry, other=(), sense=None)
    return found


_DOERS = words_in("doers")


_OBJECTS = ("small:pronoun", "small:everything", "small:anything", "small:nothing")


def _is_done(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a kind of product is what somebody does: `can you wash F out`."""
    if not pieces[at].does("heads:clear") or not at:
        return False
    later = pieces[at + 1 :]
    done = any(each.does("particles:words") for each in later)
    real = _real(pieces[:at])
    before = pieces[real[-1]] if real else None
    if done and before is not None and later and later[0].does(*_OBJECTS):
        # `shampoo just washes it away`
        return before.sense is not None or before.words == ("just",)
    return done and pieces[at - 1].words[-1] in _DOERS


def _is_verb(pieces: Sequence[Piece], at: int) -> bool:
    """Whether a kind of product, `rinses`, is the verb of what stands before it."""
    if pieces[at].sense is None or not at:
        return False
    before = pieces[at - 1]
    if before.sense is None and not before.does("small:so", "small:and", "small:but"):
        return False
    rest = [piece for piece in pieces[at + 1 :] if piece.role != "idle:words"]
    return not rest or rest[0].does(
        *("small:with", "small:by", "small:in", "small:and", "particles:words"),
        *("small:from", "small:to"),
    )
