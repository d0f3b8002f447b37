"""How much of each ingredient there can be, and what follows from amounts."""

DOORS = (
    *("bounded", "break_points", "certified", "charge_balance", "charges"),
    *("label_levels", "lawful", "levels", "remembered"),
)
"""The modules that other packages may import."""
