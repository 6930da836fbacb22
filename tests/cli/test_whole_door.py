"""A technician's whole door, from the first wash to clear to mask, on the command line alone.

The lines are the example of the README: what a scanner wand or a script would send.
"""

import json
import shlex
from pathlib import Path

import pytest

from prepadvisor.cli.main import main

DOOR = """\
[job]
number = "2001"

[colour]
flake = "very-fine"
stages = 2
tone = "light"

[[panel]]
id = "door"
kind = "front-door"
role = "blend"
surface = "aged-clear"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400

[[panel.feature]]
id = "E1"
kind = "edge"
name = "front edge"
path = [[0.0, 0.05], [0.0, 0.95]]
reach = "machine"

[[panel.feature]]
id = "H1"
kind = "recess"
name = "handle recess"
path = [[0.4, 0.2], [0.55, 0.2]]
reach = "hand"
"""

EXAMPLE = """\
prepadvisor log 2001.toml door/panel cleaned --by KM
prepadvisor log 2001.toml door/H1 scuffed --by KM --tool hand-pad --grade P1500
prepadvisor log 2001.toml door/E1 scuffed --by KM --tool hand-pad --grade P1000
prepadvisor log 2001.toml door/E1 guide-coated --by KM
prepadvisor log 2001.toml door/all sanded --by KM --tool da-soft --grade P1000
prepadvisor log 2001.toml door/E1 inspected --by KM --result lines
prepadvisor log 2001.toml door/E1 guide-coated --by KM
prepadvisor log 2001.toml door/E1 sanded --by KM --tool da-soft --grade P1000
prepadvisor log 2001.toml door/E1 inspected --by KM --result clear
prepadvisor log 2001.toml door/H1 inspected --by KM --result clear
prepadvisor log 2001.toml door/face inspected --by KM --result clear
prepadvisor log 2001.toml door/panel wiped --by KM
"""


@pytest.fixture
def door(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a door's job file in the folder that the test works in."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "2001.toml"
    path.write_text(DOOR, encoding="utf-8")
    return path


def _run(line: str, minute: int, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setenv("PREPADVISOR_NOW", f"2026-03-02T09:{minute:02}:00Z")
    return main(shlex.split(line)[1:])


def test_a_whole_door_is_logged_and_gated(
    door: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The gate holds after every line but the last."""
    for minute, line in enumerate(EXAMPLE.splitlines()):
        assert main(["gate", str(door)]) == 1, line
        assert _run(line, minute, monkeypatch) == 0, line
    capsys.readouterr()
    assert main(["gate", str(door), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["clear"], said["holds"]) == (True, [])


def test_after_lines_the_next_step_is_printed(
    door: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """At that place, in words: the technician need not look anything up."""
    for minute, line in enumerate(EXAMPLE.splitlines()[:6]):
        _run(line, minute, monkeypatch)
    last = capsys.readouterr().out.rpartition("logged:")[2]
    assert "held at A1 front edge: lines were seen" in last
    assert "guide coat, P1000 with DA" in last
    assert door.exists()


def test_moving_a_zone_afterwards_reopens_the_looks_and_nothing_else(
    door: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The handle recess lay in the fade before and still does, but not as the job says now."""
    for minute, line in enumerate(EXAMPLE.splitlines()):
        _run(line, minute, monkeypatch)
    text = door.read_text(encoding="utf-8")
    door.write_text(text.replace("fade_mm = 400", "fade_mm = 200"), encoding="utf-8")
    capsys.readouterr()
    assert main(["gate", str(door), "--json"]) == 1
    holds = json.loads(capsys.readouterr().out)["holds"]
    assert {hold["place"] for hold in holds} == {"door/face", "door/H1"}
    assert all("changed since it was looked at" in hold["why"] for hold in holds)
