"""The text of labels."""
