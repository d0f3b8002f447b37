"""The interactive shell."""
