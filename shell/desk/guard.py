"""Who may ask the desk: a browser of this machine that was given its token.

The token comes once, in the address that is printed; from then on a cookie shows it.
A name other than this machine's own, and any other page that asks, is refused.
"""

from __future__ import annotations

import hmac
from typing import TYPE_CHECKING

from flask import Flask, Response, abort, redirect, request

if TYPE_CHECKING:
    from werkzeug.wrappers import Response as AnyResponse

HOSTS = frozenset({"127.0.0.1", "localhost"})
_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)


def guard(app: Flask, token: str) -> None:
    """Refuse what does not come from the desk's own pages on this machine."""

    @app.before_request
    def _known() -> AnyResponse | None:
        if request.host.partition(":")[0] not in HOSTS:
            abort(403, "This desk answers to its own machine only.")
        if _from_elsewhere():
            abort(403, "Another page asked for this.")
        given = request.args.get("key", "")
        if request.method == "GET" and given and _same(given, token):
            answer = redirect(request.path)
            answer.set_cookie(
                _cookie(), token, httponly=True, samesite="Strict", path="/"
            )
            return answer
        if not _same(request.cookies.get(_cookie(), ""), token):
            abort(403, "Open the desk by the address that `abluent desk` printed.")
        return None

    @app.after_request
    def _closed(answer: Response) -> Response:
        answer.headers.setdefault("Content-Security-Policy", _POLICY)
        answer.headers["X-Content-Type-Options"] = "nosniff"
        # With `no-referrer` a browser sends no origin with the desk's own forms.
        answer.headers["Referrer-Policy"] = "same-origin"
        answer.headers["Cross-Origin-Resource-Policy"] = "same-origin"
        answer.headers["Cross-Origin-Opener-Policy"] = "same-origin"
        answer.headers.setdefault("Cache-Control", "no-store")
        return answer


def _cookie() -> str:
    # Cookies know no ports; two desks of one machine must not take each other's.
    return f"desk-{request.host.rpartition(':')[2]}"


def _same(given: str, token: str) -> bool:
    return hmac.compare_digest(given.encode(), token.encode())


def _from_elsewhere() -> bool:
    """Whether a page other than the desk's own asked."""
    origin = request.headers.get("Origin")
    if origin is not None and origin != f"{request.scheme}://{request.host}":
        return True
    site = request.headers.get("Sec-Fetch-Site", "none")
    if site in {"same-origin", "none"}:
        return False
    # A link from elsewhere may open a page; it shows no cookie and is told how.
    opens = request.headers.get("Sec-Fetch-Mode") == "navigate"
    return not (opens and request.method == "GET")
