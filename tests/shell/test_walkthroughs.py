"""What an educator does in a week, done in the shell with no manual but `help`.

The tasks are those that the tool is for: read labels; say what is left and what takes
it off; notice what a label hides; judge general claims; plan washes; show and cite;
add what is new. Every line typed is one that `help`, an order's own question, or an
answer's hint shows how to write.
"""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from abluent.shell.session.session import Session
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell

pytestmark = pytest.mark.slow

MESSY = """\
INGREDIENTS/INGRÉDIENTS: AQUA/WATER/EAU • SODIUM LAURETH SULFATE •
Cocamidopropyl Betaine • Dirnethicone • Guar Hydroxypropyltrimonium Chloride •
Parfum (Fragrance) • Limonene"""


@pytest.fixture(scope="module")
def demo() -> Session:
    """A session on the demo shelf, for the tasks that change nothing."""
    return Session.open()


def typed(lines: str, session: Session) -> str:
    """Return what the shell prints, on one line, so that wrapping does not count."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(lines), out, spoken=False)
    shell = InteractiveShell(session, reader, out)
    assert shell.run() == 0
    return " ".join(out.getvalue().split())


def test_help_shows_every_way_that_is_taken_here(demo: Session) -> None:
    page = typed("help\n", demo)
    for word in ("add", "read", "plan", "trace", "teach", "which washes clear"):
        assert word in page


def test_1_read_a_messy_label() -> None:
    lines = f'{MESSY}\n\nQuay Wash\nwash\n\nread "Quay Wash"\n'
    page = typed(lines, Session.open())
    assert "Aqua" in page or "AQUA" in page
    assert "Dirnethicone = Dimethicone (its spelling repaired)" in page
    assert "Parfum" in page


def test_2_say_what_is_left_and_what_takes_it_off(demo: Session) -> None:
    page = typed(
        'what does "Harbour Cream" leave\n'
        'which washes clear everything from "Harbour Cream"\n'
        'which washes without sulfates clear "Dimethicone" from "Harbour Cream"\n',
        demo,
    )
    assert "Dimethicone" in page
    assert "Tideline Wash" in page


def test_3_notice_what_a_label_hides(demo: Session) -> None:
    page = typed(
        'what does "Gullwing Silk Wash" hide\n'
        'does "Gullwing Silk Wash" clear "Dimethicone"\n',
        demo,
    )
    assert "Gullwing Silk Wash takes at most part of Dimethicone" in page
    assert "Gullwing Silk Wash can leave Dimethicone itself." in page


def test_4_judge_a_claim_and_show_the_counterexample(demo: Session) -> None:
    page = typed(
        "is it true that only sulfates clear water-insoluble silicones\n"
        'is it true that every ingredient named "*ate" is an anionic surfactant\n'
        "why\n",
        demo,
    )
    assert "False: Sodium Benzoate is a preservative" in page
    assert "Behentrimonium Methosulfate does not count here as an anionic" in page


def test_5_plan_the_mildest_washes(demo: Session) -> None:
    page = typed(
        'plan\nwash twice a week\nuse "Harbour Cream" after every wash\n'
        "clear silicones every 3 washes\n\n"
        'routine\nwash with "Plover Mild Wash" on Sunday\n'
        'use "Harbour Cream" after every wash\n\n',
        demo,
    )
    assert "Wash" in page
    assert "Dimethicone from Harbour Cream" in page


def test_6_show_it_and_cite_it(demo: Session, tmp_path: Path) -> None:
    page, data = tmp_path / "why.md", tmp_path / "why.json"
    typed(
        'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"\n'
        f"trace last to {page}\ntrace last to {data}\n",
        demo,
    )
    assert "Dimethicone is number 3 on the label of Harbour Cream" in page.read_text()
    assert json.loads(data.read_text())


def test_7_teach_a_new_ingredient_and_a_claim_and_use_them() -> None:
    session = Session.open()
    session.add_label("Kelp Gel", "styler", "Aqua, Kelp Silicone, Parfum")
    session.add_label("Fen Wash", "wash", "Aqua, Cocamidopropyl Betaine, Parfum")
    page = typed(
        "teach ingredient\nKelp Silicone\nsilicone fluid\nnone\ninsoluble\n"
        "Fucus Fluid\n\n\nyes\nyes\n"
        'what does "Kelp Gel" leave\n'
        'does "Fen Wash" clear "Fucus Fluid" from "Kelp Gel"\n'
        "teach claim\nremoves\nbetaine\npart\n\nsilicone fluid\n\n\n"
        "Two trials, no control.\n\n\ntext\nyes\n"
        'does "Fen Wash" clear "Kelp Silicone" from "Kelp Gel"\n'
        "taught\n",
        session,
    )
    was = "Fen Wash takes at most part of Kelp Silicone from Kelp Gel"
    assert was in page
    turned = "Fen Wash, Kelp Silicone from Kelp Gel: partly clears (it was: at most"
    assert turned in page
    assert "Fen Wash takes part of Kelp Silicone from Kelp Gel, by common" in page
    assert "Two trials, no control." in page
    assert "1 kelp-silicone: Kelp Silicone (" in page
    assert (
        "2 betaine-takes-part-silicone-fluid: "
        "Betaine surfactants take at least part of silicone fluid." in page
    )
