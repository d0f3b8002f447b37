"""Rules as relational plans, for more facts than are worth holding in one process.

`translate` turns the rules that some goals need into a plan of selections, joins and
unions; `sql` prints a plan in the dialect of a database; `duck` runs it in DuckDB.
What does not depend on the facts in bulk is closed beforehand by the reasoner. The
answers are the reasoner's; a rule that cannot be translated exactly is refused.
"""

DOORS = ("closed", "duck", "portions", "spark", "things")
"""The modules that other packages may import."""
