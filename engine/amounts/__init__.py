"""How much of each ingredient there can be, and what follows from amounts."""
