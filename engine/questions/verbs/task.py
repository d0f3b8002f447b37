"""What an ingredient is there for: `what does "A" do in "P"`.

What a maker meant by it no label says. What it is, where it stands and how much that
allows, whether it cleans there or serves otherwise, and whether the product leaves it,
follow from the label and from what is known of its kind.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from abluent.engine.base.contract import (
    ACTS,
    CLEANSER,
    IN_DOUBT,
    LEVEL,
    LINE,
    OUT_OF_PLAY,
    PERHAPS_HELPS,
    SERVES_OTHERWISE,
    SET_ASIDE,
)
from abluent.engine.base.kinds import telling
from abluent.engine.base.phrases import product_symbol, with_article
from abluent.engine.proof.nodes import Ground
from abluent.engine.questions.answers.answer import Answer, Finding, Member, Row
from abluent.engine.questions.answers.fitting import plainly
from abluent.engine.questions.answers.rows import how_sure
from abluent.engine.questions.answers.verdicts import Left, films_left, not_left
from abluent.engine.questions.answers.wording import row_phrase
from abluent.engine.questions.verbs.contents import width
from abluent.engine.questions.verbs.doing import what_it_does
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable
from abluent.engine.questions.verbs.levels import none_listed
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.engine.questions.world.world import WATER
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_TOLD = (SERVES_OTHERWISE, OUT_OF_PLAY, IN_DOUBT, SET_ASIDE, PERHAPS_HELPS)
"""What tells that it does not, or may not, clean there; the first is the reason."""
_ONE_BY_ONE = 3
"""So many lines are told in the sentence; of more the rest are findings."""
_MAKER = "What its maker put it in for no label says; this follows from what it is."


def task(judge: Judge, query: q.Task, text: str) -> Answer:
    """Tell what some ingredients are in some products, and what they do there.

    Raises:
        Unanswerable: none of them is a product with a label.
    """
    items = judge.terms.items(query.products, PRODUCT)
    products = [i for i in items if i.kind == PRODUCT and i.key != WATER]
    if not products:
        problem = "what an ingredient does can be asked in a product with a label"
        raise Unanswerable(problem, query.span)
    there = [
        _Label(judge, item, judge.terms.listed(item, query.ingredient))
        for item in products
    ]
    lines = [line for label in there for line in label.lines()]
    told = [" ".join(words) for words, _ in lines]
    without = [label.item for label in there if not label.symbols]
    several = len(products) > 1 and bool(lines)
    more = [] if several or not without else [none_listed(judge, query, without)]
    rest = told[_ONE_BY_ONE:]
    rows = [row for _, each in lines for row in each]
    findings = [Finding("lines", "And of the other lines", tuple(rest))] if rest else []
    if rows:
        findings.append(Finding("sure", how_sure(rows).rstrip(".")))
    return Answer(
        text,
        " ".join([*told[:_ONE_BY_ONE], *more]),
        rows,
        members=products,
        notes=[_MAKER] if lines else [],
        findings=findings,
        shown=(),
    )


class _Label:
    """One product, and what is asked about of its label."""

    def __init__(self, judge: Judge, item: Item, symbols: Sequence[str]) -> None:
        self.item, self.judge, self.symbols = item, judge, symbols
        self.base = judge.world.base

    def lines(self) -> Iterator[tuple[list[str], list[Row]]]:
        """What is told of each line that is meant, and the rows that show it."""
        if not self.symbols:
            return
        world, name = self.judge.world, self.item.key
        facts = world.amounts.levels(name, self.symbols)
        case = Case.of(world, [name], sources=[name], more=facts)
        self.case, self.product = case, product_symbol(name)
        rows = [*films_left(case, name), *not_left(case, name)]
        left = {row.film: row for row in rows}
        places = case.model.match(LINE, (self.product, None, None))
        for _, place, found in sorted(places, key=lambda row: int(str(row[1]))):
            symbol = str(found)
            if symbol in self.symbols:
                yield self._told(symbol, str(place), left.get(symbol))

    def _told(
        self, symbol: str, place: str, left: Left | None
    ) -> tuple[list[str], list[Row]]:
        kind = next(iter(telling(self.base.classes_of(symbol), self.base)), "")
        what = with_article(self.base.label(kind)) if kind else "not known here"
        plain = plainly(self.base, [kind]) if kind else ""
        what += f", {plain}" if plain and plain not in what else ""
        where = f"number {self._printed(symbol, place)} of {self.item.key}"
        words = [f"{self.base.label(symbol)}, {where}, is {what}."]
        words += filter(None, [what_it_does(self.judge.world, symbol)])
        rows: list[Row] = [*self._levels(symbol, place)]
        words += [self._much(row) for row in rows]
        for goal in self._does(symbol):
            row = Member(self.case, Item(INGREDIENT, symbol), goal)
            step = self.judge.world.known.sentences.node(row.proof.root)
            cleans = goal[0] == ACTS
            words.append(
                "It is one of what cleans there." * cleans or as_sentence(step)
            )
            rows.append(row)
        if left is not None:
            words.append(as_sentence(left.reasons[-1]))
            rows.append(left)
        return list(dict.fromkeys(words)), rows

    def _much(self, row: Row) -> str:
        """How much of the product a line makes."""
        told = row_phrase(self.judge.world, row)
        _, found, much = told.partition(" makes ")
        whole = f"of {self.item.key} by weight"
        much = f"By its place it makes {much.replace('of its weight', whole)}."
        return much if found else as_sentence(told)

    def _printed(self, symbol: str, place: str) -> str:
        """The place on the label itself, which a supposition may have closed up."""
        readings = self.judge.world.read(self.item.key).readings
        found = (n for n, each in enumerate(readings, 1) if each.symbol == symbol)
        return str(next(found, place))

    def _levels(self, symbol: str, place: str) -> Iterator[Member]:
        """The narrowest level that follows for a line."""
        found = self.case.model.match(LEVEL, (self.product, None, None))
        mine = [row for row in found if str(row[1]) == place]
        for row in sorted(mine, key=lambda row: width(row[-1]))[:1]:
            yield Member(self.case, Item(INGREDIENT, symbol), (LEVEL, row))

    def _does(self, symbol: str) -> Iterator[Ground]:
        """Whether it cleans there, or why not."""
        model = self.case.model
        known = self.judge.world.known.program.arities
        args = (self.product, symbol)
        for told in _TOLD:
            if told in known and model.holds(told, args):
                yield told, args
                return
        cleans = CLEANSER not in known or model.holds(CLEANSER, (symbol,))
        cleans = cleans and self.judge.nouns.cleans(self.item)
        if cleans and model.holds(ACTS, args):
            yield ACTS, args
