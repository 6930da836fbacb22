"""Kills children that save: `python kill_driver.py FOLDER POINTS|RANDOM|PAIRS|JOURNAL COUNT SEED`.

A process of its own with one thread, so that its children are quick and safe to fork. It prints a line of
JSON with what it counted; a child tells each acknowledged entry through a pipe before it goes on.
"""

import json
import os
import random
import select
import signal
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import tomli

from prepadvisor.files import FileSystem, Journal, read_version, recoverable, save_text
from prepadvisor.records import Check
from tests.files.disk.children import ended, forked
from tests.files.disk.saving import append_check

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
JOB = b"""# remark
[job]
number = "1" # tag
[[panel]]
id = "door"
kind = "front-door"
role = "repair"
surface = "aged-clear"
length_mm = 1000
height_mm = 600
# the end
"""


def check_of(number: int) -> Check:
    """Return an entry told apart by its number."""
    at = START + timedelta(seconds=number % 86_400)
    return Check(at=at, by="K. M.", panel="door", feature="E1", step="guide-coated", note=str(number))


class Killing(FileSystem):
    """Kills its own process before, half-way through or after one call."""

    def __init__(self, call: int, phase: str) -> None:
        """Take the number of the call and the phase."""
        self._rest = call
        self._phase = phase

    def _gate(self, phase: str) -> None:
        if phase == "before":
            self._rest -= 1
        if self._rest < 0 and phase == self._phase:
            os.kill(os.getpid(), signal.SIGKILL)

    def read(self, path: Path) -> bytes:
        """Read between two gates."""
        self._gate("before")
        data = super().read(path)
        self._gate("after")
        return data

    def create(self, path: Path, mode: int | None) -> int:
        """Create between two gates."""
        self._gate("before")
        handle = super().create(path, mode)
        self._gate("after")
        return handle

    def write(self, handle: int, data: bytes) -> int:
        """Write between two gates, one more half-way."""
        self._gate("before")
        if self._rest < 0 and self._phase == "half":
            super().write(handle, data[: len(data) // 2])
            self._gate("half")
        count = super().write(handle, data)
        self._gate("after")
        return count

    def sync(self, handle: int) -> None:
        """Sync between two gates."""
        self._gate("before")
        super().sync(handle)
        self._gate("after")

    def close(self, handle: int) -> None:
        """Close between two gates."""
        self._gate("before")
        super().close(handle)
        self._gate("after")

    def link(self, path: Path, other: Path) -> None:
        """Link between two gates."""
        self._gate("before")
        super().link(path, other)
        self._gate("after")

    def replace(self, path: Path, target: Path) -> None:
        """Rename between two gates."""
        self._gate("before")
        super().replace(path, target)
        self._gate("after")

    def remove(self, path: Path) -> None:
        """Remove between two gates."""
        self._gate("before")
        super().remove(path)
        self._gate("after")

    def sync_folder(self, folder: Path) -> None:
        """Sync between two gates."""
        self._gate("before")
        super().sync_folder(folder)
        self._gate("after")


def acknowledged(child: int, pipe: int) -> tuple[bool, list[int]]:
    """Wait for a child's end; return whether it was killed, and the numbers it told."""
    was_killed, lines = ended(child, pipe)
    return was_killed, [int(line) for line in lines]


def log_of(path: Path) -> list[int]:
    """Return the entries' numbers; a file that is not whole ends the program here."""
    raw = path.read_bytes()
    if not raw.startswith(b"# remark\n"):
        raise SystemExit(f"the file is not whole: {raw[:80]!r}")
    return [int(entry["note"]) for entry in tomli.loads(raw.decode()).get("check", [])]


def points(path: Path, count: int, seed: int) -> dict[str, int]:  # noqa: ARG001 - all drivers are called alike
    """Kill at every call of an append and of a save, before, half-way and after."""
    counted = {"kills": 0, "survived": 0, "lost": 0, "new": 0}
    for work in ("append", "save"):
        calls = 60
        for phase in ("before", "after", "half"):
            for call in range(calls):
                path.write_bytes(JOB)
                append_check(path, check_of(1))

                def killed_there(into: int, call: int = call, phase: str = phase, work: str = work) -> None:
                    system = Killing(call, phase)
                    if work == "append":
                        append_check(path, check_of(2), system=system)
                    else:
                        base = read_version(path)
                        text = base.text.replace("# the end", "# the very end")
                        save_text(path, text, base, system=system)
                    os.write(into, b"2\n")

                was_killed, told = acknowledged(*forked(killed_there))
                log = log_of(path)
                is_new = log == [1, 2] or b"# the very end" in path.read_bytes()
                counted["lost"] += log[:1] != [1] or (bool(told) and not is_new)
                counted["new"] += is_new
                if not was_killed:
                    counted["survived"] += 1
                    if phase == "before":
                        calls = call
                        break
                    continue
                counted["kills"] += 1
                append_check(path, check_of(3))
                counted["lost"] += log_of(path)[-1:] != [3]
    return counted


def adder(path: Path, first: int) -> Callable[[int], None]:
    """Return work that adds entries one after another and tells each as soon as it is acknowledged."""

    def work(into: int) -> None:
        for number in range(first, first + 10_000):
            append_check(path, check_of(number))
            os.write(into, b"%d\n" % number)

    return work


def at_random(path: Path, count: int, seed: int) -> dict[str, int]:
    """Kill a child that adds entries, at any moment."""
    chance = random.Random(seed)
    counted = {"kills": 0, "acknowledged": 0, "lost": 0, "unasked": 0}
    for turn in range(count):
        if turn % 20 == 0:
            path.write_bytes(JOB)
            expected: list[int] = []
        child, pipe = forked(adder(path, turn * 10_000))
        if turn % 5:  # most of them well at work, some while they start
            select.select([pipe], [], [], 5)
        time.sleep(chance.uniform(0.0, 0.01))
        os.kill(child, signal.SIGKILL)
        was_killed, told = acknowledged(child, pipe)
        log = log_of(path)
        extra = log[len(expected) + len(told) :]
        counted["kills"] += was_killed
        counted["acknowledged"] += len(told)
        counted["lost"] += log[: len(expected) + len(told)] != expected + told
        counted["unasked"] += len(extra) > 1  # the one on its way when the kill came may be there or not
        expected = log
    return counted


def in_pairs(path: Path, count: int, seed: int) -> dict[str, int]:
    """Let two children hammer one job, and kill one or both of them."""
    chance = random.Random(seed)
    counted = {"kills": 0, "acknowledged": 0, "lost": 0, "twice": 0}
    for turn in range(count):
        path.write_bytes(JOB)
        pair = [forked(adder(path, first)) for first in (0, 1_000_000)]
        select.select([pipe for _, pipe in pair], [], [], 5)
        for child, _ in pair:
            time.sleep(chance.uniform(0.0, 0.02))
            os.kill(child, signal.SIGKILL)
        ends = [acknowledged(*each) for each in pair]
        log = log_of(path)
        told = [number for _, numbers in ends for number in numbers]
        counted["kills"] += sum(was_killed for was_killed, _ in ends)
        counted["acknowledged"] += len(told)
        counted["lost"] += len(set(told) - set(log))
        counted["twice"] += len(log) - len(set(log))
        append_check(path, check_of(5_000_000 + turn))
    return counted


def journals(path: Path, count: int, seed: int) -> dict[str, int]:
    """Kill a child that types, and see that what it typed last is offered again."""
    chance = random.Random(seed)
    folder = path.parent / "journals"
    counted = {"kills": 0, "acknowledged": 0, "lost": 0}
    path.write_bytes(JOB)

    def typing(into: int) -> None:
        journal = Journal(path, folder=folder)
        for number in range(10_000):
            journal.write(f"typed {number}")
            os.write(into, b"%d\n" % number)

    for _ in range(count):
        child, pipe = forked(typing)
        select.select([pipe], [], [], 5)
        time.sleep(chance.uniform(0.0, 0.01))
        os.kill(child, signal.SIGKILL)
        was_killed, told = acknowledged(child, pipe)
        offered = recoverable(folder)
        counted["kills"] += was_killed
        counted["acknowledged"] += len(told)
        last = int(offered[0].text.split()[1]) if offered else -1
        counted["lost"] += last not in {max(told), max(told) + 1}
        for each in offered:
            each.forget()
    return counted


DRIVERS = {"POINTS": points, "RANDOM": at_random, "PAIRS": in_pairs, "JOURNAL": journals}

if __name__ == "__main__":
    folder, driver, times, chosen = sys.argv[1:]
    print(json.dumps(DRIVERS[driver](Path(folder) / "1042.toml", int(times), int(chosen))))
