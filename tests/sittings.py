"""Sittings in the interactive shell, driven by lines."""

from __future__ import annotations

import io

from abluent.shell.session.session import Session
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell

LABEL = "Ingredients: Aqua, Cetearyl Alcohol,\nDimethicone, Glycerin, Parfum"


def typed(text: str, session: Session | None = None) -> str:
    """Return what the shell prints for lines that come from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(session or Session.open(), reader, out).run()
    return out.getvalue()
