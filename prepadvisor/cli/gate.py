"""`prepadvisor gate`: clear to mask, or what holds it and how that is mended."""

import argparse
import datetime as dt
import sys
from functools import partial
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.apart import apart
from prepadvisor.cli.house_option import add_house, house_of, now

if TYPE_CHECKING:
    from prepadvisor.records.advice import Advice
    from prepadvisor.records.gate import Gate
    from prepadvisor.records.job import Job
    from prepadvisor.standards.house import House

_EXAMPLES: Final = """\
examples:
  prepadvisor gate 1042.toml             clear to mask? if not: each place, why, and what to do
  prepadvisor gate 1042.toml --json      for a program
  prepadvisor gate 1042.toml 1043.toml   the exit status is the worst

A job whose filler gets primer next is first cleared for primer, then, once primed is logged, to mask.
exit status: 0 clear, 1 something holds, 2 bad input.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor gate",
        description="Say whether a job is clear for primer or to mask, from what was logged in it.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOB", nargs="+", help="a job file, or - for standard input")
    options.add_argument("--json", action="store_true", help="one line a job, for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print what each gate says and return the exit status, the worst of all jobs.

    Raises:
        BadInputError: for a house folder with faults.
    """
    from prepadvisor.cli.gate_text import gate_json, gate_text

    house, time = house_of(args), now()
    worst = 0
    for name in args.jobs:
        read = apart(name, partial(_read, name, house, time))
        if read is None:
            worst = 2
            continue
        job, gate, advice = read
        print(gate_json(name, job, gate, advice) if args.json else gate_text(job, gate, advice))
        sys.stdout.flush()
        worst = max(worst, 0 if gate.clear else 1)
    return worst


def _read(name: str, house: "House", time: dt.datetime) -> "tuple[Job, Gate, Advice]":
    from prepadvisor.cli.gate_of import gate_of
    from prepadvisor.files import load_job

    job = load_job(name, house)
    return job, *gate_of(job, house, time)
