"""General Datalog with negation, numbers and intervals; knows no word of any field."""

DOORS = (
    *("clauses", "extended", "facts", "instances", "program", "reasoner", "safety"),
    *("strata", "symbols", "term_data", "terms"),
)
"""The modules that other packages may import."""
