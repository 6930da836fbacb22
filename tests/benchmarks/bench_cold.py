"""How long a command takes from nothing, as ratios within one run: python tests/benchmarks/bench_cold.py.

A number after it is the count of rounds.

`card` is compared with a process that only imports the same packages and reads the job file, `--help` and
`--version` with a bare interpreter. Each round starts every command once, one after the other, so that what
else the machine does falls on all of them alike; a ratio is the median of the rounds' ratios. Bytecode is
written once to a folder of its own and then only read, as after an installation.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median
from typing import NamedTuple

_ROOT = Path(__file__).parents[2]
_JOB = str(_ROOT / "demo_jobs/very-fine-door-and-wing.toml")
_ROUNDS = 30

_PROGRAM = "import sys; from prepadvisor.cli.main import entry; entry()"  # what the installed command runs
_PACKAGES = f"from pydantic import BaseModel; import numpy, tomli; open({_JOB!r}).read()"
_ONE_RECORD = f"{_PACKAGES}\nclass Record(BaseModel): number: int"


class Spent(NamedTuple):
    """What one process took: by the clock, and of the processor's time, in seconds."""

    wall: float
    cpu: float


class Command(NamedTuple):
    """A command line of the interpreter, what it is compared with, and the ratio aimed at."""

    words: tuple[str, ...]
    against: str = ""
    goal: float = 0.0


COMMANDS = {
    "bare interpreter": Command(("-c", "pass")),
    "packages only": Command(("-c", _PACKAGES)),
    "packages and one record": Command(("-c", _ONE_RECORD)),
    "--version": Command(("-c", _PROGRAM, "--version"), "bare interpreter", 4.0),
    "--help": Command(("-c", _PROGRAM, "--help"), "bare interpreter", 4.0),
    "card": Command(("-c", _PROGRAM, "card", _JOB), "packages only", 1.5),
    "card ": Command(("-c", _PROGRAM, "card", _JOB), "packages and one record"),
}
"""Defining one record makes pydantic import what it puts off until then; hence the third reference."""


def spent(words: tuple[str, ...], environment: dict[str, str]) -> Spent:
    """Run the interpreter once and return what it took. Raises RuntimeError if it does not end well."""
    start = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, *words], env=environment, stdout=subprocess.DEVNULL, cwd=_ROOT
    )
    _, status, usage = os.wait4(process.pid, 0)
    wall = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{words[-1]} ended with {process.returncode}")
    return Spent(wall, usage.ru_utime + usage.ru_stime)


def measured(rounds: int) -> dict[str, list[Spent]]:
    """Run every command once a round; a first round, which writes the bytecode, is not counted."""
    with tempfile.TemporaryDirectory() as bytecode:
        environment = {**os.environ, "PYTHONPATH": str(_ROOT), "PYTHONPYCACHEPREFIX": bytecode}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        runs: dict[str, list[Spent]] = {name: [] for name in COMMANDS}
        for turn in range(rounds + 1):
            for name, command in COMMANDS.items():
                took = spent(command.words, environment)
                if turn:
                    runs[name].append(took)
    return runs


def main(rounds: int) -> None:
    """Print times and ratios."""
    runs = measured(rounds)
    print(f"{'':24} {'clock':>8} {'CPU':>8}   ratio by clock, by CPU")
    for name, command in COMMANDS.items():
        took = runs[name]
        clock_ms, cpu_ms = (median(each) * 1e3 for each in zip(*took, strict=True))
        line = f"{name:24} {clock_ms:5.0f} ms {cpu_ms:5.0f} ms"
        if command.against:
            pairs = list(zip(took, runs[command.against], strict=True))
            wall, cpu = (median(one[i] / other[i] for one, other in pairs) for i in (0, 1))
            goal = f", goal {command.goal}" if command.goal else ""
            line += f"   {wall:.2f} {cpu:.2f} × {command.against}{goal}"
        print(line)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else _ROUNDS)
