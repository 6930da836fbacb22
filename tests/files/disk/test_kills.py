"""Real kills of real processes while they save: nothing that was acknowledged is missing, no file is torn."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the kills are made on systems that can fork")

DRIVER = Path(__file__).with_name("kill_driver.py")
ROOT = Path(__file__).parents[3]
KILLS_AT_LEAST = 500

Record = Callable[[str, object], None]


def _drive(folder: Path, driver: str, count: int, seed: int = 20260302) -> dict[str, int]:
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run(
        [sys.executable, str(DRIVER), str(folder), driver, str(count), str(seed)],
        capture_output=True, text=True, timeout=90, env=surroundings, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    found: dict[str, int] = json.loads(ran.stdout)
    return found


POINTS, RANDOM, PAIRS, JOURNAL = "POINTS", "RANDOM", "PAIRS", "JOURNAL"
ROUNDS = {RANDOM: 180, PAIRS: 40, JOURNAL: 30}
SEEDS = (20260302, 20260303)


def test_killed_at_every_call_of_a_save_the_file_is_whole(tmp_path: Path, record_property: Record) -> None:
    """Before, half-way through and after each; the next save goes through at once."""
    counted = _drive(tmp_path, POINTS, 0)
    record_property("kills", counted)
    assert (counted["lost"], counted["kills"] >= 40) == (0, True)


@pytest.mark.parametrize("seed", SEEDS)
def test_killed_at_any_moment_no_acknowledged_entry_is_missing(
    seed: int, tmp_path: Path, record_property: Record
) -> None:
    """The entry on its way may be there or not; every one before it is there, once and in order."""
    counted = _drive(tmp_path, RANDOM, ROUNDS[RANDOM], seed)
    record_property("kills", counted)
    assert (counted["lost"], counted["unasked"], counted["kills"]) == (0, 0, ROUNDS[RANDOM])
    assert counted["acknowledged"] >= ROUNDS[RANDOM] / 2


def test_two_processes_hammer_one_job_and_die(tmp_path: Path, record_property: Record) -> None:
    """The lock of the dead opens for the living; no entry of either is lost or doubled."""
    counted = _drive(tmp_path, PAIRS, ROUNDS[PAIRS])
    record_property("kills", counted)
    assert (counted["lost"], counted["twice"], counted["kills"]) == (0, 0, 2 * ROUNDS[PAIRS])


def test_killed_while_typing_the_last_edit_is_offered_again(tmp_path: Path, record_property: Record) -> None:
    """From the journal, which is on the disk before the next key."""
    counted = _drive(tmp_path, JOURNAL, ROUNDS[JOURNAL])
    record_property("kills", counted)
    assert (counted["lost"], counted["kills"]) == (0, ROUNDS[JOURNAL])


def test_there_are_enough_kills() -> None:
    """At calls 40 at least, the others as set above."""
    kills = 40 + len(SEEDS) * ROUNDS[RANDOM] + 2 * ROUNDS[PAIRS] + ROUNDS[JOURNAL]
    assert kills >= KILLS_AT_LEAST


def test_two_living_processes_lose_no_entry_of_either(tmp_path: Path) -> None:
    """Both add a hundred entries to one job at once, as separate programs."""
    job = tmp_path / "1042.toml"
    job.write_bytes((Path(__file__).with_name("two_writers.toml")).read_bytes())
    code = (
        "import sys; from pathlib import Path; from kill_driver import append_check, check_of\n"
        "[append_check(Path(sys.argv[1]), check_of(int(sys.argv[2]) + n)) for n in range(100)]"
    )
    surroundings = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), str(DRIVER.parent)])}
    both = [
        subprocess.Popen([sys.executable, "-c", code, str(job), str(first)], env=surroundings)
        for first in (0, 1000)
    ]
    assert [each.wait(timeout=60) for each in both] == [0, 0]
    text = job.read_text(encoding="utf-8")
    assert all(f'note = "{first + n}"' in text for first in (0, 1000) for n in range(100))
    assert text.count("[[check]]") == 200
