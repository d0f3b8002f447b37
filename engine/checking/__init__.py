"""The independent check of a trace: the standard library, and nothing of the rest."""

DOORS = ("checker", "label_rows", "replay")
"""The modules that other packages may import."""
