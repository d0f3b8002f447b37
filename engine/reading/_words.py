"""The words by which labels are read, from the ontology."""

from __future__ import annotations

import os
from functools import cache

from abluent.engine.base import files
from abluent.grammar.label.words import LabelWords

_WORDS = "names/label_words.toml"


@cache
def label_words() -> LabelWords:
    """The words of labels, read once."""
    import tomllib  # noqa: PLC0415 - only needed once a label is read

    with (
        files.shipped_folder() as folder,
        open(os.path.join(folder, _WORDS), "rb") as stream,
    ):
        return LabelWords.compile(tomllib.load(stream))
