"""A rule file written anew: in the one layout, and in the present shape.

Comments between blocks stay where they are; one inside a block comes to stand above
it. The meaning is compared before anything is handed out.
"""

from __future__ import annotations

import re

from abluent.grammar.rules.former import former_blocks
from abluent.grammar.rules.parse import blocks, is_former, parse_rules
from abluent.grammar.rules.printer import print_block

_TEXT_OR_COMMENT = re.compile(r'"(?:\\.|[^"\\\n])*"|#[^\n]*')


def written_anew(text: str, name: str = "") -> str:
    """A rule file of either shape in the present one.

    Args:
        text: the whole file.
        name: what to call it in messages.

    Raises:
        GrammarError: it cannot be read.
        AssertionError: what was written does not mean what was read.
    """
    found = list(former_blocks(text, name) if is_former(text) else blocks(text, name))
    parts = [_between(text[: found[0][0].start] if found else text)]
    for place, block in found:
        body = text[place.start : place.end]
        inside, after = _comments(body)
        parts += [*inside, print_block(block), _between(after)]
    written = re.sub(r"\n{3,}", "\n\n", "\n".join(parts)).strip("\n")
    made = f"{written}\n" if written else ""
    same = parse_rules(made, name).blocks == tuple(block for _, block in found)
    if not same:
        raise AssertionError(f"`{name}` would not mean the same")
    return made


def _between(text: str) -> str:
    """Comments between blocks, with an empty line after them where one was."""
    lines = text.strip("\n")
    if not lines.strip():
        return ""
    return lines + "\n" if text.endswith("\n\n") else lines


def _comments(body: str) -> tuple[list[str], str]:
    """The comments inside a block, and the text behind it."""
    plain = _TEXT_OR_COMMENT.sub(_blanked, body)
    stop = len(plain.rstrip())
    inside = [
        found[0]
        for found in _TEXT_OR_COMMENT.finditer(body[:stop])
        if found[0].startswith("#")
    ]
    return inside, body[stop:]


def _blanked(found: re.Match[str]) -> str:
    """A comment blanked and a text filled, so that places stay."""
    return (" " if found[0].startswith("#") else "x") * len(found[0])
