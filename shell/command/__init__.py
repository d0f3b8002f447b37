"""The one-shot command."""
