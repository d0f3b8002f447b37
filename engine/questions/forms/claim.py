"""Is it true that …: proven, refuted by a named counterexample, disputed, unsupported.

    every S is P     refuted by a member of S that is not P
    no S is P        refuted by a member of S that is P
    some S is P      proven by a member of S that is P
    only S is P      refuted by something outside S that is P

A claim about what ingredients clear is judged by washes of one ingredient each, but a
product of the shelf is the better witness and is looked at first. Members of a class
that the base describes alike behave alike, so one of them speaks for all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.answer import (
    DISPUTED,
    NOT_AS_SAID,
    PROVEN,
    REFUTED,
    UNSUPPORTED,
    Answer,
    Row,
)
from abluent.engine.questions.answers.degrees import led_by
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.forms.name_claim import scored, told
from abluent.engine.questions.forms.notes import turning_washes
from abluent.engine.questions.forms.order_claim import of_order
from abluent.engine.questions.forms.sentences import (
    as_claim,
    claim_sentence,
    near_sentence,
    neither_sentence,
    no_other_sentence,
    not_whole_sentence,
)
from abluent.engine.questions.sides.gathering import gathering
from abluent.engine.questions.sides.needs import asked_of, film_by_film
from abluent.engine.questions.verbs.as_meant import as_meant, by_washes
from abluent.engine.questions.verbs.bearing import (
    PLAIN,
    takes_part,
    water_leaves,
)
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Judged
from abluent.engine.questions.verbs.looked_at import Found, Looking
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT, Item
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_predicate, print_term

_OUTSIDE = "which is none of them"
_OF_ALL = frozenset({q.Quantity.EVERY, q.Quantity.NO})
_IN_WATER = "Whether it builds up with washing hangs on the wash."
_AS_FAR = "True as far as some of it goes"
_CLAIMED = "is it true"
"""How a claim begins, and no plain question."""
_SHOWN, _PRODUCTS = 5, 12
"""So many things that decide are shown, and so many products."""
_NAMED = 6
"""So many things are named of which a claim holds."""
_SEVERAL = 2
_NEAR = 3
"""So many things are told that come as near as those that a claim names."""


def judge_claim(judge: Judge, said: q.Statement, query: str) -> Answer:
    """Judge a statement.

    Raises:
        UnknownName: a name in it stands for nothing.
    """
    claim = _Claim(judge, _none_for_not(judge, said), query)
    answer = claim.as_meant(claim.answer())
    if asked := asked_of(judge, said):
        answer = film_by_film(judge, asked, answer)
    answer = _with_washing(judge, claim, answer)
    if query.startswith(_CLAIMED):
        answer = replace(answer, sentence=as_claim(answer.sentence))
    score = scored(judge, said)
    if score is None:
        return answer
    return replace(answer, score=score, notes=[*answer.notes, *told(score)])


def _with_washing(judge: Judge, claim: _Claim, answer: Answer) -> Answer:
    """Whether films build up with washing, where it is said that they do or do not."""
    said = claim.predicate
    stays = said.part if isinstance(said, q.Not) else said
    rows = [row for row in answer.rows if isinstance(row, Verdict)]
    plain = claim.quantity in {q.Quantity.EVERY, q.Quantity.SOME}
    if not isinstance(stays, q.Stays) or not plain or len(rows) < len(answer.rows):
        return answer
    count = len(answer.members)
    found = gathering(
        judge,
        rows,
        count=count,
        claimed=claim.query.startswith(_CLAIMED),
        denied=stays is not said,
    )
    if found is None:
        return answer
    return replace(answer, sentence=found.text, shown=found.shown or None)


def _none_for_not(judge: Judge, said: q.Statement) -> q.Statement:
    """That washes do not take something off, as that none of them does.

    Said of many it is of each, and that the one takes a part belies it as meant.
    """
    subject, denied = said.subject, said.predicate
    if not isinstance(denied, q.Not) or not isinstance(denied.part, q.Clears):
        return said
    plain = denied.part.extent == PLAIN and denied.part.rounds == 1
    if not plain or not isinstance(subject, q.Such):
        return said
    items = judge.terms.items(subject, PRODUCT)
    if len(items) < _SEVERAL or any(item.kind != PRODUCT for item in items):
        return said
    return q.Statement(q.Quantified(q.Quantity.NO, subject), denied.part)


class _Claim(Looking):
    def __init__(self, judge: Judge, said: q.Statement, query: str) -> None:
        super().__init__(judge, said)
        self.query = query

    def answer(self) -> Answer:
        """Judge by the quantity of the subject."""
        ways: dict[q.Quantity, Callable[[], Answer]] = {
            q.Quantity.EVERY: self._every,
            q.Quantity.ONLY: self._only,
            q.Quantity.NO: self._none,
            q.Quantity.SOME: lambda: self._at_least(1),
            q.Quantity.AT_LEAST: lambda: self._at_least(self.count),
            q.Quantity.AT_MOST: lambda: self._at_most(self.count),
            q.Quantity.EXACTLY: lambda: self._exactly(self.count),
        }
        return ways[self.quantity]()

    def as_meant(self, answer: Answer) -> Answer:
        """The same in a sentence in which a part counts, where the claim is of that."""
        needs = isinstance(self.predicate, q.Needs)
        denied = self.quantity is q.Quantity.NO
        if needs and self.quantity not in {q.Quantity.EVERY, q.Quantity.NO}:
            return answer
        if not needs and not (self._of_whole and (denied or self._is_only)):
            return answer
        without = needs or not denied
        clears = q.Clears(self.subject) if needs else self.predicate
        told, shown, too = by_washes(
            self.judge, clears, self._wanted, self._films(clears), without=without
        )
        if told is None:
            return answer
        lacking = f"without {self._said(self._wanted)}" if without else ""
        head = _AS_FAR if needs and denied else self._head(answer.claim)
        text = as_meant(head, told, lacking, too=too)
        notes = [*answer.notes, *turning_washes(shown)]
        return replace(answer, sentence=text, shown=shown, notes=notes)

    @property
    def _is_only(self) -> bool:
        return self.quantity is q.Quantity.ONLY

    def _head(self, claim: str) -> str:
        """How the claim was judged, in a word or a few."""
        if not self.query.startswith(_CLAIMED):
            return "No"
        return "False" if claim == REFUTED else NOT_AS_SAID

    # -- quantities ---------------------------------------------------------------

    def _every(self) -> Answer:
        found = self.look(self.subjects(), until="not_so")
        if found.not_so:
            answer = self._result(REFUTED, found.not_so)
            told = f"{answer.sentence}{self._holds_for(found)}"
            return replace(answer, sentence=told)
        unknown = [*found.unknown, *self._perhaps_subjects(found)]
        if unknown:
            return self._result(UNSUPPORTED, unknown)
        return self._proven(found)

    def _holds_for(self, found: Found) -> str:
        """What leads the first product that is not so, and of which others it is so."""
        if isinstance(self.predicate, q.Stays) and found.so:
            best = [item for item, _ in self.bearing.best_first(found.so)]
            names = listed([self.judge.nouns.title(item) for item in best], _NEAR)
            return f" It can be so of {names}, which water alone does not take."
        if not isinstance(self.predicate, q.Is):
            return ""
        products = self.judge.world.products
        washes = [i.key for i, _ in found.not_so if i.key in products]
        if not washes:
            return ""
        (first, *_) = washes
        case = Case.of(self.judge.world, [first])
        main = led_by(case, case.world.symbol(first))
        told = f" {first} is built on {main}." if main else ""
        so = [self.judge.nouns.title(item) for item, _ in found.so]
        return f"{told} It holds for {listed(so, _NAMED)}." if so else told

    def _perhaps_subjects(self, found: Found) -> Iterator[tuple[Item, Judged]]:
        """What may be one of the subjects, and is not as the claim says if it is.

        `every wash that clears F contains A` is as open as `only A clears F`, where a
        wash without A may clear F.
        """
        subject = self.subject
        if not isinstance(subject, q.Such):
            return
        acts = [each for each in subject.conditions if isinstance(each, q.Clears)]
        if not acts or self.by_agents([item for item, _ in found.so]):
            return
        rest = tuple(each for each in subject.conditions if each not in acts)
        term = replace(subject, conditions=rest) if rest else subject.term
        said = acts[0] if len(acts) == 1 else q.Both(tuple(acts))
        items = self.judge.terms.items(term, PRODUCT)
        judged = self.judge.judge(items, said)
        perhaps = [item for item in items if judged[item].truth is None]
        for item, so in self.judge.judge(perhaps, self.predicate).items():
            if not so.truth:
                yield item, judged[item]

    def _none(self) -> Answer:
        found = self.look(self.subjects(), until="so", washed=True)
        if found.so:
            return self._result(REFUTED, found.so)
        if found.unknown:
            return self._result(UNSUPPORTED, found.unknown)
        return self._result(PROVEN, found.not_so)

    def _only(self) -> Answer:
        inside = set(self.subjects())
        outside = [i for i in self.universe(inside) if not self.belongs(i, inside)]
        found = self.look(outside, until="so", any_film=True)
        if found.so:
            return self._result(REFUTED, found.so, _OUTSIDE)
        own = self.look(sorted(inside), until="so", any_film=True)
        if own.not_so and not (own.so or own.unknown):
            return self._neither(own, found)
        if found.unknown or not own.so:
            how = _OUTSIDE if found.unknown else ""
            answer = self._result(UNSUPPORTED, found.unknown or own.unknown, how)
            return answer if found.unknown else self._no_other(answer, found)
        return self._proven(own)

    def _no_other(self, answer: Answer, outside: Found) -> Answer:
        """Nothing else does it, and whether they do themselves nobody can tell."""
        first = next((r for r in answer.rows if isinstance(r, Verdict)), None)
        if first is None or not self._of_whole or not takes_part(first):
            return answer
        part = any(takes_part(r) for _, judged in outside.not_so for r in judged.rows)
        kinds = self._said(self._wanted)
        text = no_other_sentence(self.judge.nouns, first, kinds, part)
        return replace(answer, sentence=text)

    def _neither(self, own: Found, outside: Found) -> Answer:
        """None of them does it, and others may come as near."""
        answer = self._result(REFUTED, own.not_so, "as none of them does")
        first = answer.rows[0] if answer.rows else None
        if not self._of_whole or not isinstance(first, Verdict):
            return answer
        if first.role is Role.NO_WASH_NEEDED:
            return answer
        near = [
            (item, Judged(judged.truth, rows))
            for item, judged in (*outside.not_so, *outside.unknown)
            if (rows := tuple(filter(takes_part, judged.rows)))
        ]
        best = self.bearing.best_first(near)
        others = [row for _, judged in best[:_NEAR] for row in judged.rows]
        other = next((row for row in others if isinstance(row, Verdict)), None)
        how = self._how_outside(best[0][0]) if best else ""
        kinds = self._said(self._wanted)
        nouns, films = self.judge.nouns, self._films()
        text = neither_sentence(nouns, kinds, first, other, how, films)
        return replace(answer, sentence=text, others=others)

    def _at_least(self, count: int) -> Answer:
        found = self.look(self.subjects())
        if len(found.so) >= count:
            return self._proven(found)
        if len(found.so) + len(found.unknown) >= count:
            return self._near(self._result(UNSUPPORTED, found.unknown), found)
        answer = self._result(REFUTED, found.not_so)
        first = answer.rows[0] if answer.rows else None
        if self._of_whole and isinstance(first, Verdict):
            kinds = self._said(self.subject)
            text = not_whole_sentence(self.judge.nouns, kinds, count, first)
            return replace(answer, sentence=text)
        return answer

    def _near(self, answer: Answer, found: Found) -> Answer:
        """Where only what is not known may do it: what is known to come nearest."""
        rows = [row for row in answer.rows if isinstance(row, Verdict)]
        if not self._of_whole or any(map(takes_part, rows)):
            return answer
        near = [(i, j) for i, j in found.not_so if any(map(takes_part, j.rows))]
        if not near:
            return answer
        best = [
            r
            for _, j in self.bearing.best_first(near)
            for r in filter(takes_part, j.rows)
        ]
        told = [row for row in best if isinstance(row, Verdict)]
        unknown = [self.judge.nouns.title(item) for item in answer.members]
        text = near_sentence(self.judge.nouns, told[0], unknown)
        return replace(answer, sentence=text, others=told, shown=(*told, *rows))

    def _verb(self, claim: str) -> str:
        """What a witness does: what is claimed, or the opposite."""
        said = self.predicate
        opposite = said.part if isinstance(said, q.Not) else q.Not(said)
        truth = (claim == PROVEN) is (self.quantity is not q.Quantity.NO)
        return print_predicate(said if truth else opposite).replace('"', "")

    def _at_most(self, count: int) -> Answer:
        found = self.look(self.subjects())
        if len(found.so) > count:
            return self._result(REFUTED, found.so)
        if len(found.so) + len(found.unknown) > count:
            return self._result(UNSUPPORTED, found.unknown)
        return self._proven(found)

    def _exactly(self, count: int) -> Answer:
        least, most = self._at_least(count), self._at_most(count)
        return least if least.claim != PROVEN else most

    # -- results ------------------------------------------------------------------

    def _proven(self, found: Found) -> Answer:
        if not found.so:
            text = "Unsupported: there is nothing here to judge it by."
            return Answer(self.query, text, claim=UNSUPPORTED)
        return self._result(PROVEN, found.so)

    def _result(
        self, claim: str, found: Sequence[tuple[Item, Judged]], how: str = ""
    ) -> Answer:
        disputed = [each for each in found if self.bearing.disputed(each[1])]
        if claim == UNSUPPORTED and found and len(disputed) == len(found):
            claim = DISPUTED
        ordered = self.bearing.best_first(found)
        members = [item for item, _ in ordered]
        if isinstance(self.predicate, q.Differs) and ordered:
            said, some = self.predicate, self.quantity is q.Quantity.SOME
            return of_order(self.judge, self.query, claim, said, ordered, some=some)
        rows: list[Row] = [
            row
            for _, judged in self._shown(ordered)
            for row in self.bearing.deciding_first(judged)
        ]
        witness = self.judge.nouns.title(members[0]) if members else ""
        how = how or self._outside(rows)
        if how == _OUTSIDE and members:
            first = rows[0] if rows else None
            wash = first.wash if isinstance(first, Verdict) else ""
            shelf = {item.key: item for item in self.judge.nouns.washes}
            how = self._how_outside(shelf.get(wash, members[0]))
        under_water = isinstance(self.predicate, q.Stays) and water_leaves(rows)
        text = claim_sentence(
            self.judge.nouns,
            claim,
            members,
            rows,
            how,
            needed=isinstance(self.predicate, q.Needs),
            every=self.quantity in _OF_ALL,
            part=self.quantity is q.Quantity.EVERY and self._of_whole,
            denied=self.quantity is q.Quantity.NO and self._of_whole,
            verb=self._verb(claim),
            under_water=under_water,
        )
        if under_water:
            text = f"{text} {_IN_WATER}"
        return Answer(
            self.query, text, rows, members=members, claim=claim, witness=witness
        )

    def _shown(
        self, ordered: Sequence[tuple[Item, Judged]]
    ) -> Sequence[tuple[Item, Judged]]:
        """What is shown of what decides: products alone, where there are some.

        A reader knows these; what is made of one ingredient speaks where none is.
        """
        products = [each for each in ordered if each[0].kind == PRODUCT]
        return (products or ordered)[: _PRODUCTS if products else _SHOWN]

    def _how_outside(self, item: Item) -> str:
        """How a wash or an ingredient is none of those that a claim names."""
        said = self._said(self._wanted)
        product = item.kind == PRODUCT
        return f"which holds no {said}" if product else f"which is none of the {said}"

    @property
    def _wanted(self) -> q.Term:
        """What is said to be needed, or to do alone what the claim says."""
        if isinstance(self.predicate, q.Needs):
            return self.predicate.object
        return self.subject

    @property
    def _of_whole(self) -> bool:
        """Whether it is claimed that all of a film goes."""
        said = self.predicate
        return isinstance(said, q.Clears) and said.extent == PLAIN

    def _films(self, said: q.Predicate | None = None) -> str:
        """The class of films that is spoken of, by its plural; empty for a film."""
        act = q.asked_act(said or self.predicate)
        films = act.object if isinstance(act, q.Clears) else None
        if not isinstance(films, q.Name):
            return ""
        kind = self.judge.terms.noun(films, INGREDIENT).kind or ""
        base = self.judge.world.base
        return base.plural(kind) if base.is_class(kind) else ""

    def _said(self, term: q.Term) -> str:
        """A term in words, a class by its plural."""
        base = self.judge.world.base
        if isinstance(term, q.Name):
            kind = self.judge.terms.noun(term, PRODUCT).kind or ""
            if base.is_class(kind):
                return base.plural(kind)
        return print_term(term)

    def _outside(self, rows: Sequence[Row]) -> str:
        """How the first row stands to what a film is said to need, if it is none."""
        if not isinstance(self.predicate, q.Needs) or not rows:
            return ""
        items = self.judge.terms.items(self.predicate.object, PRODUCT)
        names = {self.judge.removal.as_wash(item) for item in items}
        first = rows[0]
        outside = isinstance(first, Verdict) and first.wash not in names
        return _OUTSIDE if outside else ""
