"""Routines read from lines, tables and calendars, and shown."""
