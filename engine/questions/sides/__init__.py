"""Verdicts side by side: which tells of more, and what makes the difference."""

DOORS = (
    "better",
    "contrasted",
    "for_films",
    "foremost_of",
    "gathering",
    "kinds_by_ease",
    "needs",
    "side_by_side",
)
"""The modules that other packages may import."""
