"""A week told in free speech: what is used how often, as lines of a routine."""

DOORS = ("read",)
"""The modules that other packages may import."""
