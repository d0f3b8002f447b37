"""Free speech read into exact questions of the question language."""
