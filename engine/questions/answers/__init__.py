"""Answers and their wording."""
