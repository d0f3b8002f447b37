"""The desk in a real browser: rooms, keys alone, narrow and wide, light and dark.

An accessibility checker looks at every room; it must find nothing serious. Where there
is no Chromium the tests are skipped, and counted.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from threading import Thread
from urllib.parse import quote

import pytest
from abluent.shell.desk.app import desk_app
from abluent.shell.desk.state import Desk
from abluent.shell.session.session import Session
from axe_playwright_python.sync_playwright import Axe
from desks import LABEL, ONE, TOKEN
from playwright.sync_api import Browser, Page, expect, sync_playwright
from waitress.server import create_server

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
pytestmark = pytest.mark.skipif(
    CHROMIUM is None, reason="NO CHROMIUM HERE: the desk was not tried in a browser"
)
ROOMS = {
    "label": "/label",
    "shelf": "/shelf",
    "question": f"/question?q={quote(ONE)}&water=soft",
    "week": "/week",
    "picture": f"/picture?q={quote(ONE)}",
}
GRAVE = {"serious", "critical"}
WAIT = 30_000  # of a loaded machine, in milliseconds


@pytest.fixture
def address(desk: Desk) -> Iterator[str]:
    """Where a desk is served while a test runs."""
    server = create_server(desk_app(desk), host="127.0.0.1", port=0, threads=6)
    thread = Thread(target=server.run, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.effective_port}"
    server.close()
    thread.join(5)


@pytest.fixture
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        shown = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox"]
        )
        yield shown
        shown.close()


def opened(browser: Browser, address: str, wide: int = 1280, scheme: str = "") -> Page:
    """A window on the desk, in which any complaint of the browser is a failure."""
    context = browser.new_context(
        viewport={"width": wide, "height": 800},
        color_scheme=scheme or "light",  # type: ignore[arg-type]
    )
    context.set_default_timeout(WAIT)
    page = context.new_page()
    page.on("pageerror", lambda error: COMPLAINTS.append(str(error)))
    page.on("console", lambda said: complain(said.type, said.text))
    page.goto(f"{address}/?key={TOKEN}")
    return page


COMPLAINTS: list[str] = []


@pytest.fixture(autouse=True)
def _nothing_to_complain_of() -> Iterator[None]:
    COMPLAINTS.clear()
    yield
    assert COMPLAINTS == []


def complain(kind: str, text: str) -> None:
    if kind in {"error", "warning"}:
        COMPLAINTS.append(text)


def grave(page: Page) -> list[str]:
    """What the accessibility checker finds that is serious."""
    found = Axe().run(page).response["violations"]
    return [
        f"{each['id']}: {each['nodes'][0]['html']}"
        for each in found
        if each["impact"] in GRAVE
    ]


def assert_in_order(page: Page) -> None:
    assert not grave(page)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    outside = page.evaluate(
        "performance.getEntriesByType('resource').map(e => e.name)"
        ".filter(n => !n.startsWith(location.origin) && !n.startsWith('data:'))"
    )
    assert outside == []


def type_label(page: Page) -> None:
    page.fill("#text", LABEL)
    expect(page.locator(".sum")).to_contain_text("6 names, 5 known", timeout=WAIT)


def test_a_label_is_read_as_it_is_typed(browser: Browser, address: str) -> None:
    """The quick pass: one room, on a phone, in the dark, and a reload."""
    page = opened(browser, address, 360, "dark")
    type_label(page)
    assert_in_order(page)
    page.reload()
    expect(page.locator("#text")).to_have_value(LABEL)


@pytest.mark.long
@pytest.mark.parametrize("wide", [360, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_room_is_in_order(
    browser: Browser, address: str, wide: int, scheme: str
) -> None:
    page = opened(browser, address, wide, scheme)
    type_label(page)
    for place in ROOMS.values():
        page.goto(f"{address}{place}")
        page.evaluate(
            "[...document.querySelectorAll('main details')].slice(0, 3)"
            ".forEach(each => { each.open = true; })"
        )
        page.wait_for_load_state("networkidle")
        assert_in_order(page)


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def tab_to(page: Page, selector: str) -> None:
    """Go on with the Tab key until something has the focus."""
    for _ in range(120):
        if page.evaluate("s => document.activeElement.matches(s)", selector):
            return
        page.keyboard.press("Tab")
    pytest.fail(f"Tab does not come to {selector}")


@pytest.mark.long
@pytest.mark.parametrize("wide", [360, 1280])
def test_keys_alone_go_through_every_room(
    browser: Browser, address: str, wide: int
) -> None:
    page = opened(browser, address, wide)
    tab_to(page, "#text")
    page.keyboard.insert_text(LABEL)
    expect(page.locator(".sum")).to_contain_text("known", timeout=WAIT)
    tab_to(page, "button.main")
    press(page, "Enter")
    expect(page.locator(".told")).to_contain_text("It is on your shelf", timeout=WAIT)
    tab_to(page, 'a[href="/question"]')
    press(page, "Enter")
    page.wait_for_url("**/question")
    tab_to(page, "#q")
    page.keyboard.insert_text('what does "Quayside Shampoo" leave')
    press(page, "Enter")
    expect(page.locator(".answer")).to_be_visible(timeout=WAIT)
    tab_to(page, "summary:not(.card > summary)")
    page.goto(f"{address}/week")
    tab_to(page, "#product-0")
    tab_to(page, "button.main")
    press(page, "Enter")
    expect(page.locator("#outcome")).to_be_focused(timeout=WAIT)
    page.goto(f"{address}/picture")
    tab_to(page, "#q")
    page.keyboard.insert_text('what does "Quayside Shampoo" leave')
    tab_to(page, "input[name=shape]")
    press(page, "ArrowRight")
    expect(page.locator("#picture img")).to_be_visible(timeout=WAIT)
    page.goto(f"{address}/shelf")
    tab_to(page, ".products summary")
    press(page, "Enter")
    expect(page.locator(".products .verdicts").first).to_be_visible(timeout=WAIT)


@pytest.mark.long
def test_the_first_answer_on_ones_own_label_takes_a_paste_and_a_press(
    browser: Browser, address: str
) -> None:
    """What it leaves is told at once, with nothing else to do."""
    page = opened(browser, address)
    page.fill("#text", LABEL)
    expect(page.locator(".sum")).to_be_visible(timeout=WAIT)
    page.click("button.main")
    told = page.locator(".verdicts").first
    expect(told).to_be_visible(timeout=WAIT)
    assert re.search("leave", told.inner_text())


@pytest.mark.long
def test_two_tabs_and_a_shell_at_once_lose_nothing(
    browser: Browser, address: str, desk: Desk
) -> None:
    page = opened(browser, address)
    other = page.context.new_page()
    type_label(page)
    other.goto(page.url)
    page.fill("#text", "Aqua, Glycerin, Parfum")
    expect(page.locator(".sum")).to_contain_text("3 names", timeout=WAIT)
    other.fill("#text", "Aqua, Sodium Laureth Sulfate")
    expect(other.locator(".sum")).to_contain_text("2 names", timeout=WAIT)
    page.wait_for_timeout(300)
    assert page.url != other.url
    for tab, text in ((page, "Aqua, Glycerin, Parfum"), (other, "Aqua, Sodium")):
        tab.reload()
        assert tab.input_value("#text").startswith(text)
    page.click("button.main")
    expect(page.locator(".told")).to_be_visible(timeout=WAIT)
    Session.open(own=True).add_label("From the shell", "wash", "Aqua, Parfum", "EU")
    other.click("button.main")
    expect(other.locator(".told")).to_be_visible(timeout=WAIT)
    page.goto(f"{address}/shelf")
    names = page.locator(".products summary strong").all_inner_texts()
    assert len(names) == 3
    assert "From the shell" in names


@pytest.mark.long
def test_without_the_token_a_browser_is_shown_nothing(
    browser: Browser, address: str
) -> None:
    page = browser.new_page()
    answer = page.goto(f"{address}/shelf")
    assert answer is not None
    assert answer.status == 403
    assert "abluent desk" in page.inner_text("body")


@pytest.mark.long
@pytest.mark.parametrize(
    "elsewhere", ["http://elsewhere.example/", "http://127.0.0.1:47111/"]
)
def test_another_page_reaches_nothing(
    browser: Browser, address: str, elsewhere: str
) -> None:
    """A page of another origin in the same browser: two fetches and a form.

    One of another port of this machine is of the same site, so it sends the cookie.
    What is told to that page is the browser's doing; whether a product was taken off
    the shelf is not. The desk's own page then does take it off.
    """
    page = opened(browser, address)
    type_label(page)
    page.click("button.main")
    expect(page.locator(".told")).to_contain_text("It is on your shelf", timeout=WAIT)
    shelved = on_the_shelf()
    assert len(shelved) == 1
    other = page.context.new_page()
    other.route(
        elsewhere,
        lambda route: route.fulfill(body="<p>else</p>", content_type="text/html"),
    )
    other.goto(elsewhere)
    told = other.evaluate(
        """async (address) => {
          const ask = (how) => fetch(`${address}/shelf/undo`, how)
            .then((a) => a.status, () => "refused");
          return [await ask({method: "POST", credentials: "include"}),
                  await ask({method: "POST", credentials: "include",
                             mode: "no-cors"})];
        }""",
        address,
    )
    assert set(told) <= {"refused", 403, 0}
    assert on_the_shelf() == shelved
    other.set_content(f'<form method="post" action="{address}/shelf/undo"></form>')
    with other.expect_response("**/shelf/undo") as answer:
        other.evaluate("document.forms[0].submit()")
    assert answer.value.status == 403
    assert on_the_shelf() == shelved
    own = "fetch('/shelf/undo', {method: 'POST'}).then((a) => a.status)"
    assert page.evaluate(own) == 200
    assert on_the_shelf() == []


def on_the_shelf() -> list[str]:
    """What the user's own shelf holds, read anew."""
    return [label.product for label in Session.open(own=True).shelf.labels]
