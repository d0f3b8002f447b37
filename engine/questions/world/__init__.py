"""The world that a question is asked in, and its case."""

DOORS = (
    "alone",
    "case",
    "items",
    "labels",
    "nouns",
    "pack_claims",
    "sorts",
    "vocabulary",
    "world",
)
"""The modules that other packages may import."""
