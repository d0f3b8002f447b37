"""Questions about an answer: why, how sure, what would turn it."""

DOORS = ("dispute", "follow_up", "other_conditions", "rounds", "saying", "upkeep")
"""The modules that other packages may import."""
