"""Forgeries and faults in any number, by command: `python -m tests.fuzz`."""
