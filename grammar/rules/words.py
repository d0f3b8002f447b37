"""How rules are put in words: what is written for a sign, and which words are kept."""

from __future__ import annotations

# How the language writes what the tree has a sign or a short name for.
SIGNS = {
    "=": "equals",
    "!=": "differs from",
    "<": "is below",
    "<=": "is at most",
    ">": "is above",
    ">=": "is at least",
}
FUNCTIONS = {"count": "count of", "sum": "sum of", "min": "least of", "max": "most of"}
# Words that would be read otherwise where a name may stand: it stands in quotes then.
KEPT = frozenset(
    "and anything because comes differs equals nothing or perhaps rule so something "
    "standings stops the unless unsaid where written".split()
)
# Words of other languages of rules, which are better pointed out than taken as names.
STRANGE = {
    "is": "A value is compared by `equals` and given by `comes to`.",
    "not": "Absence is said by `nothing shows` and what is not there.",
    "if": "Conditions stand after `because`.",
    "then": "What follows stands after `so`.",
    "or": "There is no `or`: write one rule for each case.",
    "_": "Some value that nobody cares about is `something`.",
}
