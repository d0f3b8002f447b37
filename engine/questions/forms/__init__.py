"""The forms of question, each from its tree to an answer."""

DOORS = ("question",)
"""The modules that other packages may import."""
