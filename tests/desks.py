"""Desks of the demo shelf, asked through the test client of their framework."""

from __future__ import annotations

import re
from functools import cache
from urllib.parse import quote

from abluent.shell.session.session import Session
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

BASE = "http://127.0.0.1:8000"
TOKEN = "a-token-of-tests"
ONE = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
LABEL = (
    "Quayside Shampoo\nIngredients / Inhaltsstoffe: Aqua, Sodium Laureth Sulfate, "
    "Cocamidopropyl Betaine, Dirnethicone, Merrowex Tidal Complex, Sodium Chloride"
)


@cache
def warm() -> Session:
    """A session whose base is loaded, so that every desk need not."""
    session = Session.open(taught=False)
    assert session.world
    return session


class Visitor:
    """A browser of this machine that was given the token."""

    def __init__(self, client: FlaskClient) -> None:
        self.client = client
        self.key = ""

    def get(self, path: str, **query: str) -> TestResponse:
        asked = "&".join(f"{key}={quote(word)}" for key, word in query.items())
        whole = f"{path}?{asked}" if asked else path
        return self.client.get(whole, base_url=BASE, follow_redirects=True)

    def post(self, path: str, data: object = None, **more: object) -> TestResponse:
        return self.client.post(path, base_url=BASE, data=data, **more)

    def type_label(self, text: str = LABEL, **fields: str) -> TestResponse:
        """Type a label into the draft that is open, or into a new one."""
        if not self.key:
            shown = self.get("/label").text
            self.key = found(r"/label/([0-9a-z]{10})/read", shown)
        number = found(
            r'name="number" value="(\d+)"', self.get(f"/label/{self.key}").text
        )
        blank = {"name": "", "kind": "other", "market": "none", "kind_preset": "other"}
        typed = {**blank, "market_preset": "none", "text": text, "number": number}
        return self.post(f"/label/{self.key}/read", {**typed, **fields})


def found(pattern: str, text: str) -> str:
    """What a pattern finds in a page, which must hold it."""
    match = re.search(pattern, text)
    assert match, pattern
    return match[1]
