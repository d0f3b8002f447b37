"""Answers as pictures."""

DOORS = ("card", "classes", "grid", "levels", "proof", "sheet")
"""The modules that other packages may import."""
