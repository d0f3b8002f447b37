"""The checker accepts true traces and names the first place of a false one."""

from __future__ import annotations

import json
import subprocess
import sys
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from abluent.engine.checking import checker, kernel
from abluent.engine.checking.reword import sentences
from abluent.engine.proof.trace import Supposed, TracedGoal
from forging import restate
from toys import fact, known
from traced import base_of, bread, samples, traced

SAMPLES = samples()
TOYS = "toys 1 (digest abc)"
NEIGHBOURS = (
    "checker",
    "kernel",
    "follows",
    "foldings",
    "against",
    "replay",
    "reword",
    "quantities",
    "bounds",
    "label_limits",
    "label_rows",
)


@pytest.mark.parametrize("name", sorted(SAMPLES))
def test_true_traces_are_accepted(name: str) -> None:
    """By themselves and against the base they come from."""
    knowledge, trace = SAMPLES[name]
    assert checker.check(trace) == (True, (), (), "")
    assert checker.check(trace, base_of(knowledge, trace)) == (True, (), (), TOYS)


def test_the_samples_use_every_kind_of_node() -> None:
    """So that each is exercised below."""
    nodes = [node for _, trace in SAMPLES.values() for node in trace["nodes"].values()]
    assert {node["kind"] for node in nodes} == set(kernel.NODE_KEYS)


def refused(trace: Any, base: Any = None) -> tuple[str, str]:
    """The first problem of a trace that must not be accepted."""
    result = checker.check(trace, base)
    assert not result.ok
    return result.problems[0]


def sample(name: str) -> Any:
    return deepcopy(SAMPLES[name][1])


def node_of(trace: Any, kind: str) -> tuple[str, Any]:
    """The first node of a kind, with its hash."""
    return next((k, n) for k, n in trace["nodes"].items() if n["kind"] == kind)


@pytest.mark.parametrize("kind", sorted(kernel.NODE_KEYS))
def test_a_changed_node_is_named_by_its_hash(kind: str) -> None:
    """Whatever is changed in a node, its hash no longer fits."""
    trace = next(
        deepcopy(t)
        for _, t in SAMPLES.values()
        if any(n["kind"] == kind for n in t["nodes"].values())
    )
    key, node = node_of(trace, kind)
    node["extra"] = 1
    place, text = refused(trace)
    assert place == key
    assert "hash" in text


def test_a_missing_premise_is_named() -> None:
    """A node that is not there cannot support anything."""
    trace = sample("family")
    key, _ = node_of(trace, "fact")
    del trace["nodes"][key]
    assert refused(trace) == (key, "is not among the nodes")


def test_a_circle_is_refused() -> None:
    """Hashes make circles impossible to write; the checker looks anyway."""
    trace = sample("same")
    key, node = node_of(trace, "rule")
    node["premises"] = [key]
    assert refused(trace) == (key, "rests on itself")


def test_a_fact_that_is_not_asserted_is_refused() -> None:
    """Facts of the proof must be among the facts of the trace."""
    trace = sample("family")
    key, node = node_of(trace, "fact")
    trace["facts"] = [each for each in trace["facts"] if each["atom"] != node["atom"]]
    assert refused(trace) == (key, "is not among the facts")


def test_a_fact_that_ends_an_absence_is_found_by_running_the_rules() -> None:
    """Dot has a child after all, so she is not childless."""
    trace = sample("family")
    trace["facts"].append({**trace["facts"][0], "atom": ["parent", "dot", "eli"]})
    place, text = refused(trace)
    assert trace["nodes"][place]["kind"] == "absent"
    assert text == "is not absent"


def test_an_absence_that_only_a_chain_of_rules_ends_is_found() -> None:
    """A way from a to x appears through two edges and the recursive rule."""
    trace = sample("roads")
    trace["facts"].append({**trace["facts"][0], "atom": ["edge", "d", "x"]})
    place, text = refused(trace)
    assert trace["nodes"][place]["atom"] == ["path", "a", "x"]
    assert text == "is not absent"


def test_an_overlooked_member_of_a_collection_is_found() -> None:
    """Another thing on the shelf changes the sum."""
    trace = sample("levels")
    trace["facts"] += [
        {**trace["facts"][0], "atom": ["on", "s", "vase"]},
        {**trace["facts"][0], "atom": ["weight", "vase", {"n": "1"}]},
    ]
    place, text = refused(trace)
    assert trace["nodes"][place]["kind"] == "collect"
    assert text == "does not collect every member once"


def test_every_step_can_be_put_in_words() -> None:
    """They are made from the step, so that none can say anything else."""
    trace = sample("family")
    key, node = node_of(trace, "rule")
    assert sentences(trace)[key] == "cy is a parent of dot"
    del trace["names"]['["ann",""]']
    assert refused(trace)[1].startswith("is malformed: KeyError")
    assert node["rule"]


def test_a_number_must_be_shown_as_itself() -> None:
    """Names may be anything, figures not."""
    trace = sample("levels")
    name = '[{"n":"5"},""]'
    trace["names"][name] = "7"
    assert "shows another number" in refused(trace)[1]


@pytest.mark.parametrize(
    ("change", "text"),
    [
        (lambda label: label["lines"].pop(1), "places"),
        (lambda label: label["lines"][0].update(printed="Sugar"), "printed otherwise"),
        (lambda label: label["lines"][0].update(end=19), "printed otherwise"),
        (lambda label: label["notes"].pop(), "'May contain nuts' is left out"),
        (lambda label: label["notes"][0].update(end=15), "overlap"),
        (lambda label: label["notes"][0].update(why=" "), "no reason"),
        (lambda label: label.update(text=label["text"] + " oats"), "' oats' is left"),
        (lambda label: label.update(product="product/bun"), "is not there"),
    ],
)
def test_every_letter_of_a_label_is_accounted_for(change: Any, text: str) -> None:
    """A line that is dropped, moved or reworded is noticed."""
    trace = sample("bread")
    change(trace["labels"][0])
    if text == "places":
        assert "next place" in refused(trace)[1]
    else:
        assert text in refused(trace)[1]


def test_dropping_a_line_with_its_facts_leaves_letters_over() -> None:
    """Even if the places are numbered anew."""
    trace = sample("bread")
    dropped = trace["labels"][0]["lines"].pop()
    origin = f"label product/loaf {dropped['start']}-{dropped['end']}"
    trace["facts"] = [each for each in trace["facts"] if each["origin"] != origin]
    trace["goals"], trace["verdict"] = [], {"answers": []}
    trace["nodes"] = {}
    assert "'Salt' is left out" in refused(trace)[1]


def test_sources_are_listed_cited_and_have_a_text() -> None:
    """No citation is missing, and none is padding."""
    trace = sample("family")
    trace["sources"]["survey"] = " "
    assert refused(trace) == ("survey", "has no citation")
    del trace["sources"]["survey"]
    assert refused(trace) == ("survey", "is cited and not listed")
    trace = sample("family")
    trace["sources"]["padding"] = "A thick book"
    assert refused(trace) == ("padding", "is listed and not cited")


@pytest.mark.parametrize(
    ("part", "said"), [("standing", "law"), ("memory", True), ("weakest", [])]
)
def test_a_goal_stands_as_its_weakest_step(part: str, said: Any) -> None:
    """The stated standing is recomputed from the nodes."""
    trace = sample("family")
    trace["goals"][0][part] = said
    place, text = refused(trace)
    assert place == trace["goals"][0]["root"]
    assert part in text


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ("holds", False),
        ("standing", "law"),
        ("memory", True),
        ("proof", "0" * 16),
        ("term 1", "bob"),
    ],
)
def test_the_verdict_says_what_the_goals_show(part: str, said: Any) -> None:
    """Every part of a verdict is held against its goal."""
    trace = sample("family")
    trace["verdict"]["answers"][0][part] = said
    assert refused(trace) == ("verdict", f"row 1: {part} is not what its goal shows")


def test_a_verdict_may_say_nothing_that_is_not_shown() -> None:
    """A part that no goal accounts for is refused."""
    trace = sample("family")
    trace["verdict"]["also"] = "the moon is made of cheese"
    assert refused(trace)[0] == "verdict"
    trace = sample("family")
    trace["verdict"]["answers"][1]["also"] = "the moon is made of cheese"
    assert refused(trace) == ("verdict", "row 2: also is not what its goal shows")


def test_nodes_and_words_that_belong_to_no_goal_are_refused() -> None:
    """A trace holds what it needs and nothing else."""
    trace = sample("family")
    trace["goals"].pop(0)
    trace["verdict"]["answers"].pop(0)
    for goal in trace["goals"]:
        goal["row"] -= 1
    assert "shows nothing" in refused(trace)[1]


def test_any_other_change_shows_in_the_digest() -> None:
    """The question and the cautions are proven by nothing but belong to the trace."""
    trace = sample("family")
    trace["cautions"] = []
    assert refused(trace)[0] == "digest"


def test_a_trace_of_another_base_is_refused_against_a_base() -> None:
    """Rules, facts, citations, standings and words must be the base's own."""
    knowledge, trace = SAMPLES["family"]
    base = base_of(knowledge, trace)
    changes: list[tuple[str, Any]] = [
        ("rule", lambda b: b["program"]["rules"]["childless"].update(says="other")),
        ("standings", lambda b: b["program"]["standings"].reverse()),
        ("predicates", lambda b: b["program"]["predicates"].update(parent=["", ""])),
        ("sources", lambda b: b["sources"].update(survey="Another survey")),
        ("names", lambda b: b["names"].update({'["ann",""]': "Anna"})),
        ("base", lambda b: b["facts"]["parent"].pop(0)),
    ]
    for _, change in changes:
        other = deepcopy(base)
        change(other)
        refused(trace, other)


def test_a_fact_kept_from_the_trace_is_found_in_the_base() -> None:
    """Absence is tried against all facts of the base, not only those shown."""
    knowledge, trace = SAMPLES["roads"]
    base = base_of(knowledge, trace)
    edges = base["facts"]["edge"]
    edges.append({**edges[0], "atom": ["edge", "d", "x"]})
    place, text = refused(trace, base)
    assert (trace["nodes"][place]["atom"], text) == (
        ["path", "a", "x"],
        "is not absent",
    )


def test_a_rule_kept_from_the_trace_is_found_in_the_base() -> None:
    """Leaving out the rule that ends an absence is noticed."""
    knowledge, trace = SAMPLES["roads"]
    base = base_of(knowledge, trace)
    base["program"]["rules"]["teleport"] = {
        **base["program"]["rules"]["edge"],
        "body": [
            ["is", ["edge", {"v": "a"}, None]],
            ["is", ["edge", {"v": "b"}, None]],
        ],
    }
    place, text = refused(trace, base)
    assert (trace["nodes"][place]["atom"], text) == (
        ["path", "a", "x"],
        "is not absent",
    )


def test_a_supposition_is_declared_and_must_be_so() -> None:
    """What is supposed is listed; a listed fact that is not there is refused."""
    trace = sample("family")
    trace["supposed"]["added"] = [["parent", "dot", "eli"]]
    assert refused(trace) == ("supposed", "is not so")


def test_a_trace_that_supposes_facts_says_so() -> None:
    """It holds against the base, and whoever reads the result is told."""
    knowledge, plain_trace = SAMPLES["family"]
    child, gone = fact("parent", "dot", "eli"), fact("person", "ann")
    changed = knowledge.but([child], [("person", ("ann",))])
    trace = traced(
        changed, ("ancestor", ("ann", "eli")), supposed=Supposed((child,), (gone,))
    )
    base = base_of(knowledge, trace)
    supposed = ("that parent(dot, eli)", "not that person(ann)")
    assert checker.check(trace, base) == (True, (), supposed, TOYS)
    assert not checker.check(plain_trace, base).supposed
    trace = traced(changed, ("ancestor", ("ann", "eli")))
    assert refused(trace, base)[1] == "is not in the base"


@pytest.mark.parametrize(
    "broken",
    [
        None,
        [],
        {},
        "trace",
        {"format": "other"},
        {**SAMPLES["family"][1], "nodes": []},
        {**SAMPLES["family"][1], "goals": [{}]},
        {**SAMPLES["family"][1], "facts": [{"atom": []}]},
        {**SAMPLES["family"][1], "program": {"rules": []}},
    ],
)
def test_what_is_no_trace_is_refused_without_a_crash(broken: Any) -> None:
    """Malformed data is a problem like any other."""
    assert refused(broken)


def test_a_trace_of_an_earlier_version_says_how_to_go_on() -> None:
    """Its format is told before what it lacks, with the way out."""
    place, why = refused({"format": "abluent-trace/1", "question": "does it clear"})
    assert place == "format"
    assert "abluent-trace/1" in why
    assert "ask its question again" in why


def test_labels_with_their_facts_come_from_the_caller() -> None:
    """A goal that does not look at the label still carries all of it."""
    knowledge, label = bread()
    trace = traced(knowledge, ("product", ("product/loaf",)), labels=[label])
    assert len(trace["facts"]) == 4
    assert checker.check(trace).ok
    assert TracedGoal("product", ("product/loaf",)).row is None


@pytest.mark.slow
def test_it_runs_as_a_file_and_loads_nothing_else(tmp_path: Path) -> None:
    """Beside its neighbours it needs only Python, and says what it finds."""
    folder = Path(str(checker.__file__)).parent
    for name in NEIGHBOURS:
        source = folder / f"{name}.py"
        (tmp_path / source.name).write_text(source.read_text("utf-8"), "utf-8")
    knowledge, trace = SAMPLES["birds"]
    good, bad, base = (tmp_path / n for n in ("good.json", "bad.json", "base.json"))
    good.write_text(json.dumps(trace), "utf-8")
    base.write_text(json.dumps(base_of(knowledge, trace)), "utf-8")
    bad.write_text(json.dumps({**trace, "question": "other"}), "utf-8")

    def run(*arguments: object) -> subprocess.CompletedProcess[str]:
        # Without site packages, so that nothing installed can be loaded.
        command = [sys.executable, "-S", "checker.py", *map(str, arguments)]
        return subprocess.run(
            command, cwd=tmp_path, capture_output=True, text=True, check=False
        )

    alone = "holds by its own rules and facts; not compared with a base\n"
    assert (run(good).returncode, run(good).stdout) == (0, alone)
    assert run(good, "--base", base).stdout == f"holds, by the base {TOYS}\n"
    assert run("--statement").stdout == f"{checker.HOLDS}\n"
    assert run(good, "--base", base).returncode == 0
    assert run(bad).returncode == 1
    assert run(bad).stdout.startswith("digest:")
    assert run().returncode == 2
    assert "cannot read" in run(tmp_path / "missing.json").stderr


def test_a_key_given_twice_is_refused() -> None:
    """Or a reader and the checker could see different values."""
    with pytest.raises(ValueError, match="twice"):
        checker.read('{"verdict": 1, "verdict": 2}')


JOIN = """
"it is odd"
  because the x p
      and the x q
  so      yes odd
  rule    joined, standing handbook, source tables
"""


def test_a_variable_stands_for_one_value() -> None:
    """Null, which agrees with all, would join two premises about different things."""
    knowledge = known(JOIN, [fact("p", "a"), fact("q", "a")])
    trace = traced(knowledge, ("odd", ("yes",)))
    next(f for f in trace["facts"] if f["atom"][0] == "q")["atom"][1] = "b"
    nodes = [{"kind": "fact", **each} for each in trace["facts"]]
    premises = [kernel.named(node) for node in nodes]
    rule = {"kind": "rule", "rule": "joined", "atom": ["odd", "yes"]}
    nodes.append({**rule, "bind": {"x": None}, "premises": premises})
    trace["nodes"] = {kernel.named(node): node for node in nodes}
    trace["goals"][0].update(root=kernel.named(nodes[-1]))
    templates = {name: ["{1}", ""] for name in ("p", "q", "odd")}
    trace["program"]["predicates"] = templates
    trace["names"].update({f'["{each}",""]': each for each in "ab"})
    restate(trace)
    assert refused(trace) == (trace["goals"][0]["root"], "binds no values")


def test_a_rule_without_standing_lends_none() -> None:
    """A chain stands as its premise; law or nothing said of it is refused."""
    rule = (
        '"{x}"\n'
        "  because the x p\n"
        "  so      the x q\n"
        "  rule    a, standing none, source words\n"
    )
    trace = traced(known(rule, fact("p", "x", standing="practice")), ("q", ("x",)))
    assert checker.check(trace).ok
    assert trace["goals"][0]["standing"] == "practice"
    for forged in ("law", ""):
        bad = deepcopy(trace)
        bad["goals"][0]["standing"] = forged
        assert "standing" in refused(bad)[1]


def test_the_schema_has_the_keys_that_the_checker_wants() -> None:
    """Whoever writes a trace by it leaves nothing out."""
    folder = Path(str(checker.__file__)).parent
    schema = json.loads((folder / "trace.schema.json").read_text("utf-8"))
    assert schema["required"] == sorted(checker.TRACE_KEYS.split())
    parts = schema["properties"]
    assert parts["format"]["const"] == checker.FORMAT
    assert parts["goals"]["items"]["required"] == sorted(checker.GOAL_KEYS.split())
    rule = parts["program"]["properties"]["rules"]["additionalProperties"]
    assert rule["required"] == sorted(checker.RULE_KEYS.split())
    for node in schema["$defs"]["node"]["oneOf"]:
        kind = node["properties"]["kind"]["const"]
        assert node["required"] == sorted(kernel.NODE_KEYS[kind].split())
    page = (folder / "TRACE.md").read_text("utf-8")
    assert all(f"`{key}`" in page for key in checker.TRACE_KEYS.split())
