"""General Datalog with negation, numbers and intervals; knows no word of any field."""

DOORS = (
    *("clauses", "extended", "facts", "instances", "plain", "program", "reasoner"),
    *("safety", "strata", "symbols", "terms"),
)
"""The modules that other packages may import."""
