"""Answers and their wording."""

DOORS = (
    "answer",
    "cautions",
    "explained",
    "folded_words",
    "folding",
    "rows",
    "verdicts",
    "wording",
)
"""The modules that other packages may import."""
