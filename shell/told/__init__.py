"""What a picture of an answer says, in everyday words."""

DOORS = (
    *("group", "long_names", "plain", "reasons", "spoken_names"),
    *("telling", "told"),
)
"""The modules that other packages may import."""
