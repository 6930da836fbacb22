"""Would the tests notice? Puts one small fault at a time into a copy and runs the tests that could.

    python tests/mutation/check.py PACKAGE… [--count 40] [--seed 1] [--jobs 2] [--list]

PACKAGE is one of surface, standards, planning, checkoff, cases; `data` moves numbers and grades in rules/;
`all` is all of them. The faults are a seeded sample. For each only those tests of the package run that run
the faulty block or anything else of its file, fastest first, up to the first that fails; one that takes ten
times its usual time counts as noticed. Faults that change nothing are listed with the reason in
equivalent.toml beside this file; they are left out of the sample. Exit status: 0 if enough are noticed in
each package that has ten faults in the sample or more (92 %, of data 95 %), else 1.
"""

import argparse
import compileall
import hashlib
import json
import os
import py_compile
import random
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final, NamedTuple

ROOT: Final = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.mutation import forked  # noqa: E402
from tests.mutation.reach import Chosen, Reach, Recorder  # noqa: E402
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
TELLS: Final = 10
"""Of fewer faults a share tells nothing."""

COPIED: Final = ("prepadvisor", "tests", "rules", "demo_jobs", "pyproject.toml", "README.md", "DEVELOPERS.md")


class Outcome(NamedTuple):
    """What became of a fault: the test that noticed it or None, and the seconds it took."""

    package: str
    fault: Fault
    by: str | None
    seconds: float


def faults(package: str) -> list[Fault]:
    """Return every fault of a package, those known to change nothing among them."""
    found: list[Fault] = []
    if package == "data":
        for path in sorted((ROOT / "rules").rglob("*.toml")):
            found += data_faults(path, path.relative_to(ROOT).as_posix())
    else:
        for path in sorted((ROOT / "prepadvisor" / package).rglob("*.py")):
            found += code_faults(path, path.relative_to(ROOT).as_posix())
    return found


def equivalent() -> set[str]:
    """Return the names of the faults that change nothing."""
    with Path(__file__).with_name("equivalent.toml").open("rb") as file:
        return {entry["fault"] for entry in tomllib.load(file).get("equivalent", [])}


def copied(folder: Path) -> Path:
    """Copy the project, so that faults never touch it; compiled files there hold by content, not by time."""
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(source, folder / name)
    for name in ("prepadvisor", "tests"):
        compileall.compile_dir(
            folder / name, quiet=2, invalidation_mode=py_compile.PycInvalidationMode.CHECKED_HASH
        )
    return folder


def reach(package: str, folder: Path, *, told: bool = True) -> Reach:
    """Return which tests run what, asked of a run without a fault and remembered until a file changes.

    Raises:
        SystemExit: a test fails without any fault.
    """
    state = hashlib.sha256(package.encode())
    for name in COPIED:
        for path in sorted((ROOT / name).rglob("*")) if (ROOT / name).is_dir() else [ROOT / name]:
            if path.is_file() and "__pycache__" not in path.parts:
                state.update(path.read_bytes())
    kept = Path(tempfile.gettempdir()) / "mutation-reach" / f"{state.hexdigest()[:20]}.json"
    if not kept.exists():
        kept.parent.mkdir(exist_ok=True)
        if told:
            print(f"{package}: its tests run once without a fault …", flush=True)
        watched = None if package == "data" else f"prepadvisor.{package}"
        draft = kept.with_suffix(f".{os.getpid()}")
        child = forked.start(folder, TESTS[package], lambda: [Recorder(folder, watched, draft)])
        if forked.ended(child):
            raise SystemExit(f"{package}: a test fails without any fault; mend that first")
        draft.rename(kept)
    return Reach(**json.loads(kept.read_text(encoding="utf-8")))


class Slot:
    """One copy of the project and the child that runs in it."""

    def __init__(self, folder: Path) -> None:
        """Keep the folder."""
        self.folder = folder
        self._killer = folder / "noticed-by"
        self._child = 0

    def start(self, package: str, fault: Fault, ran: Reach, first: Counter[str], patience_s: int) -> None:
        """Put the fault in and run the tests that could notice, fast ones and old hands first."""

        def worth(name: str) -> float:
            return (0.01 + ran.seconds[name]) / (1 + 3 * first[name])

        self.package, self.fault, self.begun = package, fault, time.monotonic()
        self._path = self.folder / fault.path
        self._text = self._path.read_text(encoding="utf-8")
        self._path.write_text(fault.made(self._text), encoding="utf-8")
        self._killer.unlink(missing_ok=True)
        near, rest = ran.chosen(fault.path, fault.line, self._text)
        names = [*sorted(near, key=worth), *sorted(rest, key=worth)]
        files = sorted({name.split("::")[0] for name in names})
        seconds = {name: ran.seconds[name] for name in names}
        self._child = forked.start(
            self.folder, ["-x", *files], lambda: [Chosen(seconds, self._killer)], patience_s
        )

    def outcome(self) -> Outcome | None:
        """Return what became of the fault, None while the child runs."""
        status = forked.poll(self._child, self.begun)
        if status is None:
            return None
        self._path.write_text(self._text, encoding="utf-8")
        by = None
        if status not in (0, forked.NO_TESTS, -signal.SIGXCPU):
            by = self._killer.read_text(encoding="utf-8") if self._killer.exists() else f"exit {status}"
        return Outcome(self.package, self.fault, by, time.monotonic() - self.begun)


def run(sample: Sequence[tuple[str, Fault]], jobs: int, patience_s: int) -> Iterator[Outcome]:
    """Yield the outcomes of faults as they end."""
    forked.warm()
    with tempfile.TemporaryDirectory() as whole:
        slots = []
        for number in range(jobs):
            folder = Path(whole) / str(number)
            folder.mkdir()
            slots.append(Slot(copied(folder)))
        ran = {
            package: reach(package, slots[0].folder) for package in dict.fromkeys(each[0] for each in sample)
        }
        first: Counter[str] = Counter()
        free, busy, left = slots, list[Slot](), list(reversed(sample))
        while left or busy:
            while left and free:
                slot, (package, fault) = free.pop(), left.pop()
                slot.start(package, fault, ran[package], first, patience_s)
                busy.append(slot)
            time.sleep(0.02)
            for slot in list(busy):
                if outcome := slot.outcome():
                    busy.remove(slot)
                    free.append(slot)
                    if outcome.by:
                        first[outcome.by] += 1
                    yield outcome


def main() -> int:
    """Run a sample and say how much was noticed."""
    options = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    options.add_argument("package", nargs="+", choices=[*sorted(TESTS), "all"])
    options.add_argument("--count", type=int, default=40, help="faults in all")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument(
        "--patience", type=int, default=0, help="CPU seconds a fault; then it counts as let pass"
    )
    options.add_argument("--only", default="", help="faults whose name holds this")
    options.add_argument("--list", action="store_true", help="list the faults and run none")
    args = options.parse_args()
    packages = sorted(TESTS) if "all" in args.package else args.package
    same = equivalent()
    every = [(package, fault) for package in packages for fault in faults(package)]
    if stale := same - {fault.key for _, fault in every} if packages == sorted(TESTS) else ():
        print(*("no such fault any more: " + name for name in sorted(stale)), sep="\n")
    every = [
        each for each in every if each[1].key not in same and args.only in f"{each[1].path} {each[1].key}"
    ]
    if args.list:
        print("\n".join(f"{fault.path}:{fault.line}  {fault.key}" for _, fault in every))
        return 0
    sample = random.Random(args.seed).sample(every, min(args.count, len(every)))
    found: dict[str, Counter[bool]] = {}
    for package, fault, by, seconds in run(sample, args.jobs, args.patience):
        found.setdefault(package, Counter())[by is not None] += 1
        word = f"noticed {seconds:4.0f} s" if by else f"SURVIVED {seconds:3.0f} s"
        print(f"{word}  {fault.path}:{fault.line}  {fault.key}" + (f"  [{by}]" if by else ""), flush=True)
    enough = True
    for package, tally in sorted(found.items()):
        share = tally[True] / tally.total()
        enough &= tally.total() < TELLS or share >= ENOUGH.get(package, 0.92)
        print(f"{package}: {share:.1%} of {tally.total()} noticed, seed {args.seed}")
    return 0 if enough else 1


if __name__ == "__main__":
    sys.exit(main())
