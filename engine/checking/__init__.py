"""The independent check of a trace: the standard library, and nothing of the rest."""
