"""The trace of an answer: its steps, its bounds, its provenance, its review."""
