"""Free speech read into exact questions of the question language."""

DOORS = ("book", "nearest", "noun", "nouns", "pieces", "read")
"""The modules that other packages may import."""
