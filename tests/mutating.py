"""What mutations of traces are made with, and the list of them all."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from typing import Any

from forging import Trace

Mutation = Callable[[random.Random, Trace], None]


class NotHere(Exception):
    """The mutation finds nothing in this trace that it could change."""


MUTATIONS: dict[str, Mutation] = {}


def mutation(function: Mutation) -> Mutation:
    MUTATIONS[function.__name__.replace("_", " ")] = function
    return function


def pick(dice: random.Random, choices: Any) -> Any:
    found = list(choices)
    if not found:
        raise NotHere
    return dice.choice(found)


def numbers(data: Any) -> Iterator[Any]:
    if isinstance(data, dict) and ("n" in data or "i" in data) and len(data) == 1:
        yield data
    elif isinstance(data, dict | list):
        for part in data.values() if isinstance(data, dict) else data:
            yield from numbers(part)
