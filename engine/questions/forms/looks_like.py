"""What stands on a label and only sounds like what was asked for.

A salt may carry the word by which a class of cleansers is called; it is no member of
the class, and a reader who sees the word on the label is told so in one breath.
"""

from __future__ import annotations

from collections.abc import Sequence

from abluent.engine.base.fold import fold
from abluent.engine.base.phrases import with_article
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.listing import listed
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.world.items import INGREDIENT, Item
from abluent.grammar.common.text import as_sentence
from abluent.grammar.query import tree as q

_LETTERS = 4
"""A word of more letters tells a class."""


def class_asked(judge: Judge, term: q.Term) -> tuple[str, str]:
    """The class that a term names, by symbol, and the word by which it does."""
    while isinstance(term, q.Quantified):
        term = term.term
    if not isinstance(term, q.Name):
        return "", ""
    kind = judge.terms.noun(term, INGREDIENT).kind
    return (kind, term.text) if kind and judge.world.base.is_class(kind) else ("", "")


def only_in_its_name(judge: Judge, item: Item, term: q.Term) -> str:
    """Why a thing carries the word of a class to which it does not belong.

    Its counter-ion may do, or it is no cleanser at all; empty if neither is so.
    """
    kind, word = class_asked(judge, term)
    base = judge.world.base
    if not kind or item.key not in base:
        return ""
    called = fold(f"{word} {base.label(kind)}").split()
    words = {each.removesuffix("s") for each in called}
    parts = fold(base.label(item.key)).split()
    alike = [p for p in parts if any(w in p for w in words if len(w) > _LETTERS)]
    if not alike:
        return ""
    if base.record(item.key).texts("counterIon") and parts[-1] == alike[-1]:
        told = "in its name is only the partner that balances its charge"
        return f" The {alike[-1]} {told}."
    cleanser = base.term(Role.CLEANSER)
    kinds = base.classes_of(item.key)
    cleans = any(cleanser in {each, *base.ancestors(each)} for each in kinds)
    if cleanser in base.ancestors(kind) and not cleans:
        return f" It shares the word {alike[-1]}, and cleans nothing."
    return ""


def only_sounds_like(judge: Judge, items: Sequence[Item], term: q.Term) -> str:
    """What some labels list that carries the word asked for and is no such thing.

    A sentence for each kind; empty if there is nothing of the sort.
    """
    kind, word = class_asked(judge, term)
    if not kind:
        return ""
    base = judge.world.base
    words = {fold(word), fold(word).removesuffix("s")}
    members = judge.terms.wanted(term) or set()
    alike: dict[str, list[str]] = {}
    for item in items:
        for symbol in judge.nouns.on_label(item):
            name = fold(base.label(symbol)).split()
            if symbol not in members and words & {*name}:
                kinds = base.classes_of(symbol)
                alike.setdefault(kinds[0] if kinds else "", []).append(symbol)
    top = judge.terms.nouns.cleansers
    cleansers = {item.key for item in top}
    told = []
    for its, symbols in alike.items():
        names = [base.label(each) for each in sorted(symbols)]
        one = len(names) == 1
        what = with_article(base.label(its)) if one else base.plural(its)
        idle = "" if cleansers & {*symbols} else " and no cleanser"
        idle = idle if one or not idle else " and no cleansers"
        told.append(f"its {listed(names)} {'is' if one else 'are'} {what}{idle}")
    return as_sentence("; ".join(told)) if told else ""
