"""The words by which labels are read, from the ontology."""

from __future__ import annotations

from functools import cache

from abluent.engine.base import files
from abluent.grammar.label.words import LabelWords

_WORDS = "names/label_words.toml"


@cache
def label_words() -> LabelWords:
    """The words of labels, read once."""
    return LabelWords.compile(files.shipped_table(_WORDS))
