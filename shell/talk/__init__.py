"""The interactive shell."""

DOORS = ("completion", "help", "loop")
"""The modules that other packages may import."""
