"""The words of free speech: what each does, and the noun phrases they make."""

DOORS = ("alone", "book", "letters", "noun", "nouns", "pieces", "reading", "recast")
"""The modules that other packages may import."""
