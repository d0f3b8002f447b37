"""Answers and their wording."""

DOORS = (
    "account",
    "account_parts",
    "advised",
    "answer",
    "because",
    "best_known",
    "cautions",
    "degrees",
    "described",
    "explained",
    "folded_words",
    "folding",
    "group",
    "laid_out",
    "listing",
    "lists",
    "nearest_advice",
    "rows",
    "share",
    "spoken",
    "turns",
    "verdicts",
    "wording",
)
"""The modules that other packages may import."""
