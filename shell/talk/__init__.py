"""The interactive shell."""

DOORS = ("help", "loop")
"""The modules that other packages may import."""
