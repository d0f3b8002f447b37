"""Answers and their wording."""

DOORS = (
    "account",
    "answer",
    "cautions",
    "described",
    "explained",
    "folded_words",
    "folding",
    "group",
    "listing",
    "rows",
    "turns",
    "verdicts",
    "wording",
)
"""The modules that other packages may import."""
