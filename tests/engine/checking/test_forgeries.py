"""Forgeries of a real answer by someone who knows the format and remakes each hash.

The kinds marked alone are refused by the trace's own rules and facts; the others say
nothing that these could show to be false, and are refused by the base.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from abluent.engine.checking import checker, kernel
from abluent.engine.trace.answer import traces
from abluent.shell.session.session import Session

Forgery = Callable[[Any], None]
QUESTION = 'does "Tideline Wash" clear everything from "Harbour Cream"'
ALONE: dict[str, Forgery] = {}
BY_BASE: dict[str, Forgery] = {}


def alone(forgery: Forgery) -> Forgery:
    ALONE[forgery.__name__.replace("_", " ")] = forgery
    return forgery


def by_base(forgery: Forgery) -> Forgery:
    BY_BASE[forgery.__name__.replace("_", " ")] = forgery
    return forgery


def rows(trace: Any) -> Any:
    return trace["verdict"]["answers"]


def swap(one: Any, two: Any, key: str) -> None:
    one[key], two[key] = two[key], one[key]


# -- rows


@alone
def a_verdict_is_that_of_another_row(trace: Any) -> None:
    rows(trace)[0]["verdict"] = "clears"


@alone
def two_rows_change_their_proofs(trace: Any) -> None:
    swap(*rows(trace)[:2], "proof")


@alone
def two_rows_change_their_films(trace: Any) -> None:
    swap(*rows(trace)[:2], "film")


@alone
def two_rows_change_one_end(trace: Any) -> None:
    swap(*rows(trace)[:2], "lower")


@alone
def the_two_ends_change_places(trace: Any) -> None:
    for row in rows(trace):
        row["lower"], row["upper"] = row["upper"], row["lower"]


@alone
def an_end_disappears(trace: Any) -> None:
    del rows(trace)[0]["upper"]


@alone
def a_question_is_said_to_be_disputed(trace: Any) -> None:
    rows(trace)[0]["contested"][0]["holds"] = True


@alone
def whether_it_is_disputed_disappears(trace: Any) -> None:
    rows(trace)[0]["contested"].pop()


@alone
def a_key_is_made_up(trace: Any) -> None:
    rows(trace)[0]["products that contain no sulfate"] = "all"


@alone
def the_answer_says_more(trace: Any) -> None:
    trace["verdict"]["headline"] = "it clears everything"


@alone
def a_row_stands_higher(trace: Any) -> None:
    rows(trace)[0]["standing"] = "lawOrStandard"


@alone
def a_goal_is_given_to_another_row(trace: Any) -> None:
    parts = [goal for goal in trace["goals"] if goal["part"]]
    parts[0]["row"] = len(rows(trace)) - 1


@alone
def the_end_of_another_film_is_given_to_a_row(trace: Any) -> None:
    goals = trace["goals"]
    first, *_, last = [g for g in goals if g["atom"][0] == "lower"]
    goals.remove(last)
    goals[goals.index(first)] = {**last, "row": first["row"]}
    rows(trace)[0]["lower"] = rows(trace)[-1].pop("lower")


@alone
def a_row_disappears_and_its_goals_stay(trace: Any) -> None:
    rows(trace).pop()


# -- labels


@alone
def the_label_of_a_product_is_left_out(trace: Any) -> None:
    trace["labels"].pop()


@alone
def a_line_is_left_out(trace: Any) -> None:
    line = trace["labels"][0]["lines"].pop()
    origin = f"label {trace['labels'][0]['product']} {line['start']}-{line['end']}"
    trace["facts"] = [f for f in trace["facts"] if f["origin"] != origin]


@alone
def a_label_goes_on(trace: Any) -> None:
    trace["labels"][0]["text"] += ", Dimethicone"


@by_base
def a_line_is_called_an_aside(trace: Any) -> None:
    label = trace["labels"][0]
    line = label["lines"].pop()
    label["notes"].append({**{k: line[k] for k in ("start", "end")}, "why": "aside"})
    origin = f"label {label['product']} {line['start']}-{line['end']}"
    trace["facts"] = [f for f in trace["facts"] if f["origin"] != origin]


@by_base
def a_label_is_longer_by_an_aside(trace: Any) -> None:
    label = trace["labels"][0]
    end = len(label["text"])
    label["text"] += " free of silicone"
    note = {"start": end, "end": len(label["text"]), "why": "aside"}
    label["notes"].append(note)


# -- the question


@by_base
def the_question_is_another(trace: Any) -> None:
    for part in ("question", "canonical"):
        trace[part] = trace[part].replace("Tideline", "Shallows")


@by_base
def only_the_understood_question_is_another(trace: Any) -> None:
    trace["canonical"] = trace["canonical"].replace("everything", '"Dimethicone"')


@by_base
def the_question_is_one_that_has_no_such_answer(trace: Any) -> None:
    for part in ("question", "canonical"):
        trace[part] = 'does "Cetyl Alcohol" contain anything named "*cone"'


@by_base
def the_question_cannot_be_asked_of_such_a_thing(trace: Any) -> None:
    for part in ("question", "canonical"):
        trace[part] = 'what does "Cetyl Alcohol" leave'


@by_base
def a_condition_is_added_to_the_question(trace: Any) -> None:
    for part in ("question", "canonical"):
        trace[part] += " in soft water"


@by_base
def a_caution_is_left_out(trace: Any) -> None:
    trace["cautions"].pop()


@by_base
def a_row_is_left_out_with_its_goals(trace: Any) -> None:
    last = len(rows(trace)) - 1
    rows(trace).pop()
    trace["goals"] = [goal for goal in trace["goals"] if goal["row"] != last]
    kept = kernel.below(trace["nodes"], [goal["root"] for goal in trace["goals"]])
    trace["nodes"] = {key: trace["nodes"][key] for key in kept}


@by_base
def a_supposition_is_slipped_in(trace: Any) -> None:
    part = next(f for f in trace["facts"] if f["atom"][0] == "line")
    new = [*part["atom"][:2], {"n": "99"}, "dimethicone"]
    trace["facts"].append({**part, "atom": new, "origin": "the supposition"})
    trace["supposed"]["added"].append(new)


# -- what the base says


@by_base
def a_fact_is_made_up(trace: Any) -> None:
    trace["facts"].append(
        {**trace["facts"][0], "atom": ["kind", "dimethicone", "wash"]}
    )


@by_base
def a_fact_of_no_known_kind_is_made_up(trace: Any) -> None:
    part = next(f for f in trace["facts"] if not f["sources"] and not f["standing"])
    trace["facts"].append({**part, "atom": ["harmless", "dimethicone"]})


@by_base
def a_rule_is_made_up(trace: Any) -> None:
    rules = trace["program"]["rules"]
    rules["mine"] = deepcopy(rules[min(rules)])


@by_base
def a_rule_that_is_not_used_says_something_else(trace: Any) -> None:
    nodes = trace["nodes"].values()
    used = {node["rule"] for node in nodes if node["kind"] == "rule"}
    name = min(trace["program"]["rules"].keys() - used)
    trace["program"]["rules"][name]["says"] = "nothing of the kind"


@by_base
def a_work_is_cited_as_another(trace: Any) -> None:
    name = min(trace["sources"])
    trace["sources"][name] = "An invented work, 1912"


@by_base
def a_name_that_no_sentence_uses_is_changed(trace: Any) -> None:
    trace["names"]['["dimethicone","plural"]'] = "sulfates"


@pytest.fixture(scope="module")
def session() -> Session:
    return Session.open()


@pytest.fixture(scope="module")
def true(session: Session) -> Any:
    (trace,) = traces(session.ask(QUESTION), QUESTION)
    return json.loads(json.dumps(trace))


def forged(true: Any, forgery: Forgery) -> Any:
    """A forgery of a true trace, under its right digest."""
    trace = deepcopy(true)
    forgery(trace)
    assert trace != true
    del trace["digest"]
    return {**trace, "digest": kernel.digest(trace)}


def test_the_true_trace_holds_and_has_what_is_forged(true: Any) -> None:
    """Several rows, each with both ends and what might be disputed."""
    assert checker.check(true).problems == ()
    assert len(rows(true)) > 2
    assert all({"lower", "upper", "contested"} <= row.keys() for row in rows(true)[:2])


@pytest.mark.parametrize("kind", sorted(ALONE))
def test_what_contradicts_itself_is_refused_without_a_base(
    true: Any, kind: str
) -> None:
    result = checker.check(forged(true, ALONE[kind]))
    assert not result.ok
    assert result.problems[0][1]


@pytest.fixture(scope="module")
def base_of(session: Session) -> Callable[[Any], Any]:
    """The base that a trace is held against, made once for all that ask alike."""
    made: dict[str, str] = {}

    def base_for(trace: Any) -> Any:
        parts = [trace[part] for part in ("question", "canonical", "supposed")]
        predicates = sorted({fact["atom"][0] for fact in trace["facts"]})
        key = json.dumps([*parts, trace["labels"], predicates])
        if key not in made:
            made[key] = json.dumps(session.base_for(trace))
        return json.loads(made[key])

    return base_for


@pytest.mark.slow
@pytest.mark.parametrize("kind", sorted(BY_BASE))
def test_what_is_not_so_by_the_base_is_refused(
    base_of: Callable[[Any], Any], true: Any, kind: str
) -> None:
    trace = forged(true, BY_BASE[kind])
    result = checker.check(trace, base_of(trace))
    assert not result.ok
    assert "malformed" not in result.problems[0][1]


@pytest.mark.slow
def test_an_own_shelf_is_told_apart(session: Session, true: Any) -> None:
    """A label that is not that of the shelf is another product, and is said to be."""
    trace = deepcopy(true)
    base = session.base_for({**trace, "labels": [*trace["labels"]]})
    assert base["asked"][0]["ownShelf"] is False
    trace["labels"][0]["text"] += " "
    assert session.base_for(trace)["asked"][-1]["ownShelf"] is True
