"""The language of questions."""

DOORS = (
    "complete",
    "errors",
    "lex",
    "meaning",
    "parse",
    "printer",
    "tree",
    "wording",
    "words",
)
"""The modules that other packages may import."""
