"""What verbs and small words of a clause say: a frame for each, to trees of `query`."""

DOORS = (
    *("advice", "between", "choosing", "clause", "contents", "contrasts", "ease"),
    *("either", "exchanged", "gathered", "inside", "kinds", "lacking", "needs"),
    *("promises", "removal", "residue", "statement", "where_each"),
)
"""The modules that other packages may import."""
