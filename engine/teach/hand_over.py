"""Knowledge handed from one user to another: read from a file, written to one."""

from __future__ import annotations

import os
import zipfile
import zlib
from collections.abc import Sequence
from pathlib import Path

from abluent.engine.disk import decode, read_text, write_bytes, write_file
from abluent.engine.faults import CommandError, DataError, Problem
from abluent.engine.teach.layer import BOTH, RULES, TURTLE, Layer, Part, Taught, slug

_LARGEST = 10_000_000  # bytes in a file of knowledge
_MOST = 3 * _LARGEST  # bytes in all files of one archive
_UNREADABLE = (zipfile.BadZipFile, OSError, RuntimeError, ValueError, EOFError)
"""What an archive is refused by: broken, encrypted, of an unknown method or name."""


def parts_in(path: Path) -> list[Part]:
    """Read knowledge from a Turtle file, a rule file, or a `.zip` of such.

    Raises:
        CommandError: there is no such file, or it does not end like knowledge.
        DataError: it cannot be read, or is too large.
    """
    if path.suffix in {TURTLE, RULES}:
        return [Part(slug(path.stem), path.suffix, read_text(path))]
    if path.suffix == BOTH:
        return _unzipped(path)
    hint = f"name a {TURTLE} or {RULES} file, or a {BOTH} of such files"
    raise CommandError(Problem(f'"{path}" does not end like knowledge', hint=hint))


def _unzipped(path: Path) -> list[Part]:
    if not path.exists():
        raise CommandError(Problem(f'there is no file "{path}"', hint="check the path"))
    try:
        with zipfile.ZipFile(path) as packed:
            left, parts = _MOST, []
            for info in _members(packed):
                parts.append(_member(packed, info, path))
                left -= len(parts[-1].text)
                if left < 0:
                    what = "these files are too large together for knowledge"
                    raise DataError(Problem(what, str(path)))
            return parts
    except (*_UNREADABLE, zlib.error) as error:
        what = f'"{path}" could not be read: {error}'
        hint = "pack it anew, without a password"
        raise DataError(Problem(what, hint=hint)) from error


def _members(packed: zipfile.ZipFile) -> list[zipfile.ZipInfo]:
    known = {TURTLE, RULES}
    return [i for i in packed.infolist() if os.path.splitext(i.filename)[1] in known]


def _member(packed: zipfile.ZipFile, info: zipfile.ZipInfo, path: Path) -> Part:
    place = f"{path}: {info.filename}"
    with packed.open(info) as stream:
        data = stream.read(_LARGEST + 1)
    if len(data) > _LARGEST:
        raise DataError(Problem("this file is too large for knowledge", place))
    stem, ending = os.path.splitext(os.path.basename(info.filename))
    return Part(slug(stem), ending, decode(data, place))


def export(layer: Layer, path: Path, *, overwrite: bool = False) -> int:
    """Write all that was taught to one file; return how many additions it holds.

    A `.ttl` or `.rules` file holds what is of its kind; a `.zip` holds both.

    Raises:
        CommandError: nothing was taught, the ending is none of these or would
            leave something out, or the file is there already.
        DataError: a file of the layer cannot be read, or the system refused.
    """
    every = layer.additions()
    if not every:
        raise CommandError(Problem("nothing was taught yet", hint="try: teach"))
    endings = {each.path.suffix for each in every}
    if path.suffix not in ({*endings, BOTH} if len(endings) == 1 else {BOTH}):
        fits = BOTH if len(endings) > 1 else f"{endings.pop()} or {BOTH}"
        what = f'"{path}" would not hold all that was taught'
        raise CommandError(Problem(what, hint=f"let it end in {fits}"))
    if path.suffix == BOTH:
        write_bytes(path, _zipped(every), overwrite=overwrite)
    else:
        write_file(path, _joined(every, path), overwrite=overwrite)
    return len(every)


def _joined(every: Sequence[Taught], path: Path) -> str:
    texts = [read_text(each.path) for each in every]
    if path.suffix == RULES:
        return "\n".join(text.rstrip("\n") + "\n" for text in texts)
    from abluent.engine.base.turtle import canonical
    from abluent.engine.teach.trial import refused

    joined = canonical("\n".join(texts))
    if refused([Part("taught", TURTLE, joined)]):
        # One subject may be described on two bases, but not within one file.
        what = "what was taught cannot be said in one Turtle file"
        raise CommandError(Problem(what, hint=f"let the file end in {BOTH}"))
    return joined


def _zipped(every: Sequence[Taught]) -> bytes:
    import io

    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for each in every:
            archive.writestr(each.path.name, read_text(each.path))
    return packed.getvalue()
