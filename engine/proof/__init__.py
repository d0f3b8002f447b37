"""Proofs, their traces, and what can be asked of them; knows no word of any field."""

DOORS = (
    *("audit", "changes", "crux", "encode", "kept", "knowledge", "nearest", "nodes"),
    *("obstacles", "origins", "proofs", "sentences", "slices", "supports"),
    *("suppose", "trace", "withdrawal", "without"),
)
"""The modules that other packages may import."""
