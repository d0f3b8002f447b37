"""What the text of a label says, and what each name on it stands for."""

DOORS = (
    *("inventory", "label_order", "labels", "name_rules", "names"),
    *("plain", "readings", "remembered"),
)
"""The modules that other packages may import."""
