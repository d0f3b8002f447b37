"""The few names that plain questions are read with in tests."""

from __future__ import annotations

from abluent.grammar.phrase.pieces import Sense
from few_names import FewNames

_WASH = frozenset({"kind", "wash", "agent"})
NAMES = {
    "quay wash": Sense("Quay Wash", frozenset({"product", "wash", "agent"})),
    "reed wash": Sense("Reed Wash", frozenset({"product", "wash", "agent"})),
    "reed cream": Sense("Reed Cream", frozenset({"product"})),
    "heron": Sense("Reed Heron", frozenset({"product"}), loose=True),
    "the pot": Sense("Moss Oil", frozenset({"product"}), loose=True),
    "moss oil": Sense("Moss Oil", frozenset({"product"})),
    "wash": Sense("washes", _WASH, "wash"),
    "washes": Sense("washes", _WASH, "wash"),
    "creams": Sense("creams", frozenset({"kind"}), "cream"),
    "tar": Sense("Tar", frozenset({"ingredient", "film"})),
    "pitch": Sense("Pitch", frozenset({"ingredient", "film"})),
    "lye": Sense("Lye", frozenset({"ingredient", "agent"})),
    "lyes": Sense("lyes", frozenset({"class", "agent"}), "lye salt"),
    "resins": Sense("resins", frozenset({"class", "film"}), "resin"),
    "resin": Sense("resins", frozenset({"class", "film"}), "resin"),
    "in hard water": Sense("in hard water", frozenset({"condition"})),
    "on damaged hair": Sense("on damaged hair", frozenset({"condition"})),
    "damaged hair": Sense("on damaged hair", frozenset({"condition"})),
    "hard water": Sense("in hard water", frozenset({"condition"})),
    "anionic": Sense("anionic", frozenset({"value", "class", "film", "agent"})),
    "keen": Sense("with lyes without resins", frozenset({"sort"})),
}
LEXICON = FewNames(NAMES, {"resinns": "resins"})
