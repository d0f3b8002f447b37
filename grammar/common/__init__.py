"""What the languages share: pointed errors, text, records, tables, kept values."""

DOORS = ("cache", "errors", "lalr", "lalr_tables", "packaged", "record", "text")
"""The modules that other packages may import."""
