"""What the text of a label says, and what each name on it stands for."""

DOORS = (
    *("inventory", "kept", "label_order", "labels", "name_rules"),
    *("names", "readings"),
)
"""The modules that other packages may import."""
