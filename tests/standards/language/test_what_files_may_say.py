"""What a rule file may say: a schema that agrees with the reader, layers by day, hints, examples."""

import datetime as dt
from itertools import product
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from prepadvisor.cases import FACTS, Facts
from prepadvisor.records import TEXT_MAX, Decision, LayerUsed, OutputName, Problem
from prepadvisor.standards import BadRulesError, Layers, RuleFile, build, read_when, shortfalls
from prepadvisor.standards.engine import Engine, Example
from prepadvisor.standards.language.layers import RuleSource
from prepadvisor.standards.language.layers_used import state_of
from prepadvisor.standards.language.read_set import read_expect, read_set, whole_case
from prepadvisor.standards.language.schema import shape

SCHEMA = Draft202012Validator(RuleFile.model_json_schema())
RULE: dict[str, Any] = {"id": "a", "says": "Do it.", "set": {"wet_bed": "no"}, "source": "x"}

CONDITIONS: list[tuple[str, object, bool]] = [
    ("flake", "fine", True),
    ("flake", "finne", False),
    ("flake", ["fine"], True),
    ("flake", [], False),
    ("flake", {"not": "fine"}, True),
    ("flake", {"not": ["fine", "solid"]}, True),
    ("flake", {"not": ["fine"], "or": "solid"}, False),
    ("flake", {}, False),
    ("flake", ">= fine", True),
    ("flake", "coarse .. fine", True),
    ("role", ">= blend", False),
    ("role", "blend", True),
    ("stages", 3, True),
    ("stages", 4, False),
    ("seen", False, True),
    ("book", "hm-3", True),
    ("book", "x", True),
    ("book", "", False),
    ("book", {"not": ["x"]}, True),
    ("film_um", 0, True),
    ("film_um", 0.5, True),
    ("film_um", -1, False),
    ("film_um", "no reading", True),
    ("film_um", "< 90", True),
    ("film_um", "90 .. 120", True),
    ("film_um", "thin", False),
    ("film_um", ["no reading", "< 90"], True),
    ("film_um", ["< 90"], False),
    ("film_um", ["no reading", "< 90", "> 300"], False),
    ("flak", "fine", False),
]


@pytest.mark.parametrize(("fact", "condition", "is_right"), CONDITIONS, ids=str)
def test_an_editor_marks_the_conditions_that_the_reader_refuses(
    fact: str, condition: object, *, is_right: bool
) -> None:
    """In a rule, a promise and among what is impossible; and no other."""
    files = [
        {"rule": [RULE | {"when": {fact: condition}}]},
        {"impossible": [{"when": {fact: condition}, "because": "x"}]},
        {
            "promise": [
                {
                    "says": "x", "output": "wet_bed", "never": "weaker", "along": "flake",
                    "where": {fact: condition},
                }
            ]
        },
    ]  # fmt: skip
    for file in files:
        assert SCHEMA.is_valid(file) == is_right
    assert (read_when({fact: condition}, ())[1] == []) == is_right


SETTINGS: list[tuple[str, object, bool]] = [
    ("finish_coarsest", "P800", True),
    ("finish_coarsest", " p800 ", True),
    ("finish_coarsest", "800", False),
    ("finish_coarsest", 0.5, False),
    ("wet_bed", "advised", True),
    ("wet_bed", "perhaps", False),
    ("machine", "never", True),
    ("bed_coats_max", 0, True),
    ("bed_coats_max", 10, True),
    ("bed_coats_max", 11, False),
    ("bed_coats_max", 1.5, False),
    ("risk_limit", 0.25, True),
    ("risk_limit", 1.01, False),
    ("film_off_max_um", 1000, True),
    ("film_off_max_um", -0.1, False),
    ("notes", "Look.", True),
    ("notes", ["Look.", "Lamp."], True),
    ("notes", 3, False),
    ("notes", ["Look.", 3], False),
    ("note", "Look.", False),
]


@pytest.mark.parametrize(("output", "value", "is_right"), SETTINGS, ids=str)
def test_an_editor_marks_the_settings_that_the_reader_refuses(
    output: str, value: object, *, is_right: bool
) -> None:
    """As a rule sets them, and as an example expects them."""
    assert SCHEMA.is_valid({"rule": [RULE | {"set": {output: value}}]}) == is_right
    assert (read_set({output: value}, ())[1] == []) == is_right
    assert SCHEMA.is_valid({"example": [{"expect": {output: value}}]}) == is_right
    assert (read_expect({output: value}, ())[1] == []) == is_right


def test_an_editor_knows_what_else_a_file_takes() -> None:
    """One letter is a sentence, nothing is none; a promise runs along any fact, up or down."""
    for key in ("says", "source"):
        assert SCHEMA.is_valid({"rule": [RULE | {key: "x"}]})
        assert not SCHEMA.is_valid({"rule": [RULE | {key: ""}]})
    assert not SCHEMA.is_valid({"rule": [RULE | {"set": {}}]})
    assert not SCHEMA.is_valid({"example": [{"expect": {}}]})
    assert not SCHEMA.is_valid({"rules": []})
    along = RuleFile.model_json_schema()["$defs"]["PromiseEntry"]["properties"]["along"]
    assert set(along["anyOf"][0]["enum"]) == {*FACTS, *(f"falling {fact}" for fact in FACTS)}
    for given, is_right in (
        ({"film_um": 0}, True), ({"film_um": -1}, False), ({"flake": "fine"}, True),
        ({"flake": ["fine"]}, False), ({"flak": "fine"}, False), ({"book": "x"}, True),
    ):  # fmt: skip
        assert SCHEMA.is_valid({"example": [{"given": given, "expect": {"wet_bed": "no"}}]}) == is_right
    for value in ("none", {"not": "Look."}):
        assert SCHEMA.is_valid({"example": [{"expect": {"notes": value}}]})
    assert not SCHEMA.is_valid({"example": [{"expect": {"notes": {"nor": "Look."}}}]})


def problems(*sources: RuleSource) -> list[tuple[str, Problem]]:
    """Return what is wrong with some files."""
    with pytest.raises(BadRulesError) as refused:
        build(sources)
    assert str(refused.value) == "\n".join(f"{path}: {each.says}" for path, each in refused.value.problems)
    return list(refused.value.problems)


def test_a_promise_is_read_as_it_stands() -> None:
    """Along a fact, up or down, or against another output; never coarser of grades, else never weaker."""
    promises = [
        {"says": "a", "output": "finish_finest", "never": "coarser", "along": "falling flake"},
        {"says": "b", "output": "wet_bed", "never": "weaker", "along": "zone"},
        {"says": "c", "output": "hand_coarsest", "never": "coarser", "than": "finish_coarsest"},
    ]
    read = build([RuleSource("b.toml", "base", {"promise": promises})]).promises
    assert [(each.output, each.never, each.along, each.falling, each.than) for each in read] == [
        ("finish_finest", "coarser", "flake", True, None),
        ("wet_bed", "weaker", "zone", False, None),
        ("hand_coarsest", "coarser", None, False, "finish_coarsest"),
    ]


def line_of(path: tuple[str | int, ...]) -> int:
    """Say that the entries of a file stand in lines 10, 20 and so on."""
    return 10 * (1 + int(path[1])) if len(path) > 1 else 2


def test_only_so_many_hints_are_looked_for() -> None:
    """Thirty words are compared with every id, the rest are only told."""
    rules = [RULE | {"id": f"r{number}", "replaces": "bed-advized"} for number in range(32)]
    files = (
        RuleSource("base.toml", "base", {"rule": [RULE | {"id": "bed-advised"}]}),
        RuleSource("ours.toml", "ours", {"rule": rules}),
    )
    mends = [problem.mend for _, problem in problems(*files)]
    assert mends.count('did you mean "bed-advised"?') == 30
    assert mends.count("") == 2
    withdrawals = [{"rule": f"bed-advize{number}", "because": "x"} for number in range(32)]
    taken = (files[0], RuleSource("ours.toml", "ours", {"withdraw": withdrawals}))
    assert [bool(problem.mend) for _, problem in problems(*taken)].count(True) == 30


def test_problems_are_told_by_file_and_place() -> None:
    """Files by name; in one, keys in their order as words."""
    wrong = {"rule": [RULE | {"id": "a b"}, RULE | {"id": "c d"}], "exmple": []}
    files = RuleSource("b.toml", "base", wrong), RuleSource("a.toml", "base", wrong)
    assert [(path, problem.path) for path, problem in problems(*files)] == [
        ("a.toml", ("exmple",)), ("a.toml", ("rule", 0, "id")), ("a.toml", ("rule", 1, "id")),
        ("b.toml", ("exmple",)), ("b.toml", ("rule", 0, "id")), ("b.toml", ("rule", 1, "id")),
    ]  # fmt: skip


def test_an_id_taken_twice_is_told_with_the_place_where_it_is_taken() -> None:
    """In one file, in two of a folder, and in another layer: there it may be replaced instead."""
    twice = {"rule": [RULE, RULE | {"id": "b"}, RULE]}
    ((_, one),) = problems(RuleSource("base.toml", "base", twice, line_of=line_of))
    assert (one.says, one.path) == ('the id "a" is already taken in line 10', ("rule", 2, "id"))
    ((_, unlined),) = problems(RuleSource("base.toml", "base", twice))
    assert unlined.says == 'the id "a" is already taken'
    for layer, mend in (("base", "give each rule an id of its own"), ("ours", 'write replaces = "a"')):
        files = (
            RuleSource("a.toml", "base", {"rule": [RULE | {"id": "b"}, RULE]}, line_of=line_of),
            RuleSource("b.toml", layer, {"rule": [RULE]}, line_of=line_of),
        )
        ((path, problem),) = problems(*files)
        assert (path, problem.says) == ("b.toml", 'the id "a" is already taken in a.toml:20')
        assert mend in problem.mend


def test_a_folder_has_one_name() -> None:
    """The same in two files is one; two are told at the second; the base may be named file by file."""
    first, second = ({"standards": {"name": name, "version": "1"}} for name in ("Ours", "Mine"))
    plain = RuleSource("c.toml", "ours", {"rule": [RULE]})
    files = [RuleSource("a.toml", "ours", first, line_of=line_of), plain]
    ((path, problem),) = problems(*files, RuleSource("d.toml", "ours", second))
    assert (path, problem.path) == ("d.toml", ("standards",))
    assert problem.says == "this folder has another [standards] in a.toml:2"
    assert build([*files, RuleSource("d.toml", "ours", first)]).used.name == "Ours"
    in_base = [RuleSource("a.toml", "base", first), RuleSource("b.toml", "base", second)]
    assert build(in_base).used.name == "Ours + Mine"
    other = RuleSource("d.toml", "theirs", second, height=2)
    assert build([*files, other]).used.version == "1 + 1"


DAYS = (None, dt.date(2026, 2, 28), dt.date(2026, 3, 1), dt.date(2026, 6, 30), dt.date(2026, 7, 1))


def test_how_a_layer_stands_to_any_job() -> None:
    """Every day round its own, with and without a beginning, an end and a customer."""
    spans = product((None, dt.date(2026, 3, 1)), (None, dt.date(2026, 6, 30)), ("", "Blue Fleet"))
    for (first, last, fleet), day, customer in product(spans, DAYS, ("", " ", "blue  FLEET", "Red")):
        layer = LayerUsed(
            layer="one", customer=fleet, valid_from=first.isoformat() if first else None,
            valid_to=last.isoformat() if last else None,
        )  # fmt: skip
        if day and first and day < first:
            expected = "not yet"
        elif day and last and day > last:
            expected = "over"
        elif fleet and customer == "Red":
            expected = "other customer"
        elif ((first or last) and not day) or (fleet and not customer.strip()):
            expected = "unsure"
        else:
            expected = "in force"
        assert state_of(layer, day, customer) == expected, (layer, day, customer)


def test_layers_are_dated_where_any_of_them_is_and_engines_are_kept() -> None:
    """One engine for each way in which they stand."""
    base = RuleSource("base.toml", "base", {"rule": [RULE]})
    dated = {"standards": {"name": "x", "version": "1", "valid_to": dt.date(2026, 6, 30)}}
    layers = Layers([base, RuleSource("ours.toml", "ours", dated)])
    assert not Layers([base]).is_dated
    assert layers.is_dated
    assert layers.engine() is layers.engine(("in force", "in force"))
    assert layers.engine(("in force", "over")) is not layers.engine()
    assert [layer.state for layer in layers.engine(("in force", "over")).used.layers] == ["in force", "over"]
    assert layers.states(dt.date(2026, 7, 1), "") == ("in force", "over")


def test_examples_left_out_at_first_are_read_when_they_are_asked_for() -> None:
    """With their faults told then."""
    example = {"expect": {"wet_bed": "no"}}
    for wrong, expect in ((False, example), (True, {"expect": {"wetbed": "no"}})):
        whole = RuleSource("base.toml", "base", {"rule": [RULE], "example": [expect]})
        short = RuleSource("base.toml", "base", {"rule": [RULE]}, whole=lambda whole=whole: whole)  # type: ignore[misc]
        engine = build([short])
        if wrong:
            with pytest.raises(BadRulesError, match="wetbed"):
                list(engine.examples)
        else:
            assert [each.expect for each in engine.examples] == [{"wet_bed": "no"}]
    assert [each.expect for each in build([whole_of(example)]).examples] == [{"wet_bed": "no"}]


def whole_of(example: dict[str, Any]) -> RuleSource:
    """Return a file with one example."""
    return RuleSource("base.toml", "base", {"example": [example]})


def test_the_shape_of_a_wrong_file_is_told_entry_by_entry() -> None:
    """What is no table, no list and no entry at all; what is well shaped is kept with its place."""
    data = {
        "standards": 3, "rule": ["text", RULE, {"says": 1}], "promise": {"says": "x"}, "wisdom": [],
        "withdraw": [],
    }  # fmt: skip
    shaped, found = shape(data)
    assert [place for place, _ in shaped.of("rule")] == [1]
    assert shaped.standards is None
    assert shaped.of("withdraw") == []
    told = {(each.path, each.says) for each in found}
    assert (("standards",), "[standards]: this is a table") in told
    assert (("rule", 0), "rule: this is a table") in told
    assert (("rule", 2, "says"), 'rule: "says" takes words in quotes') in told
    assert (("promise",), "promise is a list of tables") in told
    assert (("wisdom",), 'a rule file has no "wisdom"') in told


@pytest.mark.parametrize(
    ("expected", "said", "is_met"),
    [
        (("Look",), ("Look twice.", "Lamp on."), True),
        (("Look", "Lamp"), ("Look twice.", "Lamp on."), True),
        (("Look", "Stop"), ("Look twice.", "Lamp on."), False),
        ((), (), True),
        ((), ("Look twice.",), False),
        ({"not": ("Stop", "Look")}, ("Look twice.",), False),
        ({"not": ("Stop", "Wait")}, ("Look twice.",), True),
        ({"not": ("Stop",)}, (), True),
    ],
)
def test_an_example_of_texts_is_met_by_parts_of_them(
    expected: object, said: tuple[str, ...], *, is_met: bool
) -> None:
    """Each text that is expected stands somewhere, and none that is not wanted does."""
    example = Example({}, Facts(), {"notes": expected})
    decision = Decision(notes=said)
    assert shortfalls(example, decision) == ({} if is_met else {"notes": (expected, said)})


def test_an_example_of_a_grade_or_a_number_is_met_by_that_alone() -> None:
    """None is no rule at all."""
    expect: dict[OutputName, object] = {"finish_coarsest": "P800", "risk_limit": None, "wet_bed": "no"}
    example = Example({}, Facts(), expect)
    assert shortfalls(example, Decision(finish_coarsest="P800")) == {}  # type: ignore[arg-type]
    assert shortfalls(example, Decision(risk_limit=0.25)) == {
        "finish_coarsest": ("P800", None), "risk_limit": (None, 0.25),
    }  # fmt: skip


def test_what_an_example_expects_is_read_in_its_one_form() -> None:
    """None for a grade or number that no rule sets, an empty tuple for no texts; of a word it is a fault."""
    read = {
        "finish_coarsest": "none", "risk_limit": "none", "holds": "none", "notes": [],
        "cautions": {"not": "Hot."}, "bed_coats_max": 2, "film_off_max_um": 5,
    }  # fmt: skip
    expected, wrong = read_expect(read, ())
    assert wrong == []
    assert expected == {
        "finish_coarsest": None, "risk_limit": None, "holds": (), "notes": (),
        "cautions": {"not": ("Hot.",)}, "bed_coats_max": 2, "film_off_max_um": 5.0,
    }  # fmt: skip
    assert isinstance(expected["bed_coats_max"], int)
    assert isinstance(expected["film_off_max_um"], float)
    assert [each.path for each in read_expect({"wet_bed": "none", "notes": {"nor": "x"}}, ())[1]] == [
        ("wet_bed",), ("notes",),
    ]  # fmt: skip


def test_texts_are_taken_bare_once_and_up_to_a_length() -> None:
    """Blanks round them do not count; one letter more than there may be is too long."""
    longest = "x" * TEXT_MAX
    assert read_set({"notes": [" Look. ", "Look.", "Lamp."]}, ())[0] == {"notes": ("Lamp.", "Look.")}
    assert read_set({"notes": longest}, ())[1] == []
    assert len(read_set({"notes": longest + "x"}, ())[1]) == 1
    assert len(read_set({"notes": ["Look.", longest + "x"]}, ())[1]) == 1
    wrong: tuple[object, ...] = ("", " ", ["Look.", " "], [], [[]])
    for text in wrong:
        assert len(read_set({"notes": text}, ())[1]) == 1


def test_a_case_is_whole_with_what_follows_from_it() -> None:
    """A flange or cut-out is not seen and a clear-only panel is all clear, unless it is said otherwise."""
    assert whole_case({}) == Facts()
    for kind, seen in (("flange", False), ("cut-out", False), ("edge", True), ("face", True)):
        assert whole_case({"feature": kind}) == Facts(feature=kind, seen=seen)
    assert whole_case({"feature": "flange", "seen": True}).seen
    assert whole_case({"role": "clear-only"}).zone == "clear"
    assert whole_case({"role": "repair"}).zone == "fade"
    assert whole_case({"role": "clear-only", "zone": "colour"}).zone == "colour"


def test_an_engine_of_files_counts_a_height_as_its_rank() -> None:
    """Without one the base is 0 and any house 1."""
    ranks = [
        RuleSource("a.toml", "base", {}).rank, RuleSource("a.toml", "ours", {}).rank,
        RuleSource("a.toml", "ours", {}, height=3).rank, RuleSource("a.toml", "base", {}, height=0).rank,
    ]  # fmt: skip
    assert ranks == [0, 1, 3, 0]
    assert isinstance(build([]), Engine)


def test_words_of_the_trade_that_are_no_value_are_told_what_says_them_here() -> None:
    """Practice: "clear" is no one surface here, "line" no one feature; likeness of letters would mislead."""
    asked = {"surface": ("clear", "cured-clear"), "feature": ("line", "patch"), "colour": ("hm-3", "book")}
    for fact, (word, meant) in asked.items():
        assert meant in read_when({fact: word}, ())[1][0].mend
    for output, meant in {
        "coats": "bed_coats_min",
        "finish": "finish_coarsest",
        "powder": "guide_coat",
    }.items():
        assert meant in read_set({output: 2}, ())[1][0].mend
