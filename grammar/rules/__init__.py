"""The language of rule files."""

DOORS = ("parse", "tree")
"""The modules that other packages may import."""
