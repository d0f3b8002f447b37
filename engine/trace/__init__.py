"""The trace of an answer: its steps, its bounds, its provenance, its review."""

DOORS = ("answer", "edition", "provenance", "review", "signature", "steps")
"""The modules that other packages may import."""
