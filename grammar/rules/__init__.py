"""The language of rule files."""

DOORS = ("parse", "tree", "words")
"""The modules that other packages may import."""
