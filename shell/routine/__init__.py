"""Routines read from lines, tables and calendars, and shown."""

DOORS = ("data", "found", "page", "read")
"""The modules that other packages may import."""
