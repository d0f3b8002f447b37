"""The nearest name that would do, offered in a sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterable

_FEW = 8
_SOURCES_OF_HELP = "Describe it in the base, or name something the base describes."


def nearest(
    word: str, names: Iterable[str], label: Callable[[str], str] = str
) -> str | None:
    """The name that a word is most like, by itself or by its label, if one is.

    Args:
        word: what was written.
        names: what could have been.
        label: what people call a thing by its name.
    """
    import difflib  # noqa: PLC0415 - only needed where something is wrong

    known: dict[str, str] = {}
    for name in sorted(names):
        for form in (name, label(name)):
            known.setdefault(form.casefold(), name)
    close = difflib.get_close_matches(word.casefold(), known, n=1)
    return known[close[0]] if close else None


def offered(
    word: str,
    names: Iterable[str],
    label: Callable[[str], str] = str,
    shown: Callable[[str], str] = str,
) -> str:
    """What to write for a word that stands for nothing: the nearest, or one of a few.

    Args:
        word: what was written.
        names: what could stand there.
        label: what people call a thing by its name.
        shown: a name as it would be written.
    """
    could = sorted(names)
    near = nearest(word, could, label)
    if near is not None:
        return f"Did you mean `{shown(near)}`?"
    if 0 < len(could) <= _FEW:
        return f"Name one of {', '.join(f'`{shown(name)}`' for name in could)}."
    return _SOURCES_OF_HELP
