"""`prepadvisor gate`: clear to mask, or what holds it and how that is mended."""

import argparse
import datetime as dt
import json
import sys
from functools import partial
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.apart import apart
from prepadvisor.cli.house_option import add_house, house_of, now

if TYPE_CHECKING:
    from prepadvisor.checkoff import Gate
    from prepadvisor.records.job import Job
    from prepadvisor.standards.house import House

_EXAMPLES: Final = """\
examples:
  prepadvisor gate 1042.toml             clear to mask? if not: each place, why, and what to do
  prepadvisor gate 1042.toml --json      for a program
  prepadvisor gate 1042.toml 1043.toml   the exit status is the worst

exit status: 0 clear to mask, 1 something holds, 2 bad input.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor gate",
        description="Say whether a job is clear to mask, from what was logged in it.",
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
    house, time = house_of(args), now()
    worst = 0
    for name in args.jobs:
        read = apart(name, partial(_read, name, house, time))
        if read is None:
            worst = 2
            continue
        job, gate = read
        print(_as_json(name, job, gate) if args.json else gate_text(job, gate))
        sys.stdout.flush()
        worst = max(worst, 0 if gate.clear else 1)
    return worst


def _read(name: str, house: "House", time: dt.datetime) -> "tuple[Job, Gate]":
    from prepadvisor.cli.gate_of import gate_of
    from prepadvisor.files import load_job

    job = load_job(name, house)
    return job, gate_of(job, house, time)


def _as_json(name: str, job: "Job", gate: "Gate") -> str:
    holds = [hold._asdict() for hold in gate.holds]
    told = list(gate.told)
    data = {"clear": gate.clear, "holds": holds, "told": told, "job": job.job.number, "file": name}
    return json.dumps(data, ensure_ascii=False)


def gate_text(job: "Job", gate: "Gate") -> str:
    """Return what a gate says as text: the word first, then each hold with its mend, then what to know."""
    from prepadvisor.cli.gate_of import place_titles

    places = [place for panel in gate.panels for place in panel.places]
    clear = sum(place.is_clear for place in places)
    said = "CLEAR TO MASK" if gate.clear else "NOT CLEAR TO MASK"
    lines = [f"{said}   job {job.job.number} {job.colour.name}".rstrip()]
    lines.append(f"  {clear} of {len(places)} places done on {len(gate.panels)} panel(s)")
    last, titles = "", place_titles(gate)
    for hold in gate.holds:
        if hold.place != last:
            lines += ["", f"  {hold.place}   {titles.get(hold.place, '')}".rstrip()]
            last = hold.place
        lines += [f"    holds: {hold.why}", f"           -> {hold.mend}"]
    if gate.told:
        lines += ["", "  Know:", *(f"    - {told}" for told in gate.told)]
    return "\n".join(lines)
