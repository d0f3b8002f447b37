"""Uses over days: what builds up, and the plans that keep it off."""

DOORS = (
    "advice",
    "advice_tried",
    "amounts",
    "buildup",
    "conditioning",
    "gentler",
    "how_often",
    "noted",
    "noted_films",
    "oftener",
    "outcome",
    "overview",
    "perhaps",
    "plan",
    "plan_model",
    "plan_outcome",
    "plan_problem",
    "plan_purchase",
    "plan_solver",
    "plan_why",
    "routine",
    "wishes",
)
"""The modules that other packages may import."""
