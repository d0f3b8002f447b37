"""A few invented names, and what a saying comes to with them."""

from __future__ import annotations

from abluent.grammar.phrase.pieces import Sense
from abluent.grammar.phrase.reading import Heard
from abluent.grammar.speech.read import read_speech
from few_names import FewNames

_WASH = frozenset({"kind", "wash", "agent"})
NAMES = {
    "quay wash": Sense("Quay Wash", frozenset({"product", "wash", "agent"})),
    "quay": Sense("Quay Wash", frozenset({"product", "wash", "agent"})),
    "reed wash": Sense("Reed Wash", frozenset({"product", "wash", "agent"})),
    "reed cream": Sense("Reed Cream", frozenset({"product"})),
    "reed mask": Sense("Reed Mask", frozenset({"product", "agent"})),
    "wash": Sense("washes", _WASH, "wash"),
    "washes": Sense("washes", _WASH, "wash"),
    "shampoo": Sense("washes", _WASH, "wash"),
    "pomade": Sense("stylers", frozenset({"kind"}), "styler", loose=True),
    "water": Sense("water", frozenset({"water", "agent"})),
    "tar": Sense("Tar", frozenset({"ingredient", "film"})),
    "pitch": Sense("Pitch", frozenset({"ingredient", "film"})),
    "lye": Sense("Lye", frozenset({"ingredient", "agent"})),
    "resins": Sense("resins", frozenset({"class", "film"}), "resin"),
    "resin": Sense("resins", frozenset({"class", "film"}), "resin"),
    "lyes": Sense("lyes", frozenset({"class", "agent"}), "lye salt"),
    "hard water": Sense("in hard water", frozenset({"condition"}), "in soft water"),
    "water is hard": Sense("in hard water", frozenset({"condition"}), "in soft water"),
    "soft water": Sense("in soft water", frozenset({"condition"}), "in hard water"),
    "products": Sense("products", frozenset({"kind"}), "product"),
    "shampoos": Sense("washes", _WASH, "wash"),
    "keen": Sense("with lyes without resins", frozenset({"sort"})),
}
LEXICON = FewNames(NAMES, {"resinz": "resins"})


def heard(text: str) -> Heard:
    """What a saying comes to."""
    return read_speech(text, LEXICON)
