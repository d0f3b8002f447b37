"""What every wing stands on: errors reported, tables, progress."""

DOORS = (
    *("cells", "extras", "forms", "progress", "reports", "settings", "stages"),
    *("strand", "typeface"),
)
"""The modules that other packages may import."""
