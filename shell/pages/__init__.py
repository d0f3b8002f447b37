"""Answers, labels and traces as text, data and pages."""

DOORS = (
    *("addition", "answer", "answer_data", "catalogue", "chain"),
    *("cited_works", "export", "html", "label", "label_data", "law"),
    *("ontology", "review", "shelf", "signs", "upkeep"),
)
"""The modules that other packages may import."""
