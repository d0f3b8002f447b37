"""What the tool answers, compared with what it answered before.

`python -m tests.kept` from the top folder computes every verdict, answer and page of
the demo shelf and of the guard sets, and shows each cell that is not as it is kept in
`state/`, old and new, with its reason from `reasons/`. See `DEVELOPERS.md`.
"""
