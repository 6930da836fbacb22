"""Rule files: every fault of one is told at once, with its key path, in words, and with what was meant."""

from typing import Any

import pytest

from prepadvisor.records import Problem
from prepadvisor.standards import BadRulesError, RuleFile, build
from prepadvisor.standards.language.layers import RuleSource

RULE: dict[str, Any] = {
    "id": "a",
    "says": "Do it.",
    "when": {"flake": "fine"},
    "set": {"finish_coarsest": "P800"},
    "source": "practice",
}


def problems_of(data: dict[str, Any], layer: str = "base") -> tuple[Problem, ...]:
    """Return what is wrong with a rule file."""
    with pytest.raises(BadRulesError) as refused:
        build([RuleSource("rules.toml", layer, data)])
    return tuple(problem for _, problem in refused.value.problems)


def without(key: str) -> dict[str, Any]:
    """Return the rule with a key taken away."""
    return {name: value for name, value in RULE.items() if name != key}


@pytest.mark.parametrize(
    ("entry", "path", "says", "mend"),
    [
        (without("says"), ("says",), '"says" is missing', "one sentence"),
        (without("source"), ("source",), '"source" is missing', "practice"),
        (without("set"), ("set",), '"set" is missing', "does nothing"),
        (without("id"), ("id",), '"id" is missing', "name of its own"),
        (RULE | {"says": "  "}, ("says",), '"says" is empty', "one sentence"),
        (RULE | {"source": ""}, ("source",), '"source" is empty', "practice"),
        (RULE | {"set": {}}, ("set",), '"set" is empty', "does nothing"),
        (RULE | {"id": "a b"}, ("id",), "no slash, no backslash and no blank", ""),
        (RULE | {"when": "fine"}, ("when",), '"when" is a table', "name = value"),
        (RULE | {"wen": {}}, ("wen",), 'there is no "wen" here', 'did you mean "when"?'),
        (RULE | {"says": 3}, ("says",), "words in quotes", ""),
        (RULE | {"says": "x" * 500}, ("says",), "too long", "one or two sentences"),
        (RULE | {"says": "a\x07b"}, ("says",), "control character", ""),
        (
            RULE | {"set": {"finsh_coarsest": "P800"}},
            ("set", "finsh_coarsest"),
            "no output",
            "finish_coarsest",
        ),
        (RULE | {"set": {"finish_coarsest": "600"}}, ("set", "finish_coarsest"), "has no P", ""),
        (RULE | {"set": {"finish_coarsest": 600}}, ("set", "finish_coarsest"), "has no P", ""),
        (RULE | {"set": {"finish_coarsest": "P810"}}, ("set", "finish_coarsest"), 'did you mean "P80', ""),
        (RULE | {"set": {"finish_coarsest": 0.5}}, ("set", "finish_coarsest"), "cannot be 0.5", "P1000"),
        (RULE | {"set": {"wet_bed": "requird"}}, ("set", "wet_bed"), 'cannot be "requird"', '"required"'),
        (RULE | {"set": {"wet_bed": True}}, ("set", "wet_bed"), "cannot be true", "advised"),
        (RULE | {"set": {"bed_coats_max": 2.5}}, ("set", "bed_coats_max"), "not a whole number", ""),
        (RULE | {"set": {"bed_coats_max": "2"}}, ("set", "bed_coats_max"), 'cannot be "2"', "0 to 10"),
        (RULE | {"set": {"risk_limit": 25}}, ("set", "risk_limit"), "out of range", "0 to 1"),
        (RULE | {"set": {"risk_limit": float("nan")}}, ("set", "risk_limit"), "cannot be nan", "0 to 1"),
        (RULE | {"set": {"film_off_max_um": -1}}, ("set", "film_off_max_um"), "out of range", "µm"),
        (RULE | {"set": {"holds": True}}, ("set", "holds"), "takes a sentence", ""),
        (RULE | {"set": {"holds": ["a", 3]}}, ("set", "holds"), "takes a sentence", ""),
        (RULE | {"set": {"holds": []}}, ("set", "holds"), "takes a sentence", ""),
        (RULE | {"when": {"flake": "finne"}}, ("when", "flake"), 'cannot be "finne"', '"fine"'),
        (RULE | {"when": {"film_um": "300 .. 90"}}, ("when", "film_um"), "runs backwards", "90 .. 300"),
        ("not a table", (), "table", ""),
    ],
    ids=lambda value: str(value)[-48:],
)
def test_a_wrong_rule_is_told_with_its_mend(
    entry: dict[str, Any], path: tuple[str | int, ...], says: str, mend: str
) -> None:
    """Each fault of a rule names its key path, what is wrong and the mend."""
    (problem,) = problems_of({"rule": [entry]})
    assert problem.path == ("rule", 0, *path)
    assert says in problem.says
    assert mend in problem.mend


@pytest.mark.parametrize(
    ("promise", "path", "says", "mend"),
    [
        ({"output": "finish_corsest"}, ("output",), "finish_corsest", "finish_coarsest"),
        ({"output": "holds"}, ("output",), '"holds"', ""),
        ({"along": "role"}, ("along",), "no order", "flake"),
        ({"along": "flak"}, ("along",), 'no fact is called "flak"', '"flake"'),
        ({"along": "falling role"}, ("along",), "no order", ""),
        ({"along": None}, (), "either along a fact or with another output", "one of"),
        ({"than": "hand_coarsest"}, (), "either along a fact or with another output", "one of"),
        ({"along": None, "than": "wet_bed"}, ("than",), "cannot be compared", ""),
        ({"along": None, "than": "finish_coarsest"}, ("than",), "cannot be compared", ""),
        ({"along": None, "than": "hand_coarse"}, ("than",), "hand_coarse", "hand_coarsest"),
        ({"never": "worse"}, ("never",), 'cannot be "worse"', "coarser"),
        ({"never": "weaker"}, ("never",), 'never "weaker"', '"coarser"'),
        ({"output": "wet_bed"}, ("never",), 'never "coarser"', '"weaker"'),
        ({"where": {"zon": "fade"}}, ("where", "zon"), '"zon"', '"zone"'),
        ({"says": None}, ("says",), '"says" is missing', ""),
    ],
    ids=str,
)
def test_a_wrong_promise_is_told_with_its_mend(
    promise: dict[str, Any], path: tuple[str | int, ...], says: str, mend: str
) -> None:
    """A promise needs an output that can be compared, and an order or another output to compare along."""
    right = {"says": "Never.", "along": "flake", "output": "finish_coarsest", "never": "coarser"} | promise
    given = {key: value for key, value in right.items() if value is not None}
    (problem,) = problems_of({"promise": [given]})
    assert problem.path == ("promise", 0, *path)
    assert says in problem.says
    assert mend in problem.mend


@pytest.mark.parametrize(
    ("data", "path", "says", "mend"),
    [
        ({"rules": []}, ("rules",), 'no "rules"', 'did you mean "rule"?'),
        ({"rule": {}}, ("rule",), "list of tables", "[[rule]]"),
        ({"standards": {"name": "x"}}, ("standards", "version"), '"version" is missing', ""),
        ({"example": [{"given": {}}]}, ("example", 0, "expect"), '"expect" is missing', "outputs"),
        (
            {"example": [{"given": {"flake": ["fine"]}, "expect": {"wet_bed": "no"}}]},
            ("example", 0, "given", "flake"),
            "flake cannot be",
            "",
        ),
        (
            {"example": [{"given": {"flak": "fine"}, "expect": {"wet_bed": "no"}}]},
            ("example", 0, "given", "flak"),
            '"flak"',
            '"flake"',
        ),
        (
            {"example": [{"given": {}, "expect": {"finish_coarsest": "800"}}]},
            ("example", 0, "expect", "finish_coarsest"),
            "has no P",
            "",
        ),
        (
            {"example": [{"expect": {"wetbed": "no"}}]},
            ("example", 0, "expect", "wetbed"),
            "no output",
            "wet_bed",
        ),
        (
            {"impossible": [{"when": {}, "because": "x"}]},
            ("impossible", 0, "when"),
            "empty",
            "nothing at all",
        ),
        (
            {"impossible": [{"when": {"flak": 1}, "because": "x"}]},
            ("impossible", 0, "when", "flak"),
            "flak",
            "flake",
        ),
        ({"impossible": [{"when": {"seen": True}}]}, ("impossible", 0, "because"), "missing", "say why"),
        ({"withdraw": [{"rule": "a", "because": "x"}]}, ("withdraw", 0), "base withdraws nothing", "delete"),
    ],
    ids=lambda value: str(value)[:48],
)
def test_a_wrong_entry_of_another_kind_is_told_with_its_mend(
    data: dict[str, Any], path: tuple[str | int, ...], says: str, mend: str
) -> None:
    """Standards, examples, impossible cases and withdrawals are checked as strictly as rules."""
    (problem,) = problems_of(data)
    assert problem.path == path
    assert says in problem.says
    assert mend in problem.mend


def test_a_house_cannot_say_what_is_impossible() -> None:
    """Only the base may leave cases out; a house would hide its own gaps."""
    (problem,) = problems_of({"impossible": [{"when": {"seen": True}, "because": "x"}]}, "house")
    assert problem.path == ("impossible", 0)
    assert "hold" in problem.mend


def test_every_fault_of_a_file_is_told_at_once() -> None:
    """Faults of shape, of conditions, of values and across rules come together."""
    wrong = [
        RULE | {"when": {"flak": "x", "zone": "fad"}},
        without("says") | {"id": "b"},
        RULE | {"id": "c", "set": {"wetbed": "no", "risk_limit": 3}},
        RULE,
    ]
    assert [problem.path for problem in problems_of({"rule": wrong, "exmple": []})] == [
        ("exmple",),
        ("rule", 0, "when", "flak"),
        ("rule", 0, "when", "zone"),
        ("rule", 1, "says"),
        ("rule", 2, "set", "risk_limit"),
        ("rule", 2, "set", "wetbed"),
        ("rule", 3, "id"),
    ]


def test_a_rule_without_its_source_still_has_its_other_faults_told() -> None:
    """A missing key does not hide a wrong condition and a bare number in the same rule."""
    wrong = without("source") | {"when": {"flake": ">= finne"}, "set": {"finish_coarsest": "600"}}
    assert [problem.path[2:] for problem in problems_of({"rule": [wrong]})] == [
        ("set", "finish_coarsest"),
        ("source",),
        ("when", "flake"),
    ]


def test_a_fault_in_a_rule_names_the_rule() -> None:
    """With several rules in a file the message says which one is meant."""
    (problem,) = problems_of({"rule": [RULE | {"when": {"flak": "fine"}}]})
    assert 'rule "a"' in problem.says


def test_nothing_in_a_rule_is_evaluated() -> None:
    """Text that looks like code stays text, or is refused as an unknown value."""
    text = "__import__('os').abort()"
    engine = build(
        [RuleSource("rules.toml", "base", {"rule": [RULE | {"says": text, "set": {"notes": text}}]})]
    )
    assert engine.rules[0].set["notes"] == (text,)
    (problem,) = problems_of({"rule": [RULE | {"when": {"flake": text}}]})
    assert "flake cannot be" in problem.says


def test_a_grade_is_brought_to_its_one_spelling() -> None:
    """Lower case and blanks around a grade are no fault."""
    data = {"rule": [RULE | {"set": {"finish_coarsest": " p1000 "}}]}
    assert build([RuleSource("rules.toml", "base", data)]).rules[0].set["finish_coarsest"] == "P1000"


def test_the_json_schema_has_every_fact_and_output() -> None:
    """The schema for editors knows conditions and outputs by name."""
    schema = RuleFile.model_json_schema()
    rule = schema["$defs"]["RuleEntry"]["properties"]
    assert rule["when"]["properties"].keys() >= {"flake", "film_um", "special"}
    assert rule["set"]["properties"].keys() >= {"finish_coarsest", "holds"}
    assert schema["additionalProperties"] is False


@pytest.mark.parametrize("count", [5_000])
def test_thousands_of_rules_are_read_and_every_fault_in_them_told(count: int) -> None:
    """A huge file neither hangs nor hides faults: here every rule replaces one that does not exist."""
    rules = [RULE | {"id": f"r{number}", "replaces": f"x{number}"} for number in range(count)]
    problems = problems_of({"rule": rules}, "house")
    assert len(problems) == count
