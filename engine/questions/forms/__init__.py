"""The forms of question, each from its tree to an answer."""
