"""An answer as one JSON object: the machine-readable face, kept stable."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from abluent.engine.base.contract import LEVEL, PRESENT, SHOWS
from abluent.engine.base.phrases import product_name
from abluent.engine.base.roles import Role
from abluent.engine.questions.answers.advised import advised
from abluent.engine.questions.answers.answer import (
    Answer,
    Finding,
    Member,
    NotMember,
    Row,
)
from abluent.engine.questions.answers.cautions import cautions
from abluent.engine.questions.answers.explained import Explained
from abluent.engine.questions.answers.folded_words import (
    foldings,
    in_data,
    phrases,
)
from abluent.engine.questions.answers.folding import Folding, same_standing
from abluent.engine.questions.answers.rows import (
    ABOUT_DEGREES,
    ABOUT_LEVELS,
    LEFT_WORDS,
    all_rows,
    cited,
    named,
    thing,
    title,
    verdict,
)
from abluent.engine.questions.answers.verdicts import End, Left, Verdict
from abluent.engine.reading.name_rules import PatternScore
from abluent.grammar.common.text import in_words

WORDS = {Role.NONE_OF_IT: "none", Role.PART_OF_IT: "part", Role.ALL_OF_IT: "all"}
"""How the machine-readable face calls the effects of a wash."""


def answer_json(answer: Answer, query: str) -> dict[str, Any]:
    """Return an answer as plain data; `query` is the question as it was typed."""
    shown: dict[str, Any] = {
        "query": query,
        "understood": answer.query,
        "sentence": answer.sentence,
        "answers": [row_json(row) for row in answer.rows],
    }
    if answer.unused:
        shown["unused"] = list(answer.unused)
    if answer.claim:
        proof = answer.rows[0].proof.root.key if answer.rows else None
        claim = {"claim": answer.claim, "witness": answer.witness or None}
        shown = {"query": query, **claim, "proof": proof, **shown}
    shown["others"] = [row_json(row) for row in answer.others]
    shown["folded"] = folded_json(answer)
    shown["findings"] = [finding_json(each) for each in answer.findings]
    if answer.compared:
        shown["compared"] = [answer_json(each, each.query) for each in answer.compared]
    if answer.share is not None:
        shown["share"] = {**answer.share._asdict(), **answer.share.json()}
    if answer.score:
        shown["score"] = score_json(answer.score)
    shown["notes"] = list(answer.notes)
    shown["cautions"] = list(cautions(all_rows(answer)))
    if line := advised(answer):
        shown["advice"] = {
            "matter": in_words(line.matter),
            "about": line.advice.about,
            "text": line.advice.text,
            "standing": in_words(line.advice.basis.standing),
        }
    return shown


def folded_json(answer: Answer) -> list[dict[str, Any]]:
    """Return what the verdicts of an answer fold to, each with all its members.

    All that one folding stands for has the same verdict, ends and dispute, and
    stands alike; `so` tells whether it is among the answers or the others.
    """
    told = []
    for so, rows in ((True, answer.rows), (False, answer.others)):
        found = foldings(rows, same_standing)
        for each, says in zip(found, phrases(found), strict=True):
            told.append({"so": so, "says": says, **_folding(each)})
    return told


def _folding(each: Folding) -> dict[str, Any]:
    row, base = each.first, each.first.case.world.base
    shown = _subject(row)
    same = ("verdict", "at_least", "at_most", "disputed")
    ends = {key: shown[key] for key in same}
    for end in filter(None, (ends["at_least"], ends["at_most"])):
        del end["proof"]
    return {
        **ends,
        "standing": in_words(row.standing) or None,
        "washes": in_data(base, each.washes.terms),
        "films": in_data(base, each.films.terms),
        "members": [
            {"wash": r.wash, "film": named(r, r.film), "from": r.source or None}
            for r in each.members
        ],
    }


def score_json(score: PatternScore) -> dict[str, Any]:
    """Return how far a rule of thumb about names holds; a share is null of nothing."""
    precision, recall = score.precision, score.recall
    return {
        "pattern": score.pattern,
        "kind": score.kind,
        "precision": None if precision is None else float(precision),
        "recall": None if recall is None else float(recall),
        "right": list(score.right),
        "wrong": list(score.wrong),
        "missed": list(score.missed),
        "others": score.others,
    }


def row_json(row: Row) -> dict[str, Any]:
    """Return one row as plain data, with its reasons and the key of its proof.

    A disputed verdict has the chains of both sides and where they part.
    """
    shown = {**_subject(row), **_grounds(row)}
    if isinstance(row, Verdict) and row.disputed:
        from abluent.engine.questions.about.dispute import parted

        shown["dispute"] = [finding_json(each) for each in parted(row, whole=True)]
    return shown


def finding_json(found: Finding) -> dict[str, Any]:
    """Return what was found out about an answer as plain data.

    `complete` tells whether a search came to its end; it is null if none was made.
    """
    return {
        "kind": found.kind,
        "head": found.head,
        "items": list(found.items),
        "complete": found.complete,
    }


def _subject(row: Row) -> dict[str, Any]:
    shown: dict[str, Any]
    if isinstance(row, Verdict):
        return {
            "wash": row.wash,
            "film": named(row, row.film),
            "from": row.source or None,
            "verdict": verdict(row),
            "at_least": _end(row.at_least),
            "at_most": _end(row.at_most),
            "disputed": [WORDS[effect] for effect in row.contested],
            "conditions": conditions(row),
        }
    if isinstance(row, Left):
        shown = {"wash": None, "film": named(row, row.film), "from": row.source}
        shown |= {"ingredient": named(row, row.film), "leaves": LEFT_WORDS[row.how]}
        return shown | {"conditions": conditions(row)}
    shown = {"member": thing(row), "kind": row.item.kind}
    if row.goal[0] in ABOUT_LEVELS:
        shown |= {"product": product_name(row.goal[1][0]), "level": title(row)}
        shown |= {"open": row.goal[0] == LEVEL}
    if row.goal[0] in ABOUT_DEGREES:
        shown |= {"says": title(row), **_by_test(row)}
    if row.goal[0] == "isa":
        shown |= {"class": str(row.goal[1][1]), "is": isinstance(row, Member)}
    return shown


def _end(end: End | None) -> dict[str, Any] | None:
    if end is None:
        return None
    standing = in_words(end.standing) or None
    return {
        "effect": WORDS[end.effect],
        "standing": standing,
        "proof": end.proof.root.key,
    }


def conditions(row: Explained) -> list[str]:
    """Return under which conditions a row was judged, in words."""
    base, model = row.case.world.base, row.case.model
    return [base.label(str(each)) for (each,) in sorted(model.match(PRESENT, (None,)))]


def _grounds(row: Explained) -> dict[str, Any]:
    return {
        "standing": in_words(row.standing) or None,
        "from_memory": row.from_memory,
        "reasons": list(row.reasons),
        "weakest": list(row.weakest),
        "caveats": list(row.caveats),
        "sources": [
            {"id": symbol, "citation": citation}
            for symbol, citation in zip(row.sources, cited(row), strict=True)
        ],
        "lines": [
            {"product": product_name(place.product), "span": [place.start, place.end]}
            for _, place in row.lines
        ],
        "proof": row.proof.root.key,
    }


def _by_test(row: Member | NotMember) -> dict[str, Any]:
    """Return what a wash shows by a test of mildness as numbers."""
    if row.goal[0] != SHOWS:
        return {}
    _, test, low, high = row.goal[1]
    ends = {"low": float(Fraction(str(low))), "high": float(Fraction(str(high)))}
    return {"test": named(row, str(test)), **ends}
