"""What share of some things is so: `what share of washes leave silicones`."""

from __future__ import annotations

from collections.abc import Mapping

from abluent.engine.questions.answers.answer import Answer
from abluent.engine.questions.answers.share import Share
from abluent.engine.questions.forms.whether import place_of
from abluent.engine.questions.forms.which import which
from abluent.engine.questions.verbs.judge import Judge
from abluent.engine.questions.verbs.judgement import Unanswerable, all_of
from abluent.engine.questions.world.items import Item
from abluent.grammar.common.record import replace
from abluent.grammar.query import tree as q
from abluent.grammar.query.printer import print_term


def share_of(judge: Judge, query: q.HowMany, text: str) -> Answer:
    """Count of how many things something is so, and of how many it may be.

    Raises:
        Unanswerable: nothing is said of them.
    """
    asked = query.question
    if not isinstance(asked, q.Which) or asked.predicate is None:
        raise Unanswerable("say what they should do, to ask for a share", query.span)
    members = _members(judge, asked)
    judged = judge.judge(list(members), asked.predicate)
    share = Share.of((sure, judged[item].truth) for item, sure in members.items())
    things = print_term(asked.subject)
    found = which(judge, asked, text)
    return replace(found, sentence=_told(share, things), share=share)


def _told(share: Share, things: str) -> str:
    if share.least_share is None:
        return f"There are no {things} here."
    told = f"{share} of {share.sure} {things}: {share.so} surely"
    told += f", {share.open} open." if share.open else "."
    if share.doubtful:
        told += (
            f" Counted in is that {share.doubtful} more may be among them, as a name "
            "on the label was not understood."
        )
    return told


def _members(judge: Judge, asked: q.Which) -> Mapping[Item, bool | None]:
    """What is asked about; None for what may be among it."""
    place, term = place_of(asked.predicate), asked.subject
    if not isinstance(term, q.Such):
        return dict.fromkeys(judge.terms.items(term, place), True)
    every = judge.terms.items(term.term, place)
    parts = [judge.judge(every, each) for each in term.conditions]
    joined = {item: all_of([part[item] for part in parts]).truth for item in every}
    return {item: sure for item, sure in joined.items() if sure is not False}
