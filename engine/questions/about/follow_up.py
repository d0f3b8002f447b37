"""Questions about an answer: why, why not, how sure, in how many ways, and the like.

Each kind brings in modules of its own, which are imported where they are used: a
plain `why` needs none of them, and is to be answered in a fifth of a second.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple, TypeVar

from abluent.engine.base.store import Base
from abluent.engine.questions.answers.answer import Answer, Finding, Row
from abluent.engine.questions.answers.verdicts import Verdict
from abluent.engine.questions.answers.wording import without_head
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import NothingBefore
from abluent.grammar.common.record import replace
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_SAID = 2
"""So many of what one work says are told."""
_NO_CLAIM = "other steps, such as what an ingredient is."
_OF_ITSELF = "No work cited here says so itself:"
_PROBED = 3
"""Of how many rows of an answer it is looked for what would turn them, and the like."""


class About(NamedTuple):
    """One question about an answer.

    Args:
        judge: of the world it is asked in.
        ask: answers the question that it is about.
        last: the answer before.
    """

    judge: Judge
    ask: Callable[[q.Query], Answer]
    last: Answer | None

    def answer(self, query: q.About, printed: str) -> Answer:
        """What is asked about an answer; `printed` is the question's own wording.

        Raises:
            Unanswerable: nothing has been answered yet that it could be about.
        """
        matter = self._matter(query)
        inner = self.ask(matter) if matter is not None else self._last(query)
        inner = replace(inner, sentence=without_head(inner.sentence))
        aspects: dict[q.Aspect, Callable[[Answer], Answer]] = {
            q.Aspect.SURE: self._sure,
            q.Aspect.SOURCES: self._sources,
            q.Aspect.CHANGE: self._change,
            q.Aspect.NEEDED: self._needed,
            q.Aspect.WAYS: self._ways,
            q.Aspect.PARTING: self._parting,
        }
        if query.aspect is q.Aspect.WHY:
            negative = query.negative or _denies(matter)
            plain = inner if inner.compared else replace(inner, findings=())
            if (said := _statement(matter)) and isinstance(said.predicate, q.Resists):
                from abluent.engine.questions.about.harder import (  # noqa: PLC0415
                    why_harder,
                )

                told = why_harder(self.judge, said, plain)
                if told is not plain:
                    return replace(told, query=printed)
            found = self._why_not(inner, matter) if negative else plain
            text = _spelt_out(inner.sentence)
            return replace(found, query=printed, sentence=text, why=True)
        found = aspects[query.aspect](inner)
        labels = tuple(note for note in found.notes if not _of_conditions(note, inner))
        return replace(found, query=printed, notes=labels, aside=True)

    def _last(self, query: q.About) -> Answer:
        if self.last is None:
            what = "nothing has been answered yet to ask about"
            raise NothingBefore(what, query.span)
        return self.last

    def _matter(self, query: q.About) -> q.Question | None:
        """The question that is asked about; None is the last answer as it stands."""
        matter = query.matter
        if matter is None or isinstance(matter, q.Whether | q.Claim):
            return matter
        return placed(_asked(self._last(query)), matter)

    # -- aspects ------------------------------------------------------------------

    def _sure(self, inner: Answer) -> Answer:
        from abluent.engine.questions.about.turning_points import (  # noqa: PLC0415
            how_sure,
            sureness,
            turns_on,
        )

        world = self.judge.world
        if len(inner.rows) == 1:
            text = how_sure(world, inner.rows[0])
        else:
            text = f"{sureness(world, inner.rows)}{inner.sentence}"
        turns = dict.fromkeys(t for r in inner.rows[:_PROBED] if (t := turns_on(r)))
        found = (Finding("turns", "It turns on this", tuple(turns)),) if turns else ()
        return replace(inner, sentence=text, findings=found, why=False)

    def _sources(self, inner: Answer) -> Answer:
        """The works behind an answer, those first on which most of it rests.

        Each with the claims that it is cited for, as a work may speak of something
        else from which this follows.
        """
        known = self.judge.world.known
        resting: dict[str, int] = {}
        for row in inner.rows:
            for name in set(row.sources) - known.conventions:
                resting[name] = resting.get(name, 0) + 1
        names = sorted(resting, key=lambda name: (-resting[name], name))
        spoken = [name for name in names if name not in known.searches]
        rows = len(inner.rows)
        says: dict[str, dict[str, None]] = {}
        for row in inner.rows:
            for claim in row.claims:
                record = known.base.record(claim)
                text = record.text("statement") or known.base.label(claim)
                for name in record.links("source"):
                    says.setdefault(name, {})[as_sentence(text)] = None
        alike: dict[str, list[str]] = {}
        # A search that found nothing is no work that speaks for anything.
        for name in spoken:
            said = " ".join([*says.get(name, {})][:_SAID]) or _NO_CLAIM
            work = f"{known.base.label(name).rstrip('.')}{_of(resting[name], rows)}"
            alike.setdefault(said, []).append(work)
        last = alike.pop(_NO_CLAIM, [])
        told = [f"{'; '.join(works)}: {said}" for said, works in alike.items()]
        told += [f"{'; '.join(last)}: {_NO_CLAIM}"] * bool(last)
        text = f"{_carried(known.base, inner.rows, names, spoken)} {inner.sentence}"
        found = [Finding("works", "What each is cited for", tuple(told))]
        if text.startswith(_OF_ITSELF):
            rules = Finding("rules", "It follows from this", _bounds_of(inner.rows))
            works = Finding("works", "The works cited, for other things", tuple(told))
            found = [rules, works]
        shown = tuple(each for each in found if each.items)
        return replace(inner, sentence=text, findings=shown, why=False)

    def _change(self, inner: Answer) -> Answer:
        from abluent.engine.questions.about.turning_points import (  # noqa: PLC0415
            what_first,
            what_turns,
        )

        told = self._each(inner, lambda row: what_turns(self._judge_of(row), row))
        if len(inner.rows) != 1 or not isinstance(inner.rows[0], Verdict):
            return told
        first = what_first(told.findings)
        return replace(told, sentence=f"{first} As it is: {inner.sentence}")

    def _needed(self, inner: Answer) -> Answer:
        from abluent.engine.questions.about.supports import needed  # noqa: PLC0415
        from abluent.engine.questions.about.turning_points import needed_lines  # noqa: PLC0415

        def told(row: Row) -> Iterable[Finding]:
            lines = []
            if isinstance(row, Verdict):
                lines = [*needed_lines(self._judge_of(row), row)]
            yield from lines
            several = len(inner.rows) > 1
            facts = needed(row, named=several, classes=not lines)
            if facts.items or not lines:
                yield facts

        return self._each(inner, told)

    def _ways(self, inner: Answer) -> Answer:
        from abluent.engine.questions.about.supports import ways  # noqa: PLC0415

        return self._each(inner, ways)

    def _parting(self, inner: Answer) -> Answer:
        from abluent.engine.questions.about.dispute import parted  # noqa: PLC0415

        rows = [r for r in inner.rows if isinstance(r, Verdict) and r.disputed]
        found = tuple(_first(rows, lambda row: parted(row, whole=True)))
        none = Finding("none", "No sources of equal rank disagree on this answer")
        return replace(inner, findings=found or (none,), why=False)

    def _each(self, inner: Answer, tell: Callable[[Row], Iterable[Finding]]) -> Answer:
        found = tuple(_first(inner.rows, tell))
        none = Finding("none", "This answer rests on no fact but what it says")
        return replace(inner, findings=found or (none,), why=False)

    def _why_not(self, inner: Answer, matter: q.Question | None) -> Answer:
        from abluent.engine.questions.about.lack import missing  # noqa: PLC0415
        from abluent.engine.questions.about.turning_points import what_mends  # noqa: PLC0415

        rows = [row for row in inner.rows if isinstance(row, Verdict)]
        if inner.claim:
            # What refutes a claim may well be so; only what is not can be mended.
            rows = [row for row in rows if not (row.gone or _excludes(matter))]
        found = tuple(_first(rows, lambda row: what_mends(self._judge_of(row), row)))
        said = _statement(matter or _asked(inner))
        if not inner.claim and not rows and said is not None:
            found = tuple(missing(self.judge, said))
        return replace(inner, findings=found)

    def _judge_of(self, row: Row) -> Judge:
        """A judge of the world in which a row was found, with what it supposes."""
        if row.case.world is self.judge.world:
            return self.judge
        from abluent.engine.questions.world.nouns import Nouns  # noqa: PLC0415

        return Judge(
            Nouns(row.case.world, self.judge.nouns.sets), self.judge.terms.last
        )


def _of_conditions(note: str, answer: Answer) -> bool:
    """Whether a note tells under which condition an answer would be another."""
    from abluent.engine.questions.about.other_conditions import turning_notes  # noqa: PLC0415

    rows = [row for row in answer.rows if isinstance(row, Verdict)]
    return note in set(turning_notes(rows[:_PROBED]))


def _asked(answer: Answer) -> q.Query:
    """The question that an answer is to."""
    from abluent.grammar.query.parse import parse_query  # noqa: PLC0415

    return parse_query(answer.query)


_R = TypeVar("_R", bound=Row)


def _first(
    rows: Sequence[_R], tell: Callable[[_R], Iterable[Finding]]
) -> Iterator[Finding]:
    """What there is to tell of the first rows, and of how many it is not told."""
    told: set[Finding] = set()
    for row in rows[:_PROBED]:
        for each in tell(row):
            if each not in told:
                told.add(each)
                yield each
    if len(rows) > _PROBED:
        head = f"Told of the first {_PROBED} of {len(rows)} rows; ask of one to see it"
        yield Finding("more", head)


def _bounds_of(rows: Sequence[Row]) -> tuple[str, ...]:
    """The claims that bound what is taken in the first of some rows, as sentences."""
    first = rows[:_PROBED]
    label = first[0].case.world.base.label
    claims = dict.fromkeys(claim for row in first for claim in sorted(row.bounding))
    return tuple(as_sentence(label(claim)) for claim in claims)


def _carried(
    base: Base, rows: Sequence[Row], names: Sequence[str], spoken: Sequence[str]
) -> str:
    """How many works say what an answer says, as a sentence or the head of one.

    Of what a wash takes, that is who speaks of what such a wash takes of such a film:
    a work that says something else of either does not carry the answer, nor does a
    search that found nothing; `spoken` are those works that say something.
    """
    if not rows:
        return "Nothing in this answer rests on a work."
    if not names:
        stands = {row.standing for row in rows if row.standing}
        known = "it is read off labels"
        if stands:
            least = min(stands, key=lambda each: base.record(each).number("rank") or 0)
            known = f"it stands as {base.label(least)}"
        return f"No work says so; {known}."
    verdicts = [row for row in rows if isinstance(row, Verdict)]
    if len(verdicts) < len(rows):
        works = "one work" if len(names) == 1 else f"{len(names)} works"
        return f"It rests on {works}:"
    claims = {claim for row in verdicts for claim in row.bounding}
    says = {name for claim in claims for name in base.record(claim).links("source")}
    count = len(says.intersection(spoken))
    if not count:
        return _OF_ITSELF
    works = "one work" if count == 1 else f"{count} works"
    rest = len(spoken) - count
    besides = f"; {rest} more speak of something else" if rest > 1 else ""
    besides = "; one more speaks of something else" if rest == 1 else besides
    return f"It rests on {works} that speak{'s' * (count == 1)} of it{besides}:"


def _of(part: int, whole: int) -> str:
    """How many rows rest on a work, where there are several."""
    return f" ({part} of {whole} rows)" if whole > 1 else ""


def _denies(matter: q.Question | None) -> bool:
    """Whether a question is about something not being so."""
    said = _statement(matter)
    return said is not None and isinstance(said.predicate, q.Not)


def _excludes(matter: q.Question | None) -> bool:
    """Whether a claim is that others do not, which falls where one does."""
    said = _statement(matter)
    subject = said.subject if said is not None else None
    excluding = {q.Quantity.ONLY, q.Quantity.NO}
    return isinstance(subject, q.Quantified) and subject.quantity in excluding


def _statement(matter: q.Query | None) -> q.Statement | None:
    if isinstance(matter, q.Suppose):
        matter = matter.question
    return matter.statement if isinstance(matter, q.Whether | q.Claim) else None


def _spelt_out(sentence: str) -> str:
    """The sentence that is so, without the yes or no before it."""
    return as_sentence(without_head(sentence))


def placed(asked: q.Query, term: q.Term) -> q.Question | None:
    """Whether a thing is in the answer to a question, as a question.

    None, where the question does not ask which things are so.
    """
    if isinstance(asked, q.Save | q.HowMany):
        asked = asked.question
    if isinstance(asked, q.Suppose):
        inner = placed(asked.question, term)
        if isinstance(inner, q.Whether):
            return q.Suppose(asked.changes, inner)
        return None
    if isinstance(asked, q.Which) and asked.predicate is not None:
        return q.Whether(q.Statement(term, asked.predicate))
    if isinstance(asked, q.What):
        return q.Whether(
            q.Statement(asked.subject, _with_object(asked.predicate, term))
        )
    return None


def _with_object(predicate: q.Predicate, term: q.Term) -> q.Predicate:
    """What a what-question says of its object, said of one thing."""
    if isinstance(predicate, q.Not):
        return replace(predicate, part=_with_object(predicate.part, term))
    return replace(predicate, object=term)
