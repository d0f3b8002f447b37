"""What the text of a label says, and what each name on it stands for."""
