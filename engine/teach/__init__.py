"""Additions to what is known: tried, compared with it, and kept."""
