"""Grammars, frozen syntax trees, parsers, canonical printers, pointed errors."""
