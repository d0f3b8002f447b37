"""Answers as pictures."""

DOORS = (
    *("card", "classes", "framed", "glyphs", "grid", "levels", "proof", "shapes"),
    *("sheet", "short_proof", "text"),
)
"""The modules that other packages may import."""
