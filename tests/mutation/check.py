"""Would the tests notice? Puts one small fault at a time into a copy and runs the package's tests.

    python tests/mutation/check.py PACKAGE|data [--count 40] [--seed 1] [--jobs 2] [--list]

PACKAGE is one of surface, standards, planning, checkoff, cases; `data` moves numbers and grades in rules/.
The faults are a seeded sample. Faults that change nothing are listed with the reason in equivalent.toml
beside this file; they are left out of the sample. Exit status: 0 if enough are noticed (92 %, of data 95 %),
else 1.
"""

import argparse
import os
import random
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue
from typing import Final, NamedTuple

ROOT: Final = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.mutation.sites import Fault, code_faults, data_faults  # noqa: E402

TESTS: Final = {
    "surface": ("tests/surface",),
    "cases": ("tests/cases", "tests/recompute", "tests/planning/test_dangers.py", "tests/laws"),
    "standards": ("tests/standards",),
    "planning": ("tests/recompute", "tests/planning", "tests/laws"),
    "checkoff": ("tests/checkoff",),
    "data": ("tests/records", "tests/recompute", "tests/standards", "tests/surface"),
}
"""The tests of each package; the re-computation and the laws are those of planning and cases."""

ENOUGH: Final = {"data": 0.95}
PATIENCE_S: Final = 400
COPIED: Final = ("prepadvisor", "tests", "rules", "demo_jobs", "pyproject.toml", "README.md", "DEVELOPERS.md")


class Outcome(NamedTuple):
    """What became of a fault: noticed or not, and the seconds it took."""

    fault: Fault
    noticed: bool
    seconds: float


def faults(package: str) -> list[Fault]:
    """Return every fault of a package that is not known to change nothing."""
    with (Path(__file__).with_name("equivalent.toml")).open("rb") as file:
        same = {entry["fault"] for entry in tomllib.load(file).get("equivalent", [])}
    found: list[Fault] = []
    if package == "data":
        for path in (
            ROOT / "rules/constants.toml",
            ROOT / "rules/shop.toml",
            *sorted((ROOT / "rules/base").glob("*.toml")),
        ):
            found += data_faults(path, path.relative_to(ROOT).as_posix())
    else:
        for path in sorted((ROOT / "prepadvisor" / package).rglob("*.py")):
            found += code_faults(path, path.relative_to(ROOT).as_posix())
    return [fault for fault in found if fault.key not in same]


def copied(folder: Path) -> Path:
    """Copy the project, so that faults never touch it."""
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, folder / name)
    return folder


def noticed(fault: Fault, folder: Path, tests: tuple[str, ...]) -> bool:
    """Run the tests with the fault in the copy; a run that never ends counts as noticed."""
    path = folder / fault.path
    text = path.read_text(encoding="utf-8")
    path.write_text(fault.made(text), encoding="utf-8")
    try:
        return _failed(folder, tests)
    finally:
        path.write_text(text, encoding="utf-8")


def _failed(folder: Path, tests: tuple[str, ...]) -> bool:
    command = [
        sys.executable,
        "-B",
        "-m",
        "pytest",
        "-x",
        "-q",
        "-p",
        "no:cacheprovider",
        "-p",
        "no:xdist",
        *tests,
    ]
    child = os.posix_spawn(
        "/bin/sh",
        ["sh", "-c", f'cd {folder} && exec "$@" >/dev/null 2>&1', "sh", *command],
        {**os.environ, "PYTHONPATH": str(folder), "PYTHONDONTWRITEBYTECODE": "1"},
        setpgroup=0,
    )
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) != 0
        time.sleep(0.1)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def run(package: str, count: int, seed: int, jobs: int) -> list[Outcome]:
    """Return the outcomes of a seeded sample, told one by one."""
    every = faults(package)
    sample = random.Random(seed).sample(every, min(count, len(every)))
    folders: Queue[Path] = Queue()
    with tempfile.TemporaryDirectory() as whole:
        for number in range(jobs):
            folder = Path(whole) / str(number)
            folder.mkdir()
            folders.put(copied(folder))

        def one(fault: Fault) -> Outcome:
            folder = folders.get()
            begun = time.monotonic()
            try:
                outcome = Outcome(fault, noticed(fault, folder, TESTS[package]), time.monotonic() - begun)
            finally:
                folders.put(folder)
            word = "noticed " if outcome.noticed else "SURVIVED"
            print(f"{word} {outcome.seconds:5.0f} s  {fault.path}:{fault.line}  {fault.key}", flush=True)
            return outcome

        with ThreadPoolExecutor(jobs) as pool:
            return list(pool.map(one, sample))


def main() -> int:
    """Run a sample and say how much was noticed."""
    options = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    options.add_argument("package", choices=sorted(TESTS))
    options.add_argument("--count", type=int, default=40)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--list", action="store_true", help="list all faults and run none")
    args = options.parse_args()
    if args.list:
        print("\n".join(f"{fault.path}:{fault.line} {fault.key}" for fault in faults(args.package)))
        return 0
    outcomes = run(args.package, args.count, args.seed, args.jobs)
    share = sum(outcome.noticed for outcome in outcomes) / len(outcomes)
    print(f"{args.package}: {share:.1%} of {len(outcomes)} noticed, seed {args.seed}")
    return 0 if share >= ENOUGH.get(args.package, 0.92) else 1


if __name__ == "__main__":
    sys.exit(main())
