"""The language of rule files."""
