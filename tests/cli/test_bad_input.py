"""From the command line to the exit status: bad input is said plainly, and no card is written or touched."""

import os
import random
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

GOOD = (demo_jobs_dir() / "solid.toml").read_bytes()

BAD: dict[str, bytes] = {
    "empty": b"",
    "binary junk": random.Random(7).randbytes(5000),
    "zeros": b"\0" * 5000,
    "UTF-16": GOOD.decode().encode("utf-16"),
    "Latin-1": GOOD.replace(b"Slate", b"Gr\xfcn"),
    "half a file": GOOD[: len(GOOD) // 2],
    "a bare grade": GOOD.replace(b"film_um", b'now = { tool = "da", grade = "600" }\nfilm_um'),
    "an unknown word": GOOD.replace(b'"solid"', b'"solit"'),
    "an unknown key": GOOD.replace(b"fade_mm", b"fade_cm"),
    "no number": GOOD.replace(b"950", b"nan"),
    "no room": GOOD.replace(b"350", b"3500"),
    "path tricks in an id": GOOD.replace(b'"left-rear-door"', b'"../../x"'),
    "nested deeply": b"a = " + b"[" * 100_000,
    "a list that never ends": GOOD + b"x = [" + b"1," * 50_000,
}


@pytest.mark.parametrize("raw", BAD.values(), ids=BAD)
def test_bad_input_is_status_two_and_plain_lines(
    raw: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One fault a line with its file, no traceback, nothing on standard output, no card beside the job."""
    job = tmp_path / "job.toml"
    job.write_bytes(raw)
    assert main(["card", str(job)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    lines = printed.err.splitlines()
    assert lines
    assert all(line.startswith(str(job)) for line in lines), lines
    assert "Traceback" not in printed.err
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_an_existing_card_is_left_untouched(tmp_path: Path) -> None:
    """A job that became bad does not cost the card that was printed from it."""
    job, card = tmp_path / "job.toml", tmp_path / "card.txt"
    job.write_bytes(GOOD)
    assert main(["card", str(job), "--out", str(card)]) == 0
    before, stamp = card.read_bytes(), card.stat().st_mtime_ns
    job.write_bytes(BAD["an unknown word"])
    assert main(["card", str(job), "--out", str(card)]) == 2
    assert (card.read_bytes(), card.stat().st_mtime_ns) == (before, stamp)


@pytest.mark.parametrize(
    "words",
    [["card", "{job}"], ["why", "{job}", "left-rear-door/E1"], ["gate", "{job}"]],
    ids=["card", "why", "gate"],
)
def test_every_command_that_reads_a_job_refuses_alike(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same line and status, whichever command the job was given to."""
    job = tmp_path / "job.toml"
    job.write_bytes(BAD["an unknown word"])
    if find_spec(f"prepadvisor.cli.{words[0]}") is None:
        pytest.skip("this command is not there yet")
    assert main([word.format(job=job) for word in words]) == 2
    assert 'flake "solit" is not known; did you mean "solid"?' in capsys.readouterr().err


def test_a_bad_house_folder_is_status_two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Advice is not given by half a house."""
    (tmp_path / "shop.toml").write_text('shelf = ["600"]\n', encoding="utf-8")
    assert main(["card", str(demo_jobs_dir() / "solid.toml"), "--house", str(tmp_path)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith(f'{tmp_path}/shop.toml:1:10: "600" has no P'.replace("/", os.sep))


def test_the_real_program_says_it_on_standard_error(tmp_path: Path) -> None:
    """As a process of its own: status 2, faults of standard input by that name, no traceback."""
    ran = subprocess.run(
        [sys.executable, "-m", "prepadvisor", "card", "-"],
        input=BAD["a bare grade"],
        capture_output=True,
        cwd=Path(__file__).parent.parent.parent,
        timeout=60,
        check=False,
    )
    assert ran.returncode == 2
    assert ran.stdout == b""
    (line,) = ran.stderr.decode().splitlines()
    assert line.startswith('standard input:26:30: "600" has no P')
    assert not list(tmp_path.iterdir())
