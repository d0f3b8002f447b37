"""What a user said once and for all: market, water, handle, colours, pages.

They are kept in `settings.toml` in the data folder, which may be edited by hand.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from typing import TYPE_CHECKING

from abluent.engine.disk import data_folder, data_place, read_text
from abluent.engine.faults import CommandError, DataError, Problem

if TYPE_CHECKING:
    from pathlib import Path

_FILE = "settings.toml"

KNOWN: Mapping[str, str] = {
    "market": "whose law a label follows where it says nothing, such as `EU`",
    "water": "what a new shelf of yours says of its water: `soft` or `hard`",
    "handle": "what stands on your pictures, such as `@quay.class`",
    "ink": "the dark colour of your pictures, such as `#12263a`",
    "paper": "their light colour, such as `#fbfaf6`",
}
"""What can be set, and what for."""


def settings_path() -> Path:
    """Return the file they are kept in."""
    return data_folder() / _FILE


def settings() -> dict[str, str]:
    """Return what is set; nothing where there is no file.

    Raises:
        DataError: the file cannot be read.
    """
    # Looked for as text: most questions are asked where nothing is set.
    if not os.path.exists(os.path.join(data_place(), _FILE)):
        return {}
    import tomllib

    path = settings_path()
    try:
        found = tomllib.loads(read_text(path))
    except tomllib.TOMLDecodeError as error:
        hint = "mend the line, or take the file away"
        raise DataError(
            Problem(f"the settings are no TOML: {error}", str(path), hint)
        ) from error
    return {key: str(value) for key, value in found.items() if key in KNOWN}


def setting(name: str) -> str:
    """Return one of them; empty where it is not set, or the file cannot be read."""
    try:
        return settings().get(name, "")
    except DataError:
        return ""


def set_setting(name: str, value: str) -> None:
    """Set one of them; an empty value takes it away.

    Raises:
        CommandError: there is no such setting.
        DataError: the file cannot be read or written.
    """
    from abluent.engine.disk import write_file

    if name not in KNOWN:
        known = ", ".join(KNOWN)
        what = f'"{name}" is nothing to set'
        raise CommandError(Problem(what, hint=f"there are: {known}"))
    kept = {**settings(), name: value}
    lines = [f"{key} = {json.dumps(word)}\n" for key, word in kept.items() if word]
    path = settings_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    write_file(path, "".join(lines), overwrite=True)
