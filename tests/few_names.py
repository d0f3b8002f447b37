"""A lexicon of a few names, for sayings and plain questions to be read by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from abluent.grammar.phrase.pieces import HeardSaying, Sense

_NO_SLIPS: Mapping[str, str] = MappingProxyType({})


class FewNames:
    """What each of some names stands for, and what each of some slips was meant for."""

    def __init__(
        self,
        names: Mapping[str, Sense],
        slips: Mapping[str, str] = _NO_SLIPS,
        sayings: Sequence[HeardSaying] = (),
    ) -> None:
        self._names, self._slips, self._sayings = names, slips, sayings

    def find(self, words: tuple[str, ...]) -> Sense | None:
        """What a name stands for."""
        return self._names.get(" ".join(words))

    def repair(self, word: str) -> str:
        """The word that a slip was meant for, or none."""
        return self._slips.get(word, "")

    def sayings(self) -> Sequence[HeardSaying]:
        """What people say."""
        return self._sayings
