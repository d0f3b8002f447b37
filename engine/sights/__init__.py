"""What very many labels say, each seen once: without grounds, proofs or a case."""

DOORS = ("kept", "reader", "sight")
"""The modules that other packages may import."""
