"""The desk opened: on the loopback of this machine, until Ctrl-C."""

from __future__ import annotations

import socket
from collections.abc import Callable
from typing import TYPE_CHECKING

from abluent.engine.faults import CommandError, Problem

if TYPE_CHECKING:
    from abluent.shell.session.session import Session

HOST = "127.0.0.1"
_THREADS = 6


def serve(
    session: Session, say: Callable[[str], None], *, port: int = 0, browser: bool = True
) -> None:
    """Open a desk on a session and serve it until it is stopped.

    Args:
        session: what answers.
        say: prints a line.
        port: where to listen; any free one if zero.
        browser: whether to open the page in the user's browser.

    Raises:
        CommandError: the port is in use, or a library is missing.
    """
    from abluent.shell.ground.extras import needing

    with needing("the desk", "desk"):
        from abluent.shell.desk.app import desk_app
        from abluent.shell.desk.state import Desk
        from waitress.server import create_server

    desk = Desk(session)
    listening = _listening(port)
    server = create_server(
        desk_app(desk), sockets=[listening], threads=_THREADS, ident="desk"
    )
    address = f"http://{HOST}:{listening.getsockname()[1]}/?key={desk.token}"
    say(f"The desk is open at {address}")
    say("Only this machine reaches it. Ctrl-C closes it.")
    if browser:
        _show(address)
    try:
        server.run()
    finally:
        server.close()
        session.keep()
        say("The desk is closed.")


def _listening(port: int) -> socket.socket:
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        found.bind((HOST, port))
    except OSError as error:
        found.close()
        what = f"the port {port} cannot be had: {error.strerror or error}"
        hint = "leave `--port` out, and a free one is taken"
        raise CommandError(Problem(what, hint=hint)) from error
    return found


def _show(address: str) -> None:
    import webbrowser

    try:
        webbrowser.open(address)
    except webbrowser.Error:
        return
