"""The store, the general reasoner, proofs and traces, label reading, questions."""

DOORS = ("disk", "errors", "faults")
"""The modules that other packages may import."""
