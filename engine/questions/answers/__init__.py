"""Answers and their wording."""

DOORS = ("answer", "cautions", "explained", "rows", "verdicts", "wording")
"""The modules that other packages may import."""
