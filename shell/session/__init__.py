"""One session over a base and a shelf: the Python API.

`from abluent.shell.session import Session` is the way in.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from abluent.shell.session.session import Session

__all__ = ["Session"]

DOORS = ("batch_folder", "session", "unexact", "upkeep")
"""The modules that other packages may import."""


def __getattr__(name: str) -> Any:
    """Return the session when it is asked for: its wing is imported without it."""
    if name == "Session":
        from abluent.shell.session.session import Session

        return Session
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
