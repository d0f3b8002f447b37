"""What is judged of one thing: a module for each group of verbs."""

DOORS = (
    "contrasts",
    "hidden_words",
    "judge",
    "judgement",
    "mildness",
    "removal",
    "strength",
)
"""The modules that other packages may import."""
