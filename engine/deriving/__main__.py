"""Work out anew what need not be remembered: `python -m abluent.engine.deriving`.

It writes `ontology/derived`, one file for each file of ingredients and each way in
which facts are worked out. It needs RDKit and OPSIN, which the extra `test` brings.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import abluent.ontology
from abluent.engine.base.store import Base
from abluent.engine.deriving.files import derived_files, table_of

_FROM, _TO = "<!-- rests -->\n", "<!-- end -->"


def main() -> int:
    """Write the files anew; whatever goes wrong, those that were there stay."""
    ontology = Path(next(iter(abluent.ontology.__path__)))
    derived = ontology / "derived"
    with TemporaryDirectory() as room:
        before = Path(room) / "derived"
        if derived.exists():
            shutil.move(derived, before)
        try:
            written = _written(ontology)
        except BaseException:
            shutil.rmtree(derived, ignore_errors=True)
            if before.exists():
                shutil.move(before, derived)
            raise
    _tell(ontology / "README.md")
    sys.stdout.write(f"{len(written)} files\n")
    return 0


def _written(ontology: Path) -> dict[str, str]:
    """Write the files until nothing changes any more, and return their texts."""
    written: dict[str, str] = {}
    # What one way says may bear out what another does, once it stands in the base.
    while (wanted := derived_files(Base.load())) != written:
        for name in written.keys() - wanted.keys():
            (ontology / name).unlink()
        for name, text in wanted.items():
            path = ontology / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        written = wanted
    return written


def _tell(page: Path) -> None:
    """Write anew, in the page of the ontology, what the ingredients rest on."""
    text = page.read_text(encoding="utf-8")
    head, _, rest = text.partition(_FROM)
    _, _, tail = rest.partition(_TO)
    rows = "".join(f"{row}\n" for row in table_of(Base.load()))
    page.write_text(f"{head}{_FROM}{rows}{_TO}{tail}", encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())
