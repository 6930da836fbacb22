"""Writers that are killed, and writers that hammer one job, each a child of one process with one thread.

`python -m tests.long.storage_drivers FOLDER SCREENS|BOTH|COMMANDS|EIGHT|EIGHT-NO-LOCKS COUNT SEED` prints a
line of JSON with what it counted. A child tells each acknowledged entry through a pipe before it goes on.
"""

import datetime as dt
import errno
import json
import os
import random
import select
import signal
import sys
import time
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

from prepadvisor.checkoff import Wanted
from prepadvisor.files import append_entries, demo_jobs_dir, job_reader, load_house, load_job, values_of
from prepadvisor.files.disk import lock as lock_module
from prepadvisor.logbook import Writer
from prepadvisor.records import Check
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import check_off
from tests.files.disk.children import ended, forked

HOUSE = load_house()
PANEL = "left-rear-door"
GOOD = (demo_jobs_dir() / "solid.toml").read_bytes()


def screens(path: Path) -> Callable[[int], None]:
    """Return a child that works at a screen: k ID for what is kept, s ID for what is saved."""

    def work(into: int) -> None:
        desk = Desk(HOUSE, path.parent)
        desk.open(path)
        session = desk.session
        assert session is not None
        for number in range(100_000):
            wanted = [Wanted(f"{PANEL}/panel", ("cleaned", "wiped")[number % 2], "KM")]
            session.do("log", check_off.logging(session, wanted)(session.job))
            if not desk.keep():
                os.write(into, b"".join(b"k %s\n" % each.id.encode() for each in session.log.pending))
            if number % 3 == 2:
                pending = session.log.pending
                told = desk.save()
                if "not saved" not in told and "not known" not in told:
                    os.write(into, b"".join(b"s %s\n" % each.id.encode() for each in pending))
            desk.look()

    return work


def commands(path: Path, count: int = 100_000, slowest: bool = False) -> Callable[[int], None]:
    """Return a child that logs as the command does: s ID for each; with `slowest`, t SECONDS at the end."""

    def work(into: int) -> None:
        writer = Writer()
        longest = 0.0
        for number in range(count):
            begun = time.monotonic()
            check = Check(
                at=dt.datetime.now(dt.UTC).replace(microsecond=0),
                by="JB",
                panel=PANEL,
                feature="panel",
                step=("cleaned", "wiped")[number % 2],
            )
            knew = () if slowest else load_job(path, HOUSE).check
            stamped = writer.stamp(check, knew)
            append_entries(path, [("check", values_of(stamped))], "JB", reads=job_reader(HOUSE))
            longest = max(longest, time.monotonic() - begun)
            os.write(into, b"s %s\n" % stamped.id.encode())
        if slowest:
            os.write(into, b"t %f\n" % longest)

    return work


def ids_of(path: Path) -> list[str]:
    """Return the ids of the whole log; a file that is no job ends the program here."""
    return [check.id for check in load_job(path, HOUSE).check]


Make = Callable[[Path], Callable[[int], None]]


def kills(path: Path, makers: list[Make], count: int, seed: int) -> dict[str, int]:
    """Kill children at any moment, take the job over, and compare."""
    chance = random.Random(seed)
    counted = dict.fromkeys(("kills", "kept", "saved", "lost", "doubled", "moved"), 0)
    before: list[str] = []
    for turn in range(count):
        if turn % 12 == 0:
            path.write_bytes(GOOD)
            before = []
        children = [forked(make(path)) for make in makers]
        if turn % 5:
            select.select([pipe for _, pipe in children], [], [], 10)
        time.sleep(chance.uniform(0, 0.3))
        for child, _ in children:
            os.kill(child, signal.SIGKILL)
            time.sleep(chance.uniform(0, 0.005))
        told = [word.split() for each in children for word in ended(*each)[1]]
        counted["kills"] += len(children)
        saved = [ident for kind, ident in told if kind == "s"]
        kept = {ident for kind, ident in told if kind == "k"}
        at_once = ids_of(path)
        counted["lost"] += len(set(saved) - set(at_once))
        counted["moved"] += at_once[: len(before)] != before
        desk = Desk(HOUSE, path.parent)
        desk.open(path)
        desk.close()
        log = ids_of(path)
        counted["lost"] += len(kept - set(log))
        counted["doubled"] += len(log) - len(set(log))
        counted["moved"] += log[: len(at_once)] != at_once
        counted["saved"] += len(saved)
        counted["kept"] += len(kept)
        before = log
    return counted


def eight(path: Path, each: int, *, locks: bool) -> dict[str, float]:
    """Eight writers on four machines whose clocks are up to an hour apart add entries to one job."""
    path.write_bytes(GOOD)
    begun = time.monotonic()

    def writer(number: int) -> Callable[[int], None]:
        def work(into: int) -> None:
            if not locks:
                lock_module._system_lock = _no_locks
            real = time.time
            time.time = lambda: real() + (number % 4 - 1.5) * 2400
            commands(path, each, slowest=True)(into)

        return work

    children = [forked(writer(number)) for number in range(8)]
    told = [word.split() for child in children for word in ended(*child)[1]]
    acknowledged = [ident for kind, ident in told if kind == "s"]
    log = ids_of(path)
    order = {ident: number for number, ident in enumerate(log)}
    swapped = sum(
        order[one] > order[other]
        for one, other in pairwise(acknowledged)
        if one.split("-")[0] == other.split("-")[0] and one in order and other in order
    )
    return {
        "acknowledged": len(acknowledged),
        "lost": len(set(acknowledged) - set(log)),
        "doubled": len(log) - len(set(log)),
        "swapped": swapped,
        "slowest_s": round(max(float(word) for kind, word in told if kind == "t"), 2),
        "seconds": round(time.monotonic() - begun, 1),
    }


def _no_locks(handle: int) -> bool:
    raise OSError(errno.ENOTSUP, f"not supported ({handle})")


if __name__ == "__main__":
    folder, driver, times, chosen = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    os.environ["PREPADVISOR_STATE"] = str(folder / "state")
    job = folder / "1031.toml"
    made: dict[str, Callable[[], object]] = {
        "SCREENS": lambda: kills(job, [screens], times, chosen),
        "COMMANDS": lambda: kills(job, [commands], times, chosen),
        "BOTH": lambda: kills(job, [screens, commands], times, chosen),
        "EIGHT": lambda: eight(job, times, locks=True),
        "EIGHT-NO-LOCKS": lambda: eight(job, times, locks=False),
    }
    print(json.dumps(made[driver]()))
