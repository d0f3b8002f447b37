"""Nouns by the letters of their names: `ending in -ate`, `with PEG in its name`."""

from __future__ import annotations

from collections.abc import Sequence

from abluent.grammar.common.record import replace
from abluent.grammar.phrase.book import phrases_in, words_in
from abluent.grammar.phrase.noun import LEADING, Noun, is_joint, past_idle, verb_after
from abluent.grammar.phrase.pieces import Piece
from abluent.grammar.query import tree as q

SAID_OF = words_in("said of")
"""Verbs that say how a name begins or ends."""
_LETTERS = ("small:ending", "small:starting")


def by_letters(pieces: Sequence[Piece], at: int) -> Noun | None:
    """`names ending in -ate`, `every -cone`: ingredients by their names."""
    start = at
    quantity = None
    for role, meant in LEADING.items():
        if at < len(pieces) and pieces[at].does(role) and meant not in q.COUNTED:
            quantity, at = meant, at + 1
            break
    led = pieces[at - 1].words[-1] == "with" if start < at < len(pieces) else False
    while at < len(pieces) and _names(pieces[at]):
        at += 1
    kinds = frozenset({"ingredient", "class", "film", "agent"})
    noun = Noun(q.Name("ingredients"), kinds, start, at - 1, quantity, general=True)
    if at < len(pieces) and pieces[at].entry.section == "pattern":
        values, last = _patterns(pieces, at)
        pattern = q.Named(values)
        return replace(noun, term=q.Such(noun.term, (pattern,)), last=last)
    if led and pieces[at].words[0] in words_in("name parts"):
        # `anything with PEG`
        part = q.Named(f"*{pieces[at].words[0]}*")
        return replace(
            noun, term=q.Such(noun.term, (part,)), last=at, quantity=q.Quantity.EVERY
        )
    held = _letters_within(pieces, at) if at > start else None
    if held is not None:
        pattern, last = held
        return replace(noun, term=q.Such(noun.term, (pattern,)), last=last)
    if at < len(pieces) - 1 and pieces[at].words[-1] in _WORD and _lone(pieces[at + 1]):
        # `the word copolymer`: every ingredient with it in its name.
        spelt = q.Named(f"*{' '.join(pieces[at + 1].words)}*")
        return replace(noun, term=q.Such(noun.term, (spelt,)), last=at + 1)
    named = at > start and at < len(pieces) and pieces[at].does(*_LETTERS)
    by_name = any(piece.words[0] in _NAMES_OF for piece in pieces[start:at])
    if named and (by_name or pieces[at].words[0] not in SAID_OF):
        return noun
    return None


def ended(pieces: Sequence[Piece], at: int) -> Noun | None:
    """`it says cone at the end`, `anything with cone on the end`: by how it ends."""
    start, quantity = at, None
    while at < len(pieces) and (pieces[at].does(*_SAYING) or _names(pieces[at])):
        if pieces[at].does("small:anything", "quantity:every"):
            quantity = q.Quantity.EVERY
        at += 1
    if at >= len(pieces) or len(pieces[at].words) != 1:
        return None
    last, words = at, tuple[str, ...]()
    while last + 1 < len(pieces) and len(words) < _END:
        last += 1
        words = (*words, *pieces[last].words)
        if words in phrases_in("at the end"):
            letters = pieces[at].value.strip("*") or pieces[at].words[0]
            term = q.Such(q.Name("ingredients"), (q.Named(f"*{letters}"),))
            kinds = frozenset({"ingredient", "class", "film", "agent"})
            return Noun(term, kinds, start, last, quantity, general=True)
    return None


_SAYING = (
    *("small:pronoun", "small:naming", "verb:contain", "small:article", "small:with"),
    *("small:anything", "quantity:every", "small:that"),
)
_END = 5
"""How many words tell that letters stand at the end of a name."""
_WORD = words_in("word")


def _lone(piece: Piece) -> bool:
    """Whether a piece is one word that may stand in names."""
    plain = piece.entry.section in ("name", "unknown") and len(piece.words) == 1
    return plain and (piece.sense is None or "sort" not in piece.sense.kinds)


def _names(piece: Piece) -> bool:
    """Whether a piece says `names` or `ingredients`, and asks for none."""
    return piece.words[0] in _NAMES_OF and piece.entry.section != "ask"


def _letters_within(pieces: Sequence[Piece], at: int) -> tuple[q.Named, int] | None:
    """`with -quat in it`: letters anywhere in a name, and where they end."""
    if at + 1 >= len(pieces) or not pieces[at].does("small:with", "verb:contain"):
        return None
    letters = pieces[at + 1]
    if letters.entry.section != "pattern":
        return None
    last = at + 1
    rest = pieces[at + 2 : at + 4]
    last += next((n + 1 for n, p in enumerate(rest) if p.words[-1] == "it"), 0)
    return q.Named(f"*{letters.value.strip('*')}*"), last


def _patterns(pieces: Sequence[Piece], at: int) -> tuple[str, int]:
    """`-cone, -conol or -xane` as one pattern, and the place of the last of them."""
    values = [pieces[at].value]
    last = at
    while True:
        after = last + 1
        while after < len(pieces) and is_joint(pieces, after):
            after += 1
        if after == last + 1 or after >= len(pieces):
            break
        if pieces[after].entry.section != "pattern":
            break
        values.append(pieces[after].value)
        last = after
    return "|".join(values), last


_NAMES_OF = words_in("names of")


def _holding_word(pieces: Sequence[Piece], noun: Noun, at: int) -> Noun | None:
    """`with PEG in its name`: a noun whose name has a word in it."""
    if at + 2 >= len(pieces) or not pieces[at].does("small:with", "verb:contain"):
        return None
    named = next(
        (
            place
            for place in range(at + 2, min(at + 5, len(pieces)))
            if pieces[place].does("small:naming")
        ),
        None,
    )
    if named is None:
        return None
    said = [p for p in pieces[at + 1 : named] if p.entry.section != "mark"]
    letters = " ".join(word for piece in said for word in piece.words)
    base = noun.term if isinstance(noun.term, q.Name) else None
    if not letters or base is None:
        return None
    pattern = q.Named(f"*{letters}*")
    return replace(
        noun, term=q.Such(base, (pattern,)), last=named, general=True, single_term=None
    )


def _with_part(pieces: Sequence[Piece], noun: Noun, at: int) -> Noun | None:
    """`anything with PEG`: what has that part in its name."""
    if at + 1 >= len(pieces) or not pieces[at].does("small:with", "verb:contain"):
        return None
    part = pieces[at + 1]
    if part.words[0] not in words_in("name parts") or part.sense is not None:
        return None
    base = q.Name("ingredients") if isinstance(noun.term, q.Thing) else noun.term
    if not isinstance(base, q.Name) or not (noun.general or noun.has("thing")):
        return None
    term = q.Such(base, (q.Named(f"*{part.words[0]}*"),))
    kinds = noun.kinds | {"class", "agent"} - {"thing"}
    return replace(
        noun, term=term, last=at + 1, general=True, single_term=None, kinds=kinds
    )


def lettered(pieces: Sequence[Piece], noun: Noun) -> Noun:
    """A noun with the letters that its name ends in or starts with."""
    at = past_idle(pieces, noun.last + 1)
    held = _holding_word(pieces, noun, at) or _with_part(pieces, noun, at)
    if held is not None:
        return held
    denied = at + 2 < len(pieces) and pieces[at].does("small:no")
    at += denied and pieces[at + 1].does(*_LETTERS)
    denied = denied and pieces[at].does(*_LETTERS)
    if at + 1 >= len(pieces) or not pieces[at].does(*_LETTERS):
        return noun
    if not denied and pieces[at].words[0] in SAID_OF and not verb_after(pieces, at):
        # `all of them end in …` is said of them.
        return noun
    after, last = pieces[at + 1], at + 1
    letters = after.value.lstrip("*") or after.words[0]
    starts = pieces[at].does("small:starting")
    pattern = q.Named(f"{letters}*" if starts else f"*{letters}")
    if after.entry.section == "pattern" and not starts:
        values, last = _patterns(pieces, at + 1)
        pattern = q.Named(values)
    spelt: q.Predicate = q.Not(pattern) if denied else pattern
    term = noun.term
    if isinstance(term, q.Such | q.Name):
        made = q.narrowed(term, spelt)
    elif isinstance(term, q.Thing):
        # `anything ending in -cone`: every ingredient so named.
        made = q.Such(q.Name("ingredients"), (spelt,))
        noun = replace(
            noun, any=True, kinds=noun.kinds | {"class", "agent"} - {"thing"}
        )
    else:
        return noun
    return replace(noun, term=made, last=last, general=True, single_term=None)
