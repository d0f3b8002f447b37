"""What is judged of one thing: a module for each group of verbs."""

DOORS = (
    "as_meant",
    "bearing",
    "contrasts",
    "doing",
    "hidden_words",
    "judge",
    "judgement",
    "levels",
    "looked_at",
    "mildness",
    "one_percent",
    "staying",
    "strength",
    "task",
)
"""The modules that other packages may import."""
