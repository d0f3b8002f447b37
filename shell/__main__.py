"""`python -m abluent.shell`: the command."""

from abluent.shell.command.cli import script

if __name__ == "__main__":
    script()
