"""Completion for the user's own shell, and a page for `man`, from the same help."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping

from abluent.shell.ground import reports

SHELLS = ("bash", "zsh", "fish")


def run_completion(args: argparse.Namespace) -> int:
    """Print the script by which a shell completes `abluent`."""
    sys.stdout.write(_WRITTEN[args.of](_commands()))
    return reports.ANSWERED


def run_man(args: argparse.Namespace) -> int:
    """Print the page for `man`."""
    from abluent.shell.command.cli import parser_of

    sys.stdout.write("\n".join(_page(parser_of())) + "\n")
    return reports.ANSWERED


def _commands() -> Mapping[str, list[str]]:
    """Every command with its options; those of none are under the empty name."""
    from abluent.shell.command.cli import parser_of

    whole = parser_of()
    found = {"": _options(whole)}
    for name, parser in _subparsers(whole).items():
        found[name] = _options(parser)
    return found


def _subparsers(
    parser: argparse.ArgumentParser,
) -> Mapping[str, argparse.ArgumentParser]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            return action.choices
    return {}


def _options(parser: argparse.ArgumentParser) -> list[str]:
    return [flag for action in parser._actions for flag in action.option_strings]


def _bash(commands: Mapping[str, list[str]]) -> str:
    names = " ".join(sorted(filter(None, commands)))
    cases = "\n".join(
        f'    {name}) words="{" ".join(options)}" ;;'
        for name, options in commands.items()
        if name
    )
    return f"""\
_abluent() {{
  local word="${{COMP_WORDS[COMP_CWORD]}}" words
  case "${{COMP_WORDS[1]}}" in
{cases}
    *) words="{names} {" ".join(commands[""])}" ;;
  esac
  if [ "$COMP_CWORD" -eq 1 ]; then words="{names} {" ".join(commands[""])}"; fi
  COMPREPLY=($(compgen -W "$words" -- "$word") $(compgen -f -- "$word"))
}}
complete -o filenames -F _abluent abluent
"""


def _zsh(commands: Mapping[str, list[str]]) -> str:
    return f"autoload -U +X bashcompinit && bashcompinit\n{_bash(commands)}"


def _fish(commands: Mapping[str, list[str]]) -> str:
    lines = []
    for name, options in commands.items():
        if name:
            first = "__fish_use_subcommand"
            lines.append(f"complete -c abluent -n {first} -f -a {name}")
        where = f"-n '__fish_seen_subcommand_from {name}' " if name else ""
        lines += [
            f"complete -c abluent {where}-l {flag.removeprefix('--')}"
            for flag in options
            if flag.startswith("--")
        ]
    return "\n".join(lines) + "\n"


_WRITTEN: Mapping[str, Callable[[Mapping[str, list[str]]], str]] = {
    "bash": _bash,
    "zsh": _zsh,
    "fish": _fish,
}


def _page(parser: argparse.ArgumentParser) -> Iterator[str]:
    """The lines of the page, in the language of `man`."""
    about = _plain(parser.description or "")
    yield ".TH ABLUENT 1"
    yield from (".SH NAME", "abluent \\- reads hair\\-care labels")
    yield from (".SH SYNOPSIS", ".B abluent", "[COMMAND] [options]")
    yield from (".SH DESCRIPTION", about)
    yield from (".SH OPTIONS", *_told(parser))
    yield ".SH COMMANDS"
    for name, each in _subparsers(parser).items():
        yield f".SS {_plain(name)}"
        yield _plain(each.description or "")
        yield from _told(each)
    yield ".SH EXAMPLES"
    for line in (parser.epilog or "").splitlines()[1:]:
        yield from (".br", _plain(line.strip()))


def _told(parser: argparse.ArgumentParser) -> Iterator[str]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            continue
        flags = ", ".join(action.option_strings)
        name = str(action.metavar or action.dest).upper()
        what = flags or name
        if flags and action.nargs != 0:
            what = f"{flags} {name}"
        text = "" if action.help == argparse.SUPPRESS else action.help or ""
        yield from (".TP", f".B {_plain(what)}", _plain(text.replace("%%", "%")))


def _plain(text: str) -> str:
    """A text in which nothing is a word of that language."""
    plain = text.replace("\\", "\\\\").replace("-", "\\-").replace("\n", " ")
    return f"\\&{plain}" if plain.startswith((".", "'")) else plain
