"""The world that a question is asked in, and its case."""
