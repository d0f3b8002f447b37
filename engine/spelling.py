"""Repairing the spelling of a printed name."""
from collections.abc import Mapping


class Speller:
    """x"""

    def __init__(self, names: Mapping[str, tuple[str, str]]) -> None:
        self._names = names
