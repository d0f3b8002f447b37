"""Uses over days: what builds up, and the plans that keep it off."""

DOORS = (
    "advice",
    "amounts",
    "buildup",
    "examples",
    "outcome",
    "overview",
    "plan",
    "plan_model",
    "plan_problem",
    "plan_solver",
    "plan_why",
    "routine",
    "wishes",
)
"""The modules that other packages may import."""
