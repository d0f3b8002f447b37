"""Rule files written anew: `python -m abluent.grammar.rules FILE…`.

A file of the former shape is converted; one of the present shape is laid out in the
one layout. `--check` only says what cannot be read, `--could` also what could have
stood there instead.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from abluent.grammar.common.errors import GrammarError
from abluent.grammar.rules.anew import written_anew
from abluent.grammar.rules.parse import parse_rules

_USAGE = "usage: python -m abluent.grammar.rules [--check | --could] FILE…\n"


def main(arguments: Sequence[str]) -> int:
    """Write the files named anew, or check them; the exit code for a shell."""
    flags = {each for each in arguments if each.startswith("--")}
    paths = [path for each in arguments if each not in flags for path in _files(each)]
    if not flags <= {"--check", "--could"} or not paths:
        sys.stderr.write(_USAGE)
        return 2
    return max(_done(path, flags) for path in paths)


def _files(argument: str) -> list[Path]:
    path = Path(argument)
    return sorted(path.rglob("*.rules")) if path.is_dir() else [path]


def _done(path: Path, flags: set[str]) -> int:
    try:
        text = path.read_text("utf-8")
        if flags:
            parse_rules(text, str(path))
        else:
            _write(path, text, written_anew(text, str(path)))
    except GrammarError as error:
        sys.stderr.write(f"{error.render('--could' in flags)}\n")
        return 1
    except UnicodeDecodeError:
        sys.stderr.write(f"{path}: this file is not UTF-8\n")
        return 1
    except OSError as error:
        sys.stderr.write(f"{path}: {error.strerror}\n")
        return 1
    return 0


def _write(path: Path, old: str, new: str) -> None:
    """Put the new text in the place of the old, whole or not at all."""
    if new == old:
        return
    beside = path.with_name(f"{path.name}.new")
    beside.write_text(new, "utf-8")
    beside.replace(path)
    sys.stdout.write(f"{path}\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
