"""The base as an OWL 2 ontology: proved consistent, handed out, and compared."""

DOORS = ("comparison", "consistency", "hermit", "ontology_file", "plain")
"""The modules that other packages may import."""
