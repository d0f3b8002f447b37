"""What is known: vocabulary, ingredients, claims, limits, sources, shapes and rules.

Data only; ``abluent.engine.base.store`` reads it.
"""
