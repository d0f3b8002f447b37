"""Free speech read into exact questions of the question language."""

DOORS = ("book", "nearest", "pieces", "read")
"""The modules that other packages may import."""
