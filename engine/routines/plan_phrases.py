"""What the phrases of a routine's wishes stand for on a shelf.

They are phrases of the query language, but for `strong washes`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from abluent.engine.base.contract import STRONG
from abluent.engine.base.roles import Role
from abluent.engine.errors import EngineError
from abluent.engine.questions.forms.question import ask
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.case import Case
from abluent.engine.questions.world.items import INGREDIENT, PRODUCT
from abluent.engine.questions.world.nouns import Nouns
from abluent.engine.questions.world.world import World
from abluent.engine.routines.buildup import Film, washes_of
from abluent.engine.routines.how_often import washed_for
from abluent.engine.routines.overview import family_among
from abluent.grammar.common.errors import GrammarError, Span
from abluent.grammar.query import tree as q
from abluent.grammar.routine import tree as ast

_STRONG = {"strong wash", "strong washes"}


def is_strong(phrase: str) -> bool:
    """Whether a phrase means the strong washes."""
    return phrase.casefold() in _STRONG


def named_washes(
    routine: ast.Routine, world: World, phrase: str, span: Span
) -> frozenset[str]:
    """The products of a shelf that a phrase stands for.

    `strong washes` are those that `routine.rules` finds so; every other phrase is one
    of the query language.

    Raises:
        GrammarError: the phrase cannot be read, or a name in it stands for nothing.
    """
    if is_strong(phrase):
        found = Case.of(world, washes_of(world)).model.match(STRONG, (None,))
        return frozenset(world.name(wash) for (wash,) in found)
    query = _parsed(routine, f"which {phrase}", phrase, span)
    try:
        answer = ask(query, world)
    except EngineError as error:
        raise _unreadable(routine, phrase, span, str(error)) from None
    return frozenset(item.key for item in answer.members if item.kind == PRODUCT)


def named_films(
    routine: ast.Routine, world: World, want: ast.Clear, films: Iterable[Film]
) -> list[Film]:
    """The films that a want means, of those there are.

    `everything` leaves out what nobody need wash harder for, such as what conditions.
    """
    query = _parsed(routine, f"which washes clear {want.films}", want.films, want.span)
    said = next((each for each in _clears(query)), None)
    if said is None:
        raise _unreadable(routine, want.films, want.span, "it names no films")
    judge = Judge(Nouns(world, {}))
    try:
        kept = _kept(judge, said.object)
        sources = None
        if said.source is not None:
            named = judge.terms.items(said.source, PRODUCT)
            sources = {item.key for item in named}
    except EngineError as error:
        raise _unreadable(routine, want.films, want.span, str(error)) from None
    return [
        film
        for film in sorted(films)
        if kept(film.former) and (sources is None or film.source in sources)
    ]


def _kept(judge: Judge, term: q.Term) -> _Test:
    if isinstance(term, q.Quantified):
        return _kept(judge, term.term)
    if isinstance(term, q.Thing):
        return _Test(_not_washed_for(judge), True)
    if isinstance(term, q.Except) and isinstance(term.term, q.Thing):
        out = _formers(judge, term.left_out) | _not_washed_for(judge)
        return _Test(out, True)
    return _Test(_formers(judge, term), False)


def _not_washed_for(judge: Judge) -> frozenset[str]:
    """The film-formers of families that are no reason for a stronger wash."""
    base = judge.nouns.world.base
    families = [f for f in base.terms(Role.FILM_FAMILY) if not washed_for(base, f)]
    found = (former for family in families for former in base.instances(family))
    return frozenset(f for f in found if not washed_for(base, family_among(base, f)))


@dataclass(frozen=True, slots=True)
class _Test:
    """Whether a film-former is one of some, or none of them."""

    formers: frozenset[str]
    denied: bool

    def __call__(self, former: str) -> bool:
        return (former in self.formers) != self.denied


def _formers(judge: Judge, term: q.Term) -> frozenset[str]:
    """The film-formers that a term means; one name may be a film's and its class's."""
    found = {item.key for item in judge.terms.items(term, INGREDIENT)}
    base = judge.nouns.world.base
    if isinstance(term, q.Name) and (kind := base.find_class(term.text)):
        found.update(base.instances(kind))
    return frozenset(found)


def _clears(query: q.Query) -> Iterator[q.Clears]:
    predicate = getattr(query, "predicate", None)
    if isinstance(predicate, q.Clears):
        yield predicate


def _parsed(routine: ast.Routine, text: str, phrase: str, span: Span) -> q.Query:
    from abluent.grammar.query.parse import parse_query  # noqa: PLC0415 - needs lark

    try:
        return parse_query(text)
    except GrammarError as error:
        raise _unreadable(routine, phrase, span, error.message) from None


def _unreadable(
    routine: ast.Routine, phrase: str, span: Span, why: str
) -> GrammarError:
    start = routine.text.find(phrase, span.start, span.end)
    place = Span(start, start + len(phrase)) if start >= 0 else span
    return GrammarError(
        f"`{phrase}` cannot be read here: {why}",
        routine.text,
        place,
        hint="name it as in a question: `washes without sulfates`, `silicones`",
        name=routine.place,
    )
