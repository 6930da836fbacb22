"""A fact is one entry: with a made-up one in the table, everything that deals with facts knows it.

The package is copied, two entries are written into its table, and nothing else is touched.
"""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

ENTRIES = """    tall: Annotated[
        str,
        Category(
            ("low", "high"), "{} panel", 105,
            lambda spot: "high" if spot.subject.panel.height_mm > 500 else "low",
            label="Height",
        ),
    ] = "low"
    height_mm: Annotated[
        float | None,
        NumberFact(
            "mm", "panel height {}", 145, lambda spot: spot.subject.panel.height_mm,
            "height of the panel, mm", label="Height, mm", usual=640.0,
            sensible=Sensible(50, 3000, "m", "µm"),
        ),
    ] = None
"""
"""Put between two old entries, a number before categories, so that no order is taken for granted."""

AHEAD_OF = "    stages: Annotated["

HOUSE = """
[[rule]]
id = "tall-panel"
says = "A tall panel: sand the fade with P1200 or finer."
when = { tall = "high", height_mm = "600 .. 700", zone = "fade", surface = "aged-clear", reach = "machine" }
set = { finish_coarsest = "P1200" }
source = "practice"

[[rule]]
id = "too-tall"
says = "Planted: no grade is as fine."
when = { height_mm = "> 900", tall = "high", zone = "fade", surface = "aged-clear", reach = "machine" }
set = { finish_coarsest = "P2000" }
source = "practice"
"""

JOB = """
[job]
number = "1"
[colour]
flake = "very-fine"
stages = 2
tone = "light"
[[panel]]
id = "door"
kind = "front-door"
role = "{role}"
surface = "aged-clear"
length_mm = 1050
height_mm = 640
{layout}
"""
BLEND = 'colour_from = ["front"]\ncolour_mm = 150\nfade_mm = 400'


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program with two made-up facts, a house that asks about them, and two jobs."""
    folder = tmp_path_factory.mktemp("made-up")
    for name in ("prepadvisor", "rules", "demo_jobs"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    table = folder / "prepadvisor/cases/facts.py"
    text = table.read_text("utf-8")
    assert text.count(AHEAD_OF) == 1
    table.write_text(text.replace(AHEAD_OF, ENTRIES + AHEAD_OF), "utf-8")
    (folder / "house").mkdir()
    (folder / "house/ours.toml").write_text(HOUSE, "utf-8")
    (folder / "blend.toml").write_text(JOB.format(role="blend", layout=BLEND), "utf-8")
    (folder / "clear.toml").write_text(JOB.format(role="clear-only", layout=""), "utf-8")
    return folder


def run(copied: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    """Run a command of the copied program."""
    env = {**os.environ, "PYTHONPATH": str(copied), "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(
        [sys.executable, "-m", "prepadvisor", *words],
        cwd=copied, env=env, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_a_rule_that_asks_about_it_decides_and_why_names_the_rule(copied: Path) -> None:
    """640 mm is high and within 600 .. 700: P1200 instead of the base's P1000."""
    told = run(copied, "why", "blend.toml", "door/face", "--house", "house")
    assert told.returncode == 0, told.stderr
    assert "tall-panel" in told.stdout
    assert "P1200" in told.stdout


def test_it_stands_in_the_json_of_a_card(copied: Path) -> None:
    """The rule is among the reasons of the fade."""
    advice = json.loads(run(copied, "card", "blend.toml", "--house", "house", "--to", "json").stdout)
    reasons = {reason["rule"] for spot in advice["spots"] for reason in spot["because"]}
    assert "tall-panel" in reasons


def test_the_audit_finds_the_collision_and_says_the_facts(copied: Path) -> None:
    """P2000 against the key limit P1500, over 900 mm, high."""
    told = json.loads(run(copied, "standards", "check", "house", "--json").stdout)
    errors = [finding for finding in told["findings"] if finding["kind"] == "collision"]
    assert {finding["facts"]["tall"] for finding in errors} == {"high"}
    assert {finding["facts"]["height_mm"] for finding in errors} == {"> 900"}
    assert "panel height > 900 mm" in errors[0]["says"]


def test_compare_tells_it(copied: Path) -> None:
    """What the house changes is told by the new facts."""
    (copied / "empty").mkdir(exist_ok=True)
    (copied / "empty/shop.toml").write_text('name = "ours"', "utf-8")
    told = run(copied, "standards", "compare", "empty", "house", "--json")
    assert told.returncode in {0, 1}, told.stderr
    assert '"tall"' in told.stdout
    assert '"height_mm"' in told.stdout


def test_an_impossible_case_of_it_refuses_a_job(copied: Path) -> None:
    """A base entry about the fact is asked when a job is loaded."""
    impossible = copied / "rules/base/impossible.toml"
    before = impossible.read_text("utf-8")
    entry = (
        '[[impossible]]\nwhen = { tall = "high", role = "clear-only" }\nbecause = "Planted: no tall panel."\n'
    )
    impossible.write_text(f"{before}\n{entry}", "utf-8")
    refused, taken = run(copied, "card", "clear.toml"), run(copied, "card", "blend.toml")
    impossible.write_text(before, "utf-8")
    assert refused.returncode == 2
    assert "Planted: no tall panel." in refused.stderr
    assert taken.returncode != 2


def test_a_word_it_does_not_have_is_refused_with_a_hint(copied: Path) -> None:
    """As for every fact: the value, and what was probably meant."""
    (copied / "wrong").mkdir(exist_ok=True)
    (copied / "wrong/ours.toml").write_text(HOUSE.replace('"high"', '"hihg"'), "utf-8")
    told = run(copied, "card", "blend.toml", "--house", "wrong")
    assert told.returncode == 2
    assert 'tall cannot be "hihg"' in told.stderr
    assert 'did you mean "high"?' in told.stderr


def test_the_schema_and_the_sweep_know_it(copied: Path) -> None:
    """Editors offer it, and columns of cases are decided by it as single cases are."""
    schema = run(copied, "schema", "rules").stdout
    assert '"tall"' in schema
    assert '"height_mm"' in schema
    script = (
        "import numpy as np\n"
        "from prepadvisor.files import load_house\n"
        "from prepadvisor.cases.facts import Facts\n"
        "from prepadvisor.records.words import RANK\n"
        "engine = load_house('house').engine\n"
        "columns = {'tall': np.array([0, 1, 1]), 'height_mm': np.array([640.0, 640.0, np.nan])}\n"
        "swept = engine.sweep(columns, ['finish_coarsest'])['finish_coarsest'].tolist()\n"
        "low, high = Facts(tall='low', height_mm=640.0), Facts(tall='high', height_mm=640.0)\n"
        "cases = [low, high, Facts(tall='high')]\n"
        "print(swept == [RANK[engine.decide(case).finish_coarsest] for case in cases], len(set(swept)))\n"
    )
    env = {**os.environ, "PYTHONPATH": str(copied)}
    told = subprocess.run(
        [sys.executable, "-c", script], cwd=copied, env=env, capture_output=True, text=True, check=False
    )
    assert told.stdout.strip() == "True 2", told.stderr
