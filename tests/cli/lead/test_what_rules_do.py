"""The check ends with a sentence for each house rule, of what it does, and begins with what is laxer."""

import json
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.cli.main import main

WHERE = 'surface = ["aged-clear", "cured-clear"], next = "base", zone = "fade", feature = "edge"'


def rule(name: str, when: str, sets: str, more: str = "") -> str:
    """Write a rule."""
    text = f'[[rule]]\nid = "{name}"\nsays = "Ours."\nwhen = {{ {when} }}\nset = {{ {sets} }}\nsource = "x"\n'
    return f"{text}{more}\n"


HOUSE = "\n".join(
    (
        rule("tight", f'{WHERE}, flake = "very-fine"', 'hand_coarsest = "P1200"'),
        rule("lax", f'{WHERE}, flake = "fine"', 'hand_coarsest = "P500"', 'replaces = "hand-fine"'),
        rule("both", 'surface = "sealer"', "step_ratio_min = 0.7", 'replaces = "grit-step"'),
        rule("idle", f'{WHERE}, flake = "fine", seen = true', 'wet_bed = "advised"'),
        rule("words", 'panel = "roof"', 'notes = "Mind the gutter."'),
        rule("stop", 'panel = "sill", zone = "fade"', 'holds = "Ask."'),
        rule("missing", f'{WHERE}, flake = "medium"', 'hand_coarsest = "P1000"'),
        '[[withdraw]]\nrule = "hand-pad-grain"\nbecause = "Known."\n',
    )
)


@pytest.fixture
def checked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """Check the house as JSON."""
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "rules.toml").write_text(HOUSE, encoding="utf-8")
    main(["standards", "check", str(tmp_path / "ours"), "--json"])
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_there_is_one_sentence_for_each_rule_in_the_order_of_the_file(checked: dict[str, Any]) -> None:
    """With the kind of what it does, its file and line."""
    assert [(each["rule"], each["does"]) for each in checked["house"]] == [
        ("tight", "tightens"),
        ("lax", "loosens"),
        ("both", "both"),
        ("idle", "nothing"),
        ("words", "words"),
        ("stop", "tightens"),
        ("missing", "tightens"),
        ("hand-pad-grain", "words"),
    ]
    lines = [each["line"] for each in checked["house"]]
    assert lines == sorted(lines)
    assert all(each["file"].endswith("rules.toml") and each["says"] for each in checked["house"])


def test_a_sentence_names_a_case_with_before_and_after(checked: dict[str, Any]) -> None:
    """In words of the shop: a panel, a colour, a place, and the grades."""
    (tight,) = [each for each in checked["house"] if each["rule"] == "tight"]
    assert "front door, very fine, light: edge in the fade, hand_coarsest P1000 → P1200" in tight["says"]
    assert (tight["case"]["flake"], tight["case"]["feature"]) == ("very-fine", "edge")


def test_a_rule_that_does_nothing_is_told_why(checked: dict[str, Any]) -> None:
    """And it is no error."""
    (idle,) = [each for each in checked["house"] if each["rule"] == "idle"]
    assert "does nothing" in idle["says"]
    assert "as much or more" in idle["says"]
    assert idle["case"] == {}


def test_what_would_end_a_hold_unsaid_is_not_told_as_needless(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Withdrawn or replaced: it does nothing because the hold holds on, not because others ask as much."""
    own = rule("own-wrap", 'special = "wrap"', 'notes = "Mind it."', 'replaces = "special-wrap"')
    text = '[[withdraw]]\nrule = "special-radar"\nbecause = "No time."\n'
    (tmp_path / "rules.toml").write_text(text + own, encoding="utf-8")
    main(["standards", "check", str(tmp_path), "--json"])
    radar, wrap = json.loads(capsys.readouterr().out)["house"]
    assert "the hold holds on" in radar["says"]
    assert wrap["does"] == "words" or "the hold holds on" in wrap["says"]


def test_every_case_that_got_laxer_is_told_on_top(checked: dict[str, Any]) -> None:
    """Each with the layer, the rule that went, by what, and the grades."""
    told = {
        (cause["rule"], cause["by"], each["direction"])
        for each in checked["loosened"]
        for cause in each["causes"]
    }
    assert told == {("hand-fine", "replaced", "laxer"), ("grit-step", "replaced", "laxer")}
    assert all(each["layer"] == "ours" and each["cases"] > 0 for each in checked["loosened"])


def test_the_laxer_cases_stand_above_the_findings_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And what each rule does below them."""
    (tmp_path / "rules.toml").write_text(HOUSE, encoding="utf-8")
    main(["standards", "check", str(tmp_path)])
    text = capsys.readouterr().out
    assert text.startswith("LAXER THAN THE LAYER BELOW")
    assert text.index("LAXER") < text.index("to mend") < text.index("WHAT EACH RULE DOES")


def test_a_case_can_be_written_as_a_job_and_its_card_shows_the_rule(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the lead pictures is what the painter gets."""
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "rules.toml").write_text(HOUSE, encoding="utf-8")
    assert main(["standards", "check", str(tmp_path / "ours"), "--as-job", "tight"]) == 0
    (tmp_path / "case.toml").write_text(capsys.readouterr().out, encoding="utf-8")
    main(["card", str(tmp_path / "case.toml"), "--house", str(tmp_path / "ours"), "--to", "json"])
    spots = json.loads(capsys.readouterr().out)["spots"]
    assert any(reason["rule"] == "tight" for spot in spots for reason in spot["because"])


def test_a_grade_that_the_shelf_lacks_is_told_with_the_rule(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """P3000 is not on the shipped shelf."""
    text = rule("fine", f'{WHERE}, flake = "vapour"', 'hand_coarsest = "P2500"')
    (tmp_path / "rules.toml").write_text(text, encoding="utf-8")
    main(["standards", "check", str(tmp_path), "--json"])
    (each,) = json.loads(capsys.readouterr().out)["house"]
    assert "shelf lacks P2500" in each["says"]
