"""What is judged of one thing: a module for each group of verbs."""
