"""A page in a browser: it loads from disk, complains of nothing, fetches nothing."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from abluent.shell.pages.html import answer_html
from shown import DAY, WASH, WHICH, demo, page_of

BROWSER = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-logging=stderr",
)


@pytest.mark.skipif(BROWSER is None, reason="there is no Chromium here")
def test_a_browser_shows_the_page_and_complains_of_nothing(tmp_path: Path) -> None:
    assert BROWSER is not None
    page = tmp_path / "page.html"
    page.write_text(page_of(WHICH), "utf-8")
    profile = f"--user-data-dir={tmp_path / 'profile'}"
    done = subprocess.run(
        [BROWSER, *QUIET, profile, "--dump-dom", page.as_uri()],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert "CONSOLE" not in done.stderr
    shown = WASH.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    assert shown in done.stdout
    assert "<script" not in done.stdout


@pytest.mark.long
@pytest.mark.skipif(BROWSER is None, reason="there is no Chromium here")
@pytest.mark.parametrize(
    "question",
    [
        'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"',
        'which washes clear "Dimethicone"',
        'does "Tideline Wash" clear everything',
    ],
)
def test_a_trace_prints_on_four_pages_at_most(question: str, tmp_path: Path) -> None:
    """What is folded, every step and the check are printed on request."""
    assert BROWSER is not None
    page, printed = tmp_path / "page.html", tmp_path / "page.pdf"
    html = answer_html(demo(question), question, DAY, by_base=False)
    page.write_text(html, "utf-8")
    profile = f"--user-data-dir={tmp_path / 'profile'}"
    told = [f"--print-to-pdf={printed}", "--no-pdf-header-footer", page.as_uri()]
    command = [BROWSER, *QUIET, profile, *told]
    subprocess.run(command, capture_output=True, timeout=120, check=True)
    count = len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes()))
    assert 1 <= count <= 4
