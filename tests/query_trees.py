"""Random trees of the query language, of every kind of node."""

from __future__ import annotations

from abluent.grammar import query_ast
from abluent.grammar.query_words import reserved, spellings
from hypothesis import strategies as st

_PLAIN_WORDS = st.sampled_from(
    "washes sulfates silicones dimethicone water-insoluble products gums soap "
    "conditioner lime minerals anionic surfactant water hard true mildest place".split()
)
_ODD_NAMES = st.text(min_size=1, max_size=12).map(lambda text: " ".join(text.split()))
_WORDED = st.sampled_from(sorted(reserved()))
query_names = st.builds(
    query_ast.Name,
    st.one_of(
        st.lists(_PLAIN_WORDS, min_size=1, max_size=3).map(" ".join),
        st.lists(st.one_of(_PLAIN_WORDS, _WORDED), min_size=1, max_size=3).map(
            " ".join
        ),
        st.sampled_from(
            ["Harbour Cream", "Tideline Wash", "polysorbate 20", 'a "b" c']
        ),
        _ODD_NAMES.filter(bool),
    ),
    article=st.sampled_from(["", "", "a", "an", "the"]),
)


def _quantified(
    terms: st.SearchStrategy[query_ast.Term],
) -> st.SearchStrategy[query_ast.Quantified]:
    counted = sorted(query_ast.COUNTED, key=str)
    plain = sorted(set(query_ast.Quantity) - query_ast.COUNTED, key=str)
    return st.one_of(
        st.builds(query_ast.Quantified, st.sampled_from(plain), terms),
        st.builds(
            query_ast.Quantified, st.sampled_from(counted), terms, st.integers(0, 99)
        ),
    )


_numbers = st.decimals(0, 100, places=2)
query_levels = st.one_of(
    st.builds(query_ast.Level, low=_numbers, open_ended=st.booleans()),
    st.builds(query_ast.Level, high=_numbers, open_ended=st.booleans()),
    st.tuples(_numbers, _numbers).map(
        lambda ends: query_ast.Level(min(ends), max(ends))
    ),
)


def query_acts(
    terms: st.SearchStrategy[query_ast.Term],
) -> st.SearchStrategy[query_ast.Act]:
    """A verb and its object, of each kind."""
    phrases = st.sampled_from(spellings()["CIRCUMSTANCE"])
    circumstances = st.lists(phrases, max_size=2, unique=True).map(tuple)
    return st.one_of(
        st.builds(
            query_ast.Clears,
            terms,
            st.none() | terms,
            st.sampled_from(query_ast.Extent),
            circumstances,
        ),
        st.builds(query_ast.Leaves, terms, circumstances),
        st.builds(query_ast.Contains, terms, st.none() | query_levels),
        st.builds(query_ast.Hides, terms),
        st.builds(query_ast.Needs, terms),
    )


_nouns = st.one_of(
    query_names,
    st.builds(query_ast.Thing),
    st.builds(query_ast.Shelf),
    st.builds(query_ast.Those, st.none() | query_names),
)
query_terms: st.SearchStrategy[query_ast.Term] = st.deferred(
    lambda: st.one_of(_nouns, _nouns, _nouns, _compound_terms)
)
query_predicates: st.SearchStrategy[query_ast.Predicate] = st.deferred(
    lambda: st.one_of(_simple_predicates, _compound_predicates)
)
_several_terms = st.lists(query_terms, min_size=2, max_size=3).map(tuple)
_several_predicates = st.lists(query_predicates, min_size=2, max_size=3).map(tuple)
_compound_terms: st.SearchStrategy[query_ast.Term] = st.one_of(
    st.builds(query_ast.And, _several_terms),
    st.builds(query_ast.Or, _several_terms),
    st.builds(query_ast.Except, query_terms, query_terms),
    _quantified(query_terms),
    st.builds(
        query_ast.Such,
        query_terms.filter(lambda term: not isinstance(term, query_ast.Such)),
        st.lists(query_predicates, min_size=1, max_size=3).map(tuple),
    ),
)
_acts = query_acts(query_terms)
_simple_predicates: st.SearchStrategy[query_ast.Predicate] = st.one_of(
    _acts,
    st.builds(query_ast.Is, query_terms),
    st.builds(query_ast.Suffices, query_terms),
    st.builds(query_ast.Differs, st.sampled_from(query_ast.Strength), query_terms),
    st.builds(
        query_ast.Named, st.sampled_from(["*ate", "*cone*"]) | _ODD_NAMES.filter(bool)
    ),
    st.builds(query_ast.Among, query_terms),
)
_compound_predicates: st.SearchStrategy[query_ast.Predicate] = st.one_of(
    st.builds(query_ast.Not, query_predicates),
    st.builds(query_ast.Both, _several_predicates),
    st.builds(query_ast.Either, _several_predicates),
)
_statements = st.builds(query_ast.Statement, query_terms, query_predicates)
_whether = st.builds(query_ast.Whether, _statements)
_claims = st.builds(query_ast.Claim, _statements)
_orders = st.sampled_from([None, *query_ast.Order])
_limits = st.none() | st.integers(0, 99)
_which = st.builds(
    query_ast.Which, query_terms, st.none() | query_predicates, _orders, _limits
)
_what = st.builds(
    query_ast.What,
    query_terms,
    _acts | st.builds(query_ast.Not, _acts),
    _orders,
    _limits,
)
_about = st.one_of(
    st.builds(
        query_ast.About,
        st.just(query_ast.Aspect.WHY),
        st.one_of(st.none(), _whether, _claims, query_terms),
        st.booleans(),
    ),
    st.builds(
        query_ast.About,
        st.sampled_from(query_ast.Aspect),
        st.one_of(st.none(), _whether, _claims),
    ),
)
_plain_questions = st.one_of(
    _whether,
    _claims,
    _which,
    _what,
    st.builds(query_ast.HowMany, _which | _what),
    st.builds(query_ast.Define, query_terms),
    st.builds(query_ast.Compare, query_terms, st.none() | query_terms),
    _about,
)
_changes = st.one_of(
    st.builds(
        query_ast.With,
        query_terms,
        query_terms,
        st.none() | query_levels,
        st.none() | st.integers(1, 40),
    ),
    st.builds(query_ast.Without, query_terms, query_terms),
    st.builds(query_ast.Become, query_terms, query_terms),
)
_questions = st.one_of(
    _plain_questions,
    st.builds(
        query_ast.Suppose,
        st.lists(_changes, min_size=1, max_size=3).map(tuple),
        _plain_questions,
    ),
)
queries = st.one_of(
    _questions,
    st.builds(query_ast.Let, query_names, query_terms),
    st.builds(query_ast.Save, _questions, query_names),
    st.builds(query_ast.Forget, query_names),
)
