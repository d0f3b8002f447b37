"""The language of questions."""
