"""Labels that were begun on the desk or in the shell, kept until they are shelved.

A text is kept under an id of its own, with a number that grows with each change. Who
saves over a number that is no longer the last, as from a second tab, gets a new id:
nothing that was typed is lost.
"""

from __future__ import annotations

import json
import re
import secrets
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

KEPT = 40
ROOMS = frozenset({"0week00000", "0picture00"})
"""The ids under which rooms keep what was last chosen in them."""
_ID = re.compile(r"[a-z0-9]{10}")


class Draft(NamedTuple):
    """What was typed so far: the fields of a form, and how often it was saved."""

    key: str
    number: int = 0
    fields: Mapping[str, str] = {}


class Drafts:
    """The drafts of a user, in the folder `desk` of the data folder."""

    def __init__(self, folder: Path | None = None) -> None:
        """Name the folder; it is made when first needed."""
        from abluent.engine.disk import data_folder

        self._folder = folder or data_folder() / "desk"

    def new(self) -> Draft:
        """Return an empty draft with an id of its own."""
        return Draft(secrets.token_hex(5))

    def last(self) -> Draft:
        """Return the draft that was saved last, or an empty one."""
        found = [path for path in self._files() if path.stem not in ROOMS]
        return self.get(found[-1].stem) if found else self.new()

    def get(self, key: str) -> Draft:
        """Return a draft; one that was never saved is empty."""
        if not _ID.fullmatch(key):
            return self.new()
        try:
            held = json.loads(self._path(key).read_text("utf-8"))
            fields = {str(k): str(v) for k, v in held["fields"].items()}
            return Draft(key, int(held["number"]), fields)
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            return Draft(key)

    def save(self, key: str, number: int, fields: Mapping[str, str]) -> Draft:
        """Keep a draft; under a new id, if it was saved from elsewhere meanwhile."""
        from abluent.engine.disk import write_file

        now = self.get(key)
        if now.fields == fields:
            return now
        if number != now.number:
            now = self.new()
        draft = Draft(now.key, now.number + 1, fields)
        self._folder.mkdir(parents=True, exist_ok=True)
        held = {"number": draft.number, "fields": dict(fields)}
        text = json.dumps(held, ensure_ascii=False)
        write_file(self._path(draft.key), text, overwrite=True)
        for old in self._files()[:-KEPT]:
            if old.stem in ROOMS:
                continue
            old.unlink(missing_ok=True)
        return draft

    def drop(self, key: str) -> None:
        """Forget a draft, as it is on the shelf now."""
        if _ID.fullmatch(key):
            self._path(key).unlink(missing_ok=True)

    def _path(self, key: str) -> Path:
        return self._folder / f"{key}.json"

    def _files(self) -> list[Path]:
        found = (p for p in self._folder.glob("*.json") if _ID.fullmatch(p.stem))
        return sorted(found, key=lambda path: path.stat().st_mtime_ns)
