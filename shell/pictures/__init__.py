"""Answers as pictures."""

DOORS = (
    *(
        "card",
        "card_lists",
        "classes",
        "framed",
        "glyphs",
        "grid",
        "levels",
        "proof",
        "shapes",
    ),
    *("sheet", "short_proof", "text"),
)
"""The modules that other packages may import."""
