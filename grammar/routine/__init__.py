"""The language of routines."""
