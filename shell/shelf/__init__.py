"""Shelves: read, saved, kept by name, and changed."""
