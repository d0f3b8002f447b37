"""The language of routines."""

DOORS = ("parse", "printer", "tree")
"""The modules that other packages may import."""
