"""The text of a file that a package carries.

What the standard library has for this takes longer to import than a question may
take to be answered; the loader of the package reads the file as well, from a folder
or out of an archive.
"""

from __future__ import annotations

import os
from types import ModuleType
from typing import Any


def packaged_text(package: ModuleType, name: str) -> str:
    """Return the text of a file of a package; `name` is its path below it.

    Raises:
        OSError: there is no such file.
    """
    loader: Any = package.__spec__ and package.__spec__.loader
    content: bytes = loader.get_data(os.path.join(package.__path__[0], name))
    return content.decode("utf-8")
