"""The forms of question, each from its tree to an answer."""

DOORS = ("heard", "question")
"""The modules that other packages may import."""
