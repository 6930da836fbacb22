"""`prepadvisor outcome` and `outcomes`: what was seen weeks later, and how often."""

import json
import re
from pathlib import Path

import pytest
import tomli

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

DOOR = "left-front-door"


@pytest.fixture
def archive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with two finished jobs."""
    monkeypatch.setenv("PREPADVISOR_BY", "KM")
    demo = (demo_jobs_dir() / "very-fine-door-and-wing.toml").read_text(encoding="utf-8")
    for number in ("1042", "1043"):
        text = re.sub(r"^number = .*$", f'number = "{number}"', demo, count=1, flags=re.MULTILINE)
        (tmp_path / f"{number}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def _outcome(job: Path, *words: str) -> int:
    return main(["outcome", str(job), *words])


def test_an_outcome_is_added_to_the_job(archive: Path) -> None:
    """With its place, what was seen, and the note."""
    job = archive / "1042.toml"
    before = job.read_bytes()
    assert _outcome(job, f"{DOOR}/H1", "seen", "--note", "straight lines") == 0
    (entry,) = tomli.loads(job.read_text(encoding="utf-8"))["outcome"]
    assert (entry["panel"], entry["feature"], entry["seen"], entry["note"]) == (
        DOOR,
        "H1",
        True,
        "straight lines",
    )
    assert job.read_bytes().startswith(before)


def test_a_place_may_be_named_as_on_the_card(archive: Path) -> None:
    """The handle recess is A4 there."""
    assert _outcome(archive / "1042.toml", "A4", "seen") == 0
    (entry,) = tomli.loads((archive / "1042.toml").read_text(encoding="utf-8"))["outcome"]
    assert (entry["panel"], entry["feature"]) == (DOOR, "H1")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((f"{DOOR}/h1", "seen"), 'did you mean "H1"?'),
        (("left-front-dor/H1", "seen"), 'did you mean "left-front-door"?'),
        ((f"{DOOR}/H1", "gone"), "neither seen nor clear"),
        ((f"{DOOR}/all", "seen"), "say where"),
        ((f"{DOOR}/H1", "seen", "--at", "2999-01-01T00:00:00Z"), "ahead of now"),
    ],
)
def test_an_outcome_that_makes_no_sense_is_refused(
    archive: Path, words: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 2, and the job as it was."""
    job = archive / "1042.toml"
    before = job.read_bytes()
    assert _outcome(job, *words) == 2
    assert says in capsys.readouterr().err
    assert job.read_bytes() == before


def test_rates_are_told_with_their_interval_and_the_decisions_that_failed(
    archive: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Places clear on one door, one seen on the other: two jobs carry little, and hidden places nothing."""
    main(
        ["log", str(archive / "1043.toml"), f"{DOOR}/H1", "scuffed", "--tool", "hand-pad", "--grade", "P1500"]
    )
    _outcome(archive / "1042.toml", f"{DOOR}/all", "clear")
    _outcome(archive / "1043.toml", f"{DOOR}/all", "clear")
    _outcome(archive / "1043.toml", f"{DOOR}/H1", "seen")
    capsys.readouterr()
    assert main(["outcomes", str(archive), "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    whole = said["rates"][0]
    assert (whole["seen"], whole["places"] + said["hidden"]["places"], whole["jobs"]) == (1, 16, 2)
    assert said["hidden"]["seen"] == 0
    assert whole["worth"] == 1.0
    (failed,) = said["failed"]
    assert (failed["place"], failed["tool"], failed["grade"], failed["reach"]) == (
        f"{DOOR}/H1", "hand-pad", "P1500", "hand only"
    )  # fmt: skip
    assert failed["rules"]


def test_text_speaks_the_trades_words(archive: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No word of a file: flake, reach, zone and place as on a card."""
    _outcome(archive / "1043.toml", f"{DOOR}/H1", "seen")
    capsys.readouterr()
    assert main(["outcomes", str(archive)]) == 1
    out = capsys.readouterr().out
    assert not [word for word in (": very-fine", "  very-fine", "  machine", f"{DOOR}/H1") if word in out]
    assert "  very fine  " in out
    assert "left front door H1: very fine, hand only; " in out


def test_unreadable_files_are_listed_and_counted(archive: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Never left out in silence."""
    (archive / "bad.toml").write_text("[job\n", encoding="utf-8")
    _outcome(archive / "1042.toml", f"{DOOR}/all", "clear")
    assert main(["outcomes", str(archive)]) == 2
    out = capsys.readouterr().out
    assert "NOT READ: 1 file" in out
    assert "bad.toml:1" in out


def test_no_reports_are_no_rates(archive: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing is known, and that is what is said."""
    assert main(["outcomes", str(archive)]) == 0
    assert "2 job files, 0 places reported on" in capsys.readouterr().out


def test_all_clear_is_status_0_and_says_how_sure_that_is(
    archive: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One clear job: up to 79 % is still possible (scipy 1.17, binomtest(0, 1), Wilson)."""
    _outcome(archive / "1042.toml", f"{DOOR}/all", "clear")
    assert main(["outcomes", str(archive / "1042.toml")]) == 0
    assert "0% to  79%" in capsys.readouterr().out


def test_what_was_predicted_stands_beside_what_was_seen(
    archive: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The risk of the grade and tool that were logged, as `lines` has it; jobs without a report are told."""
    job = archive / "1042.toml"
    assert main(["log", str(job), f"{DOOR}/H1", "scuffed", "--tool", "hand-pad", "--grade", "P1000"]) in {
        0,
        1,
    }
    assert _outcome(job, f"{DOOR}/H1", "seen") == 0
    capsys.readouterr()
    main(["outcomes", str(archive), "--json"])
    found = json.loads(capsys.readouterr().out)
    assert found["without_report"] == 1
    (tool,) = [rate for rate in found["rates"] if rate["factor"] == "tool"]
    main(["lines", "--flake", "very-fine", "--zone", _zone_of(found), "--json"])
    rows = json.loads(capsys.readouterr().out)["rows"]
    (expected,) = [row["risk"] for row in rows if (row["tool"], row["grade"]) == ("hand-pad", "P1000")]
    assert (tool["value"], tool["judged"]) == ("hand-pad", 1)
    assert tool["predicted"] == pytest.approx(expected)


def _zone_of(found: dict[str, list[dict[str, str]]]) -> str:
    """Return the zone of the one place that failed."""
    (place,) = found["failed"]
    return place["zone"]
