"""The text of labels."""

DOORS = ("names", "read", "tree", "words")
"""The modules that other packages may import."""
