"""The names of ingredients, from their parts."""
