"""Repairing the spelling of a printed name.

A name is compared with every listed one without looking at every one. First by its
skeleton: no spaces or hyphens, characters that scanners confuse made equal, doubled
letters single. Then by edits: two strings within k edits share one of k + 1 pieces,
so that only names with a piece in common are measured. Numbers in a name must agree,
and a printed word that listed names use is never changed: `Laureth-4` is no slip for
`Laureth-5`, nor `Cocamide MEA` for `Cocamide DEA`.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from itertools import accumulate, product
from typing import Any, TypeAlias

from abluent.engine.base.fold import fold
from abluent.engine.reading._slips import alike

_TOKEN = re.compile(r"[a-z]+|\d+|[^\W_]+")
_MIXED = re.compile(r"(?<![^\W_])[^\W_]*\d[^\W_]*(?![^\W_])")
_LOOKS_NUMERIC = re.compile(r"[\dolisb]*\d[\dolisb]*")
_ALL_NUMERIC = re.compile(r"[olisb]{1,4}")
_TO_DIGITS = str.maketrans("olisb", "01158")
_DOUBLED = re.compile(r"(.)\1+")
_LONGEST = 120
_SHORTEST = 5
_CHEAP, _DEAR = 0.5, 1.0
_BEGINNING, _ENDING = 2, 3
_NEAR = 0.6
_MOST_CHOICES = 5
_PAIRS_PLACED, _MOST_PLACES = 2, 3

Numbers: TypeAlias = tuple[str, ...]
Skeleton: TypeAlias = tuple[str, Numbers]


@dataclass(frozen=True, slots=True)
class Repair:
    """A listed name that a printed one may stand for.

    Args:
        name: the listed name, folded.
        symbol: what goes by it.
        cost: how far it is: 0 for a slip of scanning or spacing, else edits.
    """

    name: str
    symbol: str
    cost: float


@dataclass(frozen=True, slots=True)
class _Form:
    """A name made ready for comparison: its words, and its numbers apart."""

    words: tuple[str, ...]
    numbers: Numbers

    @property
    def letters(self) -> str:
        """The words run together."""
        return "".join(self.words)


class Speller:
    """Finds the listed names near a printed one.

    Args:
        names: every listed name, folded, with its symbol and how it names it.
    """

    def __init__(self, names: Mapping[str, tuple[str, str]]) -> None:
        self._names = names

    def slips(self, printed: str) -> list[Repair]:
        """Listed names that differ by slips of scanning or spacing only."""
        if len(printed) > _LONGEST:
            return []
        found: dict[str, Repair] = {}
        for skeleton in _skeletons(printed):
            for name in self._by_skeleton.get(skeleton, ()):
                symbol = self._names[name][0]
                found.setdefault(symbol, Repair(name, symbol, 0.0))
        if not found:
            for name in self._by_collapse.get(_collapse(fold(_lettered(printed))), ()):
                symbol = self._names[name][0]
                found.setdefault(symbol, Repair(name, symbol, 0.0))
        return list(found.values())

    def near(self, printed: str) -> list[Repair]:
        """Listed names within a few edits, the nearest first, one of each symbol.

        Only those are given that are not clearly farther than the nearest.
        """
        if len(printed) > _LONGEST:
            return []
        form = _form(fold(_lettered(printed)))
        allowed = _allowed(len(form.letters))
        if not allowed:
            return []
        best: dict[str, Repair] = {}
        for name, words in self._candidates(form, int(allowed)):
            cost = self._cost(form.words, words, allowed)
            symbol = self._names[name][0]
            if cost <= allowed and (symbol not in best or cost < best[symbol].cost):
                best[symbol] = Repair(name, symbol, cost)
        ranked = sorted(best.values(), key=lambda each: (each.cost, each.name))
        return [r for r in ranked if r.cost <= ranked[0].cost + _NEAR]

    def _cost(
        self, printed: Sequence[str], listed: Sequence[str], allowed: float
    ) -> float:
        """How far two names are, word by word; a word in use counts as it stands."""
        if len(printed) != len(listed):
            return allowed + 1
        total = 0.0
        for word, other in zip(printed, listed, strict=True):
            if word == other:
                continue
            limit = _allowed_in_word(len(word))
            cost = distance(word, other, limit)
            if word in self._words or cost > limit:
                return allowed + 1
            total += cost
        return total

    @cached_property
    def _words(self) -> frozenset[str]:
        return frozenset(word for name in self._names for word in name.split())

    @cached_property
    def _by_skeleton(self) -> Mapping[Skeleton, list[str]]:
        found: dict[Skeleton, list[str]] = defaultdict(list)
        for name in self._names:
            form = _form(name)
            found[_skeleton(form.words), form.numbers].append(name)
        return found

    @cached_property
    def _by_collapse(self) -> Mapping[Skeleton, list[str]]:
        found: dict[Skeleton, list[str]] = defaultdict(list)
        for name in self._names:
            found[_collapse(name)].append(name)
        return found

    # -- pieces ---------------------------------------------------------------

    def _candidates(
        self, form: _Form, edits: int
    ) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Names with the same numbers that share a piece with a form."""
        seen: set[str] = set()
        letters = form.letters
        for length in range(max(1, len(letters) - edits), len(letters) + edits + 1):
            pieces = self._pieces.get((form.numbers, length), {})
            for number, (start, size) in enumerate(_cut(length)):
                low, high = (
                    max(0, start - edits),
                    min(start + edits, len(letters) - size),
                )
                for at in range(low, high + 1):
                    for name in pieces.get((number, letters[at : at + size]), ()):
                        if name not in seen:
                            seen.add(name)
                            yield name, _form(name).words

    @cached_property
    def _pieces(
        self,
    ) -> Mapping[tuple[Numbers, int], Mapping[tuple[int, str], list[str]]]:
        found: Any = defaultdict(lambda: defaultdict(list))
        for name in self._names:
            form = _form(name)
            pieces = found[form.numbers, len(form.letters)]
            for number, (start, size) in enumerate(_cut(len(form.letters))):
                pieces[number, form.letters[start : start + size]].append(name)
        return dict(found)


def _allowed(length: int) -> float:
    """How many edits a name of a length may be away."""
    if length < _SHORTEST:
        return 0
    return 1 if length < 8 else 2 if length < 18 else 3


def _allowed_in_word(length: int) -> float:
    """How many edits a single word of a length may be away."""
    return 0.5 if length < 5 else 1 if length < 11 else 2


@cache
def _cut(length: int) -> tuple[tuple[int, int], ...]:
    """Where a string of a length is cut into one piece more than edits allowed."""
    count = int(_allowed(length)) + 1
    size, rest = divmod(length, count)
    cuts, start = [], 0
    for number in range(count):
        wide = size + (number >= count - rest)
        cuts.append((start, wide))
        start += wide
    return tuple(cut for cut in cuts if cut[1])


@lru_cache(maxsize=50_000)
def _form(folded: str) -> _Form:
    words = folded.split()
    if all(map(str.isalpha, words)):
        return _Form(tuple(words), ())
    tokens = _TOKEN.findall(_MIXED.sub(_straightened, folded))
    return _Form(
        tuple(token for token in tokens if not token.isdigit()),
        tuple(token for token in tokens if token.isdigit()),
    )


def _straightened(found: re.Match[str]) -> str:
    """A word that mixes letters and digits: a number, or letters scanned as digits."""
    word = found.group()
    if word.isdigit():
        return word
    if _LOOKS_NUMERIC.fullmatch(word):
        return word.translate(_TO_DIGITS)
    letters = sum(map(str.isalpha, word))
    if letters * 2 > len(word) and not word.rstrip("0123456789").isalpha():
        return word.translate(alike().to_letters)
    if letters > 3 and word[-1] in alike().digits and word[:-1].isalpha():
        return word.translate(alike().to_letters)
    return word


def _skeleton(words: Iterable[str]) -> str:
    """Words run together, doubled letters single and those alike made equal."""
    single = "".join(_DOUBLED.sub(r"\1", word) for word in words)
    return single.translate(alike().table)


def _collapse(folded: str) -> Skeleton:
    """The skeleton with all that scanners take for another made that other."""
    form = _form(folded)
    text = " ".join(form.words)
    before = ""
    while text != before:  # what one makes may be what another starts from
        before = text
        for wrong, right in alike().scanned:
            text = text.replace(wrong, right)
    return _skeleton(text.split()).translate(alike().strokes), form.numbers


def _skeletons(printed: str) -> Iterator[Skeleton]:
    """Those of a printed name, then those of its other readings."""
    folded = fold(_lettered(printed))
    yield from _variants(folded)
    words = folded.split()
    for reread in (_as_digits, _as_letters):
        other = list(map(reread, words))
        if other != words:
            yield from _variants(" ".join(other))


def _lettered(printed: str) -> str:
    """A printed name with the signs between its letters that stand for letters."""
    signs = alike().signs
    return signs.sub(lambda found: alike().sign_letters[found.group()], printed)


def _as_digits(word: str) -> str:
    """A word without digits that may be a number: `lo` for `10`."""
    return word.translate(_TO_DIGITS) if _ALL_NUMERIC.fullmatch(word) else word


def _as_letters(word: str) -> str:
    """A word with digits that may have none: `c1` for `ci`."""
    letters = word.translate(alike().to_letters)
    return letters if letters.isalpha() and not word.isdigit() else word


def _variants(folded: str) -> Iterator[Skeleton]:
    """The skeletons a printed name may have had before it was scanned."""
    form = _form(folded)
    text = " ".join(form.words)
    held = [(a, b) for a, b in alike().pairs if a in text][:_MOST_CHOICES]
    for chosen in product(*_choices(text, held)):
        letters = text
        for (wrong, right), which in zip(held, chosen, strict=True):
            letters = _put(letters, wrong, right, which)
        yield _skeleton(letters.split()), form.numbers


def _choices(text: str, held: Sequence[tuple[str, str]]) -> Iterator[range]:
    """Where each pair may be put: for the first few pairs also at single places."""
    for number, (wrong, _) in enumerate(held):
        places = min(text.count(wrong), _MOST_PLACES)
        yield range(-1, 1 if number >= _PAIRS_PLACED or places < 2 else places + 1)


def _put(text: str, wrong: str, right: str, which: int) -> str:
    """Letters put for others nowhere (-1), everywhere (0), or at one place only."""
    if which <= 0:
        return text if which else text.replace(wrong, right)
    parts = text.split(wrong)
    if which >= len(parts):
        return text
    return wrong.join(parts[:which]) + right + wrong.join(parts[which:])


# -- edits --------------------------------------------------------------------


def distance(left: str, right: str, limit: float) -> float:
    """The weighted number of edits between two words; any figure above the limit.

    A letter put in, left out or changed costs 1, two that changed places 1, a letter
    for one that looks like it or a doubled letter one half. No letter is changed for
    an unlike one at the beginning or end of a word: `iso-` is no slip for `neo-`, nor
    `-al` for `-ol`.
    """
    reach = int(limit / _CHEAP)
    if abs(len(left) - len(right)) > reach:
        return limit + 1
    drops = _dropping(right)
    far = limit + 1
    width = len(right) + 1
    before: list[float] = [far] * width
    row: list[float] = [*accumulate([0.0, *drops])]
    for at, drop in enumerate(_dropping(left)):
        low, high = max(0, at + 1 - reach), min(width - 1, at + 1 + reach)
        earlier, before, row = before, row, [far] * width
        if low == 0:
            row[0] = before[0] + drop
        for to in range(max(low, 1), high + 1):
            cost = before[to - 1]
            if left[at] != right[to - 1]:
                cost += _changed(left, at, right, to - 1, far)
                if (
                    at
                    and to > 1
                    and left[at - 1] == right[to - 1]
                    and left[at] == right[to - 2]
                ):
                    cost = min(cost, earlier[to - 2] + _DEAR)
            row[to] = min(cost, before[to] + drop, row[to - 1] + drops[to - 1])
        if min(row[low : high + 1]) > limit:
            return far
    return row[-1]


def _changed(left: str, at: int, right: str, to: int, far: float) -> float:
    table = alike().table
    char, other = left[at], right[to]
    if table.get(ord(char), char) == table.get(ord(other), other):
        return _CHEAP
    inside = min(at, to) >= _BEGINNING
    inside = inside and at < len(left) - _ENDING and to < len(right) - _ENDING
    return _DEAR if inside else far


def _dropping(text: str) -> list[float]:
    """What it costs to leave out each letter of a text."""
    pairs = zip(" " + text, text, strict=False)
    return [_CHEAP if before == char else _DEAR for before, char in pairs]
