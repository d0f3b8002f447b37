"""Free speech read into exact questions of the question language."""

DOORS = ("nearest", "read", "sayings")
"""The modules that other packages may import."""
