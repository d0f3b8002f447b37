"""Whole catalogues: many labels read, judged and laid down as tables.

A catalogue is judged by the same rules as one question, through `relational`; any
cell of it can be asked by itself, and then has a proof.
"""

DOORS = ("over", "sweep", "written")
"""The modules that other packages may import."""

FORMS = ("duckdb", "parquet", "csv")
"""The forms that the tables of a catalogue are written in."""
