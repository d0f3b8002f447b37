"""Routines read from lines, tables and calendars, and shown."""

DOORS = (
    "account_words",
    "advice_words",
    "data",
    "examples",
    "heard",
    "page",
    "plan_opening",
    "read",
    "written",
)
"""The modules that other packages may import."""
