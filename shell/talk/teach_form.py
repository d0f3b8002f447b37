"""The questions by which an ingredient, synonym, claim, source or rule is taught."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from abluent.engine.base.kinds import ingredient_classes, telling
from abluent.engine.faults import CommandError, Problem
from abluent.engine.teach.layer import RULES, TURTLE, Part, slug
from abluent.engine.teach.worded import PREFIXES
from abluent.grammar.common.text import in_words, wrapped
from abluent.shell.talk.orders import TEACHABLE

if TYPE_CHECKING:
    from abluent.engine.base.store import Base
    from abluent.engine.teach.fields import Field
    from abluent.shell.talk.sitting import Sitting

PRACTICE = "common-practice"
NEW = "new"
_LOW = ("commonPractice", "inferred")  # as high as common practice alone can stand
_NONE = "nothing"
_UNKNOWN = "unknown"
_DONT_KNOW = frozenset({"don't know", "dont know", "don\u2019t know", "not sure"})
_REMOVES, _LEAVES, _WITHDRAWS = "removes", "leaves", "withdraws"
_STRONGER, _EASIER = "stronger", "easier"
_CLAIMS = {
    _REMOVES: "RemovalClaim",
    _LEAVES: "DepositClaim",
    _WITHDRAWS: "RemovalClaim",
    _STRONGER: "StrengthClaim",
    _EASIER: "EaseClaim",
}
_NOUNS = ("agent", "film", "stronger", "weaker", "inFamily", "easier", "harder")
"""What a claim names a class of ingredients by."""
_SHOWN = 12


class Form:
    """Asks, one field after the other, until an addition is whole.

    An empty answer takes what is offered in brackets; `?` tells more.
    """

    def __init__(self, shell: Sitting) -> None:
        """Ask on a shell."""
        self._shell = shell
        self._base: Base = shell.session.world.base
        self._sources: list[str] = []
        self._described = ""

    def part(self, what: str) -> Part:
        """Ask for all that an addition of one kind needs; return its text.

        Raises:
            CommandError: there is no such kind.
            EOFError: there is nobody left to answer.
            KeyboardInterrupt: the user gives up.
        """
        if what not in KINDS:
            raise CommandError(
                Problem(
                    f'"{what}" is neither a file nor something to teach',
                    hint=f"`teach` takes a file, or one of {', '.join(KINDS)}",
                )
            )
        return KINDS[what](self)

    # -- the kinds ----------------------------------------------------------------

    def ingredient(self) -> Part:
        inci = self._new_name("Name, as labels print it:")
        kind = self._kind(inci)
        symbol = self._free(slug(inci))
        rows = [f"a abl:{kind}", f"abl:inci {_quoted(inci)}"]
        rows += self._rows(kind, given={"inci"})
        return self._turtle(symbol, f"ing:{symbol}", rows)

    def synonym(self) -> Part:
        while True:
            name = self._needed("Of which ingredient:", self._ingredients())
            symbol = self._base.lookup(name)
            if symbol is not None:
                break
            self._say(f'"{name}" is no ingredient of the base; Tab completes')
        other = self._new_name("The other name:")
        rows = [f"abl:synonym {_quoted(other)}"]
        return self._turtle(slug(other), f"ing:{symbol}", rows)

    def claim(self) -> Part:
        ask = (
            "What a thing removes, what a kind of product leaves, of what wider claims "
            "are to be withdrawn, which is the stronger, or which is easier to remove"
        )
        way = self._one_of(ask, tuple(_CLAIMS), _REMOVES)
        kind = _CLAIMS[way]
        given: dict[str, str] = {}
        bounds = {"atLeast", "atMost"} if way == _WITHDRAWS else set()
        rows = [f"a abl:{kind}", *self._rows(kind, bounds, given)]
        rows += ["abl:withdraws true"] if way == _WITHDRAWS else []
        names = ("agent", "fromKind", "atLeast", "atMost", "film")
        told = (given.get(name, "") for name in (*names, *_NOUNS[2:]))
        symbol = self._free(slug(" ".join(in_words(word) for word in told if word)))
        return self._turtle(symbol, f"claim:{symbol}", rows)

    def source(self) -> Part:
        self._new_source()
        return Part(self._sources[-1], TURTLE, self._written([]))

    def rule(self) -> Part:
        self._say(
            "A rule: a sentence, because of what it holds, and what follows. "
            "A thing that may be any is `the` and a word: the product leaves the film."
        )
        name = slug(self._needed("Its name, such as late-foam:"))
        says = self._needed("The sentence it says, such as {film} is late:")
        lines = [json.dumps(says, ensure_ascii=False)]
        lines.append(f"  because {self._needed('because:')}")
        unless = self._answer("unless (or nothing):")
        lines += [f"  unless  {unless}"] if unless else []
        lines.append(f"  so      {self._needed('so:')}")
        source = self._source()
        standing = self._standing(source)
        lines += [f"  rule    {name}, standing {standing}, source {source}", ""]
        if self._sources:
            what = "a rule cannot bring its source along"
            raise CommandError(Problem(what, hint="teach the source first"))
        return Part(name, RULES, "\n".join(lines))

    # -- the fields -----------------------------------------------------------------

    def _rows(
        self,
        kind: str,
        given: set[str] | None = None,
        told: dict[str, str] | None = None,
    ) -> list[str]:
        """Ask for every field of a class but some; return the triples."""
        from abluent.engine.teach.fields import fields_of

        answers = {} if told is None else told
        rows: list[str] = []
        for field in fields_of(self._base, kind):
            if field.name not in (given or ()):
                value = self._field(field, answers)
                if value:
                    rows.append(f"abl:{field.name} {value}")
        if answers.get("standing") not in {None, *_LOW} and not self._reread():
            rows.append("abl:fromMemory true")
        return rows

    def _field(self, field: Field, told: dict[str, str]) -> str:
        if field.name == "source":
            told["source"] = self._source()
            return f"src:{told['source']}"
        if field.name == "standing":
            told["standing"] = self._standing(told.get("source", PRACTICE))
            return f"abl:{told['standing']}"
        if field.name in _NOUNS:
            told[field.name] = self._noun(field)
            return self._curie(told[field.name])
        if field.truth:
            return self._truth(field)
        if field.choices:
            value = self._choice(field)
            told[field.name] = value
            return self._curie(value) if value else ""
        return self._text(field, told)

    def _text(self, field: Field, told: Mapping[str, str]) -> str:
        if field.name == "statement":
            said = self._one_line("In one sentence", self._statement(told))
            return _quoted(said if said.endswith(".") else f"{said}.")
        asks = f"{_capital(field.asks)}"
        if field.needed:
            return _quoted(self._needed(f"{asks}:", about=field.about))
        while True:
            value = self._answer(f"{asks} (or nothing):", about=field.about)
            value = "" if _unsure(value) else value
            if field.name == "year" and value and not value.isdigit():
                self._say(f'"{value}" is no year, such as 1998')
            elif field.name == "synonym" and value and self._base.lookup(value):
                self._taken(value)
            else:
                break
        if not value or field.name == "year":
            return value
        return _quoted(value)

    def _statement(self, told: Mapping[str, str]) -> str:
        base = self._base
        if "stronger" in told:
            strong, weak = (base.plural(told[e]) for e in ("stronger", "weaker"))
            family = base.plural(told["inFamily"])
            return f"On {family}, {strong} take at least what {weak} take."
        if "easier" in told:
            easy, hard = (base.plural(told[e]) for e in ("easier", "harder"))
            return f"{_capital(easy)} come off at least as easily as {hard}."
        film = base.label(told.get("film", ""))
        if "agent" in told:
            agent = _capital(base.plural(told["agent"]))
            ends = [
                f"at {word} {base.label(told[name])}"
                for name, word in (("atLeast", "least"), ("atMost", "most"))
                if told.get(name)
            ]
            if not ends:
                return f"What {base.plural(told['agent'])} take of {film} is not known."
            return f"{agent} take {' and '.join(ends)} of {film}."
        return f"{_capital(base.plural(told.get('fromKind', '')))} leave {film}."

    def _truth(self, field: Field) -> str:
        asks = f"{_capital(field.asks)} (yes or no)"
        answer = self._one_of(asks, ("yes", "no"), "no", field.about)
        return "true" if answer == "yes" else ""

    def _choice(self, field: Field) -> str:
        asks = _capital(field.asks)
        if field.needed:
            return self._value(asks, field.choices, field.offered, field.about)
        labels = {self._base.label(symbol): symbol for symbol in field.choices}
        chosen = self._one_of(asks, (_NONE, *labels), _NONE, field.about, labels)
        return labels.get(chosen, "")

    def _noun(self, field: Field) -> str:
        names = self._classes()
        while True:
            told = self._needed(f"{_capital(field.asks)}:", names, about=field.about)
            kind = self._base.find_class(told)
            if kind is not None:
                return kind
            symbol = self._base.lookup(told)
            if symbol is None:
                self._near(told, names)
                continue
            kinds = map(self._base.label, self._base.classes_of(symbol))
            alone = f"a claim about {told} alone is taught from a file"
            self._say(f"name a class here ({alone}); {told} is: {', '.join(kinds)}")

    def _kind(self, inci: str) -> str:
        reading = self._shell.session.name(inci)
        kinds = telling(reading.classes, self._base)
        offered = self._base.label(kinds[0]) if kinds else ""
        names = self._classes()
        hint = f" [{offered}]" if offered else ""
        about = "The most exact class that is sure; Tab completes."
        while True:
            told = self._answer(f"Kind{hint}:", names, about) or offered
            kind = self._base.find_class(told) if told else None
            if kind in ingredient_classes(self._base):
                return kind
            self._near(told, names)

    def _source(self) -> str:
        works = {self._base.label(s): s for s in self._base.instances("Source")}
        known = set(works.values()) | set(self._sources)
        names = [PRACTICE, NEW, *sorted(known - {PRACTICE}), *works]
        ask = f"Source, `{NEW}` to describe one [{PRACTICE}]:"
        about = f"The work it rests on; {PRACTICE} where no text says it."
        while True:
            told = self._answer(ask, names, about) or PRACTICE
            if told == NEW:
                self._new_source()
                return self._sources[-1]
            if told in known or told in works:
                return works.get(told, told)
            self._near(told, names)

    def _new_source(self) -> None:
        told: dict[str, str] = {}
        rows = ["a abl:Source", *self._rows("Source", told=told)]
        asks = "What of it did you read: page, abstract, whole (nothing if recalled):"
        seen = self._answer(asks)
        rows.append(f"abl:seen {_quoted(seen)}" if seen else "abl:recalled true")
        title = next(r for r in rows if r.startswith("abl:title "))
        symbol = self._free(slug(title.removeprefix("abl:title ")))
        self._described = f"src:{symbol}\n  " + " ;\n  ".join(rows) + " .\n"
        self._sources.append(symbol)

    def _standing(self, source: str) -> str:
        order = self._shell.session.world.program.standings
        names = [s for s in order if source != PRACTICE or s in _LOW]
        return self._value("Standing", names, _LOW[0] if source == PRACTICE else "")

    def _reread(self) -> bool:
        ask = "Did you read it there yourself (yes or no)"
        return self._one_of(ask, ("yes", "no"), "no") == "yes"

    # -- asking -----------------------------------------------------------------------

    def _value(
        self, asks: str, symbols: Sequence[str], offered: str = "", about: str = ""
    ) -> str:
        """Ask for one of some values, by its words or its symbol; return the symbol."""
        labels = {self._base.label(symbol): symbol for symbol in symbols}
        offered = self._base.label(offered) if offered else ""
        return labels[self._one_of(asks, tuple(labels), offered, about, labels)]

    def _one_of(
        self,
        asks: str,
        choices: Sequence[str],
        offered: str = "",
        about: str = "",
        symbols: Mapping[str, str] | None = None,
    ) -> str:
        hint = f" [{offered}]" if offered else ""
        listed = f"one of: {', '.join(choices)}"
        called = {c: (c, in_words((symbols or {}).get(c, c))) for c in choices}
        unsure = next((c for c in (_UNKNOWN, _NONE, offered) if c in choices), "")
        while True:
            told = self._answer(f"{asks}{hint}:", choices, f"{about} {listed}")
            if _unsure(told) and unsure:
                return unsure
            if _unsure(told):
                self._say(f"without this nothing can be taught; {listed}")
                continue
            if not told and offered:
                return offered
            fitting = _fitting(told.casefold(), called)
            if len(fitting) == 1:
                return fitting[0]
            self._say(f"one of: {', '.join(fitting)}" if fitting else listed)

    def _one_line(self, asks: str, offered: str) -> str:
        return self._answer(f"{asks} [{offered}]:") or offered

    def _needed(
        self, asks: str, choices: Sequence[str] = (), *, about: str = ""
    ) -> str:
        while True:
            told = self._answer(asks, choices, about)
            if told and not _unsure(told):
                return told
            self._say(about or "this is needed; Ctrl-C gives up")

    def _answer(self, asks: str, choices: Sequence[str] = (), about: str = "") -> str:
        while True:
            told = " ".join(self._shell.reader.answer(asks, choices).split())
            if told != "?":
                return told
            told = about or "an answer in your own words; Ctrl-C gives up"
            self._say(f"{told} (`don't know` is an answer too)")

    def _new_name(self, asks: str) -> str:
        while True:
            name = self._needed(asks)
            if self._base.lookup(name) is None:
                return name
            self._taken(name)

    def _taken(self, name: str) -> None:
        owner = self._base.label(self._base.lookup(name) or "")
        self._say(f'"{name}" is a name of {owner} already')

    def _near(self, told: str, names: Sequence[str]) -> None:
        from difflib import get_close_matches

        near = get_close_matches(told, names, 3) if told else list(names[:_SHOWN])
        fitting = [n for n in names if told and told.casefold() in n.casefold()]
        listed = ", ".join(dict.fromkeys([*near, *fitting[:_SHOWN]]))
        meant = f"; there is: {listed}" if listed else "; Tab lists what there is"
        self._say(f'nothing is called "{told}"{meant}')

    def _say(self, text: str) -> None:
        self._shell.say(wrapped(text.strip(), self._shell.width, "  "))

    # -- names and text ---------------------------------------------------------------

    def _ingredients(self) -> list[str]:
        symbols = {symbol for symbol, _ in self._base.names.values()}
        return sorted(map(self._base.label, symbols), key=str.casefold)

    def _classes(self) -> list[str]:
        return sorted(map(self._base.label, ingredient_classes(self._base)))

    def _curie(self, symbol: str) -> str:
        space = self._base.record(symbol).space
        return f"{space}:{symbol}"

    def _free(self, symbol: str) -> str:
        """Return a local name that nothing has yet."""
        number, name = 1, symbol
        while name in self._base or name in self._sources:
            number += 1
            name = f"{symbol}-{number}"
        return name

    def _turtle(self, name: str, subject: str, rows: Sequence[str]) -> Part:
        text = f"{subject}\n  " + " ;\n  ".join(rows) + " .\n"
        return Part(name, TURTLE, self._written([text]))

    def _written(self, texts: Sequence[str]) -> str:
        described = [self._described] if self._sources else []
        return "\n".join([PREFIXES, *described, *texts])


_ASKED: Sequence[Callable[[Form], Part]] = (
    Form.ingredient,
    Form.synonym,
    Form.claim,
    Form.source,
    Form.rule,
)
KINDS = dict(zip(TEACHABLE, _ASKED, strict=True))
"""What can be taught by answering questions."""


def _unsure(told: str) -> bool:
    """Whether an answer says that nobody knows."""
    return told.casefold().rstrip(".") in _DONT_KNOW


def _quoted(text: str) -> str:
    # The escapes of JSON mean the same in Turtle.
    return json.dumps(text, ensure_ascii=False)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _fitting(told: str, called: Mapping[str, Sequence[str]]) -> list[str]:
    """Return the choices that an answer means: in full, then by how they begin."""
    ways: Sequence[Callable[[str], bool]] = (
        lambda name: name.casefold() == told,
        lambda name: name.casefold().startswith(told),
        lambda name: f"-{told}" in name.casefold() or f" {told}" in name.casefold(),
    )
    for fits in ways:
        found = [each for each, names in called.items() if any(map(fits, names))]
        if told and found:
            return found
    return []
