"""Answers, labels and traces as text, data and pages."""
