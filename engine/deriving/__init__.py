"""What need not be remembered: facts worked out from structures, names, registers."""

DOORS = ()
"""The modules that other packages may import: none, it is run by itself."""
