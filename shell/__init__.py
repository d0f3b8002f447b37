"""The session object and its one-shot and interactive faces."""
