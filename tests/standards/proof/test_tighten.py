"""A tightened rule: the same cases, its grade limits so many shelf steps finer; and it reads back."""

from pathlib import Path

import pytest
import tomli

from prepadvisor.cli.main import main
from prepadvisor.files import load_house
from prepadvisor.records import Grade, OutputName
from prepadvisor.standards import NoGradeError, read_set, read_when, rule_text, tightened
from prepadvisor.standards.engine import Box, Rule, Setting

SHELF = tuple(map(Grade, ("P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000")))
RULES = load_house().engine.rules


def read_back(text: str) -> tuple[Box, dict[OutputName, object]]:
    """Read the one rule of a text as a rule file is read."""
    (entry,) = tomli.loads(text)["rule"]
    box, wrong_when = read_when(entry["when"], ())
    settings, wrong_set = read_set(entry["set"], ())
    assert (wrong_when, wrong_set) == ([], [])
    return box, {**settings}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_is_written_as_it_was_read(rule: Rule) -> None:
    """Conditions and settings survive being written and read."""
    text = rule_text(rule.id, rule.says, rule.when, rule.set, rule.source)
    assert read_back(text) == (rule.when, dict(rule.set))


@pytest.mark.parametrize(
    "when",
    [
        {"film_um": "no reading"},
        {"film_um": ["no reading", "< 90"]},
        {"film_um": "90 .. 120", "length_mm": "> 300"},
        {"panel_m2": "<= 0.5", "seen": False, "stages": 3},
        {"flake": ["solid", "fine"], "zone": "<= colour", "panel": {"not": ["roof", "bonnet"]}},
        {"film_um": 90, "tone": {"not": "mid"}},
    ],
    ids=str,
)
def test_every_kind_of_condition_is_written_as_it_was_read(when: dict[str, object]) -> None:
    """Also those the base has none of."""
    box, wrong = read_when(when, ())
    assert wrong == []
    assert read_back(rule_text("a", "b", box, {"bed_coats_max": 1}, "c"))[0] == box


@pytest.mark.parametrize(
    ("grade", "steps", "after"), [("P800", 1, "P1000"), ("P800", 2, "P1200"), ("P360", 1, "P400")]
)
def test_a_grade_goes_so_many_steps_of_the_shelf_finer(grade: Grade, steps: int, after: str) -> None:
    """A grade that is not on the shelf goes to the next finer one there."""
    rule = Rule(
        "a",
        f"Fine: {grade}.",
        RULES[0].when,
        {"finish_coarsest": grade, "finish_finest": Grade("P1500")},
        "x",
    )
    made = tightened(rule, steps, SHELF)
    assert made.set == {"finish_coarsest": after}
    assert made.says == f"Fine: {after}."


def test_where_there_is_nothing_finer_it_says_so() -> None:
    """Neither a rule without a grade, nor a shelf without a finer one, gives a rule."""
    nothing: tuple[dict[OutputName, Setting], ...] = (
        {"wet_bed": "required"},
        {"finish_coarsest": Grade("P2000")},
        {"finish_finest": Grade("P800")},
    )
    for settings in nothing:
        with pytest.raises(NoGradeError):
            tightened(Rule("a", "b", RULES[0].when, settings, "x"), 1, SHELF)


def test_a_tightened_rule_added_to_a_house_tightens_by_one_grade(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As a lead would use it: made, checked, there."""
    out = tmp_path / "hand.toml"
    assert main(["standards", "tighten", "hand-fine", "1", "--out", str(out)]) == 0
    assert "P800 → P1000" in capsys.readouterr().out
    assert main(["standards", "check", str(tmp_path)]) == 0
    assert "our-hand-fine tightens" in capsys.readouterr().out


def test_an_unknown_rule_is_refused_with_a_hint(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2."""
    assert main(["standards", "tighten", "hand-fin"]) == 2
    assert 'did you mean "hand-fine"' in capsys.readouterr().err
