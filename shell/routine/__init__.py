"""Routines read from lines, tables and calendars, and shown."""

DOORS = ("account_words", "data", "found", "page", "plan_words", "read", "written")
"""The modules that other packages may import."""
