"""The desk: a page in the browser of this machine, over the session of the shell."""

DOORS = ("serve",)
"""The modules that other packages may import."""
