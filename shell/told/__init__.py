"""What a picture of an answer says, in everyday words."""

DOORS = (
    *("groups", "long_names", "plain", "reasons", "spoken_names"),
    *("telling", "told"),
)
"""The modules that other packages may import."""
