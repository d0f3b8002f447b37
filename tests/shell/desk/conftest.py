"""A desk of the demo shelf, and browsers that were given its token, or nothing."""

from __future__ import annotations

import pytest
from abluent.shell.desk.app import desk_app
from abluent.shell.desk.state import Desk
from abluent.shell.session.loading import moved
from abluent.shell.session.session import Session
from desks import BASE, TOKEN, Visitor, warm
from flask.testing import FlaskClient


@pytest.fixture
def desk() -> Desk:
    session = Session.open(own=True)
    session._world = moved(warm().world, session.shelf)
    return Desk(session, TOKEN)


@pytest.fixture
def stranger(desk: Desk) -> FlaskClient:
    """A browser that was given nothing."""
    return desk_app(desk).test_client()


@pytest.fixture
def visitor(stranger: FlaskClient) -> Visitor:
    stranger.get(f"/?key={TOKEN}", base_url=BASE)
    return Visitor(stranger)
