"""General Datalog with negation, numbers and intervals; knows no word of any field."""
