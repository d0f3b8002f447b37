"""Answers as pictures."""

DOORS = (
    *("card", "classes", "glyphs", "grid", "levels", "proof", "sheet"),
    *("short_proof", "text", "told"),
)
"""The modules that other packages may import."""
