"""Who may ask the desk: this machine's browser, with the token, from its own pages."""

from __future__ import annotations

import pytest
from desks import BASE, TOKEN, Visitor
from flask.testing import FlaskClient

ROOMS = ("/label", "/shelf", "/question", "/week", "/picture", "/static/desk.js")


@pytest.mark.parametrize("path", ROOMS)
def test_nothing_is_shown_without_the_token(stranger: FlaskClient, path: str) -> None:
    answer = stranger.get(path, base_url=BASE)
    assert answer.status_code == 403
    assert "abluent desk" in answer.text


def test_a_wrong_token_is_refused(stranger: FlaskClient) -> None:
    assert stranger.get("/?key=wrong", base_url=BASE).status_code == 403
    stranger.set_cookie("desk-8000", "wrong", domain="127.0.0.1")
    assert stranger.get("/shelf", base_url=BASE).status_code == 403


def test_the_token_leaves_the_address_at_once(stranger: FlaskClient) -> None:
    answer = stranger.get(f"/?key={TOKEN}", base_url=BASE)
    assert answer.status_code == 302
    assert TOKEN not in answer.headers["Location"]
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9000"},
        {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"},
        {"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "no-cors"},
        {"Host": "desk.example:8000"},
    ],
)
def test_another_page_is_refused_though_it_has_the_token(
    visitor: Visitor, headers: dict[str, str]
) -> None:
    shelf = visitor.client.get("/shelf", base_url=BASE, headers=headers)
    drop = visitor.client.post("/shelf/undo", base_url=BASE, headers=headers)
    assert (shelf.status_code, drop.status_code) == (403, 403)


def test_a_form_of_another_page_is_refused(visitor: Visitor) -> None:
    headers = {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}
    answer = visitor.client.post("/shelf/undo", base_url=BASE, headers=headers)
    assert answer.status_code == 403


def test_its_own_pages_are_not_refused(visitor: Visitor) -> None:
    headers = {"Origin": BASE, "Sec-Fetch-Site": "same-origin"}
    answer = visitor.client.post("/label/new", base_url=BASE, headers=headers)
    assert answer.status_code == 302


@pytest.mark.parametrize("path", ROOMS[:-1])
def test_a_page_fetches_from_the_desk_alone(visitor: Visitor, path: str) -> None:
    answer = visitor.get(path)
    assert answer.status_code == 200
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "//" not in policy
    assert answer.headers["Referrer-Policy"] == "same-origin"
    for outside in ('src="http', 'href="http', "style=", "onclick"):
        assert outside not in answer.text
