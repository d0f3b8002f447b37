"""What `abluent sign` does: sign traces with a key of one's own, or make a key."""

from __future__ import annotations

import argparse
from pathlib import Path

from abluent.engine.checking import checker
from abluent.engine.disk import read_text, write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.trace import signature
from abluent.shell.command.check import traces_in
from abluent.shell.ground import reports
from abluent.shell.ground.extras import needing

ENDING = ".sig"
PUBLIC = ".pub"
OVERWRITE = "name another file, or add --overwrite to replace it"


def run_sign(args: argparse.Namespace) -> int:
    """Make a key, or sign the traces of each file beside it."""
    with needing("a signature", "sign"):
        if args.new_key:
            _make_key(Path(args.new_key))
        elif not args.key or not args.traces:
            hint = "abluent sign --key my.key why.json"
            raise CommandError(Problem("a key and a trace are needed", hint=hint))
        for word in args.traces:
            _sign(word, args.key, overwrite=args.overwrite)
    return reports.ANSWERED


def _make_key(path: Path) -> None:
    private, public = signature.new_key()
    shown = path.with_name(path.name + PUBLIC)
    write_file(path, private, hint="name another file", private=True)
    write_file(shown, public, hint="name another file")
    print(f"{path}: keep it to yourself; give {shown} to whoever checks your traces")


def _sign(word: str, key: str, *, overwrite: bool) -> None:
    private, lines = read_text(Path(key)), []
    for where, trace in traces_in(word):
        found = checker.check(trace)
        if not found.ok:
            what = f"this trace does not hold: {found.problems[0][1]}"
            raise DataError(Problem(what, where, hint="abluent check says more"))
        try:
            lines.append(signature.signed(trace["digest"], private))
        except signature.BadKey as error:
            raise DataError(Problem(f"this is {error}", key)) from error
    path = Path(word + ENDING)
    text = "".join(f"{line}\n" for line in lines)
    write_file(path, text, overwrite=overwrite, hint=OVERWRITE)
    print(f"{path}: {len(lines)} signed")


class Signatures:
    """The signatures beside a file of traces, to be held against a public key.

    Args:
        key: the file of the public key.
        word: the file of traces.

    Raises:
        CommandError: there are none.
        DataError: one of the files cannot be read.
    """

    def __init__(self, key: str, word: str) -> None:
        self._key, self._public = key, read_text(Path(key))
        self._lines = read_text(Path(word + ENDING)).splitlines()

    def problem(self, number: int, digest: str) -> str:
        """Return what is wrong with the signature of a trace, or nothing."""
        lines = self._lines[number : number + 1]
        with needing("a signature", "sign"):
            try:
                good = any(
                    signature.is_signed(digest, line, self._public) for line in lines
                )
            except signature.BadKey as error:
                raise DataError(Problem(f"this is {error}", self._key)) from error
        return "" if good else f"is not signed by the owner of {self._key}"
