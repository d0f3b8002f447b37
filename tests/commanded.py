"""Commands run in a test: what each printed, and the code it left with."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

QUERY = 'does "Tideline Wash" clear "Dimethicone" from "Harbour Cream"'
SHELF = [
    {
        "product": "Ebb Cream",
        "kind": "conditioner",
        "market": "EU",
        "text": "Aqua, Cetearyl Alcohol, Dimethicone, Behentrimonium Chloride, Parfum",
    },
    {
        "product": "Ebb Wash",
        "kind": "wash",
        "market": "EU",
        "text": "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, "
        "Sodium Chloride, Citric Acid, Sodium Benzoate, Parfum",
    },
]


@dataclass
class Ran:
    """What a command printed, and the code it left with."""

    code: int
    out: str
    err: str

    @property
    def objects(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self.out.splitlines()]


Run = Callable[..., Ran]


def script(*words: str) -> subprocess.CompletedProcess[bytes]:
    """Run the installed command in a process of its own."""
    code = "from abluent.shell.command.cli import script; script()"
    return subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, check=False
    )
