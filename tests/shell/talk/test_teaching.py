"""Teaching: what gets in, what does not and why, and what becomes of it."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
from abluent.engine.faults import CommandError, DataError
from abluent.engine.owl import hermit
from abluent.engine.owl.hermit import NoReasoner
from abluent.engine.teach.addition import Weighed
from abluent.engine.teach.hand_over import export, parts_in
from abluent.engine.teach.layer import Layer, Part, slug
from abluent.engine.teach.trial import Refused
from abluent.shell.command.cli import main
from abluent.shell.session.session import Session
from abluent.shell.shelf.shelf import Shelf, ShelfLabel
from abluent.shell.talk.lines import PlainReader
from abluent.shell.talk.loop import InteractiveShell
from abluent.shell.talk.teach_form import Form

pytestmark = pytest.mark.slow

PREFIXES = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix claim: <https://abluent.example/claim/> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix src: <https://abluent.example/source/> .
"""
PRACTICE = "abl:source src:common-practice ; abl:standing abl:commonPractice"
KELP = f"""{PREFIXES}
ing:kelp-silicone a abl:SiliconeFluid ; abl:inci "Kelp Silicone" ;
  abl:charge abl:none ; abl:waterSolubility abl:insoluble ;
  abl:depositsFromRinseOff true ; {PRACTICE} .
"""
BETAINES = f"""{PREFIXES}
claim:betaines-lift-silicone a abl:RemovalClaim ; abl:agent abl:Betaine ;
  abl:film abl:InsolubleSilicone ; abl:atLeast abl:takesAll ;
  abl:statement "Betaines lift water-insoluble silicone." ; {PRACTICE} .
"""
RULE = """"place {n} of {p} was not read"
  because the p unreadLine the n
  so      the p leftUnread
  rule    unread-is-hidden, standing commonPractice, source common-practice
"""


@pytest.fixture(autouse=True)
def no_java(monkeypatch: pytest.MonkeyPatch) -> None:
    """HermiT has tests of its own; here it would be asked for each addition."""

    def missing() -> str:
        raise NoReasoner("not asked")

    monkeypatch.setattr(hermit, "java", missing)


def small(*, taught: bool = True) -> Session:
    """A session on a shelf of two products."""
    cream = ShelfLabel("Quay Cream", "conditioner", "EU", "Aqua, Dimethicone, Parfum")
    wash = ShelfLabel("Fen Wash", "wash", "EU", "Aqua, Cocamidopropyl Betaine, Parfum")
    return Session(Shelf("small", (cream, wash)), taught=taught)


def turtle(text: str) -> Part:
    return Part("try", ".ttl", text)


def taught(session: Session, *texts: str) -> Weighed:
    """Weigh and keep some Turtle."""
    weighed = session.weigh([turtle(text) for text in texts])
    session.teach(weighed)
    return weighed


def typed(text: str, session: Session | None = None) -> str:
    """Return what the shell prints for lines that come from a pipe."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(text), out, spoken=False)
    InteractiveShell(session or small(), reader, out).run()
    return out.getvalue()


# ------------------------------------------------------------- what never gets in


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("ing:x a abl:Silicone", "this is not Turtle"),
        (f'ing:x a abl:Gum ; abl:inci "Dimethicone" ; {PRACTICE} .', "is claimed by"),
        pytest.param(
            'ing:x a abl:Gum ; abl:inci "X" ; abl:source src:nobody ; '
            "abl:standing abl:handbook .",
            "nothing describes `nobody`",
            marks=pytest.mark.long,
        ),
        (
            'ing:x a abl:AlkylSulfate, abl:MonoalkylQuat ; abl:inci "X" ; '
            f"{PRACTICE} .",
            "which share no member",
        ),
        pytest.param(
            f'ing:x a abl:MonoalkylQuat ; abl:inci "X" ; abl:charge abl:anionic ; '
            f"abl:waterSolubility abl:soluble ; {PRACTICE} .",
            "both a cationic surfactant and an anionic surfactant",
            marks=pytest.mark.long,
        ),
        (
            f'ing:x a abl:SiliconeFluid ; abl:inci "X" ; abl:charge abl:none ; '
            f"{PRACTICE} .",
            "Its water solubility is not stated",
        ),
        ("", "this says nothing"),
    ],
)
def test_what_is_wrong_is_refused_with_its_reason(text: str, why: str) -> None:
    session = small()
    with pytest.raises(Refused, match=why):
        session.weigh([turtle(PREFIXES + text)])
    assert session.layer.additions() == []


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        pytest.param(
            "the p leftUnread",
            "the q leftUnread",
            "bound by no condition",
            marks=pytest.mark.long,
        ),
        pytest.param(
            "the p unreadLine the n",
            "the p line the n",
            "has 2 terms here and 3 elsewhere",
            marks=pytest.mark.long,
        ),
        (
            "because ",
            "because nothing shows the p leftUnread and ",
            "depends on its own",
        ),
        ("common-practice", "nobody", "`nobody` is no source of the base"),
        pytest.param(
            "unread-is-hidden",
            "tied-up-by-cationic",
            "tied-up-by-cationic",
            marks=pytest.mark.long,
        ),
    ],
)
def test_an_unsafe_rule_is_refused(old: str, new: str, why: str) -> None:
    with pytest.raises(Refused) as caught:
        small().weigh([Part("try", ".rules", RULE.replace(old, new))])
    assert why in str(caught.value)


def test_a_clash_is_shown_with_the_steps_that_lead_to_it() -> None:
    text = (
        f'{PREFIXES} ing:x a abl:MonoalkylQuat ; abl:inci "Kelp Quat" ; '
        f"abl:charge abl:anionic ; abl:waterSolubility abl:soluble ; {PRACTICE} ."
    )
    with pytest.raises(Refused) as caught:
        small().weigh([turtle(text)])
    assert "Kelp Quat is a monoalkyl quat; Kelp Quat is anionic" in str(caught.value)


def test_without_the_shapes_the_base_still_checks(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "pyshacl", None)
    session = small()
    assert not session.weigh([turtle(KELP)]).shapes
    both = KELP.replace("abl:SiliconeFluid", "abl:AlkylSulfate, abl:MonoalkylQuat")
    with pytest.raises(Refused, match="share no member"):
        session.weigh([turtle(both)])


# -------------------------------------------------------------- what it would change


def test_the_difference_is_shown_with_its_reasons() -> None:
    found = small().weigh([turtle(BETAINES)]).effects.answers
    told = {each.sentence: each.reasons for each in found}
    turned = next(each for each in told if each.startswith("Fen Wash, Dimethicone"))
    assert "(it was: at most partly clears; at least part, not none)" in turned
    assert "Betaines lift water-insoluble silicone." in told[turned]


def test_claims_that_say_otherwise_are_named_with_what_they_bear_on() -> None:
    text = BETAINES.replace("abl:Betaine ", "abl:Alaninate ")
    found = small().weigh([turtle(text)]).against
    assert found
    assert all(each.says and each.bearing for each in found)
    assert found == sorted(found, key=lambda each: "exactly" not in each.bearing)


# ----------------------------------------------------------------- what is kept


def test_what_was_taught_lasts_and_is_taken_back() -> None:
    session = small()
    taught(session, KELP)
    assert session.name("Kelp Silicone").ingredient == "kelp-silicone"
    assert small().name("kelp silicone").how == "listed"
    assert small(taught=False).name("Kelp Silicone").how != "listed"
    _, aside = session.untaught("try")
    assert session.name("Kelp Silicone").how != "listed"
    assert 'abl:inci "Kelp Silicone"' in aside.read_text()


@pytest.mark.long
def test_nothing_is_taken_back_that_another_rests_on() -> None:
    session = small()
    taught(session, KELP)
    synonym = f'{PREFIXES} ing:kelp-silicone abl:synonym "Fucus Fluid" .'
    session.teach(session.weigh([Part("name", ".ttl", synonym)]))
    with pytest.raises(DataError, match='rest on "try"'):
        session.untaught("try")
    session.untaught()
    session.untaught()
    assert session.layer.additions() == []


def test_what_changed_meanwhile_is_looked_at_again() -> None:
    one, two = small(), small()
    weighed = one.weigh([turtle(KELP)])
    taught(two, BETAINES)
    with pytest.raises(DataError, match="in the meantime"):
        one.teach(weighed)
    assert len(one.layer.additions()) == 1


def test_a_layer_that_no_longer_fits_says_how_to_set_it_aside() -> None:
    session = small()
    session.layer.keep([turtle(KELP.replace("Kelp Silicone", "Dimethicone"))], [])
    with pytest.raises(DataError, match="`abluent untaught 1` sets it aside"):
        session.ask("which washes clear Dimethicone")
    session.untaught("1")
    answer = session.ask("which washes perhaps clear Dimethicone")
    assert answer.sentence


def test_numbers_are_not_given_twice(tmp_path: Path) -> None:
    layer = Layer(tmp_path)
    (first,) = layer.keep([turtle(KELP)], [])
    layer.take_back(first)
    (second,) = layer.keep([turtle(KELP)], [])
    assert (first.number, second.number) == (1, 2)


# -------------------------------------------------------------------- other hands


@pytest.mark.long
def test_an_export_is_taken_in_by_another_user(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = small()
    taught(session, KELP)
    assert export(session.layer, tmp_path / "mine.ttl") == 1
    session.teach(session.weigh([Part("rule", ".rules", RULE)]))
    with pytest.raises(CommandError, match="would not hold all"):
        export(session.layer, tmp_path / "all.ttl")
    assert export(session.layer, tmp_path / "all.zip") == 2
    monkeypatch.setenv("ABLUENT_DATA", str(tmp_path / "another"))
    other = small()
    other.teach(other.weigh(parts_in(tmp_path / "all.zip")))
    assert other.name("Kelp Silicone").ingredient == "kelp-silicone"
    assert "unread-is-hidden" in {rule.id for rule in other.world.program.rules}


@pytest.mark.long
def test_a_file_is_taught_by_a_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "kelp.ttl"
    path.write_text(KELP)
    assert main(["teach", str(path)]) == 0
    assert "Nothing was kept; --keep keeps it." in capsys.readouterr().out
    assert main(["teach", "--keep", str(path)]) == 0
    assert main(["taught"]) == 0
    assert "1 kelp: Kelp Silicone (" in capsys.readouterr().out
    assert main(["untaught", "kelp"]) == 0
    assert main(["untaught"]) == 2
    path.write_text("nonsense")
    assert main(["teach", str(path)]) == 1
    assert main(["teach", str(tmp_path / "kelp.txt")]) == 2


@pytest.mark.parametrize(
    ("text", "name"),
    [("Kelp Foam (and) Water", "kelp-foam-and-water"), ("  ", "addition")],
)
def test_names_of_files_are_plain(text: str, name: str) -> None:
    assert slug(text) == name


# ------------------------------------------------------------ question by question


def test_answers_that_do_not_fit_are_asked_again_and_question_marks_tell_more() -> None:
    page = typed(
        "teach ingredient\nDimethicone\nKelp Foam\nfoamy\nbetaine\n?\nodd\namphoteric\n"
    )
    assert '"Dimethicone" is a name of Dimethicone already' in page
    assert 'nothing is called "foamy"' in page
    assert "What a wash can lift follows from it." in " ".join(page.split())
    assert "one of: anionic, cationic, nonionic, amphoteric" in page


def test_it_may_be_said_that_nobody_knows_and_no_turtle_is_shown() -> None:
    page = typed("teach ingredient\nKelp Foam\nbetaine\ndon't know\n")
    assert "is no" not in page
    assert "abl:" not in page


def test_a_new_source_is_described_on_the_way() -> None:
    session = small()
    page = typed(
        "teach claim\nleaves\ndimethicone\nsilicone fluid\nwash\n\n\n"
        "In one trial only.\nnew\n"
        "Fen A. (2026). Washes of the quay.\nWashes of the quay\npaper\n"
        "Fen A.\n2026\nabstract\nmeasured\nyes\nyes\n",
        session,
    )
    assert "Kept:" in page
    assert session.world.base.source("washes-of-the-quay").text("seen") == "abstract"


def test_a_refused_answer_is_not_lost() -> None:
    page = typed(
        "teach rule\nodd-one\nodd\nthe p unreadLine the n\n\nthe q odd\n\n\n",
    )
    assert "bound by no condition" in page
    assert "your answers are not lost" in page


def test_a_synonym_names_an_ingredient() -> None:
    session = small()
    typed("teach synonym\nDimethicone\nquay oil\nyes\n", session)
    assert session.name("Quay Oil").ingredient == "dimethicone"


def test_what_is_not_kept_leaves_nothing() -> None:
    session = small()
    page = typed("teach synonym\nDimethicone\nquay oil\nno\n", session)
    assert "nothing was kept" in page
    assert session.layer.additions() == []


def test_a_claim_may_be_taught_under_a_condition() -> None:
    session = small()
    typed(
        "teach claim\nremoves\nbetaine\npart\n\nsilicone fluid\nin warm water\n\n"
        "One trial, warm.\n\n\nyes\n",
        session,
    )
    (claim,) = session.layer.additions()
    record = session.world.base.record(claim.name)
    assert record.links("when") == ["warmWater"]


def asked(answers: str) -> str:
    """The Turtle that the questions of a claim come to."""
    out = io.StringIO()
    reader = PlainReader(io.StringIO(answers), out, spoken=False)
    return Form(InteractiveShell(small(), reader, out)).part("claim").text


def test_a_withdrawal_and_an_order_are_taught_field_by_field() -> None:
    """A withdrawal sets no bound; an edge of strength or of ease names both sides."""
    text = asked("withdraws\namphoteric surfactant\nsilicone fluid\n\n\n\n\n\n")
    assert "abl:withdraws true" in text
    assert "abl:atLeast" not in text
    assert "What amphoteric surfactants take of silicone fluid is not known." in text
    text = asked("stronger\nbetaine\namphoteric surfactant\nsilicone\n\n\n\n\n\n")
    assert "a abl:StrengthClaim" in text
    assert "abl:inFamily abl:Silicone" in text
    assert "take at least what amphoteric surfactants take." in text
    text = asked("easier\nsilicone fluid\nsilicone gum\n\n\n\n\n\n")
    assert "abl:easier abl:SiliconeFluid" in text
    assert "abl:harder abl:SiliconeGum" in text


@pytest.mark.long
def test_a_bound_against_the_order_tells_ends_that_move_and_edges_it_refutes() -> None:
    """A measurement that betaines take all of a gum refutes steps of the order."""
    cream = ShelfLabel("Quay Cream", "conditioner", "EU", "Aqua, Dimethiconol")
    wash = ShelfLabel("Fen Wash", "wash", "EU", "Aqua, Cocamidopropyl Betaine, Parfum")
    session = Session(Shelf("small", (cream, wash)))
    claim = """claim:try-betaine-all
  a abl:RemovalClaim ;
  abl:agent abl:Betaine ;
  abl:atLeast abl:takesAll ;
  abl:film abl:DimethiconolSilicone ;
  abl:source src:tri-2006-conference ;
  abl:standing abl:measured ;
  abl:statement "A betaine took all of a gum." .
"""
    weighed = taught(session, PREFIXES + claim)
    said = [each.sentence for each in weighed.effects.answers]
    assert any("; at least all, not " in each for each in said)
    assert any(each.startswith("Refuted: ") for each in said)
