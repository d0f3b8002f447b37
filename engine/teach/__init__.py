"""Additions to what is known: tried, compared with it, and kept."""

DOORS = ("addition", "effects", "fields", "hand_over", "layer", "trial", "worded")
"""The modules that other packages may import."""
