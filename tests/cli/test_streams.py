"""Output that is met: code pages, closed and full streams. What was done is said, never unsaid."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
import tomli

from prepadvisor.files import demo_jobs_dir

ROOT = Path(__file__).parents[2]
DEMO = demo_jobs_dir() / "very-fine-door-and-wing.toml"
CODE_PAGES = ("cp1252", "cp437", "ascii", "utf-8")


def _run(*words: str, **surroundings: str) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        [sys.executable, "-m", "prepadvisor", *words],
        capture_output=True, cwd=ROOT, timeout=60, check=False, env={**os.environ, **surroundings},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("words", "page"),
    [
        *((("card", str(DEMO)), page) for page in CODE_PAGES),
        (("gate", str(DEMO)), "cp1252"),
        (("gate", str(DEMO)), "ascii"),
        (("--help",), "ascii"),
        (("standards", "--help"), "ascii"),
        (("log", "--help"), "ascii"),
    ],
)
def test_every_code_page_can_show_it(words: tuple[str, ...], page: str) -> None:
    """Signs that a code page lacks are written plainly: no traceback, no fault of the program.

    The card has all signs; of the others the page that has least.
    """
    ran = _run(*words, PYTHONIOENCODING=page)
    assert ran.returncode in {0, 1}
    assert b"went wrong" not in ran.stderr
    assert ran.stdout.decode(page).strip()


def test_letters_of_names_keep_their_base_where_a_code_page_lacks_them(tmp_path: Path) -> None:
    """Of any language that is written in Latin letters; what has no base is a question mark."""
    job = tmp_path / "j.toml"
    text = DEMO.read_text("utf-8").replace(
        "five-door hatchback", "Ångström Łódź Øresund Ünye Šíp İçel œuvre 漢"
    )
    job.write_text(text, encoding="utf-8")
    shown = _run("card", str(job), PYTHONIOENCODING="ascii").stdout.decode("ascii")
    assert "Angstroem Lodz Oresund Uenye Sip Icel oeuvre ?" in shown.replace("\n  ", " ")


def test_json_keeps_every_letter_on_any_code_page() -> None:
    """As escapes: what a program reads back is the same."""
    import json

    plain = _run("gate", str(DEMO), "--json", PYTHONIOENCODING="ascii")
    whole = _run("gate", str(DEMO), "--json", PYTHONIOENCODING="utf-8")
    assert json.loads(plain.stdout) == json.loads(whole.stdout)


@pytest.mark.parametrize("columns", ["1", "10", "40"])
def test_a_narrow_terminal_gets_its_help(columns: str) -> None:
    """Whatever COLUMNS says."""
    assert _run("card", "--help", COLUMNS=columns).returncode == 0


def _shell(line: str) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        ["sh", "-c", line], capture_output=True, cwd=ROOT, timeout=60, check=False,
        env={**os.environ, "PY": sys.executable},
    )  # fmt: skip


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="has no full device")
@pytest.mark.parametrize("into", [">&-", ">/dev/full", "| :", ">&- 2>&-", ">/dev/full 2>/dev/full"])
def test_an_entry_is_logged_once_where_its_answer_cannot_be_shown(into: str, tmp_path: Path) -> None:
    """The entry is in the file, the status is 0, and what is said is that it is there."""
    job = tmp_path / "job.toml"
    job.write_bytes(DEMO.read_bytes())
    panel = tomli.loads(job.read_text(encoding="utf-8"))["panel"][0]["id"]
    before = len(tomli.loads(job.read_text(encoding="utf-8")).get("check", []))
    ran = _shell(f'"$PY" -m prepadvisor log {job} {panel}/panel cleaned --by KM {into}')
    after = tomli.loads(job.read_text(encoding="utf-8"))["check"]
    assert (ran.returncode, len(after) - before) == (0, 1)
    assert b"nothing was written" not in ran.stderr
    assert b"went wrong" not in ran.stderr
    if into in {">&-", ">/dev/full"}:
        assert b"logged: " in ran.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="has no full device")
@pytest.mark.parametrize("words", ["--help", f"card {DEMO}", f"gate {DEMO}"])
def test_a_full_disk_under_the_output_is_said(words: str) -> None:
    """Status 2, in one line."""
    ran = _shell(f'"$PY" -m prepadvisor {words} >/dev/full')
    assert ran.returncode == 2
    assert b"the answer could not be written" in ran.stderr
    assert len(ran.stderr.splitlines()) == 1
