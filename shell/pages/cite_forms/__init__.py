"""The forms of a list of works, a module each: `FORM`, and `written(answers)`."""

DOORS = ()
"""None is imported by name: `abluent.shell.ground.forms` finds them all."""
