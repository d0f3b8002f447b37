"""The ontology as facts, names and rules: read, checked and cached."""

DOORS = (
    *("cache", "conditions", "contract", "files", "fold", "kinds", "phrases"),
    *("record", "roles", "rulebook", "store", "turtle"),
)
"""The modules that other packages may import."""
