"""The forms of a trace, a module each: `FORM`, and `written(answer, question)`."""

DOORS = ()
"""None is imported by name: `abluent.shell.ground.forms` finds them all."""
