"""The ontology as facts, names and rules: read, checked and cached."""

DOORS = (
    *(
        "cache",
        "common_names",
        "conditions",
        "contract",
        "countries",
        "files",
        "fold",
        "kinds",
    ),
    *("matters", "phrases"),
    *("record", "roles", "rulebook", "sayings", "signs", "spaces", "store", "turtle"),
)
"""The modules that other packages may import."""
