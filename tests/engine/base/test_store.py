"""The store: triples to facts, names to ingredients, and what a base is refused for."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import abluent.ontology
import pytest
from abluent.engine.base import cache
from abluent.engine.base import files as _files
from abluent.engine.base._compile import compile_base
from abluent.engine.base.files import BaseFile
from abluent.engine.base.fold import fold
from abluent.engine.base.store import Base, BaseError
from abluent.engine.logic.facts import Basis, Fact

PREFIXES = """\
@prefix abl: <https://abluent.example/ns#> .
@prefix claim: <https://abluent.example/claim/> .
@prefix ing: <https://abluent.example/ingredient/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix src: <https://abluent.example/source/> .
"""

WORDS = """
abl:Film a owl:Class ; rdfs:label "film" .
abl:Wax a owl:Class ; rdfs:subClassOf abl:Film ; rdfs:label "wax" ;
  abl:plural "waxes" ; abl:alias "hard film" ; owl:disjointWith abl:Soap .
abl:Soap a owl:Class ; rdfs:label "soap" .
abl:SoftWax a owl:Class ; rdfs:label "soft wax" ; rdfs:subClassOf abl:Wax ;
  owl:equivalentClass [ owl:intersectionOf
    ( abl:Wax [ owl:onProperty abl:touch ; owl:hasValue abl:soft ] ) ] .
abl:Fleeting a owl:Class ; rdfs:label "fleeting film" ; owl:equivalentClass
  [ owl:intersectionOf
    ( abl:Film [ owl:onProperty abl:volatile ; owl:hasValue true ] ) ] .
abl:Touch a owl:Class ; rdfs:label "touch" .
abl:Source a owl:Class ; rdfs:label "source" .
abl:Standing a owl:Class ; rdfs:label "standing" .
abl:soft a abl:Touch ; rdfs:label "soft" .
abl:hard a abl:Touch ; rdfs:label "hard" .
abl:touch a owl:ObjectProperty , owl:FunctionalProperty ; rdfs:range abl:Touch ;
  abl:sentence "{1} feels {2}" .
abl:volatile a owl:DatatypeProperty .
abl:mass a owl:DatatypeProperty .
abl:inci a owl:DatatypeProperty .
abl:synonym a owl:DatatypeProperty .
abl:euName a owl:DatatypeProperty ; rdfs:subPropertyOf abl:synonym .
abl:sentence a owl:AnnotationProperty .
abl:plural a owl:AnnotationProperty .
abl:alias a owl:AnnotationProperty .
abl:citation a owl:DatatypeProperty .
abl:source a owl:AnnotationProperty ; rdfs:range abl:Source .
abl:standing a owl:AnnotationProperty ; rdfs:range abl:Standing .
abl:fromMemory a owl:AnnotationProperty .
abl:measured a abl:Standing ; rdfs:label "measured" .
src:book a abl:Source ; abl:citation "A book" .
"""

BEESWAX = """
ing:beeswax a abl:Wax ; abl:inci "Cera Alba" ; abl:synonym "Bees-Wax" ;
  abl:touch abl:soft ; abl:mass 1.50 ; abl:volatile false ;
  abl:source src:book ; abl:standing abl:measured ; abl:fromMemory true .
"""

Make = Callable[..., Base]


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """Makes a base of texts, each a file `0.ttl`, `1.ttl` and so on."""

    def _make(*texts: str) -> Base:
        files = []
        for number, text in enumerate(texts):
            path = tmp_path / f"{number}.ttl"
            path.write_text(PREFIXES + text, encoding="utf-8")
            files.append(BaseFile(path.name, str(path)))
        return Base(compile_base(files))

    return _make


def refused(make: Make, *texts: str) -> list[str]:
    with pytest.raises(BaseError) as caught:
        make(*texts)
    return [str(problem) for problem in caught.value.problems]


def test_triples_become_facts(make: Make) -> None:
    """Types, nodes, numbers and true values become facts; texts do not."""
    base = make(WORDS, BEESWAX)
    basis = Basis("measured", ("book",), True, "1.ttl: beeswax")
    assert set(base.facts_about(["beeswax"])) == {
        Fact("type", ("beeswax", "Wax"), basis),
        Fact("touch", ("beeswax", "soft"), basis),
        Fact("mass", ("beeswax", Fraction(3, 2)), basis),
        Fact("source", ("beeswax", "book"), basis),
        Fact("standing", ("beeswax", "measured"), basis),
        Fact("fromMemory", ("beeswax",), basis),
    }


def test_classes_become_facts(make: Make) -> None:
    """Named superclasses and classes defined by a property become facts."""
    rows = {(fact.predicate, fact.args) for fact in make(WORDS).facts}
    assert ("subclass", ("Wax", "Film")) in rows
    assert ("definedByValue", ("SoftWax", "Wax", "touch", "soft")) in rows
    assert ("definedByTrait", ("Fleeting", "Film", "volatile")) in rows


def test_slices_cover_all_facts(make: Make) -> None:
    """Asking about every symbol gives every fact, and unknown symbols give none."""
    base = make(WORDS, BEESWAX)
    assert base.facts_about(base.symbols) == list(base.facts)
    assert base.facts_about(["nobody"]) == []
    (touch,) = base.facts_about(["beeswax"], {"touch"})
    assert touch.args == ("beeswax", "soft")


def test_header_of_a_file_stands_in(make: Make) -> None:
    """A file may state source and standing once, for every subject in it."""
    header = "<https://abluent.example/ns/a> abl:source src:book ; "
    header += "abl:standing abl:measured ."
    base = make(WORDS, header + 'ing:x a abl:Wax ; abl:inci "X" .')
    assert base.record("x").basis == Basis("measured", ("book",), False, "1.ttl: x")


def test_names_in_any_case(make: Make) -> None:
    """A name is found whatever its case and punctuation."""
    base = make(WORDS, BEESWAX)
    assert base.lookup("CERA  ALBA") == "beeswax"
    assert base.lookup("bees wax") == "beeswax"
    assert base.lookup("beeswax") is None
    assert base.names["cera alba"] == ("beeswax", "listed")
    assert base.names["bees wax"] == ("beeswax", "synonym")


def test_ingredient_by_name_or_symbol(make: Make) -> None:
    """An ingredient's record is found by its names and by its symbol."""
    base = make(WORDS, BEESWAX)
    for name in ("Bees-Wax", "beeswax"):
        record = base.ingredient(name)
        assert record is not None
        assert record.text("inci") == "Cera Alba"
        assert record.number("mass") == Fraction(3, 2)
        assert not record.truth("volatile")
    assert base.ingredient("Wax") is None


def test_words_for_readers(make: Make) -> None:
    """Labels, plurals and sentences are there for every kind of subject."""
    base = make(WORDS, BEESWAX)
    assert base.label("beeswax") == "Cera Alba"
    assert base.label("Wax") == "wax"
    assert base.plural("Wax") == "waxes"
    assert base.label("book") == "A book"
    assert base.label("nobody") == "nobody"
    assert base.sentence("touch") == "{1} feels {2}"
    assert base.source("book").text("citation") == "A book"
    with pytest.raises(KeyError):
        base.source("beeswax")


@pytest.mark.parametrize("phrase", ["wax", "Waxes", "hard film", "hard films"])
def test_classes_by_phrase(make: Make, phrase: str) -> None:
    """A class is found by label, plural or alias, in the singular or plural."""
    assert make(WORDS).find_class(phrase) == "Wax"


def test_values_by_phrase(make: Make) -> None:
    """A value is found among those of its kind only."""
    base = make(WORDS)
    assert base.find_value("Soft", "Touch") == "soft"
    assert base.find_value("soft", "Standing") is None
    assert base.find_class("soft") is None


def test_classes_most_specific_first(make: Make) -> None:
    """Classes defined by a property count, and the narrowest comes first."""
    base = make(WORDS, BEESWAX)
    assert base.classes_of("beeswax") == ["SoftWax", "Wax", "Film"]
    assert base.instances("Film") == ["beeswax"]


def test_values_by_definition(make: Make) -> None:
    """A class defined by a property gives its members the value."""
    base = make(WORDS, "abl:Balm a owl:Class ; rdfs:subClassOf abl:SoftWax .")
    assert base.implied("Balm", "touch") == "soft"
    assert base.implied("Fleeting", "volatile") is True
    assert base.implied("Wax", "touch") is None


def test_a_circle_of_classes_ends(make: Make) -> None:
    """Two classes below each other have each other as ancestors."""
    base = make(WORDS, "abl:Film rdfs:subClassOf abl:Wax .")
    assert base.ancestors("Film") == base.ancestors("Wax") == {"Film", "Wax"}


REFUSALS = {
    "syntax": (
        "ing:x a\n  abl:Wax ;; ]",
        "1.ttl:8: this is not Turtle",
        "Look at `abl:Wax ;; ]`",
    ),
    "unknown property": (
        BEESWAX + "ing:beeswax abl:masss 1 .",
        "`ing:beeswax`: `abl:masss` is no property of the base",
        "Did you mean `abl:mass`?",
    ),
    "unknown value": (
        BEESWAX + "ing:beeswax abl:touch abl:sotf .",
        "nothing describes `sotf`",
        "Did you mean `abl:soft`?",
    ),
    "unknown value, though something else is called nearly so": (
        BEESWAX + 'src:sotfx a abl:Source ; abl:citation "S" . '
        "ing:beeswax abl:touch abl:sotfxx .",
        "nothing describes `sotfxx`",
        "Did you mean `abl:soft`?",
    ),
    "a source without a citation": (
        BEESWAX + 'src:other a abl:Source ; rdfs:label "Other" .',
        "`src:other`: this source cannot be found: no citation",
        "Add `abl:citation`",
    ),
    "a source that no reader could find": (
        BEESWAX + "abl:foundBy a owl:AnnotationProperty . "
        "abl:sourceKind a owl:ObjectProperty . abl:year a owl:DatatypeProperty . "
        'abl:report a abl:Kind ; abl:foundBy "year", "note" . abl:Kind a owl:Class . '
        'src:other a abl:Source ; abl:citation "Other" ; abl:sourceKind abl:report .',
        "`src:other`: this source cannot be found: nothing says whose it is or where",
        "Add at least one of `abl:note`, `abl:year`.",
    ),
    "unknown source": (
        'ing:x a abl:Wax ; abl:inci "X" ; abl:source src:boook ; '
        "abl:standing abl:measured .",
        "nothing describes `boook`",
        "Did you mean `src:book`?",
    ),
    "value of another kind": (
        'ing:x a abl:Wax ; abl:inci "X" ; abl:source src:book ; '
        "abl:standing abl:soft .",
        "`soft` is no value of `abl:standing`",
        "Name one of `abl:measured`.",
    ),
    "no class": (
        BEESWAX + "ing:beeswax a abl:soft .",
        "`abl:soft` is not a class",
        "Name a class",
    ),
    "no source": (
        'ing:x a abl:Wax ; abl:inci "X" ; abl:standing abl:measured .',
        "`ing:x`: it states facts without a source",
        "`src:common-practice`",
    ),
    "no standing": (
        'ing:x a abl:Wax ; abl:inci "X" ; abl:source src:book .',
        "`ing:x`: it states facts without a standing",
        "`abl:commonPractice`",
    ),
    "two standings": (
        BEESWAX + "abl:other a abl:Standing . ing:beeswax abl:standing abl:other .",
        "more than one standing",
        "split the claim",
    ),
    "two values": (
        BEESWAX + "ing:beeswax abl:touch abl:hard .",
        "its `abl:touch` is both hard and soft",
        "Keep one",
    ),
    "disjoint classes": (
        BEESWAX + "ing:beeswax a abl:Soap .",
        "both `abl:Wax` and `abl:Soap`",
        "Take one of the two kinds away",
    ),
    "no INCI name": (
        'ing:x a abl:Wax ; abl:synonym "X" ; abl:source src:book ; '
        "abl:standing abl:measured .",
        "this ingredient has no INCI name",
        "Add `abl:inci`",
    ),
    "one name, two owners": (
        BEESWAX + 'ing:x a abl:Wax ; abl:inci "bees wax" ; abl:source src:book ; '
        "abl:standing abl:measured .",
        "the name `bees wax` is claimed by `ing:beeswax` in 1.ttl too",
        "Leave it to the one it names",
    ),
    "one symbol, two namespaces": (
        BEESWAX + 'src:beeswax a abl:Source ; abl:citation "B" .',
        "has the same local name",
        "Rename one of them",
    ),
    "one phrase, two classes": (
        'abl:Other a owl:Class ; rdfs:label "waxes" .',
        "the phrase `waxes` means `abl:Wax` in 0.ttl too",
        "Leave it to one class",
    ),
    "foreign subject": (
        "<https://other.example/x> abl:mass 1 .",
        "this subject is in none of the namespaces",
        "abl:, ing:, claim:, src: or stem:",
    ),
    "foreign property": (
        BEESWAX + "ing:beeswax <https://other.example/p> 1 .",
        "`<https://other.example/p>` is no property of the base",
        "Use a property of abl:",
    ),
    "foreign value": (
        BEESWAX + "ing:beeswax abl:touch <https://other.example/x> .",
        "`<https://other.example/x>` is in none of the namespaces",
        "Use abl:",
    ),
    "value without a name": (
        BEESWAX + "ing:beeswax abl:touch [ a abl:Touch ] .",
        "`abl:touch` has a value without a name",
        "a name and a subject of its own",
    ),
}


@pytest.mark.parametrize("case", REFUSALS)
def test_refusals(make: Make, case: str) -> None:
    """Each kind of mistake is refused with the file, the thing and a fix."""
    text, message, fix = REFUSALS[case]
    problems = refused(make, WORDS, text)
    assert any(message in problem and fix in problem for problem in problems)
    assert all(problem.startswith(("0.ttl", "1.ttl")) for problem in problems)


def test_every_problem_is_told(make: Make) -> None:
    """Two mistakes in two files are both reported, with their lines."""
    problems = refused(make, WORDS, 'ing:x abl:inci "X" ; a abl:Nix .', "ing:y a")
    assert any(
        p.startswith("1.ttl:7: `ing:x`: nothing describes `Nix`") for p in problems
    )
    assert any(p.startswith("2.ttl:7: this is not Turtle") for p in problems)


@pytest.mark.slow
def test_layers_over_the_shipped_base(tmp_path: Path) -> None:
    """A user's own file adds to the base; a bad one is refused by its own name."""
    own = tmp_path / "own.ttl"
    own.write_text(
        PREFIXES + 'ing:moss-wax a abl:PlantWax ; abl:inci "Moss Wax" ; '
        "abl:source src:common-practice ; abl:standing abl:commonPractice .",
        encoding="utf-8",
    )
    base = Base.load([own], cache_folder=tmp_path / "cache")
    assert base.lookup("MOSS WAX") == "moss-wax"
    assert "FilmFormer" in base.classes_of("moss-wax")
    # A trace that is handed on names the file, not where its owner keeps it.
    origins = {fact.basis.origin for fact in base.facts_about(["moss-wax"])}
    assert origins == {"own.ttl: moss-wax"}
    with pytest.raises(BaseError, match=r"missing\.ttl: cannot be read"):
        Base.load([tmp_path / "missing.ttl"], cache_folder=tmp_path / "cache")


@pytest.mark.slow
def test_a_layer_is_read_again_when_it_changes(tmp_path: Path) -> None:
    """What is kept on disk counts only while no file has changed."""
    own = tmp_path / "own.ttl"
    for name in ("Moss Wax", "Fern Wax"):
        own.write_text(
            PREFIXES + f'ing:own-wax a abl:PlantWax ; abl:inci "{name}" ; '
            "abl:source src:common-practice ; abl:standing abl:commonPractice .",
            encoding="utf-8",
        )
        base = Base.load([own], cache_folder=tmp_path / "cache")
        assert base.label("own-wax") == name


class TestCache:
    """The packed base on disk."""

    @pytest.fixture
    def files(self, tmp_path: Path) -> list[BaseFile]:
        path = tmp_path / "a.ttl"
        path.write_text("", encoding="utf-8")
        return [BaseFile("a.ttl", str(path))]

    def test_remembers(self, files: list[BaseFile], tmp_path: Path) -> None:
        """What was remembered comes back."""
        cache.Cached.of(files, str(tmp_path / "c")).remember({"a": (1, b"x")})
        assert cache.Cached.of(files, str(tmp_path / "c")).recall() == {"a": (1, b"x")}

    @pytest.mark.parametrize("cut", [0, 3, 20, -1])
    def test_cut_short(self, files: list[BaseFile], tmp_path: Path, cut: int) -> None:
        """A damaged file counts as none."""
        folder = tmp_path / "c"
        cache.Cached.of(files, str(folder)).remember({"a": list(range(99))})
        (kept,) = folder.iterdir()
        kept.write_bytes(kept.read_bytes()[:cut])
        assert cache.Cached.of(files, str(folder)).recall() is None

    def test_flipped_byte(self, files: list[BaseFile], tmp_path: Path) -> None:
        """A changed byte is noticed before anything is read from it."""
        folder = tmp_path / "c"
        cache.Cached.of(files, str(folder)).remember({"a": list(range(99))})
        (kept,) = folder.iterdir()
        content = bytearray(kept.read_bytes())
        content[-7] ^= 1
        kept.write_bytes(bytes(content))
        assert cache.Cached.of(files, str(folder)).recall() is None

    def test_changed_meanwhile(self, files: list[BaseFile], tmp_path: Path) -> None:
        """A value of files as they were does not count for what they became."""
        cached = cache.Cached.of(files, str(tmp_path / "c"))
        Path(files[0].path).write_text("# changed", encoding="utf-8")
        cached.remember({"a": 1})
        assert cache.Cached.of(files, str(tmp_path / "c")).recall() is None

    def test_nowhere_to_write(self, files: list[BaseFile], tmp_path: Path) -> None:
        """A folder that cannot be made costs nothing but time."""
        (tmp_path / "c").write_text("in the way", encoding="utf-8")
        cache.Cached.of(files, str(tmp_path / "c")).remember({})
        assert cache.Cached.of(files, str(tmp_path / "c")).recall() is None

    def test_few_are_kept(self, files: list[BaseFile], tmp_path: Path) -> None:
        """Old sets of files make room for new ones, and no draft is left."""
        for number in range(20):
            path = tmp_path / f"{number}.ttl"
            path.write_text("", encoding="utf-8")
            named = [BaseFile(path.name, str(path))]
            cache.Cached.of(named, str(tmp_path / "c")).remember(number)
        assert len(list((tmp_path / "c").iterdir())) == 16


def test_folding() -> None:
    """Case, accents and runs of punctuation make no difference; digits do."""
    assert fold("PEG/PPG-18/18  Diméthicone") == "peg ppg 18 18 dimethicone"
    assert fold("PEG-1 8") != fold("PEG-18")


def test_a_base_that_is_no_plain_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the package is no folder its files come from `importlib.resources`."""
    with _files.shipped_folder() as folder:
        plain = [file.name for file in _files.below(folder)]
    monkeypatch.setattr(abluent.ontology, "__path__", ["nowhere"])
    with _files.shipped_folder() as folder:
        assert folder != "nowhere"
        assert [file.name for file in _files.below(folder)] == plain


@pytest.mark.slow
def test_claims_of_version_0_1_are_read_as_bounds(tmp_path: Path) -> None:
    """Nothing that was taught is lost: an outcome comes to a bound or a withdrawal."""
    meant: dict[str, tuple[list[str], list[str], bool]] = {
        "removes": (["takesAll"], [], False),
        "partlyRemoves": (["takesPart"], ["takesPart"], False),
        "doesNotRemove": ([], ["takesNone"], False),
        "unsettled": ([], [], True),
    }
    own = tmp_path / "own.ttl"
    text = "".join(
        f"@prefix {name}: <https://abluent.example/{path}> .\n"
        for name, path in (("abl", "ns#"), ("claim", "claim/"), ("src", "source/"))
    )
    for outcome in meant:
        text += (
            f"claim:quay-{outcome} a abl:RemovalClaim ; abl:agent abl:Betaine ;\n"
            f"  abl:outcome abl:{outcome} ; abl:film abl:SiliconeFluid ;\n"
            "  abl:source src:common-practice ; abl:standing abl:commonPractice ;\n"
            '  abl:statement "A betaine and a fluid." .\n'
        )
    own.write_text(text, encoding="utf-8")
    base = Base.load([own], cache_folder=tmp_path / "cache")
    for outcome, (least, most, withdraws) in meant.items():
        record = base.record(f"quay-{outcome}")
        assert record.links("atLeast") == least
        assert record.links("atMost") == most
        assert record.truth("withdraws") is withdraws
        told = {fact.predicate for fact in base.facts_about([record.symbol])}
        assert ("atLeast" in told, "atMost" in told) == (bool(least), bool(most))
