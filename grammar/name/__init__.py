"""The names of ingredients, from their parts."""

DOORS = ("read", "tree")
"""The modules that other packages may import."""
