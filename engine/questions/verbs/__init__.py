"""What is judged of one thing: a module for each group of verbs."""

DOORS = ("contrasts", "judge", "judgement", "mildness", "removal", "strength")
"""The modules that other packages may import."""
