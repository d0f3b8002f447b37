"""Shelves: read, saved, found by name, and changed."""

DOORS = (
    *("by_name", "current", "drafts", "label_files", "own", "presets", "save"),
    *("shelf", "unknown_name", "words"),
)
"""The modules that other packages may import."""
