"""Questions about an answer: why, how sure, what would turn it."""
