"""`prepadvisor why`: where every number at a place comes from."""

import json
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir
from tests.cards.test_card_says_which import TWO

JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")


def test_a_place_is_explained_from_rule_to_risk(capsys: pytest.CaptureFixture[str]) -> None:
    """Rule with file and line, groove, flake, risk, wet bed, minutes."""
    assert main(["why", JOB, "A4", "--numbers"]) == 0
    told = capsys.readouterr().out
    for part in (
        "Grit range, fade",
        "rules/base/",
        "groove depth = k x grain",
        "risk = Phi",
        "Wet bed, fade",
        "Minutes",
    ):
        assert part in told, part


def test_the_hand_limit_is_told_by_rule_and_by_removal(capsys: pytest.CaptureFixture[str]) -> None:
    """The coarsest grade that still comes out, and the next coarser one, which stays."""
    main(["why", JOB, "A1", "--numbers"])
    told = capsys.readouterr().out
    assert "Hand limit ahead of the DA" in told
    assert ": comes out" in told
    assert ": stays" in told


def test_a_panel_is_explained_down_to_what_is_mixed(capsys: pytest.CaptureFixture[str]) -> None:
    """Which places decide, zones, film, millilitres, discs."""
    assert main(["why", JOB, "left-front-door", "--numbers"]) == 0
    told = capsys.readouterr().out
    for part in ("Which places decide", "Zones", "Film", "To mix", "Discs"):
        assert part in told


def test_one_zone_of_a_place_can_be_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """The other zones stay out of it."""
    assert main(["why", JOB, "left-front-door/E2/fade", "--numbers"]) == 0
    told = capsys.readouterr().out
    assert "Grit range, fade" in told
    assert "Grit range, clear" not in told


def test_an_unknown_place_is_status_2_with_a_hint(capsys: pytest.CaptureFixture[str]) -> None:
    """Did you mean."""
    assert main(["why", JOB, "left-front-door/E22"]) == 2
    assert "did you mean" in capsys.readouterr().err


def test_json_gives_the_same_lines(capsys: pytest.CaptureFixture[str]) -> None:
    """For a program to read."""
    assert main(["why", JOB, "A4", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    sections = told["sections"]
    assert {reason["kind"] for reason in told["because"]} == {"rule", "estimate"}
    assert {reason["spot"] for reason in told["because"]} == {"left-front-door/H1/fade"}
    assert sections[0]["title"].startswith("A4 handle recess")
    assert all(section["lines"] for section in sections)


def test_a_zone_may_be_asked_for_in_either_spelling(capsys: pytest.CaptureFixture[str]) -> None:
    """`color` and `colour` are the same zone."""
    told = []
    for zone in ("colour", "color"):
        assert main(["why", JOB, f"left-front-door/E1/{zone}"]) == 0
        told.append(capsys.readouterr().out)
    assert told[0] == told[1]


def test_the_minutes_of_a_patch_are_those_of_its_grit_steps(capsys: pytest.CaptureFixture[str]) -> None:
    """The total that the card prints beside the patch."""
    assert main(["why", JOB, "left-front-wing/R1", "--numbers"]) == 0
    assert "6.6 min: powder 1.0, sand P500 1.3, powder 1.0" in capsys.readouterr().out


@pytest.mark.parametrize("where", ["A", "A1", "A4", "A6", "B8", "B", "left-front-door/E2/fade"])
def test_ten_lines_tell_what_is_done_and_what_decides(where: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The rest is one word away; no line is wider than a terminal of 100 columns."""
    assert main(["why", JOB, where]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) <= 10
    assert max(map(len, lines)) <= 100
    assert "--numbers" in lines[-1]
    assert any("P1" in line for line in lines)


def test_a_hold_is_told_among_the_ten_lines(capsys: pytest.CaptureFixture[str]) -> None:
    """With its mend."""
    assert main(["why", str(demo_jobs_dir() / "a-place-that-holds.toml"), "A8"]) == 0
    assert "STOP: Bare: primer first" in capsys.readouterr().out


def test_a_median_past_its_sieve_bound_prints_the_bound_and_what_it_would_change(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """ASTM D962 bounds a fine type at 9.6 µm; the start value is 12 (tests/reference/flake_sieve.csv)."""
    job = demo_jobs_dir() / "fine-two-panels.toml"
    assert main(["why", str(job), "left-rear-door/face", "--numbers"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "lets it be 9.6 at most" in said
    assert "instead of" in said


def test_a_grade_finer_than_the_deciding_part_is_explained(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The card says P1000 where the fade alone would do with P800; the ten lines say why."""
    path = tmp_path / "1.toml"
    path.write_text(TWO.replace("[70]", "[120]"), "utf-8")
    assert main(["why", str(path), "A"]) == 0
    told = capsys.readouterr().out
    assert "grade P800" in told
    assert "it gets P1000" in told
