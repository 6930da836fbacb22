"""`prepadvisor gate`: clear or held, in words and as JSON, with the exit status to match."""

import json
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")
HELD = str(demo_jobs_dir() / "a-place-that-holds.toml")


def test_a_job_without_a_log_is_held_with_a_mend_for_each(capsys: pytest.CaptureFixture[str]) -> None:
    """Every place of every panel, and no hold without its mend."""
    assert main(["gate", JOB, "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    assert said["clear"] is False
    assert all(set(hold) == {"place", "kind", "why", "mend"} for hold in said["holds"])
    assert all(all(hold.values()) for hold in said["holds"])
    assert said["stage"] == "paint"
    assert {"left-front-door/face", "left-front-wing/R1", "left-front-door"} <= {
        h["place"] for h in said["holds"]
    }


def test_the_word_stands_first(capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody has to read to the end to know."""
    main(["gate", JOB])
    assert capsys.readouterr().out.startswith("NOT CLEAR TO MASK   job 1042")


def test_holds_are_grouped_by_the_numbers_of_the_card_next_thing_first(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """What all places lack is said once; cleaning comes before wiping."""
    main(["gate", JOB])
    out = capsys.readouterr().out
    assert "\n  A, A1-A7, B, B1-B8\n    holds: not yet looked at\n" in out
    assert "next: A LEFT FRONT DOOR: clean and degrease" in out
    assert out.index("not cleaned") < out.index("not scuffed") < out.index("not yet") < out.index("not wiped")


def test_what_the_advice_forbids_is_among_the_holds(capsys: pytest.CaptureFixture[str]) -> None:
    """With the advice's own mend."""
    assert main(["gate", HELD, "--json"]) == 1
    holds = json.loads(capsys.readouterr().out)["holds"]
    main(["card", HELD, "--to", "json"])
    advised = json.loads(capsys.readouterr().out)["holds"]
    assert advised
    assert {hold["why"] for hold in advised} <= {hold["why"] for hold in holds}


def test_several_jobs_are_a_line_each_and_the_worst_status(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One bad file does not keep the others from being told."""
    bad = tmp_path / "bad.toml"
    bad.write_text("[job\n", encoding="utf-8")
    assert main(["gate", JOB, str(bad), HELD, "--json"]) == 2
    out, err = capsys.readouterr()
    said = [json.loads(line) for line in out.splitlines()]
    assert [each["clear"] for each in said] == [False, False]
    assert [each["file"] for each in said] == [JOB, HELD]
    assert "bad.toml:1" in err


def test_a_house_is_judged_by(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shop without fine grades on its shelf has nothing to sand to."""
    (tmp_path / "shop.toml").write_text('shelf = ["P80", "P180", "P320"]\n', encoding="utf-8")
    assert main(["gate", JOB, "--house", str(tmp_path), "--json"]) == 1
    kinds = {hold["kind"] for hold in json.loads(capsys.readouterr().out)["holds"]}
    assert "plan-holds" in kinds


def test_a_house_folder_that_is_not_there_is_bad_usage(capsys: pytest.CaptureFixture[str]) -> None:
    """Rather than the shipped standards in silence."""
    assert main(["gate", JOB, "--house", "no-such-folder"]) == 2
    assert "no-such-folder" in capsys.readouterr().err
