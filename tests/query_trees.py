"""Random trees of the query language, of every kind of node."""

from __future__ import annotations

from abluent.grammar.query import tree
from abluent.grammar.query.words import reserved
from hypothesis import strategies as st

_PLAIN_WORDS = st.sampled_from(
    "washes sulfates silicones dimethicone water-insoluble products gums soap "
    "conditioner lime minerals anionic surfactant water hard true mildest place".split()
)
_ODD_NAMES = st.text(min_size=1, max_size=12).map(lambda text: " ".join(text.split()))
CONDITIONS = (
    "in hard water",
    "in soft water",
    "in deionised water",
    "in salt water",
    "in warm water",
    "in cold water",
    "on damaged hair",
    "on bleached hair",
    "on bleached or damaged hair",
    "on undamaged hair",
    "on a heavy load",
    "on a light load",
    "over repeated washes",
    "without rubbing",
    "on hair that was bleached",
    "on freshly bleached hair",
    "over oil worked in first",
)
"""Phrases that the tests of the language hand in, as a base would."""

_WORDED = st.sampled_from(sorted(reserved()))
query_names = st.builds(
    tree.Name,
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
    terms: st.SearchStrategy[tree.Term],
) -> st.SearchStrategy[tree.Quantified]:
    counted = sorted(tree.COUNTED, key=str)
    plain = sorted(set(tree.Quantity) - tree.COUNTED, key=str)
    return st.one_of(
        st.builds(tree.Quantified, st.sampled_from(plain), terms),
        st.builds(tree.Quantified, st.sampled_from(counted), terms, st.integers(0, 99)),
    )


_numbers = st.decimals(0, 100, places=2)
query_levels = st.one_of(
    st.builds(tree.Level, low=_numbers, open_ended=st.booleans()),
    st.builds(tree.Level, high=_numbers, open_ended=st.booleans()),
    st.tuples(_numbers, _numbers).map(lambda ends: tree.Level(min(ends), max(ends))),
)


_places = st.integers(1, 40) | st.just(tree.LAST_PLACE)


def query_acts(
    terms: st.SearchStrategy[tree.Term],
) -> st.SearchStrategy[tree.Act]:
    """A verb and its object, of each kind."""
    phrases = st.sampled_from(CONDITIONS)
    circumstances = st.lists(phrases, max_size=2, unique=True).map(tuple)
    return st.one_of(
        st.builds(
            tree.Clears,
            terms,
            st.none() | terms,
            st.sampled_from(tree.Extent),
            circumstances,
            st.integers(1, 3),
        ),
        st.builds(tree.Leaves, terms, circumstances),
        st.builds(
            tree.Contains,
            terms,
            st.none() | query_levels,
            st.none() | _places,
        ),
        st.builds(tree.Hides, terms),
        st.builds(tree.Needs, terms),
    )


_nouns = st.one_of(
    query_names,
    st.builds(tree.Thing),
    st.builds(tree.Shelf),
    st.builds(tree.Those, st.none() | query_names),
)
query_terms: st.SearchStrategy[tree.Term] = st.deferred(
    lambda: st.one_of(_nouns, _nouns, _nouns, _compound_terms)
)
query_predicates: st.SearchStrategy[tree.Predicate] = st.deferred(
    lambda: st.one_of(_simple_predicates, _compound_predicates)
)
_several_terms = st.lists(query_terms, min_size=2, max_size=3).map(tuple)
_several_predicates = st.lists(query_predicates, min_size=2, max_size=3).map(tuple)
_compound_terms: st.SearchStrategy[tree.Term] = st.one_of(
    st.builds(tree.And, _several_terms),
    st.builds(tree.Or, _several_terms),
    st.builds(tree.Except, query_terms, query_terms),
    _quantified(query_terms),
    st.builds(
        tree.Such,
        query_terms.filter(lambda term: not isinstance(term, tree.Such)),
        st.lists(query_predicates, min_size=1, max_size=3).map(tuple),
    ),
)
_acts = query_acts(query_terms)
_stated = st.lists(
    st.sampled_from(CONDITIONS), min_size=1, max_size=2, unique=True
).map(tuple)
_simple_predicates: st.SearchStrategy[tree.Predicate] = st.one_of(
    _acts,
    st.builds(tree.Is, query_terms),
    st.builds(tree.Suffices, query_terms),
    st.builds(tree.Undergoes, st.sampled_from(tree.Passive), query_terms),
    st.builds(
        tree.Undergoes,
        st.just(tree.Passive.CLEARED),
        query_terms,
        _stated,
        st.integers(1, 3),
    ),
    st.builds(tree.Differs, st.sampled_from(tree.Strength), query_terms),
    st.builds(
        tree.Resists,
        st.sampled_from(tree.Ease),
        query_terms,
        st.none() | query_terms,
    ),
    st.builds(tree.Outdoes, query_terms, query_terms),
    st.builds(tree.Precedes, query_terms, query_terms),
    st.builds(tree.Resembles, query_terms),
    st.builds(tree.Says, st.sampled_from(["silicone-free"]) | _ODD_NAMES.filter(bool)),
    st.builds(tree.Shifts, st.sampled_from(tree.Ease), _stated, _stated),
    st.builds(
        tree.Stays,
        st.lists(st.sampled_from(CONDITIONS), max_size=2, unique=True).map(tuple),
    ),
    st.builds(
        tree.Named, st.sampled_from(["*ate", "*cone*"]) | _ODD_NAMES.filter(bool)
    ),
    st.builds(tree.Among, query_terms),
)
_compound_predicates: st.SearchStrategy[tree.Predicate] = st.one_of(
    st.builds(tree.Not, query_predicates),
    st.builds(tree.Both, _several_predicates),
    st.builds(tree.Either, _several_predicates),
)
_statements = st.builds(tree.Statement, query_terms, query_predicates)
_whether = st.builds(tree.Whether, _statements)
_claims = st.builds(tree.Claim, _statements)
_arguments = st.builds(
    tree.Argue,
    st.lists(_statements, min_size=2, max_size=3).map(tuple),
    st.booleans(),
)
_orders = st.sampled_from([None, *tree.Order])
_limits = st.none() | st.integers(0, 99)
_eases = st.sampled_from(sorted(tree.EASES, key=str))
_which = st.one_of(
    st.builds(tree.Which, query_terms, st.none() | query_predicates, _orders, _limits),
    st.builds(
        tree.Which,
        query_terms,
        st.none() | query_predicates,
        _eases,
        _limits,
        query_terms,
    ),
)
_asked = _acts | st.builds(tree.Not, _acts)
_what = st.one_of(
    st.builds(tree.What, query_terms, _asked, _orders, _limits),
    st.builds(tree.What, query_terms, _asked, _eases, _limits, query_terms),
)
_about = st.one_of(
    st.builds(
        tree.About,
        st.just(tree.Aspect.WHY),
        st.one_of(st.none(), _whether, _claims, query_terms),
        st.booleans(),
    ),
    st.builds(
        tree.About,
        st.sampled_from(tree.Aspect),
        st.one_of(st.none(), _whether, _claims),
    ),
)
_plain_questions = st.one_of(
    _whether,
    _claims,
    _arguments,
    _which,
    _what,
    st.builds(tree.HowMany, _which | _what),
    st.builds(tree.HowMuch, st.just(tree.Measure.MILD), query_terms),
    st.builds(
        tree.HowMuch,
        st.just(tree.Measure.STRONG),
        query_terms,
        st.none() | query_terms,
    ),
    st.builds(tree.Rank, query_terms, st.none() | query_terms),
    st.builds(tree.Define, query_terms),
    st.builds(
        tree.Compare,
        query_terms,
        st.none() | query_terms,
        circumstances=st.just(()) | _stated,
    ),
    st.builds(tree.Amount, query_terms, query_terms),
    st.builds(tree.Task, query_terms, query_terms),
    st.builds(
        tree.Rounds,
        query_terms,
        st.builds(
            tree.Clears,
            query_terms,
            st.none() | query_terms,
            circumstances=st.just(()) | _stated,
        ),
    ),
    st.builds(tree.Compare, query_terms, lines=st.just(value=True)),
    st.builds(tree.Unlike, _whether, query_terms),
    st.builds(tree.Unlawful, query_terms),
    st.builds(tree.Saying, query_names.map(lambda name: tree.Name(name.text))),
    st.builds(tree.Conflicts, query_terms),
    _about,
)
_changes = st.one_of(
    st.builds(
        tree.With,
        query_terms,
        query_terms,
        st.none() | query_levels,
        st.none() | _places,
    ),
    st.builds(tree.Without, query_terms, query_terms),
    st.builds(tree.Become, query_terms, query_terms),
)
_questions = st.one_of(
    _plain_questions,
    st.builds(
        tree.Suppose,
        st.lists(_changes, min_size=1, max_size=3).map(tuple),
        _plain_questions,
    ),
)
queries = st.one_of(
    _questions,
    st.builds(tree.Let, query_names, query_terms),
    st.builds(tree.Save, _questions, query_names),
    st.builds(tree.Forget, query_names),
)
