"""Proofs, their traces, and what can be asked of them; knows no word of any field."""
