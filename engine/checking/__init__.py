"""The independent check of a trace: the standard library, and nothing of the rest."""

DOORS = ("checker", "follows", "label_rows", "quantities", "replay", "reword")
"""The modules that other packages may import."""
