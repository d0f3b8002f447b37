"""The ontology as facts, names and rules: read, checked and cached."""
