"""The store, the general reasoner, proofs and traces, label reading, questions."""
