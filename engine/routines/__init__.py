"""Uses over days: what builds up, and the plans that keep it off."""

DOORS = (
    "buildup",
    "outcome",
    "plan",
    "plan_problem",
    "plan_solver",
    "plan_why",
    "routine",
)
"""The modules that other packages may import."""
