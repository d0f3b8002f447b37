"""How mild a wash is, test by test, and washes in order of it: never one score.

place     where the trade places the main cleanser
figure    what the wash shows by one test, what decides it, and who found it
lacking   by which tests it shows nothing, and for want of which figures
compared  the other washes at hand, and on which side of this one they stand
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import NamedTuple, TypeAlias

from abluent.engine.base import contract as c
from abluent.engine.base.contract import MILDER
from abluent.engine.base.phrases import with_article
from abluent.engine.logic.terms import Term
from abluent.engine.proof.sentences import plain
from abluent.engine.questions.answers.answer import Answer, Finding
from abluent.engine.questions.answers.answer import Member as Row
from abluent.engine.questions.answers.degrees import kind_of, led_by, why_milder
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.sides.contrasted import sure_of_cleansing
from abluent.engine.questions.sides.foremost_of import foremost_of
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.mildness import Steps, steps
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q

_Part: TypeAlias = tuple[str, str, list[str]]

NO_WASH = (
    "no wash is named; ask of a product that is sold to wash with, or of a surfactant"
)
MOST_LED = 3
"""Main cleansers of a wash that are named in a list of washes."""
_IN_A_LINE = frozenset(
    {"milder", "harsher", "not compared", "softened", "lacking", "sure"}
)
"""The kinds of findings that are one sentence."""
_TRADE = "By the order of the trade"
_FOUND = 3
"""So many findings of tests are told."""
MOST = 100
"""How many washes are told of at once."""


def how_mild(judge: Judge, said: q.HowMuch, text: str) -> Answer:
    """How mild each of some washes is, beside the others at hand."""
    washes = washes_of(judge, said.things)
    names = {judge.removal.as_wash(item): item for item in washes}
    every = list(dict.fromkeys([*names, *(item.key for item in judge.nouns.washes)]))
    case = Case.of(judge.removal.world, every)
    told = [_Wash(case, item, name, every) for name, item in names.items()]
    several = len(told) > 1
    return Answer(
        text,
        " ".join(each.sentence for each in told),
        [row for each in told for row in each.rows],
        members=washes,
        findings=[f for each in told for f in each.findings(several)],
    )


def ranked(judge: Judge, said: q.Rank, text: str) -> Answer:
    """Washes by steps of mildness, the mildest first."""
    washes = washes_of(judge, said.things)
    names = {judge.removal.as_wash(item): item for item in washes}
    case = Case.of(judge.removal.world, names)
    symbols = {case.world.symbol(name): name for name in names}
    laid = steps(case, list(symbols))
    told = ranking(laid, symbols, "milder than")
    findings = [*told.findings, *_figured(case, names)]
    ordered = [names[name] for name in told.order]
    if pair := foremost_of(judge, washes, ordered, q.Order.MILDEST, text):
        return replace(pair, findings=findings)
    head = "The mildest first, as far as they compare"
    return Answer(
        text,
        told.sentence(head, "Nothing compares these washes by mildness."),
        [Row(case, names[symbols[pair[0]]], (MILDER, pair)) for pair in laid.pairs],
        members=ordered,
        notes=[told.note("harsh", "how mild is …")],
        findings=findings,
    )


def _figured(case: Case, names: Mapping[str, Item]) -> Iterator[Finding]:
    """What leads each of some washes, what it shows by test, and how that was found."""
    washes = [_Wash(case, item, name, [*names]) for name, item in names.items()]
    told = tuple(each.in_short for each in washes)
    yield Finding("figure", "What leads each, and what it shows by test", told)
    methods = dict.fromkeys(line for each in washes for line in each.methods)
    if methods:
        yield Finding("method", "How that was found", tuple(methods))


def washes_of(judge: Judge, term: q.Term) -> list[Item]:
    """The washes that a term names, and surfactants each as a wash by itself.

    Raises:
        Unanswerable: there is none, or there are too many.
    """
    nouns = judge.nouns
    cleansers = set(nouns.cleansers)
    washes = [
        item
        for item in judge.terms.items(term, PRODUCT)
        if item in cleansers or item.key == WATER or item in nouns.washes
    ]
    if not washes or MILDER not in judge.world.known.program.arities:
        raise Unanswerable(NO_WASH, term.span)
    if len(washes) > MOST:
        raise Unanswerable(f"these are {len(washes)}; name {MOST} or fewer", term.span)
    return washes


class Ranking(NamedTuple):
    """Washes by steps of an order, by name.

    Args:
        steps: the steps.
        apart: what nothing compares with any other.
        compared: how many pairs compare.
        findings: what each comes before.
    """

    steps: list[list[str]]
    apart: list[str]
    compared: int
    findings: list[Finding]

    @property
    def order(self) -> list[str]:
        """All of them, those apart last."""
        return [*(name for step in self.steps for name in step), *self.apart]

    def sentence(self, head: str, none: str) -> str:
        """The steps in one sentence; `none` if there are none."""
        if not self.steps:
            return none
        told = "; then ".join(listed(each) for each in self.steps)
        rest = f" Nothing compares {listed(self.apart)} with any of them."
        return f"{head}: {told}.{rest if self.apart else ''}"

    def note(self, end: str, question: str) -> str:
        """How much compares, and how to read the steps."""
        every = len(self.order) * (len(self.order) - 1) // 2
        return (
            f"{self.compared} of {every} pairs compare. Nothing decides between those "
            f"named together, and one that is hardly compared stands as far to the "
            f"{end} end as may be; `{question}` tells of one."
        )


def ranking(
    laid: Steps, names: Mapping[str, str], joint: str, ends: Sequence[str] = ()
) -> Ranking:
    """Steps of washes by name, with what each comes before.

    Args:
        laid: the steps, by symbols.
        names: the name for each symbol.
        joint: how one comes before others, such as `milder than`.
        ends: the word after one such, and after several, if one is wanted.
    """
    told = [[names[each] for each in step] for step in laid.steps]
    apart = [names[each] for each in laid.apart]
    over: dict[str, list[str]] = {}
    for one, other in laid.pairs:
        over.setdefault(names[one], []).append(names[other])
    alike: dict[tuple[str, ...], list[str]] = {}
    for name in (name for step in told for name in step if name in over):
        alike.setdefault(tuple(sorted(over[name])), []).append(name)
    items = []
    for others, some in alike.items():
        end = f" {ends[len(others) > 1]}" if ends else ""
        each = "each " if len(some) > 1 and not joint.startswith("milder") else ""
        items.append(f"{listed(some)}: {each}{joint} {listed(others)}{end}.")
    found = [Finding("order", "What compares", tuple(items))] if items else []
    return Ranking(told, apart, len(laid.pairs), found)


class _Wash:
    """All that is known of how mild one wash is."""

    def __init__(self, case: Case, item: Item, name: str, names: Sequence[str]) -> None:
        self._case, self._item, self._name = case, item, name
        self._symbol = case.world.symbol(name)
        self._others = {case.world.symbol(name): name for name in names}
        self._others.pop(self._symbol)
        self._shows = sorted(self._match(c.SHOWS, 3), key=lambda row: str(row[1]))
        self._mild = self._over((None, self._symbol), 0)
        self._harsh = self._over((self._symbol, None), 1)

    @property
    def rows(self) -> list[Row]:
        """The facts that the answer rests on, each with its proof."""
        goals = [(c.PLACED_AS, row) for row in self._placed]
        goals += [(c.SHOWS, row) for row in self._shows]
        goals += [(c.TOLD_OF, row) for row in self._told]
        goals += [(MILDER, (self._symbol, each)) for each in self._harsh]
        goals += [(MILDER, (each, self._symbol)) for each in self._mild]
        return [Row(self._case, self._item, goal) for goal in goals]

    @property
    def sentence(self) -> str:
        """The answer in one sentence: how it stands to the rest, and what leads it."""
        lead = led_by(self._case, self._symbol)
        if not lead:
            return f"{self._name} holds no cleanser, as far as its label shows."
        text = f"it is built on {lead}"
        if self._item.kind == INGREDIENT:
            kind = kind_of(self._case.world.base, self._item.key)
            text = f"it is {with_article(kind)}" if kind else text
        if self._unread:
            text += ", but something at work on its label was not understood"
        if not self._others:
            return f"{self._name}: {text}."
        return f"{self._name} {self._beside}: {text}.{self._why}"

    @property
    def _beside(self) -> str:
        """How it stands to the other washes at hand, in a few words."""
        harsh, mild = len(self._harsh), len(self._mild)
        if len(self._others) == 1 and (harsh or mild):
            (other,) = self._others.values()
            return f"is {'milder' if harsh else 'harsher'} to skin than {other}"
        what = f"the {len(self._others)} other washes at hand"
        if not harsh and not mild:
            return f"is not compared by mildness with any of {what}"
        if not (harsh and mild):
            return self._at_an_end(what)
        milder = "milder" if harsh >= mild else "harsher"
        most = max(harsh, mild)
        least = min(harsh, mild)
        other = "harsher" if milder == "milder" else "milder"
        return f"is {milder} to skin than {most} of {what} and {other} than {least}"

    @property
    def _few(self) -> bool:
        """Whether it is compared with few, all of which stand on one side of it."""
        compared = len(self._harsh) + len(self._mild)
        one_side = not (self._harsh and self._mild)
        return one_side and 2 * compared < len(self._others)

    def _at_an_end(self, what: str) -> str:
        """How it stands where all that it is compared with stand on one side of it."""
        end, by = ("mildest", "milder") if self._harsh else ("harshest", "harsher")
        if not self._few:
            return f"is among the {end} to skin of {what}"
        names = [self._others[each] for each in self._harsh or self._mild]
        rest = "with the others at hand nothing compares it"
        return f"is {by} to skin than {listed(names)}, and {rest}"

    @property
    def _why(self) -> str:
        """The claim that sets it among most of them, as a sentence of its own."""
        milder = self._harsh if len(self._harsh) >= len(self._mild) else []
        for trade in (True, False):
            times: Counter[str] = Counter()
            for other in milder or self._mild:
                pair = (self._symbol, other) if milder else (other, self._symbol)
                times.update(why_milder(self._case, *pair, joint=True, trade=trade))
            if times:
                return f" {times.most_common(1)[0][0]}"
        return ""

    @property
    def in_short(self) -> str:
        """What leads it, what it shows by each test, and what was not understood."""
        leads = sorted({self._label(row[1]) for row in self._match(c.MAY_LEAD, 1)})
        many = len(leads) > MOST_LED
        told = [f"any of {len(leads)}" if many else listed(leads) or "no cleanser"]
        told += [f"{self._label(t)} {_between(a, b)}" for _, t, a, b in self._shows]
        if not self._shows:
            told.append("no figure by any test")
        if self._unread:
            told.append("a line at work on its label was not understood")
        return f"{self._name}: {'; '.join(told)}."

    @property
    def methods(self) -> list[str]:
        """How each of its figures was found, and by whom."""
        return self._how()[2]

    def findings(self, several: bool) -> Iterator[Finding]:
        """What is to be told below the sentence; named, if several washes are told."""
        who = f"{self._name}: " if several else ""
        parts = (
            *(self._place, self._softened, self._found),
            *(self._figures, self._lacking, self._how),
        )
        for kind, head, items in (
            ("milder", "Milder than it", self._named(self._mild)),
            ("harsher", "Harsher than it", self._named(self._harsh)),
            ("not compared", "Not compared with it", self._named(self._rest)),
            *(part() for part in parts),
            ("sure", "", [*sure_of_cleansing(self.rows)]),
        ):
            if self._few and kind in {"milder", "harsher"}:
                continue  # The sentence names them.
            if items and kind in _IN_A_LINE:
                line = f"{head}: {items[0]}" if head else items[0]
                yield Finding(kind, f"{who}{line.rstrip('.')}")
            elif items:
                yield Finding(kind, who + head, tuple(items))

    # -- parts of it --------------------------------------------------------------

    def _place(self) -> _Part:
        said = dict.fromkeys(self._label(row[2]) for row in self._placed)
        told = [each for each in said if each not in self._why]
        leads = self._match(c.MAY_LEAD, 1)
        none = ["What leads it is not placed in the order of the trade."]
        head = "By the order of the trade too" if self._why else _TRADE
        return "place", head, told or none * bool(leads and not said)

    def _figures(self) -> _Part:
        """What the wash shows by each test, and what decides it."""
        head = "By test, if all of its surfactant were at the strength of the test"
        items = [
            f"{self._label(test)}: {_between(low, high)} "
            f"({', '.join(self._alone(test))})."
            for _, test, low, high in self._shows
        ]
        return "figure", head, items

    def _alone(self, test: Term) -> Iterator[str]:
        for agent in self._deciding:
            for _, _, low, high in self._rows(c.FIGURED, (agent, test, None, None)):
                yield f"{self._label(agent)} alone {_between(low, high)}"

    def _found(self) -> _Part:
        """What tests found of a part of it beside another, with or without figures."""
        claims = list(dict.fromkeys(row[2] for row in self._told))
        told = list(map(self._label, claims[:_FOUND]))
        more = len(claims) - len(told)
        told += [f"… and {more} more such findings."] * bool(more)
        return "found", "Found by tests of its parts", told

    def _softened(self) -> _Part:
        names = sorted({self._label(row[1]) for row in self._match(c.SOFTENED_BY, 1)})
        return "softened", "Made milder by", [f"{listed(names)}."] * bool(names)

    def _lacking(self) -> _Part:
        """By which tests nothing is shown."""
        without = {str(row[1]) for row in self._match(c.UNFIGURED, 1)}
        figured = {(r[0], r[1]) for r in self._rows(c.FIGURED, (None,) * 4)}
        of_what: dict[tuple[str, ...], list[str]] = {}
        for test in sorted({str(test) for _, test in figured} & without):
            agents = [a for a in self._deciding if (a, test) not in figured]
            names = tuple(self._label(each) for each in agents)
            of_what.setdefault(names, []).append(self._label(test))
        items = [
            f"{listed(tests)}: there is none of {listed(list(names))}."
            for names, tests in of_what.items()
        ]
        if items and not self._shows:
            none = "nothing that cleans in it has one by every test that others have"
            if len(of_what) == 1:
                none = f"there is none of {listed(list(next(iter(of_what))))}"
            return "lacking", "No figure of its mildness by a test", [none]
        return "lacking", "No figure by", items

    def _how(self) -> _Part:
        """How each figure was found, and by whom."""
        items = []
        for _, test, _, _ in self._shows:
            record = self._case.world.base.record(str(test))
            works = " ".join(self._label(each) for each in record.links("source"))
            items.append(f"{self._label(test)}: {record.text('comment')} {works}")
        return "method", "How that was found", items

    def _named(self, symbols: Iterable[str]) -> list[str]:
        names = sorted(self._others[each] for each in symbols)
        return [f"{listed(names)}."] * bool(names)

    # -- looking things up --------------------------------------------------------

    @property
    def _placed(self) -> list[tuple[Term, ...]]:
        return sorted(self._match(c.PLACED_AS, 2), key=str)

    @property
    def _told(self) -> list[tuple[Term, ...]]:
        return sorted(self._match(c.TOLD_OF, 2), key=str)

    @property
    def _deciding(self) -> list[Term]:
        """What decides how mild the wash is, as it stands on the label."""
        return list(dict.fromkeys(row[2] for row in sorted(self._match(c.DECIDES, 2))))

    @property
    def _rest(self) -> list[str]:
        known = {*self._mild, *self._harsh}
        return [each for each in self._others if each not in known]

    @property
    def _unread(self) -> bool:
        return self._case.model.holds(c.UNREAD_AT_WORK, (self._symbol,))

    def _over(self, pattern: tuple[str | None, str | None], place: int) -> list[str]:
        found = {str(row[place]) for row in self._rows(MILDER, pattern)}
        return [each for each in self._others if each in found]

    def _match(self, predicate: str, more: int) -> list[tuple[Term, ...]]:
        """The rows of a predicate whose first term is this wash."""
        return self._rows(predicate, (self._symbol, *((None,) * more)))

    def _rows(
        self, predicate: str, pattern: Sequence[Term | None]
    ) -> list[tuple[Term, ...]]:
        return list(self._case.model.match(predicate, tuple(pattern)))

    def _label(self, symbol: Term) -> str:
        return self._case.world.base.label(str(symbol))


def _between(low: Term, high: Term) -> str:
    """Two ends in words, rounded outwards to two places."""
    ends = [
        Fraction(rounded(Fraction(str(end)) * 100), 100)
        for end, rounded in ((low, floor), (high, ceil))
    ]
    first, last = (plain(int(e) if e.denominator == 1 else e) for e in ends)
    return first if first == last else f"{first} to {last}"
