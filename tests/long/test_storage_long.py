"""Thousands of kills, faults, writers and bad files: run by hand, half an hour; a slice is in the suite.

`pytest tests/long/test_storage_long.py -s` prints what was counted.
"""

import errno
import json
import os
import random
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from unittest import mock

import pytest
import tomli
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from prepadvisor.files import (
    FileSystem,
    NotSavedError,
    UnknownResultError,
    entries_beside,
    load_job,
    read_version,
    save_text,
)
from prepadvisor.files.disk import beside as beside_module
from prepadvisor.files.disk import lock as lock_module
from prepadvisor.files.disk import store as store_module
from prepadvisor.records import Check
from prepadvisor.standards import House
from tests.files.bad_files import CLASSES, bad_file
from tests.files.conftest import JOB_TEXT
from tests.files.disk.saving import append_check
from tests.tui.interleavings import Shop

ROOT = Path(__file__).parents[2]
SEED = int(os.environ.get("STORAGE_SEED") or 20260302)
SCALE = float(os.environ.get("STORAGE_SCALE") or 1)
"""A tenth of everything with STORAGE_SCALE=0.1."""


def _driven(folder: Path, driver: str, count: int) -> dict[str, float]:
    ran = subprocess.run(
        [sys.executable, "-m", "tests.long.storage_drivers", str(folder), driver, str(count), str(SEED)],
        capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    counted: dict[str, float] = json.loads(ran.stdout)
    print(driver, counted)
    return counted


@pytest.mark.parametrize(
    ("driver", "turns", "kills"), [("SCREENS", 700, 1), ("BOTH", 400, 2), ("COMMANDS", 600, 1)]
)
def test_two_thousand_kills_lose_double_and_move_nothing(
    driver: str, turns: int, kills: int, tmp_path: Path
) -> None:
    """Of what was acknowledged or kept; each job opens again with all of it."""
    turns = int(turns * SCALE)
    counted = _driven(tmp_path, driver, turns)
    assert counted["kills"] == turns * kills
    assert (counted["lost"], counted["doubled"], counted["moved"]) == (0, 0, 0)


@pytest.mark.parametrize("driver", ["EIGHT", "EIGHT-NO-LOCKS"])
def test_eight_writers_lose_nothing_and_none_waits_long(driver: str, tmp_path: Path) -> None:
    """Five hundred entries each, on four machines whose clocks are up to an hour apart."""
    each = int(500 * SCALE)
    counted = _driven(tmp_path, driver, each)
    assert counted["acknowledged"] == 8 * each
    assert (counted["lost"], counted["doubled"], counted["swapped"]) == (0, 0, 0)
    assert counted["slowest_s"] < 10


CODES = (
    errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.ESTALE, errno.ETIMEDOUT, errno.EINTR,
    errno.EMFILE,
)  # fmt: skip
CALLS = ("read", "create", "write", "sync", "close", "link", "replace", "remove", "sync_folder", "names_in")


def test_four_hundred_faults_are_said_as_they_are(
    tmp_path: Path, shipped_house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each call of an entry and of a save fails, done or not: acknowledged is there once, refused is not."""
    job = tmp_path / "1042.toml"
    job.write_text(JOB_TEXT, encoding="utf-8")
    counted = dict.fromkeys(
        ("faults", "acknowledged", "refused", "unknown", "beside", "lost", "there all the same"), 0
    )
    number = 0
    acknowledged: list[str] = []
    monkeypatch.setattr(beside_module, "_READ_AGAIN_SECONDS", (0.0, 0.0))
    with mock.patch.object(store_module, "_READ_AGAIN_SECONDS", (0.0, 0.0)):
        for way in ("entry", "save", "entry beside"):
            calls = 0
            if way == "entry beside":
                monkeypatch.setattr(lock_module, "_system_lock", _no_locks)
            while True:
                reached = False
                for code in CODES:
                    for is_done in (False, True):
                        number += 1
                        system = _Failing(calls, code, is_done)
                        ident = f"ab-{number}"
                        try:
                            _try(job, ident, way != "save", system)
                        except UnknownResultError:
                            counted["unknown"] += 1
                        except NotSavedError:
                            counted["refused"] += 1
                            counted["there all the same"] += ident in read_version(job).text
                        else:
                            counted["acknowledged"] += 1
                            acknowledged.append(ident)
                        counted["faults"] += system.failed
                        reached |= system.failed
                there = [entry["note"] for entry in tomli.loads(read_version(job).text).get("check", [])]
                counted["lost"] += len([ident for ident in acknowledged if there.count(ident) != 1])
                for each in entries_beside(job):  # each is read with the job: else the calls grow without end
                    each.path.unlink()
                    acknowledged = [ident for ident in acknowledged if ident != each.values["id"]]
                    counted["beside"] += 1
                if not reached or calls > 20:
                    break
                calls += 1
    print("FAULTS", counted)
    assert counted["faults"] >= 400
    assert (counted["lost"], counted["there all the same"]) == (0, 0)
    assert load_job(job, shipped_house).check


def _try(job: Path, ident: str, is_entry: bool, system: FileSystem) -> None:
    import datetime as dt

    check = Check(
        at=dt.datetime(2026, 3, 2, tzinfo=dt.UTC), by="KM", panel="door", feature="E1", step="scuffed",
        note=ident, id=ident, knew="start",
    )  # fmt: skip
    if is_entry:
        append_check(job, check, system=system)
        return
    base = read_version(job)
    from prepadvisor.files import appended, values_of

    save_text(job, appended(base.raw, "check", [values_of(check)]).decode(), base, system=system)


def _no_locks(handle: int) -> bool:
    raise OSError(errno.ENOTSUP, f"not supported ({handle})")


class _Failing(FileSystem):
    """Fails at one call, before or after doing it."""

    def __init__(self, call: int, code: int, is_done: bool) -> None:
        self._rest = call
        self._code = code
        self._is_done = is_done
        self.failed = False

    def __getattribute__(self, name: str) -> object:
        real = super().__getattribute__(name)
        if name not in CALLS:
            return real
        assert callable(real)

        def made(*args: object) -> object:
            self._rest -= 1
            if self._rest != -1:
                return real(*args)
            self.failed = True
            if self._is_done:
                real(*args)
            raise OSError(self._code, "made to fail")

        return made


def test_two_thousand_bad_files_are_told(tmp_path: Path) -> None:
    """Of every class: exit 2, faults with lines, in two seconds and 200 MB, nothing written."""
    from prepadvisor.cli import gate as gate_command  # noqa: F401 - loaded before the children are made
    from prepadvisor.cli.main import main

    main(["gate", str(_good(tmp_path))])
    each = max(1, int(2000 * SCALE) // len(CLASSES) + 1)
    worst: dict[str, tuple[float, int]] = {}
    wrong: list[str] = []
    for name in CLASSES:
        for number in range(each):
            path = tmp_path / "job.toml"
            path.write_bytes(bad_file(name, random.Random(f"{SEED} {name} {number}")))
            status, seconds, megabytes = _apart(lambda path=path: main(["gate", str(path)]))  # type: ignore[misc]
            slowest, largest = worst.get(name, (0.0, 0))
            worst[name] = max(slowest, seconds), max(largest, megabytes)
            if status != 2:
                wrong.append(f"{name} {number}: status {status}")
    slow = sorted(worst.items(), key=lambda item: -item[1][0])[:5]
    large = sorted(worst.items(), key=lambda item: -item[1][1])[:5]
    print("BAD FILES", each * len(CLASSES), "classes", len(CLASSES), "slowest", slow, "largest", large)
    assert wrong == []
    assert [name for name, (seconds, megabytes) in worst.items() if seconds > 2 or megabytes > 200] == []


def _good(folder: Path) -> Path:
    path = folder / "good.toml"
    path.write_text(JOB_TEXT, encoding="utf-8")
    return path


def _apart(work: Callable[[], int]) -> tuple[int, float, int]:
    """Run in a child of its own; return its status, its seconds of work and its memory in MB."""
    child = os.fork()
    if child == 0:
        with open(os.devnull, "w", encoding="utf-8") as nowhere:  # noqa: PTH123
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        os._exit(work())
    _, status, used = os.wait4(child, 0)
    return os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime, used.ru_maxrss // 1024


def test_the_machine_of_screens_and_commands_runs_long() -> None:
    """Hundreds of shops, each with scores of steps and crashes."""
    begun = time.monotonic()
    run_state_machine_as_test(
        Shop,
        settings=settings(
            max_examples=max(5, int(400 * SCALE)),
            stateful_step_count=50,
            deadline=None,
            database=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
    print("MACHINE", max(5, int(400 * SCALE)), "shops", round(time.monotonic() - begun), "s")


@pytest.fixture(autouse=True)
def memory() -> Iterator[None]:
    """Say what this process took."""
    yield
    print("largest", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024, "MB")
