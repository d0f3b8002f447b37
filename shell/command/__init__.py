"""The one-shot command."""

DOORS = ("cli",)
"""The modules that other packages may import."""
