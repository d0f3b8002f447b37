"""Plain questions, clearly worded, read into exact questions by ways of asking."""

DOORS = ("read",)
"""The modules that other packages may import."""
